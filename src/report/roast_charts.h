// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "cook/cook_course.h"
#include "report/chart.h"

namespace evenspit {

/// Temperatures over the cook and the rest, s to degrees of the reader's scale: series "cooker" and one for
/// each place of a lone item, or the coldest and the stuffing of each of several; what is safe as limits.
Chart temperature_chart(const Assembly& assembly, const cook::CookCourse& course, UnitSystem units);

/// Weight of each item over the cook, s to kg; a series for each by its label.
Chart weight_chart(const Assembly& assembly, const cook::CookCourse& course, UnitSystem units);

/// Shares of what motor and forks can do, s to 1: series "motor", "grip" and, where forks are pushed in on
/// the way, "grip, tightened"; with what asks for care and for a stop.
Chart use_chart(const Assembly& assembly, const cook::CookCourse& course);

/// The three below one another as an SVG document.
std::string roast_svg(const Assembly& assembly, const cook::CookCourse& course, UnitSystem units);

}  // namespace evenspit
