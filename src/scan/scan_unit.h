// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace evenspit::scan {

/// A unit that scan files are written in.
struct ScanUnit {
    const char* symbol;  ///< "mm"
    const char* plural;  ///< "millimetres"
    double metres;
};

/// m, cm, mm, in, ft.
const std::vector<ScanUnit>& scan_units();

/// What is known of the unit of a scan before it is read as metres.
struct UnitQuestion {
    double length = 0;                        ///< diagonal of the body's box in the file's own unit
    double volume = 0;                        ///< of the body, roughly, in the cube of that unit; 0: unknown
    std::optional<double> metres_per_unit{};  ///< stated by the format or the user
    std::optional<double> mass_kg{};          ///< scale weight
    std::string file{};                       ///< for complaints
};

/// The unit taken.
struct UnitAnswer {
    double metres_per_unit = 1;
    bool guessed = false;  ///< it was not stated
};

/// Whether the unit that is stated makes a thing that goes on a spit; see decide_unit().
/// \pre one is stated
bool unit_fits(const UnitQuestion& question);

/// Decides the unit.
///
/// A stated unit is taken if it makes a thing that goes on a spit: 6 cm to 2.5 m across and, with a weight,
/// of 300 to 2500 kg/m3 (a rough volume is enough: units differ by far more). Without one the only unit that
/// does so is taken; metres, if they do.
///
/// \throws InputError (key "scan_unit") that names the units that would fit, if the stated one cannot be or
/// several could
UnitAnswer decide_unit(const UnitQuestion& question);

/// How long a roast usually is. Common practice, no source.
inline constexpr double usual_body_m = 0.3;

/// The unit in which a body of such a length is nearest to the usual one: "mm", "cm", "in" or "m".
std::string likely_unit(double length_in_units);

}  // namespace evenspit::scan
