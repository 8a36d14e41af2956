// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/loads.h"

namespace evenspit::test {

/// A load with one of everything in a cooker.
inline Assembly load_in_cooker() {
    Assembly load = good_load();
    load.items[0] =
        item("roast",
             with_part(flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), body::PartKind::bone,
                       ellipsoid_mesh(0.05, 0.01, 0.01, Vec3::Zero()), 1300, 0),
             0.34);
    load.counterweights.push_back(
        {.at_m = 0.12, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 0, .diameter_m = 0.04});
    load.cooker.surfaces = {{.name = "coals",
                             .shape = BoxShape{{0.1, -0.2, -0.3}, {0.6, 0.2, -0.2}},
                             .fire = true,
                             .temperature_k = {},
                             .keep_m = 0.05},
                            {.name = "bowl",
                             .shape = RevolvedShape{{0.34, 0, 0}, {{0.1, -0.35}, {0.3, -0.2}, {0.3, 0.2}}},
                             .fire = false,
                             .temperature_k = {},
                             .keep_m = 0.025},
                            {.name = "ground",
                             .shape = PlaneShape{{0, 0, -0.6}, Vec3::UnitZ()},
                             .fire = false,
                             .temperature_k = {},
                             .keep_m = 0.025}};
    return load;
}

}  // namespace evenspit::test
