// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "app/cli/progress.h"
#include "app/cli/run.h"
#include "app/cli/surroundings.h"
#include "app/cli/words.h"
#include "units/quantity.h"

namespace evenspit {

/// The command line cannot be understood; what() is one sentence, without the program's name.
class UsageError : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

enum class Format { text, json, csv };

/// What a verb has to say, not yet written anywhere.
struct Outcome {
    std::string text;
    ExitStatus status = computed;
    std::optional<std::string> file{};  ///< goes to the output file, and the text to standard output
    std::vector<std::string> others{};  ///< one for each of Request::others
    std::string
        told{};  ///< to standard error once all is written: what was taken for granted; "" for nothing
};

/// A file that a verb writes beside its result.
struct OtherOutput {
    std::string option;  ///< that names it: "--charts"
    std::filesystem::path path;
};

struct Request;

/// Does what was asked for.
///
/// \throws InputError for bad input; UsageError for what only shows while working
using Deed = std::function<Outcome(const Request&, const Surroundings&, Progress&)>;

/// What the user asks for. Verbs keep what only they know of in their deed.
struct Request {
    std::string verb{};
    std::vector<std::filesystem::path> inputs{};  ///< files that the command line names, the load first
    bool inputs_are_loads = true;
    /// Where the result goes, whole or not at all; absent: to standard output.
    std::optional<std::filesystem::path> output{};
    std::string output_option = "--output";
    std::vector<OtherOutput> others{};  ///< all of them are written, or nothing is
    bool text_to_output = true;  ///< otherwise the output is another file, and the text is for the terminal
    Format format = Format::text;
    UnitSystem units = UnitSystem::metric;
    bool quiet = false;
    Deed deed{};
};

/// A verb: all that the program knows of it.
struct Verb {
    std::string name;
    std::string summary;  ///< for the list of verbs, in a few words
    /// For the help: what one may type behind the program's name, in the folder of the sources.
    std::string example{};
    std::vector<WordSpec> words;  ///< in the order of the help, operands first
    bool tells_status = true;     ///< whether its help explains the exit status
    /// Understands what was found behind the verb.
    ///
    /// \throws UsageError for what is missing, wrong, or excluded by something else
    std::function<Request(const Words&)> understand;
};

}  // namespace evenspit
