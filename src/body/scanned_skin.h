// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "body/body.h"
#include "body/solid_body.h"
#include "geometry/mesh_io.h"

namespace evenspit::body {

struct BirdSpecies;

/// Stands for a species where a scan was looked at and is none: nothing is hollow in it then.
inline constexpr std::string_view no_bird = "none";

/// What a scan leaves of a body: what its file holds, and what a load takes from it.
struct ScannedSkin {
    TriangleMesh
        mesh{};  ///< closed, outward, m; the walls of hollows turned inward, so that it bounds the flesh
    std::vector<std::uint8_t> regions{};  ///< per triangle an index into region_table, or empty
    std::vector<Region> region_table{};   ///< walls of hollows are a region of their own
    std::string bird{};                   ///< the species it is most like, or no_bird; "" where nobody looked
};

/// What a file holds of it, with the regions that it names for each of its triangles. Those of a file that
/// does not name each are left out.
ScannedSkin skin_of(MeshFile file);

/// Puts a hollow that lies inside a skin behind a wall of its own.
/// \param hollow closed, outward
void add_hollow(ScannedSkin& skin, const TriangleMesh& hollow);

/// The body for a load. What a bird is made of, where the options do not tell, is as of its species; where
/// there is a hollow, the centre's error grows as matter is less than what the skin holds.
///
/// \throws InputError as solid_body() does
Body body_of(ScannedSkin skin, const SolidBodyOptions& options);

/// Density of a bird's flesh and bone together, kg/m3: regions by what they are made of, in the shares of a
/// whole turkey's weight that USDA SR26 05215–05228 and 05738–05740 give. What tables count as bone is about
/// half gristle and sinew, as in the parametric birds.
double natural_density(const BirdSpecies& species);

}  // namespace evenspit::body
