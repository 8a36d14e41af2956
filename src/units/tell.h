// SPDX-License-Identifier: MIT
#pragma once

#include <string>

namespace evenspit {

/// A share of 1 in per cent, with that many significant digits, but never less than whole per cents: "4.7 %",
/// "47 %", "112 %". No power of ten, no zeros at the end; "not known" if it is not finite.
std::string share_text(double share, int digits = 2);

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
