// SPDX-License-Identifier: MIT
// What text, charts and pictures of a cook tell in the same words.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cook/cook_course.h"
#include "units/quantity.h"

namespace evenspit {

/// When it is done, in a sentence; times in full five minutes.
std::string done_text(const Assembly& assembly, const cook::CookCourse& course);

/// "breast", "coldest"; with several items "hen 1 breast".
std::string place_label(const Assembly& assembly, const RoastPlace& place);

/// Those whose temperatures a reader wants to follow: all of a lone item; of several what is waited for, what
/// is stuffed, and probes.
std::vector<std::size_t> told_places(const Assembly& assembly, const RoastCourse& course);

/// The moment nearest to a time. \pre some moments
const RoastMoment& moment_near(const RoastCourse& course, double time_s);

/// Of motor, torque hold and tines, the last two as grip: the worse of them; absent where nothing holds.
std::optional<double> grip_use(const cook::Along& along);
std::optional<double> grip_use_tightened(const cook::Along& along);

/// A temperature as a number on the reader's scale, for axes, and the scale's sign.
double on_scale(double kelvin, UnitSystem units);
double from_scale(double degrees, UnitSystem units);
std::string_view degree_sign(UnitSystem units);

/// Where a point of an item is on the rod: its clock, its station, and how far it is from the axis.
struct SpotOnRod {
    double clock_rad = 0, at_m = 0, from_axis_m = 0;
};
/// \param at item frame
SpotOnRod spot_on_rod(const Item& item, const Vec3& at);
/// "340 mm along the rod, 38 mm from its middle, at half past 4", "340 mm along the rod, close beside it"
std::string inner_spot_text(const Item& item, const Vec3& at, UnitSystem units);
/// Where the hottest patch of an item's skin is.
SpotOnRod hot_spot(const Item& item, const cook::Evenness& evenness);
/// "browns first at half past 4, 340 mm along the rod, with 1.6 times the mean heat"
std::string hot_spot_text(const Item& item, const cook::Evenness& evenness, UnitSystem units);
/// "83 %; in perfect balance 91 %"
std::string evenness_text(const cook::Evenness& evenness);

}  // namespace evenspit
