// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <string_view>

#include "load/spread.h"
#include "units/quantity.h"

namespace evenspit {

/// A key of [spread], the figure that it gives, and what that figure is of.
struct SpreadKey {
    std::string_view key;
    Dimension dimension;
    double Spread::*member;
    std::string_view example;
    std::string_view meaning;
};

/// All but `bearing_strength`, which has no figure of its own where it is not given, and `none`.
inline constexpr std::array<SpreadKey, 18> spread_keys{{
    {"rod_line", Dimension::length, &Spread::rod_line_m, R"("6 mm")",
     "Where the rod enters and leaves a body"},
    {"station", Dimension::length, &Spread::station_m, R"("5 mm")", "Where a body sits along the rod"},
    {"turn", Dimension::angle, &Spread::turn_rad, R"("6 deg")", "How a body is turned on the rod"},
    {"fork_station", Dimension::length, &Spread::fork_station_m, R"("2 mm")",
     "Where a fork sits against its body"},
    {"fork_clock", Dimension::angle, &Spread::fork_clock_rad, R"("5 deg")",
     "How a fork is turned whose bore is not the rod's shape"},
    {"counterweight_station", Dimension::length, &Spread::counterweight_station_m, R"("5 mm")",
     "Where a counterweight sits along the rod"},
    {"counterweight_radius", Dimension::length, &Spread::counterweight_radius_m, R"("2 mm")",
     "How far from the rod's middle it sits"},
    {"counterweight_clock", Dimension::angle, &Spread::counterweight_clock_rad, R"("5 deg")",
     "Where round the rod it sits"},
    {"counterweight_mass", Dimension::share, &Spread::counterweight_mass, R"("0.5 %")", "What it weighs"},
    {"mass", Dimension::share, &Spread::mass, R"("2 %")", "What a body weighs: the scale"},
    {"centre", Dimension::length, &Spread::centre_m, R"("3 mm")",
     "Where a body's centre of mass is inside it"},
    {"scan_scale", Dimension::share, &Spread::scan_scale, R"("2 %")", "How large a scan came out"},
    {"friction", Dimension::share, &Spread::friction, R"("20 %")", "Friction at the supports"},
    {"motor", Dimension::share, &Spread::motor, R"("5 %")", "What the motor gives"},
    {"yield_strength", Dimension::share, &Spread::yield_strength, R"("5 %")",
     "How strong the rod's steel is"},
    {"rod_measures", Dimension::length, &Spread::rod_measures_m, R"("2 mm")", "Lengths measured on the rod"},
    {"cooker_measures", Dimension::length, &Spread::cooker_measures_m, R"("3 mm")",
     "Where the cooker's surfaces are"},
    {"limb_loose", Dimension::share, &Spread::limb_loose, R"("5 %")", "The chance that a tie comes undone"},
}};

}  // namespace evenspit
