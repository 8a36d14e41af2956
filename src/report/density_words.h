// SPDX-License-Identifier: MIT
#pragma once

#include <string>

namespace evenspit {

/// What to look at where a body weighs so many times what meat of its size does: a sentence. A length read in
/// another unit is told by the cube of what one holds of the other.
std::string what_to_check(double times);

}  // namespace evenspit
