// SPDX-License-Identifier: MIT
#pragma once

#include <string>

namespace evenspit::scan {

/// \param file the scan that is refused
/// \throws InputError always
[[noreturn]] void refuse_scan(const std::string& file, std::string found, std::string expected,
                              std::string mend);

}  // namespace evenspit::scan
