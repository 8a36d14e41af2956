// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <functional>
#include <istream>
#include <optional>
#include <ostream>
#include <string>

namespace evenspit {

/// All that the command line may touch of the world around it, so that a test can give it another.
struct Surroundings {
    std::ostream& out;           ///< results
    std::ostream& err;           ///< progress and messages
    std::istream* in = nullptr;  ///< answers to questions, one a line; not owned; null: nobody is there
    bool in_is_terminal = false;
    bool out_is_terminal = false;
    bool err_is_terminal = false;
    int columns = 80;                 ///< of the terminal that shows `out`
    std::filesystem::path program{};  ///< the executable's own place, empty if unknown
    /// The value of an environment variable, nothing if it is not set. Not empty.
    std::function<std::optional<std::string>(const std::string&)> variable{};

    /// Whether the environment sets a variable to anything but "".
    [[nodiscard]] bool has(const std::string& name) const {
        const std::optional<std::string> value = variable(name);
        return value && !value->empty();
    }

    /// Whether a terminal here takes nothing but plain text.
    [[nodiscard]] bool plain_terminal() const { return variable("TERM") == "dumb"; }
};

}  // namespace evenspit
