// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "body/body.h"

namespace evenspit::body {

/// What a joint is made from.
struct JointOptions {
    std::string kind = "boneless roll";
    double mass_kg = 0;                              ///< scale weight, > 0
    double stuffing_kg = 0;                          ///< only in a suckling pig
    std::optional<double> stuffing_density_kg_m3{};  ///< as it lies in the belly; see BirdOptions
    std::optional<double> length{};  ///< over all along x, m; likewise width along y, depth along z
    std::optional<double> width{};
    std::optional<double> depth{};
    std::optional<double> spacing_m{};     ///< of the mesher on a joint of the usual weight
    Trussing trussing = Trussing::folded;  ///< of a suckling pig: folded, stretched or loose
};

/// Names that make_joint() knows.
std::vector<std::string> joint_kinds();

/// A joint as a body of flesh and bones, with its length along x; the origin is where one aims the rod: the
/// middle of its box, in a rib roast the thick of the meat, in a pig the line from tail to mouth.
///
/// - boneless roll: tied at even distances;
/// - leg of lamb: from the rump (−x) to the shank (+x), with aitch bone, femur and tibia;
/// - pork shoulder: from the cut through the blade (−x) to the sawn hock (+x), the skin side up (+z), with
///   shoulder blade, humerus, radius and ulna;
/// - rib roast: cut faces at both ends, the ribs toward +y, the sawn chine along −y, the fat cap up (+z);
/// - suckling pig: from tail (−x) to snout (+x), belly up (+z), legs folded over the belly or stretched fore
///   and aft along the rod; the gutted belly is a closed cavity. Loose legs count as folded and fill their
///   swing in Body::swung, tied ones in Body::if_undone.
///
/// Regions "cut face" and "bone end" name pieces of the surface; they have no flesh of their own.
///
/// Sizes follow the weight at the natural densities of flesh and bone; measures stretch the shape along its
/// axes.
///
/// \pre the trussing is one that its kind has
/// \throws InputError: key "shape" for an unknown kind; "mass" for a weight outside its range; "stuffing" for
/// more than fits, or where there
///         is no cavity; "stuffing_density" for one that no stuffing has; "length", "width", "depth" for a
///         measure that no such joint has. Each tells what would fit.
Body make_joint(const JointOptions& options);

}  // namespace evenspit::body
