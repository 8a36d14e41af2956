// SPDX-License-Identifier: MIT
#include <csignal>
#include <cstdlib>
#include <iostream>
#include <sys/ioctl.h>
#include <system_error>
#include <unistd.h>

#include "app/cli/run.h"

namespace {

int columns_of_terminal() {
    winsize size{};
    const bool known = ::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
    return known ? size.ws_col : 80;
}

std::optional<std::string> environment_variable(const std::string& name) {
    const char* value = std::getenv(name.c_str());
    return value != nullptr ? std::optional<std::string>(value) : std::nullopt;
}

}  // namespace

int main(int argc, char** argv) {
    // So that a run whose output nobody reads any more can say which file it did not write.
    std::signal(SIGPIPE, SIG_IGN);
    std::error_code ignored;
    const evenspit::Surroundings around{
        .out = std::cout,
        .err = std::cerr,
        .in = &std::cin,
        .in_is_terminal = ::isatty(STDIN_FILENO) == 1,
        .out_is_terminal = ::isatty(STDOUT_FILENO) == 1,
        .err_is_terminal = ::isatty(STDERR_FILENO) == 1,
        .columns = columns_of_terminal(),
        .program = std::filesystem::read_symlink("/proc/self/exe", ignored),
        .variable = environment_variable,
    };
    return evenspit::run(std::vector<std::string>(argv + (argc > 0 ? 1 : 0), argv + argc), around);
}
