// SPDX-License-Identifier: MIT
#include "report/roast_words.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "report/reader_units.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "units/dial.h"
#include "units/unit_table.h"

namespace evenspit {
namespace {

std::optional<double> worse_of(const std::optional<double>& a, const std::optional<double>& b) {
    return a && b ? std::max(*a, *b) : a ? a : b;
}

}  // namespace

std::string done_text(const Assembly& assembly, const cook::CookCourse& course) {
    constexpr double five_min_s = 300;
    const auto told = [](double s) { return Units::minutes(five_min_s * std::round(s / five_min_s)); };
    if (!course.off_s)
        return fmt::format("Not done after {} on the fire.", told(off_moment(course.roast).time_s));
    if (assembly.cook && assembly.cook->duration_s) {
        return fmt::format("It comes off after {}, as the load file has it.",
                           Units::minutes(course.off_s->middle));
    }
    const double low = five_min_s * std::floor(course.off_s->low / five_min_s),
                 high = five_min_s * std::ceil(course.off_s->high / five_min_s);
    const std::string done = fmt::format("Done about {} after it goes in", told(course.off_s->middle));
    // One run alone, or one that is known to five minutes.
    if (course.off_s->high - course.off_s->low < five_min_s) return done + ".";
    if (course.off_s->open)
        return fmt::format("{}, rarely before {}. A slower fire may never get it done: add fuel in time.",
                           done, told(low));
    return fmt::format("{}; 9 of 10 such cooks take {} to {}.", done, told(low), told(high));
}

std::string place_label(const Assembly& assembly, const RoastPlace& place) {
    std::string name = printable(place.kind == PlaceKind::core ? "coldest" : place.name);
    if (assembly.items.size() < 2) return name;
    return printable(item_name(assembly, place.item)) + " " + name;
}

std::vector<std::size_t> told_places(const Assembly& assembly, const RoastCourse& course) {
    std::vector<std::size_t> told;
    for (std::size_t p = 0; p < course.places.size(); ++p) {
        const RoastPlace& place = course.places[p];
        if (assembly.items.size() < 2 || place.pull_k || place.kind == PlaceKind::stuffing ||
            place.kind == PlaceKind::probe)
            told.push_back(p);
    }
    return told;
}

const RoastMoment& moment_near(const RoastCourse& course, double time_s) {
    return *std::min_element(course.moments.begin(), course.moments.end(),
                             [time_s](const RoastMoment& a, const RoastMoment& b) {
                                 return std::abs(a.time_s - time_s) < std::abs(b.time_s - time_s);
                             });
}

std::optional<double> grip_use(const cook::Along& along) {
    return worse_of(along.torque_use, along.hold_use);
}

std::optional<double> grip_use_tightened(const cook::Along& along) {
    return worse_of(along.torque_use_tightened, along.hold_use_tightened);
}

double on_scale(double kelvin, UnitSystem units) {
    return units == UnitSystem::metric ? kelvin - unit_factors::celsius_zero_k
                                       : 1.8 * kelvin - unit_factors::fahrenheit_zero_shift;
}

double from_scale(double degrees, UnitSystem units) {
    return units == UnitSystem::metric ? degrees + unit_factors::celsius_zero_k
                                       : (degrees + unit_factors::fahrenheit_zero_shift) / 1.8;
}

std::string_view degree_sign(UnitSystem units) {
    return units == UnitSystem::metric ? "°C" : "°F";
}

SpotOnRod spot_on_rod(const Item& item, const Vec3& at) {
    const Vec3 here = item.pose * at;
    return {std::atan2(here.z(), here.y()), here.x(), std::hypot(here.y(), here.z())};
}

std::string inner_spot_text(const Item& item, const Vec3& at, UnitSystem units) {
    const SpotOnRod spot = spot_on_rod(item, at);
    const Units told(units);
    constexpr double beside_m = 0.015;  // where a hand says "beside it"; common practice
    if (spot.from_axis_m < beside_m)
        return fmt::format("{} along the rod, close beside it", told.length(spot.at_m));
    return fmt::format("{} along the rod, {} from its middle, at {}", told.length(spot.at_m),
                       told.length(spot.from_axis_m), dial_text(spot.clock_rad));
}

SpotOnRod hot_spot(const Item& item, const cook::Evenness& evenness) {
    return spot_on_rod(item, evenness.hottest);
}

std::string hot_spot_text(const Item& item, const cook::Evenness& evenness, UnitSystem units) {
    const SpotOnRod spot = hot_spot(item, evenness);
    return fmt::format("browns first at {}, {} along the rod, with {:.1f} times the mean heat",
                       dial_text(spot.clock_rad), Units(units).length(spot.at_m), evenness.hottest_over_mean);
}

std::string evenness_text(const cook::Evenness& evenness) {
    const std::string now = Units::share(evenness.index), even = Units::share(evenness.index_even_turn);
    return now == even ? now + ", no better in perfect balance"
                       : fmt::format("{}; in perfect balance {}", now, even);
}

}  // namespace evenspit
