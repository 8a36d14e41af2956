// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

namespace evenspit {

/// A text as TOML has it: in double quotes, with quotes, backslashes and control characters escaped.
std::string toml_string(std::string_view text);

}  // namespace evenspit
