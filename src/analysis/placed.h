// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "geometry/bvh.h"
#include "load/assembly.h"
#include "roast/cook_ends.h"

namespace evenspit {

/// One thing that turns with the rod.
struct TurningMass {
    double mass_kg = 0;
    Vec3 centre = Vec3::Zero();  ///< of mass; rod frame, turn angle 0, m

    /// Static unbalance m e of it alone, [y, z], kg m.
    [[nodiscard]] Vec2 unbalance_kg_m() const { return mass_kg * centre.tail<2>(); }

    /// Clock of its centre, −π … π.
    [[nodiscard]] double heavy_side_rad() const { return std::atan2(centre.z(), centre.y()); }
};

/// The items' masses at one moment of the cook.
std::vector<TurningMass> item_masses(const Assembly& assembly, Doneness end);

/// What of an item loads the rod, at one moment of the cook.
struct ItemOnRod : TurningMass {
    double from_m = 0, to_m = 0;  ///< first and last station of the body (no cavities, no swung limbs)

    [[nodiscard]] double from() const { return from_m; }
    [[nodiscard]] double to() const { return to_m; }
};

/// Quick: nothing is moved.
std::vector<ItemOnRod> items_on_rod(const Assembly& assembly, Doneness end = Doneness::raw);

/// An item's meshes moved into the rod frame, turn angle 0, for what asks where things sit.
struct PlacedItem : ItemOnRod {
    std::vector<TriangleMesh> parts;  ///< as in Body::parts
    std::vector<TriangleMesh> swung;  ///< as in Body::swung
    Box3 bounds;                      ///< of the parts that displace (no cavities, no swung limbs)
};

/// As they go on the rod.
std::vector<PlacedItem> place_items(const Assembly& assembly);

/// First and last station of an item's body, m; no cavities, no swung limbs.
std::array<double, 2> stretch_on_rod(const Item& item);

/// Position on the rod from station, radius and clock, rod frame, m.
Vec3 rod_point(double at_m, double radius_m, double clock_rad);

/// The axis of a tine or a leg, rod frame, turn angle 0, m.
struct PinLine {
    Vec3 root = Vec3::Zero(), tip = Vec3::Zero();
};
PinLine pin_line(const Fork& fork, const Tine& tine);

/// First and last station of all of a fork, a bracket or a basket, m.
std::pair<double, double> fork_stretch(const Fork& fork);

/// How far from the rod's axis a cage reaches, m.
double cage_reach_m(const Cage& cage);

/// How far pieces of an item stand out of a basket, m, 0 where it lies inside it; and how far it can move in
/// it, from side to side the way it has least room, m.
struct InBasket {
    double out_m = 0;
    double play_m = 0;
};

/// How an item lies in a basket; nothing if its middle lies outside of it.
std::optional<InBasket> in_basket(const Item& item, const Fork& basket);

/// How far a pin's axis passes a line along the rod through (y, z), seen from the rod's end, m.
double beside_rod_m(const PinLine& pin, const Vec2& at);

/// Station of a tine's tip, m; of a leg its own.
double tine_tip(const Fork& fork, const Tine& tine);

/// First and last station of a tine, hub and tip in order, m; of a leg with its thickness.
std::pair<double, double> tine_stretch(const Fork& fork, const Tine& tine);

/// How far from the rod's axis a tine or a leg reaches, its thickness included, m.
double pin_reach(const Fork& fork, const Tine& tine);

/// The mean lever of a pin about the rod's axis over stretches along it, m: what presses on it at right
/// angles to it turns the rod by that. A tine's radius; of a leg the mean distance from where it passes the
/// axis, ∫ s ds / ∫ ds.
double mean_lever_m(const Fork& fork, const Tine& tine, const std::vector<Interval>& stretches);

/// Whether a tine of one fork runs into a tine of the other, all of them taken `thicker` times as thick as
/// they are.
bool tines_touch(const Fork& one, const Fork& other, double thicker = 1);

/// The middle of a tine, rod frame, m.
Vec3 tine_middle(const Fork& fork, std::size_t tine);

}  // namespace evenspit
