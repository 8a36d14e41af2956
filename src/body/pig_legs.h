// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <string>
#include <vector>

#include "body/body.h"
#include "body/bone_setter.h"
#include "body/lumps.h"
#include "body/trussing.h"
#include "geometry/types.h"

namespace evenspit::body {

/// How a right leg of the model pig lies: the middles of its pieces and of its bones, m.
struct PigLeg {
    Vec3 root;  ///< hip or shoulder, about which it swings
    Vec3 top, knee, heel, foot;
    std::array<Vec3, 2> toe, upper_bone, lower_bone;
};

struct PigLegs {
    PigLeg fore, hind;
};

/// Both right legs. Loose ones count as folded: they lie there and swing out.
///
/// Pieces are as long and as thick one way as the other, but for where they run into the trunk.
PigLegs pig_legs(Trussing trussing);

/// Adds the pairs of legs and of trotters as regions "forelegs", "hind legs" and "trotters".
void add_legs(Lumps& lumps, const PigLegs& legs);

/// Lays the bones of both legs of one side.
void lay_leg_bones(BoneSetter& setter, const PigLegs& legs, const std::string& side);

/// What each of the four legs fills while it swings out from where it is tied until it hangs straight from
/// hip or shoulder, and falls outward.
std::vector<SwungLimb> swung_legs(const PigLegs& legs);

}  // namespace evenspit::body
