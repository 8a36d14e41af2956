// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "geometry/bvh.h"
#include "geometry/bvh_rows.h"
#include "units/wide.h"

namespace evenspit {
namespace {

constexpr double rounding = 1e-9;  // a share; more than it makes of any distance

double squared_distance_to_edge(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 d = b - a;
    const double length2 = d.squaredNorm();
    const double t = length2 > 0 ? std::clamp((p - a).dot(d) / length2, 0.0, 1.0) : 0.0;
    return (p - a - t * d).squaredNorm();
}

/// Squared distance, seen along z, from a point to the piece of a triangle that lies between two stations;
/// infinite if none does.
double squared_side_distance(const Vec2& p, const std::array<Vec3, 3>& corners, double x0, double x1) {
    // Sutherland–Hodgman against the two planes; a triangle cut twice has five corners at most.
    std::array<Vec3, 8> polygon;
    std::copy(corners.begin(), corners.end(), polygon.begin());
    std::size_t count = 3;
    const auto [low, high] = std::minmax({corners[0].x(), corners[1].x(), corners[2].x()});
    for (const auto& [plane, sign] : {std::pair{x0, 1.0}, std::pair{x1, -1.0}}) {
        if (sign > 0 ? low >= plane : high <= plane) continue;  // all of it lies on the near side
        std::array<Vec3, 8> kept;
        std::size_t n = 0;
        for (std::size_t i = 0; i < count; ++i) {
            const Vec3 &a = polygon[i], &b = polygon[(i + 1) % count];
            const double da = sign * (a.x() - plane), db = sign * (b.x() - plane);
            if (da >= 0) kept[n++] = a;
            if ((da > 0 && db < 0) || (da < 0 && db > 0)) kept[n++] = a + (b - a) * (da / (da - db));
        }
        std::copy(kept.begin(), kept.begin() + static_cast<std::ptrdiff_t>(n), polygon.begin());
        count = n;
    }
    double best = std::numeric_limits<double>::infinity();
    bool left = count >= 3, right = count >= 3;
    for (std::size_t i = 0; i < count; ++i) {
        const Vec2 a = polygon[i].tail<2>(), b = polygon[(i + 1) % count].tail<2>();
        best = std::min(best, squared_distance_to_edge(p, a, b));
        const double side = (b - a).x() * (p - a).y() - (b - a).y() * (p - a).x();
        left = left && side >= 0;
        right = right && side <= 0;
    }
    // Inside the polygon's shadow: the pin itself runs through the skin there.
    return left != right ? 0 : best;
}

/// A frame whose x axis is the line.
struct LineFrame {
    Vec3 start;
    Mat3 axes;  // rows: along, and two across

    LineFrame(const Vec3& from, const Vec3& direction) : start(from) {
        const Vec3 across = direction.unitOrthogonal();
        axes.row(0) = direction;
        axes.row(1) = across;
        axes.row(2) = direction.cross(across);
    }

    [[nodiscard]] Vec3 see(const Vec3& p) const { return axes * (p - start); }

    /// Squared distance across from the line to each box of a node, never more than it is; infinite for boxes
    /// that lie wholly before or behind two stations along it.
    [[gnu::always_inline]] void squares(const BvhNode& node, double from, double to, float slack_m,
                                        rows::Floats& found) const {
        struct {
            rows::Floats middle, half;
        } boxes[3];  // along their own axes
        for (std::size_t axis = 0; axis < 3; ++axis) {
            const rows::Floats low = rows::row(node.low[axis]), high = rows::row(node.high[axis]);
            boxes[axis].middle = 0.5F * (low + high) - float(start[Eigen::Index(axis)]);
            boxes[axis].half = 0.5F * (high - low);
        }
        rows::Floats sum{};
        rows::Bits beside{};
        for (Eigen::Index k = 0; k < 3; ++k) {
            rows::Floats at{}, reach = rows::Floats{} + slack_m;
            for (std::size_t axis = 0; axis < 3; ++axis) {
                const auto share = float(axes(k, Eigen::Index(axis)));
                at += share * boxes[axis].middle;
                reach += std::abs(share) * boxes[axis].half;
            }
            if (k == 0) {
                beside = (at + reach >= float(from)) & (at - reach <= float(to));
                continue;
            }
            rows::Floats apart = (at > 0 ? at : -at) - reach;
            apart = apart > 0 ? apart : rows::Floats{};
            sum += apart * apart;
        }
        found = beside ? sum * rows::surely : rows::Floats{} + std::numeric_limits<float>::infinity();
    }
};

}  // namespace

EVENSPIT_WIDE double SolidQueries::distance_beside(const Vec3& start, const Vec3& direction, double from,
                                                   double to) const {
    const LineFrame frame(start, direction);
    double best = std::numeric_limits<double>::infinity();
    // Stations are in the frame's own measure, which a box is some roundings off from.
    const double furthest = std::max(std::abs(from), std::abs(to));
    const auto slack_m =
        float(rows::slack_m(box_, start) + 0x1p-20 * (std::isfinite(furthest) ? furthest : 0));
    rows::nearest_first<most_waiting>(
        nodes_, 0,
        [&](const BvhNode& node, rows::Floats& squares) EVENSPIT_INLINED {
            frame.squares(node, from, to, slack_m, squares);
            for (std::size_t k = 0; k < node.children; ++k) {
                if (!node.has_outer(k)) squares[k] = std::numeric_limits<float>::infinity();
            }
        },
        [&]() EVENSPIT_INLINED { return best; },
        [&](std::size_t first, std::size_t last) EVENSPIT_INLINED {
            for (std::size_t i = first; i < last; ++i) {
                if (is_inner(order_[i])) continue;
                const Triangle& triangle = corners_[i];
                const std::array<Vec3, 3> c{frame.see(mesh_.corner(triangle, 0)),
                                            frame.see(mesh_.corner(triangle, 1)),
                                            frame.see(mesh_.corner(triangle, 2))};
                if (std::max({c[0].x(), c[1].x(), c[2].x()}) < from ||
                    std::min({c[0].x(), c[1].x(), c[2].x()}) > to)
                    continue;
                // Nor can what lies wholly to one side be nearer than that side.
                const auto apart = [&c](Eigen::Index k) {
                    return std::max(
                        {0.0, std::min({c[0][k], c[1][k], c[2][k]}), -std::max({c[0][k], c[1][k], c[2][k]})});
                };
                const double y = apart(1), z = apart(2);
                if (y * y + z * z > best * (1 + rounding)) continue;
                best = std::min(best, squared_side_distance(Vec2::Zero(), c, from, to));
            }
        });
    return std::sqrt(best);
}

EVENSPIT_WIDE double SolidQueries::furthest(const Vec3& way) const {
    const auto slack_m = float(rows::slack_m(box_, Vec3::Zero()));
    double best = -std::numeric_limits<double>::infinity();
    rows::nearest_first<most_waiting>(
        nodes_, -std::numeric_limits<float>::infinity(),
        [&](const BvhNode& node, rows::Floats& measures) EVENSPIT_INLINED {
            // How far each box reaches, turned round: what waits is sorted by the least.
            measures = rows::Floats{} - slack_m;
            for (std::size_t axis = 0; axis < 3; ++axis) {
                const auto share = float(way[Eigen::Index(axis)]);
                measures -= share * rows::row((share > 0 ? node.high : node.low)[axis]);
            }
        },
        [&]() EVENSPIT_INLINED { return -best; },
        [&](std::size_t first, std::size_t last) EVENSPIT_INLINED {
            for (std::size_t i = first; i < last; ++i) {
                for (int k = 0; k < 3; ++k) best = std::max(best, way.dot(mesh_.corner(corners_[i], k)));
            }
        });
    return best;
}

Interval SolidQueries::extent(const Vec3& direction) const {
    return {-furthest(-direction), furthest(direction)};
}

}  // namespace evenspit
