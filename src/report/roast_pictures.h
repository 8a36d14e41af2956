// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "cook/cook_course.h"
#include "report/heat_field.h"
#include "units/quantity.h"

namespace evenspit {

/// Of each item and direction the cut that was taken nearest to each of these times; each once.
std::vector<RoastCut> cuts_at(const RoastCourse& course, const std::vector<double>& times_s);

/// Temperatures inside, as an SVG document: for each item and moment a cut lengthwise and one across, with a
/// line where it is as hot as a rule wants it, the rod, and a scale that all share. Words alone where there
/// is no cut.
std::string cut_svg(const Assembly& assembly, const RoastCourse& course, const std::vector<RoastCut>& cuts,
                    UnitSystem units);

/// Heat that an item's skin took up, as a share of its mean, unrolled: along the rod across, the dial's hours
/// from 12 at the bottom to 12 at the top.
///
/// \pre heat of that item's skin
HeatField skin_field(const Item& item, const SkinHeat& heat, std::array<std::size_t, 2> count);

/// That of all items, as an SVG document, with what is round the rod and along it.
std::string skin_svg(const Assembly& assembly, const cook::CookCourse& course, UnitSystem units);

}  // namespace evenspit
