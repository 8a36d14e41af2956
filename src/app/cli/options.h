// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "app/cli/verb.h"

namespace evenspit {

/// A text that is all there is to do: the help or the version.
struct Answer {
    std::string text;
};

/// Understands the words behind the program's name.
///
/// \throws UsageError for no verb, an unknown verb or option (the nearest known one is told), an option that
/// lacks its value, a surplus file, and as Verb::understand() does
std::variant<Request, Answer> parse_command_line(const std::vector<std::string>& arguments);

/// The help for the program as a whole.
std::string help_text();

}  // namespace evenspit
