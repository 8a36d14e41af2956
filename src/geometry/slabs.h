// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "geometry/crests.h"
#include "geometry/swept.h"

namespace evenspit {

/// A vertex in the rod frame.
struct Spot {
    double x = 0, y = 0, z = 0;
    double square = 0;      ///< of the distance from the axis, m²
    std::int32_t slab = 0;  ///< the last plane at or before x
};

/// Sees a mesh's vertices in the rod frame: mesh lengths × scale, then the pose.
class SpotView {
  public:
    SpotView(const Pose& pose, double scale) : scale_(scale) {
        for (int row = 0; row < 3; ++row) {
            for (int column = 0; column < 4; ++column) m_[row][column] = pose(row, column);
        }
    }

    /// \throws std::invalid_argument if a coordinate is not finite
    [[nodiscard]] Spot operator()(const Vec3& vertex) const {
        const double a = scale_ * vertex[0], b = scale_ * vertex[1], c = scale_ * vertex[2];
        const double x = along(0, a, b, c) + m_[0][3];
        const double y = along(1, a, b, c) + m_[1][3];
        const double z = along(2, a, b, c) + m_[2][3];
        const double square = y * y + z * z;
        if (!std::isfinite(x + square)) throw_not_finite();
        return {x, y, z, square, 0};
    }

    /// The same of a direction, without the scale.
    [[nodiscard]] double along(int row, double a, double b, double c) const {
        return m_[row][0] * a + m_[row][1] * b + m_[row][2] * c;
    }
    /// How far a box with these half sides reaches along a direction of the rod frame.
    [[nodiscard]] double half_along(double x, double y, double z, const Vec3& half) const {
        return std::abs(x * m_[0][0] + y * m_[1][0] + z * m_[2][0]) * half[0] +
               std::abs(x * m_[0][1] + y * m_[1][1] + z * m_[2][1]) * half[1] +
               std::abs(x * m_[0][2] + y * m_[1][2] + z * m_[2][2]) * half[2];
    }
    [[nodiscard]] double scale() const { return scale_; }

  private:
    [[noreturn]] static void throw_not_finite();

    double m_[3][4]{};
    double scale_ = 1;
};

/// How far something reaches out at most: between two stations, and at each within a radius that changes in a
/// line.
struct Reach {
    double x0 = 0, x1 = 0;  ///< m
    double at = 0;          ///< a station, m
    double radius = 0;      ///< there, m
    double rise = 0;        ///< by how much the radius grows along the rod, m/m
    double furthest = 0;    ///< nowhere further than this, m
};

/// Vertices of a slab that lie within this line, and all edges from one such vertex to another, change
/// nothing of an outline in the making any more.
struct Hiding {
    double at = 0;       ///< a station, m
    double radius = -1;  ///< there, m; negative where nothing is hidden
    double rise = 0;     ///< m/m

    [[nodiscard]] bool hides(double x, double square) const {
        const double within = radius + rise * (x - at);
        return within > 0 && square < within * within;
    }
};

/// A mesh's outline in the making (sweep()): planes across the rod, evenly apart, and what of the mesh
/// reaches them. First all vertices are located and all edges cross the planes, in any order; then come the
/// chords, the vertices that rise above them, and the pieces.
class Slabs {
  public:
    /// \param first, last stations of the mesh, m
    /// \param step greatest width of a slab, m
    /// \param vertices of the mesh, about; no outline hangs on it
    /// \throws std::invalid_argument if that needs more than ten million slabs
    Slabs(double first, double last, double step, std::size_t vertices);

    /// The number of the last plane at or before a station of the mesh.
    [[nodiscard]] std::size_t slab_of(double x) const {
        const std::size_t n = planes_.size() - 1;
        std::size_t k = std::min(n, static_cast<std::size_t>((x - first_) * planes_per_metre_));
        while (planes_[k].x > x) --k;
        while (k < n && planes_[k + 1].x <= x) ++k;
        return k;
    }
    /// Tells a vertex its slab.
    void locate(Spot& spot) {
        spot.slab = static_cast<std::int32_t>(slab_of(spot.x));
        touch(spot);
    }
    /// Lets a located vertex leave its radius on its plane, if it lies in it, and tells whether it does.
    bool touch(const Spot& spot) {
        Plane& plane = planes_[static_cast<std::size_t>(spot.slab)];
        if (plane.x != spot.x) return false;
        plane.face = std::max(plane.face, spot.square);
        return true;
    }
    /// Lets an edge between two located vertices leave its radius on the planes it meets. Twice is as once.
    void cross(const Spot& p, const Spot& q);
    /// Lets a located vertex that touched say how far out the outline reaches at least.
    void note(const Spot& spot) { crests_.note(static_cast<std::size_t>(spot.slab), spot.x, spot.square); }
    /// Takes to be hidden, from now on, what lies within the vertices noted and within what planes hold.
    void raise();
    /// Whether a located vertex is hidden: it changes nothing but for what it leaves on planes.
    [[nodiscard]] bool holds(const Spot& spot) const {
        return crests_.holds(static_cast<std::size_t>(spot.slab), spot.x, spot.square);
    }
    /// Whether nothing of what reaches no further can change the outline any more.
    [[nodiscard]] bool hides(const Reach& reach) const;
    /// What hides in each slab, and a last one for what lies in the last plane.
    ///
    /// \param longest of the edges that are to be hidden, m
    [[nodiscard]] std::vector<Hiding> hiding(double longest) const;

    /// How many planes there are, one more than slabs.
    [[nodiscard]] std::size_t planes() const { return planes_.size(); }

    void lay_chords();
    /// Whether a located vertex lies between two planes, above the chord from one to the other, and is not
    /// hidden.
    [[nodiscard]] bool rises(const Spot& spot) const;

    /// \param rising the vertices that do, in any order; twice is as once
    [[nodiscard]] std::vector<OutlinePiece> pieces(const std::vector<Spot>& rising, int part) const;

  private:
    Slabs(double first, const std::vector<double>& stations, std::size_t vertices);

    /// What reaches a plane between two slabs: squared radii, −1 for nothing. A slab sees only what enters
    /// it, so that an end face that falls on the plane leaves no slope in the slab beyond.
    struct Plane {
        double x = 0;
        double left = -1;   // of what comes from the slab before
        double right = -1;  // of what goes on into the slab after
        double face = -1;   // of vertices in the plane
    };
    struct Chord {
        double r = -1, slope = 0;
    };

    // What reaches a plane from both sides, or from the one side that there is at either end.
    [[nodiscard]] double held(std::size_t k) const {
        const Plane& plane = planes_[k];
        return k == 0                    ? plane.right
               : k + 1 == planes_.size() ? plane.left
                                         : std::min(plane.left, plane.right);
    }
    double first_ = 0, planes_per_metre_ = 0;
    std::vector<Plane> planes_;  // one more than slabs
    std::vector<Chord> chords_;  // by slab
    Crests crests_;
};

}  // namespace evenspit
