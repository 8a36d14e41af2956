// SPDX-License-Identifier: MIT
#pragma once

#include "cook/cook_course.h"

namespace evenspit::cook {

/// How evenly an item's skin took up heat.
Evenness evenness(const Item& item, const SkinHeat& heat);

}  // namespace evenspit::cook
