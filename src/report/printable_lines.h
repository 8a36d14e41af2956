// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

namespace evenspit {

/// A whole result made fit for a terminal: as printable(), but line ends, tabs and colours stay.
std::string printable_lines(std::string_view text);

}  // namespace evenspit
