// SPDX-License-Identifier: MIT
#pragma once

#include <numbers>
#include <optional>

#include "geometry/usual_scan_scale.h"

namespace evenspit {

/// How far what is done at the fire may lie from what the load file says: one standard deviation each, of
/// normal and independent errors. Table `[spread]` of a load file.
///
/// Where no source stands beside a figure it is common practice.
struct Spread {
    double rod_line_m = 0.004;  ///< where the rod enters and leaves a body, in each of y and z
    double station_m = 0.004;   ///< of an item along the rod
    double turn_rad = 4 * std::numbers::pi / 180;        ///< of an item about the rod
    double fork_station_m = 0.003;                       ///< of a fork against its item
    double fork_clock_rad = 4 * std::numbers::pi / 180;  ///< of a fork that its bore does not hold in shape
    double counterweight_station_m = 0.003;
    double counterweight_radius_m = 0.003;
    double counterweight_clock_rad = 4 * std::numbers::pi / 180;
    double counterweight_mass = 0.01;  ///< share
    double mass = 0.01;                ///< of an item, share: a kitchen or hanging scale
    double centre_m =
        0.002;  ///< of mass, in each axis: what no shape knows (bones, fat); a scan's own on top
    double scan_scale = usual_scan_scale;  ///< of a scan's lengths, share
    double friction = 0.3;                 ///< share
    double motor = 0.1;                    ///< of stall and rated torque together, share
    /// Share. Plates of one grade scatter by 8.2 %: Sekulski, Advances in the Analysis and Design of Marine
    /// Structures (2,190 tests).
    double yield_strength = 0.08;
    std::optional<double> bearing_strength{};  ///< share; absent: the scatter of the strength's own source
    double rod_measures_m = 0.001;             ///< lengths along the rod, not its section's width
    double cooker_measures_m = 0.001;          ///< where a surface stands
    double limb_loose = 0.02;                  ///< chance that a tie comes undone

    bool operator==(const Spread&) const = default;

    /// Nothing is off: the load is judged as written.
    static Spread none() { return {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.0, 0, 0, 0}; }
};

}  // namespace evenspit
