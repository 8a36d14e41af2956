// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>
#include <vector>

#include "body/grown_body.h"

namespace evenspit::body {

/// What is known of a kind of joint.
struct JointKind {
    std::string_view name;
    std::string_view about;                ///< in a few words, from one end of x to the other
    double least_kg = 0, greatest_kg = 0;  ///< scale weights
    std::string_view flesh;                ///< number of its raw_food(), lean and fat
    Meat meat = Meat::unknown;
    double separable_fat = 0;  ///< share of that
    double spacing_m = 0;      ///< of the mesher, for some 15 to 40 thousand triangles
    /// At a size of its own; name and densities still to be set.
    BodyModel (*model)(Trussing trussing);
    bool has_legs = false;  ///< that are tied one way or another; else there is only one shape

    /// Sets the densities of a model's matter.
    void weigh(BodyModel& shaped) const;
};

const std::vector<JointKind>& joint_table();

BodyModel suckling_pig(Trussing trussing);

}  // namespace evenspit::body
