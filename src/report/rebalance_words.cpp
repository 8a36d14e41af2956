// SPDX-License-Identifier: MIT
#include <numbers>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "report/finding_words.h"
#include "report/reader_units.h"
#include "units/dial.h"
#include "units/tell.h"

namespace evenspit {
namespace {

std::string_view side_words(Side side) {
    switch (side) {
        case Side::breast:
            return ", where the breast is";
        case Side::back:
            return ", where the back is";
        case Side::right:
            return ", where its right side is";
        case Side::left:
            return ", where its left side is";
        case Side::none:
            break;
    }
    return "";
}

}  // namespace

std::string counterweight_text(double kg_m, UnitSystem units) {
    // Rounded up, so that what is advised is enough.
    const Units told(units);
    const double arm_m = told.picture_arm_m();
    return fmt::format("{} or more at {}", weight_text(kg_m / arm_m, units, Rounding::up),
                       told.length(arm_m));
}

std::string rebalance_text(const Rebalance& mend, UnitSystem units) {
    const double opposite_rad = mend.heavy_side_rad + std::numbers::pi;
    std::string way = fmt::format("The heavy side is at {}{}. ", dial_and_clock_text(mend.heavy_side_rad),
                                  side_words(mend.side));
    way += mend.line_shift_m ? fmt::format("Move the rod line {} toward it, or set",
                                           Units(units).length(*mend.line_shift_m))
                             : std::string("Set");
    return fmt::format("{} a counterweight opposite, at {}: {}.", way, dial_and_clock_text(opposite_rad),
                       counterweight_text(mend.excess_kg_m, units));
}

std::string_view balance_on_the_rod_text() {
    return "Mounting decides where the heavy side is. Once the rod is through and before the fire is lit, "
           "let "
           "the load hang free: the heavy side sinks. Set a counterweight opposite until it stays where you "
           "leave it.";
}

}  // namespace evenspit
