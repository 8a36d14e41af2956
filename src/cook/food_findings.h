// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "cook/cook_course.h"

namespace evenspit::cook {

/// Whether an item has ice in it as it goes on the rod: by what was computed, or because it is told to be
/// colder than any flesh can be without.
bool starts_frozen(const Assembly& assembly, const RoastCourse& course, std::size_t item);

/// What is to be said of food, fire and time, worst first: ice inside at the start, places that stay under
/// what is safe or get there only in the rest, long lukewarm, a cool cooker, a cook that takes too long, a
/// wait before serving that is too long, fuel that is too much or too little. Limits: analysis/limits.h, and
/// RoastPlace::safe_k.
///
/// \param off when the load may come off, as far as that is known
std::vector<Finding> food_findings(const Assembly& assembly, const RoastCourse& course,
                                   const std::optional<Range>& off);

}  // namespace evenspit::cook
