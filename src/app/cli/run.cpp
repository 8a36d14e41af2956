// SPDX-License-Identifier: MIT
#include "app/cli/run.h"

#include <cerrno>
#include <csignal>
#include <exception>
#include <stdexcept>
#include <system_error>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/cli/input_guard.h"
#include "app/cli/options.h"
#include "app/cli/progress.h"
#include "files/whole_file.h"
#include "report/printable_lines.h"
#include "report/text_layout.h"
#include "report/tool.h"
#include "units/error.h"
#include "units/quote.h"
#include "units/stopped.h"
#include "units/told_complaints.h"

namespace evenspit {
namespace {

/// What reads standard output has ended: `| head`. No fault of anybody's.
class OutputClosed : public std::runtime_error {
  public:
    OutputClosed() : std::runtime_error("standard output was closed before all was told") {}
};

// Whatever a name, a key or a label holds, it must not reach the terminal as a command. All that the program
// says goes through here or through tell().
void write_out(std::ostream& out, const std::string& text) {
    errno = 0;
    out << printable_lines(text) << std::flush;
    if (!out) {
        const int error = errno;
        if (error == EPIPE) throw OutputClosed();
        throw std::system_error(error != 0 ? error : EIO, std::generic_category(),
                                "cannot write to standard output");
    }
}

// Holds back Ctrl-C and its like while a file is being written, so that no draft of it is left behind. At any
// other time they end the program at once, with nothing on the disk.
class HeldSignals {
  public:
    HeldSignals() {
        sigset_t held;
        sigemptyset(&held);
        for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&held, signal);
        pthread_sigmask(SIG_BLOCK, &held, &before_);
    }
    HeldSignals(const HeldSignals&) = delete;
    HeldSignals& operator=(const HeldSignals&) = delete;
    ~HeldSignals() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }

  private:
    sigset_t before_{};
};

Outcome done(const Request& request, const Surroundings& around) {
    Progress progress(around.err, around.err_is_terminal && !around.plain_terminal() && !request.quiet);
    return request.deed(request, around, progress);
}

void write_files(const Request& request, Outcome& outcome) {
    std::vector<WholeFile> files;
    if (request.output)
        files.push_back({*request.output, std::move(outcome.file ? *outcome.file : outcome.text)});
    for (std::size_t n = 0; n < request.others.size(); ++n)
        files.push_back({request.others[n].path, std::move(outcome.others.at(n))});
    if (files.empty()) return;
    const HeldSignals held;
    write_whole_files(files);
}

void tell(std::ostream& err, std::string_view line) {
    err << printable(line) << '\n';
}

void tell_as_program(std::ostream& err, std::string_view line) {
    tell(err, std::string(tool_name()) + ": " + std::string(line));
}

int serve(const std::vector<std::string>& arguments, const Surroundings& around) {
    const std::variant<Request, Answer> asked = parse_command_line(arguments);
    if (const auto* answer = std::get_if<Answer>(&asked)) {
        write_out(around.out, answer->text);
        return computed;
    }
    const auto& request = std::get<Request>(asked);
    refuse_writing_over_input(request, around);
    refuse_one_output_twice(request);
    if (request.output) refuse_unwritable(*request.output);
    for (const OtherOutput& other : request.others) refuse_unwritable(other.path);
    Outcome outcome = done(request, around);
    // Files last: if the text cannot be told there shall be none, nor shall an older one be lost.
    try {
        if (!request.output || outcome.file) write_out(around.out, outcome.text);
    } catch (const OutputClosed& closed) {
        if (request.output)
            tell_as_program(around.err, fmt::format("{} was not written, as {}",
                                                    in_quotes(request.output->string()), closed.what()));
        throw;
    }
    write_files(request, outcome);
    if (!outcome.told.empty()) tell_as_program(around.err, outcome.told);
    return outcome.status;
}

void tell_input_error(std::ostream& err, const InputError& error) {
    const std::vector<Complaint>& complaints = error.complaints();
    const std::vector<std::string> lines = told_complaints(complaints);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        // Lines that begin with file, line and column are understood by editors: nothing in front of those.
        if (i < complaints.size() && lines[i].starts_with(complaints[i].spot.file + ":") &&
            !complaints[i].spot.file.empty()) {
            tell(err, lines[i]);
        } else {
            tell_as_program(err, lines[i]);
        }
    }
}

int fault(std::ostream& err, std::string_view what) {
    tell_as_program(err, what);
    tell(err, "This is a fault of the program or the machine, not of the load file.");
    return fault_of_program;
}

}  // namespace

int run(const std::vector<std::string>& arguments, const Surroundings& around) {
    try {
        return serve(arguments, around);
    } catch (const UsageError& error) {
        tell_as_program(around.err, error.what());
        if (arguments.empty()) {
            around.err << '\n' << help_text();
        } else {
            around.err << "Help: " << tool_name() << " --help\n";
        }
        return bad_input;
    } catch (const InputError& error) {
        tell_input_error(around.err, error);
        return bad_input;
    } catch (const OutputClosed&) {
        return output_closed;
    } catch (const Stopped&) {
        tell_as_program(around.err, "stopped");
        return stopped;
    } catch (const std::exception& error) {
        return fault(around.err, error.what());
    } catch (...) {
        return fault(around.err, "something unknown went wrong");
    }
}

}  // namespace evenspit
