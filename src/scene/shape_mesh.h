// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include "body/matter.h"
#include "geometry/mesh.h"
#include "rig/rod.h"

namespace evenspit::scene {

/// What lies open at a corner of a joint's surface.
enum class Tissue : std::uint8_t { skin, cut_flesh, browned_flesh, bone, fat };

/// Triangles made to be drawn: single precision, a normal at every corner.
struct ShapeMesh {
    struct Corner {
        std::array<float, 3> at{};
        std::array<float, 3> normal{};
    };
    std::vector<Corner> corners;
    std::vector<std::uint32_t> triangles;  ///< three indices each, counter-clockwise from outside
    /// A coarser copy on some of the same corners, for pictures that will not last; empty: `triangles` are
    /// few.
    std::vector<std::uint32_t> few{};

    std::vector<Tissue> tissues{};  ///< by corner; empty: skin all over

    [[nodiscard]] std::size_t triangle_count() const { return triangles.size() / 3; }
};

using SharedShape = std::shared_ptr<const ShapeMesh>;

/// The triangles at which a body stops being drawn as it is; above it a coarser copy is shown.
inline constexpr std::size_t most_drawn_triangles = 90'000;

/// How many triangles such a coarser copy has at most.
inline constexpr std::size_t most_hurried_triangles = 12'000;

/// A body's mesh, smooth: normals are the mean of the faces round a corner, larger ones counting more.
///
/// A mesh of more than `most_triangles` is thinned: corners that share a cube of a grid become one.
ShapeMesh drawn_mesh(const TriangleMesh& mesh, std::size_t most_triangles = most_drawn_triangles);

/// A shape with where each vertex of its mesh went.
struct DrawnMesh {
    ShapeMesh shape;
    std::vector<std::uint32_t> corner_of;  ///< by vertex
};

/// drawn_mesh(), for whoever knows something of the vertices.
DrawnMesh traced_mesh(const TriangleMesh& mesh, std::size_t most_triangles = most_drawn_triangles);

/// A shape whose skin has moved in, by as much as the flesh at each of its corners tells.
ShapeMesh moved_in(const ShapeMesh& shape, const body::FleshField& flesh);

/// Builds shapes of a few hundred triangles, in metres.
class ShapeBuilder {
  public:
    /// A flat piece, corners counter-clockwise from outside; convex.
    void face(const std::vector<Vec3>& corners);
    void box(const Vec3& min, const Vec3& max);
    /// A straight bar with flat sides between two places; `across` is the distance over flats.
    void bar(const Vec3& from, const Vec3& to, Section section, double across);
    /// A round pin, flat at its start; `point_m` of its end taper to a point.
    void pin(const Vec3& from, const Vec3& to, double radius, double point_m = 0);
    /// A ball.
    void ball(const Vec3& centre, double radius, int rings = 10);
    /// A line of (along, radius) points turned about X. The outside is on the left of the line seen with the
    /// radius upward and x to the left, that is, a line that runs along +x has it outside.
    void turned_about_x(const std::vector<Vec2>& line, int sides = 64);
    /// A lump of coal: a ball with dents, the same for the same number.
    void lump(const Vec3& centre, double radius, std::uint32_t number);
    /// The half behind the plane y = 0 (toward +y) of a wall that stands round the vertical through the
    /// origin, with its cut faces.
    ///
    /// \param inner (radius, height) as seen from inside, m
    void half_wall(const std::vector<Vec2>& inner, double thickness);

    [[nodiscard]] SharedShape take();

  private:
    void smooth_strip(const std::vector<std::vector<ShapeMesh::Corner>>& rows);
    std::uint32_t corner(const Vec3& at, const Vec3& normal);
    ShapeMesh mesh_;
};

}  // namespace evenspit::scene
