// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "analysis/figure.h"
#include "analysis/finding.h"
#include "analysis/input.h"
#include "geometry/bvh.h"
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
    double friction_torque_n_m = 0;      ///< at the supports, and of loose pieces that tumble
    double tumbling_torque_n_m = 0;      ///< of it, the latter
    int flats = 0;  ///< of a rod that rises and falls on them at its far end; 0 where it does not
    double flats_torque_peak_n_m = 0;  ///< of that, just off a flat
    double motor_torque_peak_n_m = 0;
    double rated_torque_n_m = 0;
    double motor_use = 0;  ///< peak over rated
    /// Of the end of the cook, where the torque peaks higher than at its start.
    bool cooked = false;
    double centrifugal_over_weight = 0;        ///< |U| ω² over m g, at the motor's speed
    std::vector<std::array<double, 2>> curve;  ///< [turn angle deg, motor torque N m], 0 … 359

    /// What no counterweight takes off the motor, N m.
    [[nodiscard]] double at_supports_n_m() const { return friction_torque_n_m + flats_torque_peak_n_m; }
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
    /// How hard the load pulls the gears at most where it drives them, N m; 0 where it never does.
    double pull_n_m = 0;
    double play_rad = 0;  ///< of the drive
    /// Peak torque of the knock when the falling load has taken up the play; absent where it never falls.
    std::optional<double> knock_n_m{};
};

/// How an item's weight comes onto the rod: by the tines, through their clamped hubs, or with the body lying
/// on the rod. Nobody knows which; the worse counts.
enum class Carried { by_tines, on_rod };

/// The rod as a beam on its two supports.
struct RodResult {
    Carried carried = Carried::by_tines;  ///< the way that stresses it more
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
    double flesh_middle_m = 0;  ///< station of the middle of what is in flesh
    double flesh_arm_m = 0;     ///< from the hub to that; of a leg, from the rod's axis
    double stands_out_m = 0;    ///< of a leg: how much of it is beyond the skin, for plate and nut
    /// What of it holds where the flesh bears least of the cook: each length by what flesh bears there over
    /// its mean, less what the skin moves in by where the tine enters.
    double holds_m = 0;
    std::optional<double> bend_use{};   ///< of the tine's yield strength, as a pin that sticks out of its hub
    std::optional<double> cover_min_m;  ///< least flesh between tine and skin; absent when it enters nothing
    [[nodiscard]] double in_flesh_m() const { return embedded_m - in_bone_m - in_cavity_m; }
};

struct ForkGrip {
    double at_m = 0;
    std::vector<TineGrip> tines;
    double weight_share = 0;         ///< of the items it holds; 0 if it holds none
    double torque_capacity_n_m = 0;  ///< in the worst state of the cook
    double torque_capacity_raw_n_m = 0;
    std::optional<double>
        clamp_use{};  ///< of what its clamp holds against turning; absent where its bore does
};

struct ItemGrip {
    std::vector<int> forks;          ///< that hold it
    bool rod_alone = false;          ///< no fork holds it, but the rod's own shape does, more or less
    double gravity_torque_n_m = 0;   ///< its own
    double torque_capacity_n_m = 0;  ///< of its forks, else of the rod alone; worst state
    double torque_capacity_raw_n_m = 0;
    std::optional<double> torque_use;    ///< absent when nothing holds it
    std::vector<Interval> rod_runs{};    ///< stations between which the rod runs through flesh or bone
    std::optional<double> weight_use{};  ///< of what tines and rod together bear; absent when nothing does
    /// The same of the tine that bears most, weight and torque together, over a turn.
    std::optional<double> hold_use{};
    /// Of what lies in a basket: how far it stands out of it, and how far it can move in it; weight and
    /// torque need no tines there.
    std::optional<double> basket_out_m{}, basket_play_m{};
    std::optional<double>
        slide_use{};  ///< of what its forks' clamps hold along the rod; absent without forks
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

/// How often each verdict comes out when a load is mounted again and again; adds up to 1.
struct Chance {
    double ready = 1, care = 0, stop = 0;
    int mountings = 0;  ///< how many were tried
};

/// A figure over all mountings in which it could be computed.
struct FigureSpread {
    FigureId figure{};
    double p5 = 0, p50 = 0, p95 = 0;  ///< SI
};

/// How much an input has to do with the unbalance.
struct Driver {
    Input input{};
    double share = 0;  ///< mean square of what it changes alone, over the sum for all
};

/// Between which values a curve runs in 90 of 100 mountings: [x, p5, p95].
using Band = std::vector<std::array<double, 3>>;

/// What is known of a load from mounting it many times.
struct Mounted {
    Chance chance{};
    std::vector<FigureSpread> spread{};
    std::vector<Driver> drivers{};  ///< greatest first
    Band torque{};                  ///< motor torque over a turn: deg, N m
    Band profile{};                 ///< radius along the rod: m
};

/// All answers for one load.
struct Analysis {
    Level verdict = Level::ready;
    std::vector<Finding> findings;  ///< worst first
    Balance balance;
    Turning turning;
    RodResult rod;
    Grip grip;
    Clearance clearance;
    std::optional<Uncertainty> uncertainty;
    std::optional<Mounted> mounted{};  ///< absent: as written only
};

}  // namespace evenspit
