// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "analysis/finding.h"
#include "geometry/swept.h"

namespace evenspit {

/// Static balance of all that turns. Rod frame, SI.
struct Balance {
    double mass_kg = 0;                  ///< items, forks, counterweights, rod
    double centre_x_m = 0;               ///< station of the common centre of mass
    Vec2 unbalance_kg_m = Vec2::Zero();  ///< Σ m e, [y, z]
    double unbalance_kg_m_size = 0;
    double heavy_side_rad = 0;           ///< clock of the unbalance, 0 ≤ a < 2π; 0 if there is none
    Vec2 couple_kg_m2 = Vec2::Zero();    ///< Σ m e (x − centre_x); makes no gravity torque
    double gravity_torque_peak_n_m = 0;  ///< g |U|
    double friction_torque_n_m = 0;
    double motor_torque_peak_n_m = 0;
    double rated_torque_n_m = 0;
    double motor_use = 0;  ///< peak over rated
    /// Of the end of the cook, where the torque peaks higher than at its start.
    bool cooked = false;
    double centrifugal_over_weight = 0;        ///< |U| ω² over m g, at the motor's speed
    std::vector<std::array<double, 2>> curve;  ///< [turn angle deg, motor torque N m], 0 … 359
};

/// Speed over a turn.
struct Turning {
    bool stalls = false;
    bool overruns = false;                   ///< the load drives the gears over part of a turn
    double overrun_share = 0;                ///< of a turn's angle
    std::optional<double> speed_mean_rad_s;  ///< a full turn over the time it takes; absent when it stalls
    std::optional<double> speed_min_rad_s;
    std::optional<double> speed_max_rad_s;
    std::optional<double> irregularity;  ///< (max − min) / mean
};

/// The rod as a beam on its two supports.
struct RodResult {
    std::array<double, 2> reactions_n{};  ///< drive, far; up is positive
    double sag_max_m = 0;                 ///< greatest downward displacement
    double sag_at_m = 0;
    double stress_max_pa = 0;  ///< von Mises, worst attitude
    double stress_at_m = 0;
    double yield_use = 0;
    double youngs_modulus_pa = 0;               ///< as used, hot
    double yield_strength_pa = 0;               ///< as used, hot
    std::vector<std::array<double, 2>> sag;     ///< [station m, downward m]
    std::vector<std::array<double, 2>> moment;  ///< [station m, N m]
};

struct TineGrip {
    int item = -1;          ///< the item it enters, −1 for none
    double embedded_m = 0;  ///< inside the skin: flesh, bone and cavity
    double in_bone_m = 0;
    double in_cavity_m = 0;
    std::optional<double> cover_min_m;  ///< least flesh between tine and skin; absent when it enters nothing
    [[nodiscard]] double in_flesh_m() const { return embedded_m - in_bone_m - in_cavity_m; }
};

struct ForkGrip {
    double at_m = 0;
    std::vector<TineGrip> tines;
    double weight_share = 0;         ///< of the items it holds; 0 if it holds none
    double torque_capacity_n_m = 0;  ///< in the worst state of the cook
    double torque_capacity_raw_n_m = 0;
};

struct ItemGrip {
    std::vector<int> forks;          ///< that hold it
    double gravity_torque_n_m = 0;   ///< its own
    double torque_capacity_n_m = 0;  ///< worst state
    double torque_capacity_raw_n_m = 0;
    std::optional<double> torque_use;  ///< absent when no fork holds it
};

struct Grip {
    std::vector<ForkGrip> forks;
    std::vector<ItemGrip> items;
    std::optional<double> torque_capacity_n_m;  ///< of the item with the worst use
    std::optional<double> torque_use;           ///< the worst
};

struct SurfaceGap {
    std::string name;
    double gap_m = 0;
    double keep_m = 0;
    double at_m = 0;  ///< station
    Thing part{};     ///< of the load
    Vec3 on_load = Vec3::Zero();
    Vec3 on_surface = Vec3::Zero();
    bool fire = false;
};

struct Clearance {
    std::optional<double> gap_min_m;   ///< absent without surfaces
    std::vector<SurfaceGap> surfaces;  ///< as in the load file
    Outline outline;
    std::vector<Thing> parts;                    ///< by OutlinePiece::part
    std::vector<std::array<double, 2>> profile;  ///< [station m, radius m]
};

struct Uncertainty {
    double gravity_torque_p95_n_m = 0;
    double stall_probability = 0;
    int samples = 0;
    /// The same, were nothing left open by scans; absent where no item's scan tells what it left open.
    std::optional<double> gravity_torque_p95_seen_n_m{};

    /// How much of the 95th percentile is there because scans left something open; 0 without scans.
    [[nodiscard]] double of_scans_n_m() const {
        return gravity_torque_p95_n_m - gravity_torque_p95_seen_n_m.value_or(gravity_torque_p95_n_m);
    }
};

/// All answers for one load as it stands.
struct Analysis {
    Level verdict = Level::ready;
    std::vector<Finding> findings;  ///< worst first
    Balance balance;
    Turning turning;
    RodResult rod;
    Grip grip;
    Clearance clearance;
    std::optional<Uncertainty> uncertainty;
};

}  // namespace evenspit
