// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

namespace evenspit {

/// The program's name as results carry it.
std::string_view tool_name();

/// The program's version, "major.minor.patch", as the build set it.
std::string_view tool_version();

}  // namespace evenspit
