// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "geometry/bvh.h"
#include "geometry/types.h"

namespace evenspit {

/// A box cut into cubes, x running fastest.
struct CellBox {
    Vec3 origin = Vec3::Zero();  ///< lower corner, m
    double spacing_m = 0;
    std::array<std::int32_t, 3> count{};  ///< cubes along x, y, z

    /// Holds the given box with at least one cube to spare on each side. Its planes lie at odd shares of a
    /// cube from that box's sides, so that a flat side never falls on a plane.
    static CellBox around(const Box3& box, double spacing_m);

    [[nodiscard]] std::size_t size() const {
        return std::size_t(count[0]) * std::size_t(count[1]) * std::size_t(count[2]);
    }
    [[nodiscard]] std::size_t index(std::int32_t i, std::int32_t j, std::int32_t k) const {
        return std::size_t(i) +
               std::size_t(count[0]) * (std::size_t(j) + std::size_t(count[1]) * std::size_t(k));
    }
    /// From a cell to the next along an axis.
    [[nodiscard]] std::size_t stride(int axis) const {
        return axis == 0   ? 1
               : axis == 1 ? std::size_t(count[0])
                           : std::size_t(count[0]) * std::size_t(count[1]);
    }
    [[nodiscard]] std::array<std::int32_t, 3> place(std::size_t cell) const {
        const std::size_t row = cell / std::size_t(count[0]);
        return {std::int32_t(cell % std::size_t(count[0])), std::int32_t(row % std::size_t(count[1])),
                std::int32_t(row / std::size_t(count[1]))};
    }
    [[nodiscard]] Vec3 centre(std::size_t cell) const {
        const auto [i, j, k] = place(cell);
        return origin + spacing_m * Vec3(i + 0.5, j + 0.5, k + 0.5);
    }
};

/// What of one triangle of a surface lies in one cell.
struct SurfacePiece {
    std::int32_t cell = 0;
    std::int32_t triangle = 0;  ///< counted over all surfaces, in the order in which they were added
    double area_m2 = 0;
    Vec3 centre = Vec3::Zero();  ///< m
    Vec3 normal = Vec3::Zero();  ///< out of what is filled
};

/// What closed surfaces leave of the cubes of a box: exact for the polyhedra they are, up to rounding.
///
/// Each triangle is clipped to the cells it passes. Lengths inside along the cells' edges come from rays; by
/// the divergence theorem they and the clipped outlines give the areas inside of the cells' faces, and these
/// with the clipped pieces the volumes. So all volumes together are the solid's, and all pieces of a triangle
/// its area. A surface that crosses itself is counted as often as it winds.
class CellCuts {
  public:
    explicit CellCuts(const CellBox& box);

    /// \param sign +1 for a solid, −1 for a hollow in one that was added before
    void add(const SolidQueries& solid, int sign);
    /// Works out the volumes. \pre not called before
    void finish();

    [[nodiscard]] const CellBox& box() const { return box_; }
    /// Share of each cell that is filled, in [0, 1].
    [[nodiscard]] std::vector<float>& filled() { return filled_; }
    /// By axis: share of each cell's upper face that is filled, in [0, 1].
    [[nodiscard]] std::array<std::vector<float>, 3>& open() { return open_; }
    [[nodiscard]] std::vector<SurfacePiece>& pieces() { return pieces_; }
    /// By surface added, the first of its triangles' numbers; then their total.
    [[nodiscard]] const std::vector<std::int32_t>& first_triangles() const { return first_triangles_; }

  private:
    struct Clipped;
    void add_edges(const SolidQueries& solid, int axis, float sign);
    void add_triangles(const TriangleMesh& mesh, int sign);

    CellBox box_;
    std::vector<float> filled_;
    std::array<std::vector<float>, 3> open_;
    std::vector<SurfacePiece> pieces_;
    std::vector<std::int32_t> first_triangles_{0};
};

}  // namespace evenspit
