// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

namespace evenspit {

/// A text from outside as a message shows it: in single quotes, control characters as spaces, after 60 bytes
/// (at the end of a whole UTF-8 character) cut off with "…".
std::string in_quotes(std::string_view text);

}  // namespace evenspit
