// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include "geometry/surface.h"
#include "rig/fire_kinds.h"
#include "rig/rod.h"

namespace evenspit {

enum class MotorKind { dc, synchronous };

/// The gear motor at the drive end.
struct Motor {
    std::string name;
    MotorKind kind = MotorKind::dc;
    double rated_torque_n_m = 0;  ///< what it gives to this rod for hours: its share of the plate's rating
    /// This rod's share, too. dc: torque at which it stands; synchronous: pull-out torque at the output.
    double stall_torque_n_m = 0;
    int rods = 1;                               ///< how many rods like this one it turns at once
    double speed_rad_s = 0;                     ///< no-load for dc
    std::optional<double> friction_torque_n_m;  ///< at the supports, whole; wins over the coefficient
    double support_friction = 0;                ///< coefficient where the rod slides, at the far bearing
    /// Free turn of the output shaft between driving and being driven. Small gear heads have 1 to 7° of it
    /// (makers' catalogues); 3° is common practice.
    double play_rad = 3 * std::numbers::pi / 180;
    std::optional<double> drive_stiffness_n_m_rad{};  ///< of gears and coupling; absent: rigid
};

/// What holds meat on the rod.
enum class ForkKind {
    fork,     ///< tines that run along the rod, from a hub at the meat's end
    bracket,  ///< legs that run out from the rod on both sides of the spine, to a plate on the back
    basket    ///< a cage of wire round the rod; see Cage
};

/// One tine of a fork, a straight pin along the rod; or a leg of a bracket, a straight pin across it.
struct Tine {
    double clock_rad = 0;  ///< on the fork; on the rod it is tine_clock(). Of a leg: where it runs to
    /// Of the pin's axis from the rod's axis. Of a leg: by how much it passes the rod's axis, on the side of
    /// the greater clock where positive.
    double radius_m = 0;
    double length_m = 0;  ///< from the hub; of a leg, from where it passes the rod's axis
    double diameter_m = 0;
};

/// Which way along the rod something looks.
enum class Facing { point, drive };

/// The screw that clamps a hub on the rod.
///
/// A hand turns a wing screw of that size by about 2 N m (1 to 4): torques of hands on knobs and small
/// wheels, Kreifeldt, Proc. Human Factors Soc. 29 (1985).
struct Clamp {
    double screw_m = 0.006;   ///< thread diameter
    double torque_n_m = 2.0;  ///< it is tightened with
};

/// The wire cage of a basket, outer sizes. A flat one is closed on what lies in it; in a round one, a drum,
/// loose pieces may tumble.
struct Cage {
    double length_m = 0;  ///< along the rod
    double width_m = 0,
           height_m = 0;  ///< across it, height toward the basket's clock; of a drum both its diameter
    bool round = false;
    double contents_kg = 0;  ///< of loose pieces
};

struct Fork {
    ForkKind kind = ForkKind::fork;
    double at_m = 0;                ///< station of the hub; of a basket its middle
    Facing points = Facing::point;  ///< of brackets and baskets nothing
    double mass_kg = 0;
    std::vector<Tine> tines{};
    double clock_rad = 0;           ///< how the fork as a whole is turned on the rod
    std::optional<Section> bore{};  ///< absent: the rod's own section
    Clamp clamp{};
    Cage cage{};  ///< of a basket
};

/// The shape of a fork's hole on that rod.
inline Section bore_of(const Fork& fork, const Rod& rod) {
    return fork.bore.value_or(rod.section);
}

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

/// Whether the shape of a fork's bore keeps it from turning on that rod; else only its clamp does.
inline bool holds_by_shape(const Fork& fork, const Rod& rod) {
    return rod.section != Section::round && bore_of(fork, rod) == rod.section;
}

/// A surface of the cooker that the load must clear.
struct CookerSurface {
    std::string name;
    SurfaceShape shape;
    bool fire = false;
    std::optional<double> temperature_k;
    double keep_m = 0.025;
    double nearer_m = 0;  ///< how much nearer to the load it stands than its shape says
};

struct Cooker {
    std::string name;
    std::vector<CookerSurface> surfaces;
    WallKind wall = WallKind::steel;
    /// Width and height of one of the two slots that the rod goes through. Common practice, no source.
    std::array<double, 2> slot_m{0.025, 0.040};
};

/// Counterweights that lie ready.
struct StockWeight {
    double mass_kg = 0;
    double radius_min_m = 0, radius_max_m = 0;
    double diameter_m = 0;
};

}  // namespace evenspit
