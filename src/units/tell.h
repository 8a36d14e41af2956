// SPDX-License-Identifier: MIT
#pragma once

#include <initializer_list>
#include <string>

#include "units/quantity.h"

namespace evenspit {

/// What a told figure must not be told as, unless it is exactly that: the limits that it is judged by. A gap
/// of 4.97 mm beside a limit of 5 mm is told as "4.97 mm" and not as "5 mm".
using Limits = std::initializer_list<double>;

/// Told to the nearest of what may be told, or to the next above, for advice that must be enough.
enum class Rounding { nearest, up };

/// A figure beside the limit that it is judged by: both as finely as tells them apart.
struct Beside {
    std::string figure, limit;
};

// How finely figures are told. A cook measures with a tape or ruler, weighs on a kitchen scale, and sets by
// hand: what is finer than those is no help, and hides what matters. Full figures are in JSON and CSV. All
// say "not known" for what is not finite.

/// A place or size: whole millimetres, or sixteenths of an inch as a tape has them: "139 mm", "5 1/2 in".
std::string length_text(double m, UnitSystem units, Limits limits = {},
                        Rounding rounding = Rounding::nearest);
Beside length_beside(double m, double limit_m, UnitSystem units);

/// A gap, cover, sag or depth. Below 10 mm it has a decimal: there lie the limits of 3 mm and 5 mm, between
/// which whole millimetres would leave nothing. In inches as length_text(). What is not nothing is not told
/// as 0.
std::string slack_text(double m, UnitSystem units, Limits limits = {0});
Beside slack_beside(double m, double limit_m, UnitSystem units);

/// Of a body or a part of one: 10 g, below 100 g 1 g; ounces, below a pound quarters of them: "5.9 kg", "448
/// g" as "450 g", "13 lb 2 oz", "5 1/4 oz".
std::string mass_text(double kg, UnitSystem units);

/// Of a counterweight to be found: 5 g, from 1 kg on 10 g; quarters of an ounce, from a pound on whole ones.
/// Up, it is never nothing.
std::string weight_text(double kg, UnitSystem units, Rounding rounding = Rounding::nearest);

/// Two significant digits: friction and flesh are known no better.
std::string torque_text(double n_m, UnitSystem units, Limits limits = {},
                        Rounding rounding = Rounding::nearest);
Beside torque_beside(double n_m, double limit_n_m, UnitSystem units);

/// A share of 1 in whole per cents: "47 %", "112 %"; "under 1 %" for what would be told as nothing. What is
/// short of the whole, or above it, is not told as "100 %".
std::string share_text(double share, Limits limits = {1});

/// How often something comes out when a load is mounted again and again: "37 of 100 mountings", "fewer than 1
/// of 100 mountings", "every mounting", "no mounting".
std::string chance_text(double share);

/// The same as a count of a hundred: "37", "fewer than 1", "more than 99".
std::string of_100_text(double share);

/// An angle in degrees of one turn, 0 ≤ a < 360.
double turn_degrees(double angle_rad);

/// An angle in whole degrees, with its sign: "-12°", "360°".
std::string angle_text(double angle_rad);

/// A place round the rod in whole degrees of one turn: "93°"; never "360°".
std::string clock_text(double clock_rad);

}  // namespace evenspit
