// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/surface.h"
#include "rig/rod.h"

namespace evenspit {

enum class MotorKind { dc, synchronous };

/// The gear motor at the drive end.
struct Motor {
    std::string name;
    MotorKind kind = MotorKind::dc;
    double rated_torque_n_m = 0;
    double stall_torque_n_m =
        0;                   ///< dc: torque at which it stands; synchronous: pull-out torque at the output
    double speed_rad_s = 0;  ///< no-load for dc
    std::optional<double> friction_torque_n_m;  ///< at the supports, whole; wins over the coefficient
    double support_friction = 0;                ///< coefficient at the supports
};

/// One tine of a fork: a straight pin along the rod.
struct Tine {
    double clock_rad = 0;  ///< on the fork; on the rod it is tine_clock()
    double radius_m = 0;   ///< of the pin's axis from the rod's axis
    double length_m = 0;   ///< from the hub
    double diameter_m = 0;
};

/// Which way along the rod something looks.
enum class Facing { point, drive };

struct Fork {
    double at_m = 0;  ///< station of the hub
    Facing points = Facing::point;
    double mass_kg = 0;
    std::vector<Tine> tines;
    double clock_rad = 0;  ///< how the fork as a whole is turned on the rod
};

/// A tine's clock on the rod.
inline double tine_clock(const Fork& fork, const Tine& tine) {
    return fork.clock_rad + tine.clock_rad;
}

struct Counterweight {
    double at_m = 0;
    double mass_kg = 0;
    double radius_m = 0;  ///< of its centre of mass
    double clock_rad = 0;
    double diameter_m =
        0;  ///< the weight is taken as a round one, as long as it is wide, its axis along the rod
};

/// A surface of the cooker that the load must clear.
struct CookerSurface {
    std::string name;
    SurfaceShape shape;
    bool fire = false;
    std::optional<double> temperature_k;
    double keep_m = 0.025;
};

struct Cooker {
    std::string name;
    std::vector<CookerSurface> surfaces;
};

/// Counterweights that lie ready.
struct StockWeight {
    double mass_kg = 0;
    double radius_min_m = 0, radius_max_m = 0;
    double diameter_m = 0;
};

}  // namespace evenspit
