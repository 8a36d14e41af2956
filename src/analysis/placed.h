// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "load/assembly.h"
#include "roast/cook_ends.h"

namespace evenspit {

/// An item's meshes moved into the rod frame, turn angle 0. Made once per analysis; every question reads it.
struct PlacedItem {
    std::vector<TriangleMesh> parts;             ///< as in Body::parts
    std::vector<TriangleMesh> swung;             ///< as in Body::swung
    Box3 bounds;                                 ///< of the parts that displace (no cavities, no swung limbs)
    Vec3 centre = Vec3::Zero();                  ///< centre of mass
    std::optional<Mat3> centre_covariance_m2{};  ///< Body's, in the rod's axes
    double mass_kg = 0;

    /// First and last station of the body, m.
    [[nodiscard]] double from() const { return bounds.min().x(); }
    [[nodiscard]] double to() const { return bounds.max().x(); }
    /// Static unbalance Σ m e of the item alone, [y, z], kg m.
    [[nodiscard]] Vec2 unbalance_kg_m() const { return mass_kg * centre.tail<2>(); }
};

std::vector<PlacedItem> place_items(const Assembly& assembly);

/// The same items at an end of the cook: other masses and centres, the same meshes.
void set_matter(std::vector<PlacedItem>& placed, const Assembly& assembly, Doneness end);

/// First and last station of an item's body, m; as PlacedItem::from() and to().
std::array<double, 2> stretch_on_rod(const Item& item);

/// Position on the rod from station, radius and clock, rod frame, m.
Vec3 rod_point(double at_m, double radius_m, double clock_rad);

/// Station of a tine's tip, m.
double tine_tip(const Fork& fork, const Tine& tine);

/// First and last station of a tine, hub and tip in order, m.
std::pair<double, double> tine_stretch(const Fork& fork, const Tine& tine);

/// Whether a tine of one fork runs into a tine of the other, all of them taken `thicker` times as thick as
/// they are.
bool tines_touch(const Fork& one, const Fork& other, double thicker = 1);

/// The middle of a tine, rod frame, m.
Vec3 tine_middle(const Fork& fork, std::size_t tine);

}  // namespace evenspit
