// SPDX-License-Identifier: MIT
#include "roast/cell_cuts.h"

#include <algorithm>
#include <cmath>

#include "units/parallel.h"

namespace evenspit {
namespace {

// A convex polygon; a triangle clipped by the six sides of a cell has nine corners at most.
struct Polygon {
    std::array<Vec3, 12> corners;
    std::size_t count = 0;

    Polygon() { corners.fill(Vec3::Zero()); }
    void push(const Vec3& corner) {
        if (count < corners.size()) corners[count++] = corner;
    }
};

// Divides a polygon by a plane across an axis. Corners made on the plane lie on it exactly.
void split(const Polygon& whole, int axis, double at, Polygon& below, Polygon& above) {
    below.count = above.count = 0;
    for (std::size_t n = 0; n < whole.count; ++n) {
        const Vec3& p = whole.corners[n];
        const Vec3& q = whole.corners[n + 1 == whole.count ? 0 : n + 1];
        if (p[axis] <= at) below.push(p);
        if (p[axis] >= at) above.push(p);
        if ((p[axis] < at && q[axis] > at) || (p[axis] > at && q[axis] < at)) {
            Vec3 cut = p + (at - p[axis]) / (q[axis] - p[axis]) * (q - p);
            cut[axis] = at;
            below.push(cut);
            above.push(cut);
        }
    }
}

// Calls work(place, piece) for what of a polygon lies between each two planes across an axis. In units of
// cells.
template <class Work>
void for_slices(Polygon rest, int axis, const Work& work) {
    if (rest.count < 3) return;
    double low = rest.corners[0][axis], high = low;
    for (std::size_t n = 1; n < rest.count; ++n) {
        low = std::min(low, rest.corners[n][axis]);
        high = std::max(high, rest.corners[n][axis]);
    }
    const auto last = static_cast<std::int32_t>(std::floor(high));
    Polygon slice, beyond;
    for (auto place = static_cast<std::int32_t>(std::floor(low)); place < last; ++place) {
        split(rest, axis, place + 1.0, slice, beyond);
        if (slice.count >= 3) work(place, slice);
        rest = beyond;
        if (rest.count < 3) return;
    }
    work(last, rest);
}

// Moments of a planar polygon: its area along `normal`, and its centre.
struct PolygonArea {
    double area = 0;
    Vec3 centre = Vec3::Zero();
};

PolygonArea area_of(const Polygon& polygon, const Vec3& normal) {
    PolygonArea sum;
    const Vec3& a = polygon.corners[0];
    for (std::size_t n = 1; n + 1 < polygon.count; ++n) {
        const Vec3& b = polygon.corners[n];
        const Vec3& c = polygon.corners[n + 1];
        const double area = 0.5 * (b - a).cross(c - a).dot(normal);
        sum.area += area;
        sum.centre += area * (b + c - 2 * a) / 3;
    }
    sum.centre = sum.area > 0 ? Vec3(a + sum.centre / sum.area) : a;
    return sum;
}

}  // namespace

CellBox CellBox::around(const Box3& box, double spacing_m) {
    CellBox cells;
    cells.spacing_m = spacing_m;
    // Odd shares that differ by axis, so that neither a box's sides nor its diagonals meet the planes.
    const Vec3 margin(1.3717, 1.4139, 1.3317);
    cells.origin = box.min() - spacing_m * margin;
    for (int axis = 0; axis < 3; ++axis) {
        cells.count[std::size_t(axis)] =
            std::int32_t(std::ceil(box.sizes()[axis] / spacing_m + margin[axis] + 1.05));
    }
    return cells;
}

CellCuts::CellCuts(const CellBox& box) : box_(box), filled_(box.size(), 0.0f) {
    for (std::vector<float>& axis : open_) axis.assign(box.size(), 0.0f);
}

// A piece of a surface in a cell, with the outlines it leaves on the cell's upper faces.
struct CellCuts::Clipped {
    SurfacePiece piece;
    float moment = 0;                // (centre − lower corner) · area along the normal, in cells
    std::array<float, 3> outline{};  // by axis: ½ Σ (p × q), the solid on the left
};

void CellCuts::add(const SolidQueries& solid, int sign) {
    for (int axis = 0; axis < 3; ++axis) add_edges(solid, axis, static_cast<float>(sign));
    add_triangles(solid.mesh(), sign);
}

// The upper edges of cells along an axis. Each bounds the upper faces across the two other axes.
void CellCuts::add_edges(const SolidQueries& solid, int axis, float sign) {
    const int inner = axis == 0 ? 1 : 0;  // the other two, the one with the longer stride last
    const int outer = axis == 2 ? 1 : 2;
    const double h = box_.spacing_m;
    const std::int32_t length = box_.count[std::size_t(axis)];
    std::vector<float>& one = open_[std::size_t(inner)];
    std::vector<float>& other = open_[std::size_t(outer)];
    const auto line = [&](std::int32_t a, std::int32_t b) {
        Vec3 from = box_.origin;
        from[inner] += h * (a + 1.0);
        from[outer] += h * (b + 1.0);
        Vec3 to = from;
        to[axis] += h * length;
        const std::size_t first = std::size_t(a) * box_.stride(inner) + std::size_t(b) * box_.stride(outer);
        for (const Interval& stretch : solid.inside(from, to)) {
            const double start = stretch.from / h, end = stretch.to / h;
            const auto last = std::min(length - 1, std::int32_t(end));
            for (auto n = std::int32_t(start); n <= last; ++n) {
                const auto inside = static_cast<float>(std::min(end, n + 1.0) - std::max(start, double(n)));
                const std::size_t cell = first + std::size_t(n) * box_.stride(axis);
                one[cell] += 0.5f * sign * inside;
                other[cell] += 0.5f * sign * inside;
            }
        }
    };
    parallel_for(
        std::size_t(box_.count[std::size_t(outer)]),
        [&](std::size_t begin, std::size_t end) {
            for (std::size_t b = begin; b < end; ++b) {
                for (std::int32_t a = 0; a < box_.count[std::size_t(inner)]; ++a)
                    line(a, static_cast<std::int32_t>(b));
            }
        },
        4);
}

void CellCuts::add_triangles(const TriangleMesh& mesh, int sign) {
    const double h = box_.spacing_m;
    const auto clip = [&](std::size_t t, std::vector<Clipped>& out) {
        Polygon whole;
        for (int c = 0; c < 3; ++c) whole.push((mesh.corner(mesh.triangles[t], c) - box_.origin) / h);
        const Vec3 across = (whole.corners[1] - whole.corners[0]).cross(whole.corners[2] - whole.corners[0]);
        const double size = across.norm();
        if (!(size > 0)) return;
        const Vec3 normal = across / size;
        const auto keep = [&](std::int32_t i, std::int32_t j, std::int32_t k, const Polygon& polygon) {
            const PolygonArea part = area_of(polygon, normal);
            const Vec3 corner(i, j, k);
            Clipped clipped;
            clipped.piece = {static_cast<std::int32_t>(box_.index(i, j, k)),
                             first_triangles_.back() + static_cast<std::int32_t>(t), part.area * h * h,
                             box_.origin + h * part.centre, sign * normal};
            clipped.moment = static_cast<float>(sign * part.area * (part.centre - corner).dot(normal));
            for (int axis = 0; axis < 3; ++axis) {
                const int b = (axis + 1) % 3, c = (axis + 2) % 3;
                for (std::size_t n = 0; n < polygon.count; ++n) {
                    const Vec3 p = polygon.corners[n] - corner;
                    const Vec3 q = polygon.corners[n + 1 == polygon.count ? 0 : n + 1] - corner;
                    if (p[axis] != 1 || q[axis] != 1) continue;
                    const double twice = p[b] * q[c] - p[c] * q[b];
                    const bool solid_on_left = (q[c] - p[c]) * normal[b] - (q[b] - p[b]) * normal[c] > 0;
                    clipped.outline[std::size_t(axis)] +=
                        static_cast<float>(0.5 * sign * (solid_on_left ? twice : -twice));
                }
            }
            out.push_back(clipped);
        };
        for_slices(whole, 0, [&](std::int32_t i, const Polygon& slab) {
            for_slices(slab, 1, [&](std::int32_t j, const Polygon& bar) {
                for_slices(bar, 2, [&](std::int32_t k, const Polygon& polygon) { keep(i, j, k, polygon); });
            });
        });
    };

    constexpr std::size_t batch = 256;
    std::vector<std::vector<Clipped>> clipped((mesh.triangles.size() + batch - 1) / batch);
    parallel_for(
        mesh.triangles.size(),
        [&](std::size_t begin, std::size_t end) {
            for (std::size_t t = begin; t < end; ++t) clip(t, clipped[begin / batch]);
        },
        batch);
    for (const std::vector<Clipped>& of_batch : clipped) {
        for (const Clipped& c : of_batch) {
            const auto cell = std::size_t(c.piece.cell);
            filled_[cell] += c.moment;
            for (std::size_t axis = 0; axis < 3; ++axis) open_[axis][cell] += c.outline[axis];
            if (c.piece.area_m2 > 0) pieces_.push_back(c.piece);
        }
    }
    first_triangles_.push_back(first_triangles_.back() + static_cast<std::int32_t>(mesh.triangles.size()));
}

void CellCuts::finish() {
    parallel_for(box_.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t cell = begin; cell < end; ++cell) {
            float faces = 0;
            for (std::vector<float>& axis : open_) faces += axis[cell];
            filled_[cell] = std::clamp((faces + filled_[cell]) / 3, 0.0f, 1.0f);
            for (std::vector<float>& axis : open_) axis[cell] = std::clamp(axis[cell], 0.0f, 1.0f);
        }
    });
}

}  // namespace evenspit
