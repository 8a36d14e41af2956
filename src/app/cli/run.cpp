// SPDX-License-Identifier: MIT
#include "app/cli/run.h"

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <exception>
#include <stdexcept>
#include <system_error>

#include "app/cli/options.h"
#include "app/cli/progress.h"
#include "app/cli/verbs.h"
#include "files/whole_file.h"
#include "report/layout.h"
#include "report/tool.h"
#include "units/error.h"

namespace evenspit {
namespace {

Outcome outcome_of(const Request& request, const Surroundings& around) {
    Progress progress(around.err, around.err_is_terminal && !around.plain_terminal() && !request.quiet);
    switch (request.verb) {
        case Verb::check:
            return check(request, around, progress);
        case Verb::plan:
            return plan(request, around, progress);
        case Verb::compare:
            return compare(request, around, progress);
        case Verb::fit:
            return fit(request, around, progress);
        case Verb::shape:
            return shape(request, around);
        case Verb::scan:
            return scan(request, progress);
        case Verb::models:
            return models(request, around);
        case Verb::view:
            return view(request, around, progress);
    }
    throw std::logic_error("a verb without a deed");
}

void write_out(std::ostream& out, const std::string& text) {
    errno = 0;
    out << text << std::flush;
    if (!out) {
        const int error = errno;
        throw std::system_error(error != 0 ? error : EIO, std::generic_category(),
                                "cannot write to standard output");
    }
}

// Whoever writes the result over what it came from has lost that.
void keep_input_safe(const Request& request) {
    const auto refuse_same = [](const std::filesystem::path& written, const char* option,
                                const std::filesystem::path& input, const char* name) {
        std::error_code not_both_there;
        if (std::filesystem::equivalent(written, input, not_both_there))
            throw UsageError(std::string(option) + " names the " + name + " itself; name another file");
    };
    if (request.output) {
        refuse_same(*request.output, "--output", request.load, "load file");
        for (const std::filesystem::path& load : request.loads)
            refuse_same(*request.output, "--output", load, "load file");
        for (const std::filesystem::path& raw : request.scan.raw)
            refuse_same(*request.output, "--output", raw, "raw scan");
    }
    if (request.picture) refuse_same(request.picture->file, "--snapshot", request.load, "load file");
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

int serve(const std::vector<std::string>& arguments, const Surroundings& around) {
    const std::variant<Request, Answer> asked = parse_command_line(arguments);
    if (const auto* answer = std::get_if<Answer>(&asked)) {
        write_out(around.out, answer->text);
        return computed;
    }
    const auto& request = std::get<Request>(asked);
    keep_input_safe(request);
    if (request.output) refuse_unwritable(*request.output);
    const Outcome outcome = outcome_of(request, around);
    if (request.output) {
        const HeldSignals held;
        write_whole_file(*request.output, outcome.file ? *outcome.file : outcome.text);
    }
    if (!request.output || outcome.file) write_out(around.out, outcome.text);
    return outcome.status;
}

void tell_input_error(std::ostream& err, const InputError& error) {
    for (const Complaint& complaint : error.complaints()) {
        // What a load file holds must not reach the terminal as a command. Lines that begin with file, line
        // and column are understood by editors: nothing in front of those.
        if (complaint.spot.file.empty()) err << tool_name() << ": ";
        err << printable(complaint.text()) << '\n';
    }
}

int fault(std::ostream& err, std::string_view what) {
    err << tool_name() << ": " << what
        << "\nThis is a fault of the program or the machine, not of the load file.\n";
    return fault_of_program;
}

}  // namespace

int run(const std::vector<std::string>& arguments, const Surroundings& around) {
    try {
        return serve(arguments, around);
    } catch (const UsageError& error) {
        around.err << tool_name() << ": " << error.what() << "\n";
        if (arguments.empty()) {
            around.err << '\n' << help_text();
        } else {
            around.err << "Help: " << tool_name() << " --help\n";
        }
        return bad_input;
    } catch (const InputError& error) {
        tell_input_error(around.err, error);
        return bad_input;
    } catch (const std::exception& error) {
        return fault(around.err, error.what());
    } catch (...) {
        return fault(around.err, "something unknown went wrong");
    }
}

}  // namespace evenspit
