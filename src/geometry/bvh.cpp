// SPDX-License-Identifier: MIT
#include "geometry/bvh.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <limits>
#include <utility>

#include "geometry/bvh_rows.h"
#include "units/wide.h"

namespace evenspit {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

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

[[gnu::always_inline]] inline Vec3 closest_on_segment(const Vec3& p, const Vec3& a, const Vec3& b) {
    const Vec3 ab = b - a;
    const double square = ab.squaredNorm();
    if (!(square > 0)) return a;
    return a + std::clamp(ab.dot(p - a) / square, 0.0, 1.0) * ab;
}

[[gnu::always_inline]] inline Vec3 closest_on_triangle(const Vec3& p, const Vec3& a, const Vec3& b,
                                                       const Vec3& c) {
    const Vec3 ab = b - a, ac = c - a, ap = p - a;
    const Vec3 normal = ab.cross(ac);
    const double square = normal.squaredNorm();
    // A sliver's normal is mostly rounding: its edges are as good as the whole of it.
    const bool sliver = !(square > 1e-24 * ab.squaredNorm() * ac.squaredNorm());
    const double at_c = ab.cross(ap).dot(normal), at_b = ap.cross(ac).dot(normal);
    if (!sliver && at_b >= 0 && at_c >= 0 && at_b + at_c <= square)
        return a + at_b / square * ab + at_c / square * ac;

    // What lies beyond an edge is closest to one of those that it lies beyond.
    Vec3 best = a;
    double least2 = ap.squaredNorm();
    const auto take = [&](const Vec3& other) {
        const double square_of = (other - p).squaredNorm();
        if (square_of < least2) {
            least2 = square_of;
            best = other;
        }
    };
    if (sliver || at_c < 0) take(closest_on_segment(p, a, b));
    if (sliver || at_b + at_c > square) take(closest_on_segment(p, b, c));
    if (sliver || at_b < 0) take(closest_on_segment(p, c, a));
    return best;
}

// Of a leaf, four triangles that are looked at at once: where it has fewer, its last again.
[[gnu::always_inline]] inline std::array<const Triangle*, 4> leaf_corners(
    const std::vector<Triangle>& corners, std::size_t first, std::size_t last) {
    const auto at = [&](std::size_t k) { return &corners[std::min(first + k, last - 1)]; };
    return {at(0), at(1), at(2), at(3)};
}

// Three coordinates of four points.
struct alignas(sizeof(rows::Doubles)) Fours {
    rows::Doubles x, y, z;
};

[[gnu::always_inline]] inline void dot(const Fours& a, const Fours& b, rows::Doubles& product) {
    product = a.x * b.x + a.y * b.y + a.z * b.z;
}

// Which of four triangles may lie nearer to a point than that, −1 where so, else 0: asked for all at once, as
// few do.
//
// Distances are told by the products of two sides and of the way to the point, which are off by a few
// roundings of their sizes; of a triangle all but without width such a distance may be anything.
[[gnu::always_inline]] inline void may_be_nearer(const TriangleMesh& mesh,
                                                 const std::array<const Triangle*, 4>& triangles,
                                                 const Vec3& point, double square, rows::Wholes& near) {
    using rows::Doubles;
    const auto from_point = [&](int corner, Fours& to) EVENSPIT_INLINED {
        const Vec3 &a = mesh.corner(*triangles[0], corner), &b = mesh.corner(*triangles[1], corner),
                   &c = mesh.corner(*triangles[2], corner), &d = mesh.corner(*triangles[3], corner);
        to.x = Doubles{a[0], b[0], c[0], d[0]} - point[0];
        to.y = Doubles{a[1], b[1], c[1], d[1]} - point[1];
        to.z = Doubles{a[2], b[2], c[2], d[2]} - point[2];
    };
    Fours a, b, c;
    from_point(0, a);
    from_point(1, b);
    from_point(2, c);
    const Fours ab{b.x - a.x, b.y - a.y, b.z - a.z}, ac{c.x - a.x, c.y - a.y, c.z - a.z};
    Doubles ab2, ac2, both, a2, along_b, along_c;
    dot(ab, ab, ab2);
    dot(ac, ac, ac2);
    dot(ab, ac, both);
    dot(a, a, a2);
    dot(ab, a, along_b);
    dot(ac, a, along_c);
    along_b = -along_b;
    along_c = -along_c;
    const Doubles area2 = ab2 * ac2 - both * both;
    const Doubles at_b = ac2 * along_b - both * along_c, at_c = ab2 * along_c - both * along_b;
    const Doubles over = a2 - (at_b * along_b + at_c * along_c) / area2;

    const auto to_edge = [](const Doubles& from2, const Doubles& along, const Doubles& length2,
                            Doubles& found) EVENSPIT_INLINED {
        Doubles share = along / length2;
        share = share > 0 ? share : Doubles{};
        share = share < 1 ? share : Doubles{} + 1;
        found = from2 - share * (2 * along - share * length2);
    };
    Doubles edge, other;
    to_edge(a2, along_b, ab2, edge);
    to_edge(a2, along_c, ac2, other);
    edge = other < edge ? other : edge;
    to_edge(a2 - 2 * along_b + ab2, along_c - along_b - both + ab2, ab2 - 2 * both + ac2, other);
    edge = other < edge ? other : edge;
    const Doubles found = ((at_b >= 0) & (at_c >= 0) & (at_b + at_c <= area2)) ? over : edge;

    constexpr double slim = 1e-6, rounding = 1e-8;
    near = ~(area2 > slim * ab2 * ac2) | ~(found > square * (1 + rounding) + rounding * (a2 + ab2 + ac2));
}

// Boxes and what says where children are.
inline void prefetch(const BvhNode& node) {
    for (std::size_t line = 0; line < sizeof(BvhNode); line += 64)
        __builtin_prefetch(reinterpret_cast<const char*>(&node) + line);
}

// Of the distance from a point to each box of a node, never more than it is.
[[gnu::always_inline]] inline void squared_distances(const BvhNode& node, const Vec3& point, float slack_m,
                                                     rows::Floats& squares) {
    rows::Floats sum{};
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const auto place = float(point[Eigen::Index(axis)]);
        const rows::Floats before = rows::row(node.low[axis]) - place,
                           after = place - rows::row(node.high[axis]);
        rows::Floats apart = (before > after ? before : after) - slack_m;
        apart = apart > 0 ? apart : rows::Floats{};
        sum += apart * apart;
    }
    squares = sum * rows::surely;
}

}  // namespace

// A half-line and the frame in which it is the z axis: a shear along the axis that the direction follows
// most, which keeps handedness and moves each vertex by the same few operations whichever triangle asks.
//
// After S. Woop, C. Benthin, I. Wald, "Watertight ray/triangle intersection", J. Comput. Graph. Tech.
// 2(1):65–82, 2013.
//
// A segment's crossings do not tell how often the surface winds round its start: for that one looks on along
// the line, ahead to where it leaves the box of the whole for good or behind to where it enters it, whichever
// is sooner done. All crossings of a line come to nothing, so that both tell the same.
struct SolidQueries::Line {
    Vec3 start;
    int kx, ky, kz;
    double shear_x, shear_y, per_z;
    bool ahead;             // else from behind
    double first, last;     // of the part that is looked at, m from the start
    float slack_m;          // of a box, in float
    float first_m, last_m;  // the part's ends along the axis, with that slack

    // direction: unit length \param length of the segment \param box of all that is asked about
    Line(const Vec3& from, const Vec3& direction, double length, const Box3& box)
        : start(from), slack_m(float(rows::slack_m(box, from))) {
        direction.cwiseAbs().maxCoeff(&kz);
        kx = (kz + 1) % 3;
        ky = (kz + 2) % 3;
        if (direction[kz] < 0) std::swap(kx, ky);
        per_z = 1 / direction[kz];
        shear_x = direction[kx] * per_z;
        shear_y = direction[ky] * per_z;
        double enters = -infinite, leaves = infinite;
        for (int axis = 0; axis < 3; ++axis) {
            const auto [near, far] = std::minmax({(box.min()[axis] - start[axis]) / direction[axis],
                                                  (box.max()[axis] - start[axis]) / direction[axis]});
            // Along a face, 0 / 0 is no number: these comparisons pass it over.
            if (near > enters) enters = near;
            if (far < leaves) leaves = far;
        }
        ahead = leaves - std::max(0.0, enters) <= std::min(length, leaves) - enters;
        first = ahead ? 0 : -infinite;
        last = ahead ? infinite : length;
        constexpr float nowhere = std::numeric_limits<float>::infinity();
        first_m = ahead ? -slack_m : -nowhere;
        last_m = ahead ? nowhere : slack_m + float(length * std::abs(direction[kz]));
    }

    [[nodiscard]] Seen see(const Vec3& point) const {
        const Vec3 r = point - start;
        return {r[kx] - shear_x * r[kz], r[ky] - shear_y * r[kz], r[kz] * per_z};
    }

    // The children of a node whose boxes may hold a vertex that is part of a crossing, a bit each. As in
    // see(), on the ends of the boxes' ranges.
    [[gnu::always_inline]] [[nodiscard]] unsigned may_cross(const BvhNode& node) const {
        const auto x = std::size_t(kx), y = std::size_t(ky), z = std::size_t(kz);
        const auto along_x = float(shear_x), along_y = float(shear_y);
        const rows::Floats low = rows::row(node.low[z]) - float(start[kz]),
                           high = rows::row(node.high[z]) - float(start[kz]);
        const rows::Floats least_x = along_x * (along_x > 0 ? low : high),
                           most_x = along_x * (along_x > 0 ? high : low);
        const rows::Floats least_y = along_y * (along_y > 0 ? low : high),
                           most_y = along_y * (along_y > 0 ? high : low);
        const rows::Bits held = ((per_z > 0 ? high : -low) >= first_m) &
                                ((per_z > 0 ? low : -high) <= last_m) &
                                (rows::row(node.low[x]) - float(start[kx]) - most_x <= slack_m) &
                                (rows::row(node.high[x]) - float(start[kx]) - least_x >= -slack_m) &
                                (rows::row(node.low[y]) - float(start[ky]) - most_y <= slack_m) &
                                (rows::row(node.high[y]) - float(start[ky]) - least_y >= -slack_m);
        return rows::bits(held, node);
    }

    // Which of four triangles the line may cross, −1 where so, else 0: most of a box are passed by, by edges
    // that surely have the line on different sides. Rounded products keep the order of the exact ones.
    [[gnu::always_inline]] void may_cross(const TriangleMesh& mesh,
                                          const std::array<const Triangle*, 4>& triangles,
                                          rows::Wholes& may) const {
        using rows::Doubles;
        Doubles x[3], y[3];
        for (int corner = 0; corner < 3; ++corner) {
            const Vec3 &a = mesh.corner(*triangles[0], corner), &b = mesh.corner(*triangles[1], corner),
                       &c = mesh.corner(*triangles[2], corner), &d = mesh.corner(*triangles[3], corner);
            const Doubles z = Doubles{a[kz], b[kz], c[kz], d[kz]} - start[kz];
            x[corner] = Doubles{a[kx], b[kx], c[kx], d[kx]} - start[kx] - shear_x * z;
            y[corner] = Doubles{a[ky], b[ky], c[ky], d[ky]} - start[ky] - shear_y * z;
        }
        rows::Wholes left{}, right{};
        for (int p = 0; p < 3; ++p) {
            const int q = (p + 1) % 3;
            left |= x[p] * y[q] > y[p] * x[q];
            right |= x[p] * y[q] < y[p] * x[q];
        }
        may = ~(left & right);
    }
};

// Where a line meets the surface, and whether it goes in there (1) or out (−1).
struct SolidQueries::Crossing {
    double at;
    int step;
};

// What a line crosses of the triangles of a leaf.
[[gnu::always_inline]] inline void SolidQueries::add_crossings(const Line& line, std::size_t first,
                                                               std::size_t count,
                                                               std::vector<Crossing>& found) const {
    rows::Wholes may;
    line.may_cross(mesh_, leaf_corners(corners_, first, first + count), may);
    if ((may[0] | may[1] | may[2] | may[3]) == 0) return;
    for (std::size_t i = first; i < first + count; ++i) {
        if (may[i - first] == 0) continue;
        const Seen a = line.see(mesh_.corner(corners_[i], 0));
        const Seen b = line.see(mesh_.corner(corners_[i], 1));
        const Seen c = line.see(mesh_.corner(corners_[i], 2));
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
        if (at > line.first && at <= line.last) found.push_back({at, -turn});
    }
}

EVENSPIT_WIDE std::vector<SolidQueries::Crossing> SolidQueries::crossings(const Line& line) const {
    constexpr std::size_t usual = 8;  // crossings, so that room for them is sought once
    std::vector<Crossing> found;
    found.reserve(usual);
    std::array<std::int32_t, most_waiting> stack;
    stack[0] = 0;
    std::size_t height = 1;
    // Leaves wait until their corners are on the way from memory.
    struct Leaf {
        std::int32_t first, count;
    };
    std::array<Leaf, 64> leaves;
    std::size_t waiting = 0;
    do {
        waiting = 0;
        while (height > 0 && waiting + BvhNode::width <= leaves.size()) {
            const BvhNode& node = nodes_[std::size_t(stack[--height])];
            for (unsigned met = line.may_cross(node); met != 0; met &= met - 1) {
                const auto k = std::size_t(std::countr_zero(met));
                if (node.count[k] == 0) {
                    stack[height++] = node.first[k];
                    prefetch(nodes_[std::size_t(node.first[k])]);
                } else {
                    leaves[waiting++] = {node.first[k], node.count[k]};
                    __builtin_prefetch(&corners_[std::size_t(node.first[k])]);
                }
            }
        }
        for (std::size_t i = 0; i < waiting; ++i) {
            if (i + 1 < waiting) {
                for (std::int32_t t = leaves[i + 1].first; t < leaves[i + 1].first + leaves[i + 1].count;
                     ++t) {
                    for (const std::int32_t corner : corners_[std::size_t(t)])
                        __builtin_prefetch(&mesh_.vertices[std::size_t(corner)]);
                }
            }
            add_crossings(line, std::size_t(leaves[i].first), std::size_t(leaves[i].count), found);
        }
    } while (height > 0);
    return found;
}

int SolidQueries::winding_at_start(const Line& line, const std::vector<Crossing>& met) {
    int winding = 0;
    for (const Crossing& crossing : met) {
        if (line.ahead) winding -= crossing.step;
        if (!line.ahead && crossing.at <= 0) winding += crossing.step;
    }
    return winding;
}

std::vector<Interval> SolidQueries::inside(const Vec3& a, const Vec3& b) const {
    const double length = (b - a).norm();
    if (!(length > 0) || !std::isfinite(length)) return {};
    // The line may run into the solid where the segment is not: with many bodies on a rod most do.
    if (!box_.intersects(Box3(a.cwiseMin(b), a.cwiseMax(b)))) return {};

    const Line line(a, (b - a) / length, length, box_);
    std::vector<Crossing> met = crossings(line);
    // Of two crossings in one place the way in comes first: parts that touch make one stretch.
    std::sort(met.begin(), met.end(), [](const Crossing& p, const Crossing& q) {
        return p.at != q.at ? p.at < q.at : p.step > q.step;
    });

    int winding = winding_at_start(line, met);
    std::vector<Interval> stretches;
    const auto add = [&](double from, double to) {
        if (from < to) stretches.push_back({from, to});
    };
    double from = 0;
    for (const Crossing& crossing : met) {
        if (crossing.at >= length) break;
        if (crossing.at <= 0) continue;
        const int next = winding + crossing.step;
        if (winding <= 0 && next > 0) from = crossing.at;
        if (winding > 0 && next <= 0) add(from, crossing.at);
        winding = next;
    }
    if (winding > 0) add(from, length);
    return stretches;
}

bool SolidQueries::contains(const Vec3& point) const {
    if (!box_.contains(point)) return false;
    const Line line(point, Vec3::UnitZ(), 0, box_);
    return winding_at_start(line, crossings(line)) > 0;
}

EVENSPIT_WIDE ClosestPoint SolidQueries::closest(const Vec3& point, double within) const {
    const auto slack_m = float(rows::slack_m(box_, point));
    ClosestPoint best;
    double best_square = within * within;
    rows::nearest_first<most_waiting>(
        nodes_, 0,
        [&](const BvhNode& node, rows::Floats& squares)
            EVENSPIT_INLINED { squared_distances(node, point, slack_m, squares); },
        [&]() EVENSPIT_INLINED { return best_square; },
        [&](std::size_t first, std::size_t last) EVENSPIT_INLINED {
            rows::Wholes near;
            may_be_nearer(mesh_, leaf_corners(corners_, first, last), point, best_square, near);
            if ((near[0] | near[1] | near[2] | near[3]) == 0) return;
            for (std::size_t i = first; i < last; ++i) {
                if (near[i - first] == 0) continue;
                const Triangle& triangle = corners_[i];
                const Vec3 candidate = closest_on_triangle(
                    point, mesh_.corner(triangle, 0), mesh_.corner(triangle, 1), mesh_.corner(triangle, 2));
                const double square = (candidate - point).squaredNorm();
                if (!(square < best_square)) continue;
                best_square = square;
                best.point = candidate;
                best.triangle = order_[i];
            }
        });
    best.distance = best.triangle < 0 ? within : std::sqrt(best_square);
    return best;
}

double total_length(const std::vector<Interval>& stretches) {
    double sum = 0;
    for (const Interval& stretch : stretches) sum += stretch.length();
    return sum;
}

std::optional<double> middle_of(const std::vector<Interval>& stretches) {
    double length = 0, moment = 0;
    for (const Interval& s : stretches) {
        length += s.length();
        moment += s.length() * (s.from + s.to) / 2;
    }
    return length > 0 ? std::optional(moment / length) : std::nullopt;
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
