// SPDX-License-Identifier: MIT
#include "geometry/bvh.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace evenspit {

namespace {

// x·v − y·u to within two roundings, however much of it cancels (W. Kahan's scheme with a fused
// multiply-add).
double cross(double x, double y, double u, double v) {
    const double yu = y * u;
    const double error = std::fma(-y, u, yu);
    return std::fma(x, v, -yu) + error;
}

// A point seen along a line: (x, y) across it, z along it in metres from its start.
struct Seen {
    double x, y, z;
};

// On which side of the directed edge p → q the line passes: 1 left, −1 right, 0 only if p and q are in one
// place.
//
// The sign of p × q is exact: rounding keeps the order of two products, and where the rounded products are
// equal their rounding errors decide. Where p × q is 0 the line is taken to pass at (ε, ε²) instead of (0,
// 0), for all edges alike (simulation of simplicity: H. Edelsbrunner, E. P. Mücke, ACM Trans. Graph.
// 9(1):66–104, 1990). So the signs of all edges are those of one true drawing in the plane, where every
// closed surface covers each point as often one way as the other.
int side(const Seen& p, const Seen& q) {
    const double left = p.x * q.y;
    const double right = p.y * q.x;
    if (left != right) return left > right ? 1 : -1;
    const double left_error = std::fma(p.x, q.y, -left);
    const double right_error = std::fma(p.y, q.x, -right);
    if (left_error != right_error) return left_error > right_error ? 1 : -1;
    if (p.y != q.y) return p.y > q.y ? 1 : -1;
    if (p.x != q.x) return q.x > p.x ? 1 : -1;
    return 0;
}

Vec3 closest_on_segment(const Vec3& p, const Vec3& a, const Vec3& b) {
    const Vec3 ab = b - a;
    const double square = ab.squaredNorm();
    if (!(square > 0)) return a;
    return a + std::clamp(ab.dot(p - a) / square, 0.0, 1.0) * ab;
}

Vec3 closest_on_triangle(const Vec3& p, const Vec3& a, const Vec3& b, const Vec3& c) {
    const Vec3 ab = b - a, ac = c - a, ap = p - a;
    const Vec3 normal = ab.cross(ac);
    const double square = normal.squaredNorm();
    // A sliver's normal is mostly rounding: its edges are as good as the whole of it.
    if (square > 1e-24 * ab.squaredNorm() * ac.squaredNorm()) {
        const double at_c = ab.cross(ap).dot(normal) / square;
        const double at_b = ap.cross(ac).dot(normal) / square;
        if (at_b >= 0 && at_c >= 0 && at_b + at_c <= 1) return a + at_b * ab + at_c * ac;
    }
    Vec3 best = closest_on_segment(p, a, b);
    for (const Vec3& other : {closest_on_segment(p, b, c), closest_on_segment(p, c, a)}) {
        if ((other - p).squaredNorm() < (best - p).squaredNorm()) best = other;
    }
    return best;
}

}  // namespace

// A half-line and the frame in which it is the z axis: a shear along the axis that the direction follows
// most, which keeps handedness and moves each vertex by the same few operations whichever triangle asks.
//
// After S. Woop, C. Benthin, I. Wald, "Watertight ray/triangle intersection", J. Comput. Graph. Tech.
// 2(1):65–82, 2013.
struct SolidQueries::Line {
    Vec3 start;
    int kx, ky, kz;
    double shear_x, shear_y, per_z;

    // direction: unit length
    Line(const Vec3& from, const Vec3& direction) : start(from) {
        direction.cwiseAbs().maxCoeff(&kz);
        kx = (kz + 1) % 3;
        ky = (kz + 2) % 3;
        if (direction[kz] < 0) std::swap(kx, ky);
        per_z = 1 / direction[kz];
        shear_x = direction[kx] * per_z;
        shear_y = direction[ky] * per_z;
    }

    [[nodiscard]] Seen see(const Vec3& point) const {
        const Vec3 r = point - start;
        return {r[kx] - shear_x * r[kz], r[ky] - shear_y * r[kz], r[kz] * per_z};
    }

    // Whether any vertex in the box can be part of a crossing. The same operations as in see(), on the ends
    // of the box's ranges: since rounding keeps order, every vertex in the box is seen within these bounds,
    // to the last bit.
    [[nodiscard]] bool may_cross(const Box3& box) const {
        const Vec3 low = box.min() - start;
        const Vec3 high = box.max() - start;
        if (!(std::max(low[kz] * per_z, high[kz] * per_z) > 0)) return false;
        const auto straddles = [&](int k, double shear) {
            const auto [least, most] = std::minmax({shear * low[kz], shear * high[kz]});
            return low[k] - most <= 0 && high[k] - least >= 0;
        };
        return straddles(kx, shear_x) && straddles(ky, shear_y);
    }
};

// Where a line meets the surface, and whether it goes in there (1) or out (−1).
struct SolidQueries::Crossing {
    double at;
    int step;
};

std::vector<SolidQueries::Crossing> SolidQueries::crossings(const Line& line) const {
    std::vector<Crossing> found;
    std::array<std::int32_t, deepest_path> stack{0};
    std::size_t height = 1;
    while (height > 0) {
        const Node& node = nodes_[std::size_t(stack[--height])];
        if (!line.may_cross(node.box)) continue;
        if (node.count == 0) {
            stack[height++] = node.first;
            stack[height++] = node.first + 1;
            continue;
        }
        for (std::int32_t i = node.first; i < node.first + node.count; ++i) {
            const Triangle& triangle = mesh_.triangles[std::size_t(order_[std::size_t(i)])];
            const Seen a = line.see(mesh_.corner(triangle, 0));
            const Seen b = line.see(mesh_.corner(triangle, 1));
            const Seen c = line.see(mesh_.corner(triangle, 2));
            const int turn = side(a, b);
            if (turn == 0 || side(b, c) != turn || side(c, a) != turn) continue;
            // Weights of one sign, not all 0 (the triangle has area as seen along the line), each exact to a
            // few roundings: the place is a mean of the corners' places even where the line all but runs
            // within the triangle.
            const double weight_a = cross(b.x, b.y, c.x, c.y);
            const double weight_b = cross(c.x, c.y, a.x, a.y);
            const double weight_c = cross(a.x, a.y, b.x, b.y);
            const double at =
                (weight_a * a.z + weight_b * b.z + weight_c * c.z) / (weight_a + weight_b + weight_c);
            if (at > 0) found.push_back({at, -turn});
        }
    }
    return found;
}

std::vector<Interval> SolidQueries::inside(const Vec3& a, const Vec3& b) const {
    const double length = (b - a).norm();
    if (!(length > 0) || !std::isfinite(length)) return {};
    // The line may go on into the solid where the segment has long ended: with many bodies on a rod most do.
    if (!nodes_.front().box.intersects(Box3(a.cwiseMin(b), a.cwiseMax(b)))) return {};

    std::vector<Crossing> met = crossings(Line(a, (b - a) / length));
    // Of two crossings in one place the way in comes first: parts that touch make one stretch.
    std::sort(met.begin(), met.end(), [](const Crossing& p, const Crossing& q) {
        return p.at != q.at ? p.at < q.at : p.step > q.step;
    });

    // The line ends outside: all crossings ahead together undo the winding at the start.
    int winding = 0;
    for (const Crossing& crossing : met) winding -= crossing.step;
    std::vector<Interval> stretches;
    const auto add = [&](double from, double to) {
        if (from < to) stretches.push_back({from, to});
    };
    double from = 0;
    for (const Crossing& crossing : met) {
        if (crossing.at >= length) break;
        const int next = winding + crossing.step;
        if (winding <= 0 && next > 0) from = crossing.at;
        if (winding > 0 && next <= 0) add(from, crossing.at);
        winding = next;
    }
    if (winding > 0) add(from, length);
    return stretches;
}

bool SolidQueries::contains(const Vec3& point) const {
    if (!nodes_.front().box.contains(point)) return false;
    int winding = 0;
    for (const Crossing& crossing : crossings(Line(point, Vec3::UnitZ()))) winding -= crossing.step;
    return winding > 0;
}

ClosestPoint SolidQueries::closest(const Vec3& point, double within) const {
    struct Waiting {
        double square;  // of the distance from the point to the box
        std::int32_t node;
    };
    std::array<Waiting, deepest_path> stack{Waiting{0, 0}};
    std::size_t height = 1;
    ClosestPoint best;
    double best_square = within * within;
    while (height > 0) {
        const Waiting waiting = stack[--height];
        if (waiting.square >= best_square) continue;
        const Node& node = nodes_[std::size_t(waiting.node)];
        if (node.count == 0) {
            Waiting near{nodes_[std::size_t(node.first)].box.squaredExteriorDistance(point), node.first};
            Waiting far{nodes_[std::size_t(node.first) + 1].box.squaredExteriorDistance(point),
                        node.first + 1};
            if (far.square < near.square) std::swap(near, far);
            stack[height++] = far;
            stack[height++] = near;
            continue;
        }
        for (std::int32_t i = node.first; i < node.first + node.count; ++i) {
            const std::int32_t t = order_[std::size_t(i)];
            const Triangle& triangle = mesh_.triangles[std::size_t(t)];
            const Vec3 candidate = closest_on_triangle(point, mesh_.corner(triangle, 0),
                                                       mesh_.corner(triangle, 1), mesh_.corner(triangle, 2));
            const double square = (candidate - point).squaredNorm();
            if (square < best_square) {
                best_square = square;
                best.point = candidate;
                best.triangle = t;
            }
        }
    }
    best.distance = best.triangle < 0 ? within : std::sqrt(best_square);
    return best;
}

double total_length(const std::vector<Interval>& stretches) {
    double sum = 0;
    for (const Interval& stretch : stretches) sum += stretch.length();
    return sum;
}

std::vector<Interval> merged(std::vector<Interval> stretches, double bridged) {
    std::sort(stretches.begin(), stretches.end(),
              [](const Interval& a, const Interval& b) { return a.from < b.from; });
    std::vector<Interval> out;
    for (const Interval& stretch : stretches) {
        if (!out.empty() && stretch.from <= out.back().to + bridged) {
            out.back().to = std::max(out.back().to, stretch.to);
        } else {
            out.push_back(stretch);
        }
    }
    return out;
}

}  // namespace evenspit
