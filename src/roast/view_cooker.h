// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/bvh.h"
#include "rig/rig.h"

namespace evenspit {

/// The cooker as rays meet it, world frame: each surface in its exact shape, seen from both sides.
class CookerSight {
  public:
    explicit CookerSight(const Cooker& cooker);

    /// Number of surfaces, in the cooker's order.
    [[nodiscard]] std::size_t surfaces() const { return surfaces_; }

    /// The surface that a half-line meets first; −1 where it leaves the cooker. What starts inside a box or
    /// behind a plane meets that at once.
    ///
    /// \param direction unit length
    [[nodiscard]] int first_met(const Vec3& start, const Vec3& direction) const;

  private:
    // A piece of a revolved wall: radius `radius + slope · (z − low)` between two heights of the world; a
    // flat ring where they are the same.
    struct Frustum {
        double low, high;
        double radius, slope;
        double outer;  // of a ring, its greater radius
    };
    struct Wall {
        int surface;
        double x, y;  // of its axis
        std::vector<Frustum> pieces;
    };
    struct Box {
        int surface;
        Vec3 min, max;
    };
    struct Plane {
        int surface;
        Vec3 point, normal;
    };
    struct Mesh {
        int surface;
        SolidQueries triangles;
    };

    [[nodiscard]] static double met(const Wall& wall, const Vec3& start, const Vec3& direction,
                                    double within);

    std::size_t surfaces_;
    std::vector<Wall> walls_;
    std::vector<Box> boxes_;
    std::vector<Plane> planes_;
    std::vector<Mesh> meshes_;
};

}  // namespace evenspit
