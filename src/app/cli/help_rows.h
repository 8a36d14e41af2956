// SPDX-License-Identifier: MIT
// What the help and the manual page tell alike.
#pragma once

#include <string_view>
#include <vector>

namespace evenspit {

struct HelpRow {
    std::string_view name, about;
};

inline constexpr const char* help_about = "Print help and exit; behind a verb, its own help";
inline constexpr const char* version_about = "Print the version and exit";

/// What the program is for, in two lines.
std::string_view program_summary();
const std::vector<HelpRow>& status_rows();
const std::vector<HelpRow>& environment_rows();

}  // namespace evenspit
