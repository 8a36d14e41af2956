// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "body/body.h"
#include "roast/cell_cuts.h"

namespace evenspit {

enum class TissueKind : std::uint8_t { lean, skin, bone, stuffing };

/// A kind of matter in a body that has one table of properties.
struct Tissue {
    TissueKind kind = TissueKind::lean;
    int part = 0;     ///< of Body::parts
    int region = -1;  ///< of Body::region_table; −1 if the body has none, or for what is no flesh
    double density_kg_m3 = 0;
    double volume_m3 = 0;  ///< of its cells
};

/// What of a body's surface heats one cell and has its temperature from one cell.
struct SurfaceSpot {
    std::int32_t cell = 0;  ///< which it heats: the one it lies in
    std::int32_t under =
        0;  ///< the cell from whose temperature that of the surface follows, its centre inside
    std::int32_t enclosure = -1;  ///< of HeatGrid::enclosures if it faces one, else −1: it faces the outside
    float area_m2 = 0;
    float depth_m = 0;  ///< of the centre of `under` beneath the triangles' planes, mean over the area, > 0
};

/// What of a spot lies on one triangle.
struct SurfacePatch {
    std::int32_t spot = 0;
    std::int32_t triangle = 0;  ///< see HeatGrid::surfaces
    float area_m2 = 0;
};

/// A surface of the body. Its triangles are counted on from `first_triangle`; the skin, Body::parts[0], comes
/// first, so that its triangles keep their own numbers.
struct GridSurface {
    int part = 0;
    std::int32_t first_triangle = 0;
};

/// A hollow whose walls exchange heat with each other.
struct Enclosure {
    int part = -1;  ///< the cavity
    bool closed = false;
};

struct HeatGridOptions {
    double spacing_m = 0.002;
};

/// A body cut into cubes for the flow of heat.
///
/// The scheme is the finite volume method with cut cells: volumes, the areas between cells and the surface in
/// them are those of the body, temperatures stand at the centres of whole cubes, even where a centre lies
/// outside, as in Y. T. Ng, C. Min, F. Gibou, J. Comput. Phys. 228:8807–8829 (2009), and heat comes in from
/// the surface over the distance from there: J. Papac, F. Gibou, C. Ratsch, J. Comput. Phys. 229:875–889
/// (2010); where a cell's own centre lies outside, over that of the cells inward, see find_edge_cells().
/// Second order in the spacing.
struct HeatGrid {
    CellBox box;
    std::vector<float> filled;               ///< volume in cubes, by heat capacity; 0 without temperature
    std::array<std::vector<float>, 3> open;  ///< by axis: area toward the next cell as a share of a face
    std::vector<std::int32_t> owner;         ///< the cell whose temperature holds here: see is_inside()
    std::vector<std::uint8_t> tissue;        ///< of `tissues`
    std::vector<std::array<std::int32_t, 2>>
        rows;                           ///< by row along x: first and past-last cell with temperature
    std::vector<SurfaceSpot> spots;     ///< by cell
    std::vector<SurfacePatch> patches;  ///< by spot
    std::vector<Tissue> tissues;
    std::vector<GridSurface> surfaces;
    std::vector<Enclosure> enclosures;
    std::int32_t triangle_count = 0;  ///< of all surfaces
    double lost_volume_m3 = 0;        ///< specks too far from any other cell
    double lost_area_m2 = 0;          ///< of their surface

    [[nodiscard]] bool carries(std::size_t cell) const { return filled[cell] > 0; }
    /// Whether a cell's temperature is one of the body: its centre lies inside. Of other cells that carry one
    /// it is what the temperature would be if the body went on; `owner` is the nearest cell inside. −1 for no
    /// body.
    [[nodiscard]] bool is_inside(std::size_t cell) const { return owner[cell] == std::int32_t(cell); }
    [[nodiscard]] double volume_m3() const;
    [[nodiscard]] double area_m2() const;
    [[nodiscard]] std::size_t active_cells() const;
    /// The cell whose temperature a place has; nothing outside the body.
    [[nodiscard]] std::optional<std::size_t> cell_at(const Vec3& place) const;
};

/// Cuts a body. Tissue goes by the cells' centres: bone and stuffing by their parts' meshes, skin as far
/// under the outside as its share of the region's mass makes it thick, and each region as far as its surface
/// is the nearest one. Stuffing touches the wall wherever it comes within a millimetre of it, and the gap
/// counts as filled. Walls of cavities, open or closed, that nothing touches face an enclosure.
///
/// \throws std::invalid_argument for a spacing that is not positive or needs more than 200 million cells
HeatGrid heat_grid(const body::PreparedBody& body, const HeatGridOptions& options = {});

}  // namespace evenspit
