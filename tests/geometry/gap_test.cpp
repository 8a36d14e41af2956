// SPDX-License-Identifier: MIT
#include "geometry/gap.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <numbers>
#include <random>
#include <stdexcept>

#include <gtest/gtest.h>

#include "geometry/frustum.h"
#include "support/meshes.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::ellipsoid_mesh;

constexpr double promised = 1e-7;  // m, what gap.h says
constexpr double rounding = 1e-12;
constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double pi = std::numbers::pi;

double no_sag(double) {
    return 0;
}

Outline cylinder(double x0, double x1, double radius) {
    return sweep({}, {{.x0 = x0, .x1 = x1, .radius = radius, .part = 0}});
}

/// A sphere about the axis as chords of 1 mm or less; its outline lies within 2e-6 m of the circle.
Outline sphere(double x, double radius, int chords = 600) {
    Outline outline{.pieces = {}};
    for (int i = 0; i < chords; ++i) {
        const double a = pi * i / chords, b = pi * (i + 1) / chords;
        outline.pieces.push_back({x - radius * std::cos(a), radius * std::sin(a), x - radius * std::cos(b),
                                  radius * std::sin(b), 0});
    }
    return outline;
}

MeshShape wall_of(TriangleMesh mesh) {
    return {std::make_shared<const TriangleMesh>(std::move(mesh))};
}

TriangleMesh one_triangle(const Vec3& a, const Vec3& b, const Vec3& c) {
    return {.vertices = {a, b, c}, .triangles = {{0, 1, 2}}};
}

// Checks of a result that share nothing with the search: points of the wall by its own parameters.

/// A wall as a few sheets, each a map from the unit square.
std::vector<std::function<Vec3(double, double)>> sheets(const RevolvedShape& wall) {
    std::vector<std::function<Vec3(double, double)>> result;
    for (std::size_t k = 0; k + 1 < wall.profile.size(); ++k) {
        const Vec2 a = wall.profile[k], b = wall.profile[k + 1];
        for (int quarter = 0; quarter < 4; ++quarter) {
            result.emplace_back([=, centre = wall.centre](double u, double v) {
                const Vec2 p = a + u * (b - a);
                const double angle = pi / 2 * (quarter + v);
                return Vec3(centre + Vec3(p.x() * std::cos(angle), p.x() * std::sin(angle), p.y()));
            });
        }
    }
    return result;
}

std::vector<std::function<Vec3(double, double)>> sheets(const MeshShape& wall) {
    std::vector<std::function<Vec3(double, double)>> result;
    for (const Triangle& triangle : wall.mesh->triangles) {
        const Vec3 a = wall.mesh->corner(triangle, 0), b = wall.mesh->corner(triangle, 1),
                   c = wall.mesh->corner(triangle, 2);
        result.emplace_back([=](double u, double v) { return Vec3(a + u * (b - a) + u * v * (c - b)); });
    }
    return result;
}

double segment_distance(const Vec2& a, const Vec2& b, const Vec2& p) {
    const double square = (b - a).squaredNorm();
    const double t = square > 0 ? std::clamp((p - a).dot(b - a) / square, 0.0, 1.0) : 0;
    return (p - a - t * (b - a)).norm();
}

/// How far a point lies from a wall: zero for a point of it.
double off_wall(const RevolvedShape& wall, const Vec3& p) {
    const Vec3 local = p - wall.centre;
    const Vec2 meridian(std::hypot(local.x(), local.y()), local.z());
    double least = 1e9;
    for (std::size_t k = 0; k + 1 < wall.profile.size(); ++k) {
        least = std::min(least, segment_distance(wall.profile[k], wall.profile[k + 1], meridian));
    }
    return least;
}

/// The same for triangles that have an area: the mean of the corners in the point's barycentric coordinates,
/// cut to the triangle, is the point itself if it belongs to it.
double off_wall(const MeshShape& wall, const Vec3& p) {
    double least = 1e9;
    for (const Triangle& triangle : wall.mesh->triangles) {
        const Vec3 a = wall.mesh->corner(triangle, 0), b = wall.mesh->corner(triangle, 1),
                   c = wall.mesh->corner(triangle, 2);
        const Vec3 normal = (b - a).cross(c - a);
        const double s = std::clamp((b - p).cross(c - p).dot(normal) / normal.squaredNorm(), 0.0, 1.0);
        const double t = std::clamp((c - p).cross(a - p).dot(normal) / normal.squaredNorm(), 0.0, 1.0 - s);
        least = std::min(least, (s * a + t * b + (1 - s - t) * c - p).norm());
    }
    return least;
}

/// The least of a measure found over a wall by ever finer grids: an upper bound of the true least.
template <class Measure>
double least_over(const std::vector<std::function<Vec3(double, double)>>& wall, const Measure& measure) {
    constexpr int cells = 10, kept = 3, levels = 24;
    struct Spot {
        double value, u, v;
        const std::function<Vec3(double, double)>* sheet;
    };
    const auto better = [](const Spot& a, const Spot& b) { return a.value < b.value; };
    std::vector<Spot> spots;
    for (const auto& sheet : wall) {
        for (int i = 0; i <= cells; ++i) {
            for (int j = 0; j <= cells; ++j) {
                const double u = double(i) / cells, v = double(j) / cells;
                spots.push_back({measure(sheet(u, v)), u, v, &sheet});
            }
        }
    }
    std::sort(spots.begin(), spots.end(), better);
    double best = spots.front().value;
    spots.resize(std::min<std::size_t>(spots.size(), 4 * kept));
    double width = 1.0 / cells;
    for (int level = 0; level < levels; ++level) {
        std::vector<Spot> finer;
        for (const Spot& spot : spots) {
            for (int i = -2; i <= 2; ++i) {
                for (int j = -2; j <= 2; ++j) {
                    const double u = std::clamp(spot.u + i * width / 2, 0.0, 1.0);
                    const double v = std::clamp(spot.v + j * width / 2, 0.0, 1.0);
                    finer.push_back({measure((*spot.sheet)(u, v)), u, v, spot.sheet});
                }
            }
        }
        std::sort(finer.begin(), finer.end(), better);
        best = std::min(best, finer.front().value);
        finer.resize(kept);
        spots = finer;
        width /= 2;
    }
    return best;
}

/// Holds a result against the wall: its points are genuine and as far apart as it says, and no sampled point
/// of the wall does better.
template <class Wall>
void expect_proven(const Outline& outline, const std::function<double(double)>& sag, const Wall& wall,
                   const Gap& gap, double tolerance = promised) {
    const auto surface = sheets(wall);
    EXPECT_LT(off_wall(wall, gap.on_surface), 1e-11);
    const auto excess = [&](const Vec3& q) {
        if (q.x() < outline.pieces.front().x0 || q.x() > outline.pieces.back().x1) return 1.0;
        return std::hypot(q.y(), q.z() + sag(q.x())) - outline.radius_at(q.x());
    };
    const double deepest = least_over(surface, excess);
    if (gap.distance < 0) {
        EXPECT_NEAR(excess(gap.on_surface), gap.distance, 3e-8);
        EXPECT_EQ(gap.on_surface.x(), gap.at);
        EXPECT_LE(gap.distance, deepest + tolerance);
        return;
    }
    EXPECT_GE(deepest, -tolerance);
    EXPECT_NEAR((gap.on_load - gap.on_surface).norm(), gap.distance, rounding);
    EXPECT_LE(std::hypot(gap.on_load.y(), gap.on_load.z() + sag(gap.at)), outline.radius_at(gap.at) + 3e-8);
    const std::vector<Frustum> pieces = lowered(outline, sag);
    const auto distance = [&](const Vec3& q) {
        double least = 1e9;
        for (const Frustum& f : pieces) least = std::min(least, (nearest_point(f, q) - q).norm());
        return least;
    };
    EXPECT_LE(gap.distance, least_over(surface, distance) + tolerance);
}

// ---- plane

TEST(GapToPlane, LevelBelowACylinder) {
    const Gap gap = nearest_gap(cylinder(0.1, 0.3, 0.05), no_sag, PlaneShape{{0, 0, -0.2}, Vec3::UnitZ()});
    EXPECT_NEAR(gap.distance, 0.15, rounding);
    EXPECT_NEAR(gap.on_load.z(), -0.05, rounding);
    EXPECT_NEAR(gap.on_surface.z(), -0.2, rounding);
    EXPECT_EQ(gap.part, 0);
}

TEST(GapToPlane, TiltedMeetsTheRimOfOneEnd) {
    const double tilt = 0.3;
    const Vec3 normal(std::sin(tilt), 0, std::cos(tilt));
    const Gap gap = nearest_gap(cylinder(0.1, 0.3, 0.05), no_sag, PlaneShape{{0, 0, -0.2}, normal});
    EXPECT_NEAR(gap.distance, 0.1 * std::sin(tilt) + (0.2 - 0.05) * std::cos(tilt), rounding);
    EXPECT_EQ(gap.at, 0.1);
    EXPECT_NEAR((gap.on_load - gap.on_surface).norm(), gap.distance, rounding);
}

TEST(GapToPlane, AcrossTheRodMeetsTheEndFace) {
    const Gap gap = nearest_gap(cylinder(0.1, 0.3, 0.05), no_sag, PlaneShape{{0.42, 0, 0}, -Vec3::UnitX()});
    EXPECT_NEAR(gap.distance, 0.12, rounding);
    EXPECT_EQ(gap.at, 0.3);
}

TEST(GapToPlane, IsSignedWhenTheLoadReachesBehind) {
    const Gap gap = nearest_gap(cylinder(0.1, 0.3, 0.05), no_sag, PlaneShape{{0, 0, 0.02}, Vec3::UnitZ()});
    EXPECT_NEAR(gap.distance, -0.07, rounding);
}

TEST(GapToPlane, SagTakesItsOwnLengthAway) {
    const PlaneShape floor{{0, 0, -0.2}, Vec3::UnitZ()};
    const double level = nearest_gap(cylinder(0.1, 0.3, 0.05), no_sag, floor).distance;
    const Gap sagged = nearest_gap(
        cylinder(0.1, 0.3, 0.05), [](double) { return 0.004; }, floor);
    EXPECT_NEAR(level - sagged.distance, 0.004, rounding);
    // A bow in mid-span, where the outline has no station of its own.
    const Gap bowed = nearest_gap(
        cylinder(0, 0.6, 0.05), [](double x) { return 0.005 * std::sin(pi * x / 0.6); }, floor);
    EXPECT_NEAR(level - bowed.distance, 0.005, promised);
    EXPECT_NEAR(bowed.at, 0.3, 1e-3);
}

TEST(GapToPlane, NamesThePart) {
    const Outline outline = sweep({}, {{.x0 = 0, .x1 = 0.6, .radius = 0.004, .part = 0},
                                       {.x0 = 0.2, .x1 = 0.3, .radius = 0.1, .part = 1}});
    const Gap gap = nearest_gap(outline, no_sag, PlaneShape{{0, 0, -0.2}, Vec3::UnitZ()});
    EXPECT_EQ(gap.part, 1);
}

// ---- box

TEST(GapToBox, FaceEdgeAndCornerOfADisc) {
    const Outline disc = cylinder(0.2, 0.2, 0.05);
    // Below: face to rim.
    const Gap face = nearest_gap(disc, no_sag, BoxShape{{0, -0.3, -0.4}, {1, 0.3, -0.2}});
    EXPECT_NEAR(face.distance, 0.15, rounding);
    EXPECT_NEAR((face.on_load - Vec3(0.2, 0, -0.05)).norm(), 0, rounding);
    // Below and to one side: an edge along X, seen from the axis at (0.12, -0.16).
    const Gap edge = nearest_gap(disc, no_sag, BoxShape{{0, 0.12, -0.4}, {1, 0.3, -0.16}});
    EXPECT_NEAR(edge.distance, 0.2 - 0.05, rounding);
    // Beyond, below and to one side: a corner; rim to corner is 0.15 across and 0.08 along.
    const Gap corner = nearest_gap(disc, no_sag, BoxShape{{0.28, 0.12, -0.4}, {1, 0.3, -0.16}});
    EXPECT_NEAR(corner.distance, std::hypot(0.15, 0.08), rounding);
    EXPECT_NEAR((corner.on_surface - Vec3(0.28, 0.12, -0.16)).norm(), 0, rounding);
    // Straight ahead: face to face.
    const Gap ahead = nearest_gap(disc, no_sag, BoxShape{{0.28, -0.1, -0.1}, {1, 0.1, 0.1}});
    EXPECT_NEAR(ahead.distance, 0.08, rounding);
    EXPECT_NEAR((ahead.on_load - ahead.on_surface).norm(), 0.08, rounding);
}

TEST(GapToBox, SphereOverFaceEdgeAndCorner) {
    const double r = 0.1;
    const Outline ball = sphere(0.3, r);
    const auto distance = [&](const Vec3& min, const Vec3& max) {
        return nearest_gap(ball, no_sag, BoxShape{min, max}).distance;
    };
    EXPECT_NEAR(distance({0, -1, -0.5}, {1, 1, -0.17}), 0.07, 2e-6);
    EXPECT_NEAR(distance({0.42, -1, -0.5}, {1, 1, -0.16}), std::hypot(0.12, 0.16) - r, 2e-6);
    EXPECT_NEAR(distance({0.42, 0.08, -0.5}, {1, 1, -0.16}), Vec3(0.12, 0.08, 0.16).norm() - r, 2e-6);
    EXPECT_NEAR(distance({0.45, -1, -1}, {1, 1, 1}), 0.05, 2e-6);
}

TEST(GapToBox, SideOfALongConeMeetsAnEdgeBetweenItsEnds) {
    // One piece 0.4 m long from radius 0.02 to 0.08; an edge of the box across the rod at x = 0.2, z = −0.15.
    Outline cone{.pieces = {{0, 0.02, 0.4, 0.08, 0}}};
    const BoxShape box{{0.1, -1, -1}, {0.2, 1, -0.15}};
    const Vec3 along = Vec3(0.4, 0, -0.06).normalized();
    const Vec3 from = Vec3(0.2, 0, -0.15) - Vec3(0, 0, -0.02);
    const Gap gap = nearest_gap(cone, no_sag, box);
    EXPECT_NEAR(gap.distance, (from - from.dot(along) * along).norm(), 1e-10);
    EXPECT_NEAR((gap.on_load - gap.on_surface).norm(), gap.distance, 1e-9);
}

TEST(GapToBox, StrikeIsAsDeepAsTheRadiusRunsPastIt) {
    const Gap gap =
        nearest_gap(cylinder(0, 0.6, 0.1), no_sag, BoxShape{{0.2, -0.3, -0.4}, {0.4, 0.3, -0.07}});
    EXPECT_NEAR(gap.distance, -0.03, rounding);
    EXPECT_NEAR(gap.on_surface.z(), -0.07, rounding);
    EXPECT_NEAR(gap.on_load.z(), -0.1, rounding);
}

TEST(GapToBox, EndThatPressesIntoAWallStrikesByThePush) {
    const BoxShape wall{{0.5, -1, -1}, {0.8, 1, 1}};
    EXPECT_NEAR(nearest_gap(cylinder(0.1, 0.501, 0.1), no_sag, wall).distance, -0.001, 1e-10);
    // From outside the gap goes through zero without a jump.
    EXPECT_NEAR(nearest_gap(cylinder(0.1, 0.499, 0.1), no_sag, wall).distance, 0.001, rounding);
    EXPECT_NEAR(nearest_gap(cylinder(0.1, 0.5, 0.1), no_sag, wall).distance, 0, rounding);
}

TEST(GapToBox, PushFreesOnlyPastAllThatStrikes) {
    // Two plates of radius 0.1 on a thin rod; the box stands in the second one from the left side.
    const Outline outline = sweep({}, {{.x0 = 0, .x1 = 1, .radius = 0.01, .part = 0},
                                       {.x0 = 0.30, .x1 = 0.38, .radius = 0.1, .part = 1},
                                       {.x0 = 0.40, .x1 = 0.48, .radius = 0.1, .part = 2}});
    // Box 0.03 wide from 0.39 to 0.42, too wide for the slot between the plates. Freed to the right by
    // 0.42 − 0.30 = 0.12, to the left by 0.48 − 0.39 = 0.09; the radius runs past it by 0.07 only.
    EXPECT_NEAR(nearest_gap(outline, no_sag, BoxShape{{0.39, -1, -1}, {0.42, 1, -0.03}}).distance, -0.07,
                1e-10);
    // Nearer to the axis the push is less.
    EXPECT_NEAR(nearest_gap(outline, no_sag, BoxShape{{0.39, -1, -1}, {0.42, 1, -0.0101}}).distance, -0.0899,
                1e-10);
    // A box that fits the slot is freed into it.
    EXPECT_NEAR(nearest_gap(outline, no_sag, BoxShape{{0.385, -1, -1}, {0.402, 1, -0.02}}).distance, -0.002,
                1e-10);
}

TEST(GapToBox, BoxOnTheAxisCountsTheWholeRadius) {
    const Gap gap =
        nearest_gap(cylinder(0, 1, 0.1), no_sag, BoxShape{{0.4, -0.01, -0.01}, {0.5, 0.01, 0.01}});
    EXPECT_NEAR(gap.distance, -0.1, rounding);
}

TEST(GapToBox, FlatBoxesAndPoints) {
    EXPECT_NEAR(nearest_gap(cylinder(0, 1, 0.1), no_sag, BoxShape{{0.4, 0, -0.3}, {0.4, 0, -0.3}}).distance,
                0.2, rounding);
    EXPECT_NEAR(nearest_gap(cylinder(0, 1, 0.1), no_sag, BoxShape{{0.4, 0, -0.08}, {0.4, 0, -0.08}}).distance,
                -0.02, rounding);
    EXPECT_NEAR(nearest_gap(cylinder(0.5, 0.5, 0), no_sag, BoxShape{{0, -1, -2}, {1, 1, -1}}).distance, 1,
                rounding);
}

TEST(GapToBox, SagBringsTheLoadNearerToTheCoals) {
    const auto sag = [](double x) { return 0.02 * x * x; };
    const Gap gap = nearest_gap(cylinder(0, 0.5, 0.1), sag, BoxShape{{0, -1, -1}, {1, 1, -0.2}});
    EXPECT_NEAR(gap.distance, 0.1 - 0.02 * 0.25, promised);
    EXPECT_NEAR(gap.at, 0.5, 1e-9);
}

TEST(GapToBox, FarAway) {
    const Gap gap = nearest_gap(cylinder(0, 1, 0.1), no_sag, BoxShape{{1e3, -1, -1}, {1e3 + 1, 1, 1}});
    EXPECT_NEAR(gap.distance, 999, 1e-9);
}

// ---- revolved wall

TEST(GapToRevolved, CylinderAcrossAnUprightTube) {
    const double half = 0.2, r = 0.08, wall = 0.25;
    const RevolvedShape tube{{0.4, 0, 0}, {{wall, -0.5}, {wall, 0.5}}};
    const Outline outline = cylinder(0.4 - half, 0.4 + half, r);
    const Gap gap = nearest_gap(outline, no_sag, tube);
    EXPECT_NEAR(gap.distance, wall - std::hypot(half, r), promised);
    EXPECT_NEAR(std::abs(gap.at - 0.4), half, 1e-9);
    expect_proven(outline, no_sag, tube, gap);
}

// A tube right under the rod is as near on both sides: the side of +y is told, whichever rounding found.
TEST(GapToRevolved, OfTwoPlacesAsNearOneSideIsTold) {
    std::mt19937 random{8};
    std::uniform_real_distribution<double> share(0.9, 1.1);
    for (int n = 0; n < 40; ++n) {
        const RevolvedShape tube{{0.4, 0, 0}, {{0.15 * share(random), -0.5}, {0.15 * share(random), 0.5}}};
        const Outline outline = cylinder(0.4 - 0.1 * share(random), 0.4 + 0.1 * share(random), 0.08);
        const Gap gap = nearest_gap(outline, no_sag, tube);
        EXPECT_GE(gap.on_load.y(), 0);
        EXPECT_GE(gap.on_surface.y(), 0);
        expect_proven(outline, no_sag, tube, gap);
    }
}

TEST(GapToRevolved, FloorOfAPotIsAPlane) {
    const RevolvedShape pot{{0.4, 0.02, -0.3}, {{0, 0}, {0.35, 0}, {0.35, 0.6}}};
    const Gap gap = nearest_gap(cylinder(0.3, 0.5, 0.2), no_sag, pot);
    EXPECT_NEAR(gap.distance, 0.1, promised);
    const Gap sagged = nearest_gap(
        cylinder(0.3, 0.5, 0.2), [](double) { return 0.003; }, pot);
    EXPECT_NEAR(sagged.distance, 0.097, promised);
}

TEST(GapToRevolved, PostBesideALongCylinderIsMetBetweenItsEnds) {
    // Seen from outside the wall bulges toward the load: nearest at the foot of the perpendicular.
    const RevolvedShape post{{0.33, 0.3, 0}, {{0.05, -1}, {0.05, 1}}};
    const Outline outline = cylinder(0, 1, 0.1);
    const Gap gap = nearest_gap(outline, no_sag, post);
    EXPECT_NEAR(gap.distance, 0.3 - 0.05 - 0.1, promised);
    EXPECT_NEAR(gap.at, 0.33, 1e-3);
    expect_proven(outline, no_sag, post, gap);
}

TEST(GapToRevolved, ConeSideOverALip) {
    Outline cone{.pieces = {{0, 0.02, 0.4, 0.12, 0}}};
    const RevolvedShape lip{{0.2, 0, -0.2}, {{0.1, 0}, {0.3, -0.05}}};
    const Gap gap = nearest_gap(cone, no_sag, lip);
    expect_proven(cone, no_sag, lip, gap);
}

TEST(GapToRevolved, RingAboveTheLoadFollowsTheClosedForm) {
    // Circle of radius a at height h over the rim of a cylinder's end: one angle left to minimise.
    const double a = 0.22, h = 0.15, half = 0.2, r = 0.08;
    const RevolvedShape shelf{{0, 0, h}, {{a, 0}, {0.4, 0}}};
    double expected = 1;
    for (int i = 0; i <= 1'000'000; ++i) {
        const double angle = pi * i / 1'000'000;
        expected = std::min(expected, std::hypot(std::max(0.0, a - std::hypot(half, r * std::cos(angle))),
                                                 h - r * std::sin(angle)));
    }
    EXPECT_NEAR(nearest_gap(cylinder(-half, half, r), no_sag, shelf).distance, expected, promised);
}

TEST(GapToRevolved, SphereInsideASphere) {
    // The wall as 400 bands: chords inside the circle of radius b, by no more than b/8 (π/400)².
    const double b = 0.25, r = 0.15;
    RevolvedShape shell{{0.3, 0, 0}, {}};
    for (int i = 0; i <= 400; ++i) {
        const double angle = pi * i / 400;
        shell.profile.emplace_back(b * std::sin(angle), -b * std::cos(angle));
    }
    const double chord_error = b / 8 * (pi / 400) * (pi / 400) + 2e-6;
    for (const Vec3& offset : {Vec3(0, 0.03, -0.02), Vec3(0.04, 0, 0.01), Vec3(0, 0, 0.05)}) {
        shell.centre = Vec3(0.3, 0, 0) + offset;
        EXPECT_NEAR(nearest_gap(sphere(0.3, r), no_sag, shell).distance, b - r - offset.norm(), chord_error);
    }
    // Concentric: every point equally near.
    shell.centre = {0.3, 0, 0};
    EXPECT_NEAR(nearest_gap(sphere(0.3, r), no_sag, shell).distance, b - r, chord_error + 3e-6);
}

TEST(GapToRevolved, DirectionOfTheProfileDoesNotMatter) {
    RevolvedShape wall{{0.4, 0.01, -0.3}, {{0.1, 0}, {0.3, 0.05}, {0.33, 0.4}, {0.2, 0.55}}};
    const double a = nearest_gap(cylinder(0.25, 0.55, 0.1), no_sag, wall).distance;
    std::reverse(wall.profile.begin(), wall.profile.end());
    EXPECT_NEAR(nearest_gap(cylinder(0.25, 0.55, 0.1), no_sag, wall).distance, a, promised);
}

TEST(GapToRevolved, WallThroughTheLoadIsAStrike) {
    // An upright tube wall from 0.03 above the axis on: it cuts the cylinder at |x| = 0.25 from above.
    const RevolvedShape tube{{0.4, 0, 0}, {{0.25, 0.03}, {0.25, 0.5}}};
    const Outline outline = cylinder(0.1, 0.7, 0.1);
    const Gap gap = nearest_gap(outline, no_sag, tube);
    EXPECT_NEAR(gap.distance, -0.07, promised);
    EXPECT_NEAR(std::abs(gap.at - 0.4), 0.25, 1e-3);
    expect_proven(outline, no_sag, tube, gap);
    // Lower it below the axis: the whole radius.
    EXPECT_NEAR(
        nearest_gap(outline, no_sag, RevolvedShape{{0.4, 0, 0}, {{0.25, -0.03}, {0.25, 0.5}}}).distance, -0.1,
        promised);
}

TEST(GapToRevolved, WallAcrossTheBareAxisIsNoStrike) {
    // The axis passes through the tube's wall at x = 0.15 and 0.65; the load stays within.
    const RevolvedShape tube{{0.4, 0, 0}, {{0.25, -0.5}, {0.25, 0.5}}};
    EXPECT_GT(nearest_gap(cylinder(0.3, 0.5, 0.1), no_sag, tube).distance, 0.1);
}

TEST(GapToRevolved, SmallWallWithinTheLoadIsAStrike) {
    const RevolvedShape ring{{0.4, 0, 0.05}, {{0.01, 0}, {0.02, 0}}};
    const Outline outline = cylinder(0, 1, 0.1);
    const Gap gap = nearest_gap(outline, no_sag, ring);
    EXPECT_NEAR(gap.distance, -0.05, promised);
    expect_proven(outline, no_sag, ring, gap);
}

TEST(GapToRevolved, NeedleOnItsOwnAxis) {
    const RevolvedShape needle{{0.4, 0, 0}, {{0, 0.15}, {0, 0.5}}};
    EXPECT_NEAR(nearest_gap(cylinder(0, 1, 0.1), no_sag, needle).distance, 0.05, promised);
    const RevolvedShape twice{{0.4, 0, 0}, {{0, 0.15}, {0, 0.15}, {0, 0.5}}};
    EXPECT_NEAR(nearest_gap(cylinder(0, 1, 0.1), no_sag, twice).distance, 0.05, promised);
}

TEST(GapToRevolved, TouchingIsZero) {
    const RevolvedShape floor{{0.4, 0, -0.1}, {{0, 0}, {0.5, 0}}};
    EXPECT_NEAR(nearest_gap(cylinder(0.3, 0.5, 0.1), no_sag, floor).distance, 0, promised);
    const RevolvedShape tube{{0, 0, 0}, {{0.25, -0.5}, {0.25, 0.5}}};
    EXPECT_NEAR(nearest_gap(cylinder(-0.2, 0.2, 0.15), no_sag, tube).distance, 0, promised);
}

TEST(GapToRevolved, HairlineGapsAndStrikesAreTold) {
    for (const double off : {1e-4, 1e-5, 1e-6, -1e-6, -1e-5, -1e-4}) {
        const RevolvedShape floor{{0.4, 0, -0.1 - off}, {{0, 0}, {0.5, 0}}};
        EXPECT_NEAR(nearest_gap(sphere(0.4, 0.1), no_sag, floor).distance, off, promised) << off;
    }
}

// ---- mesh

TEST(GapToMesh, FaceEdgeAndCornerOfATriangle) {
    const Outline outline = cylinder(0, 1, 0.1);
    const auto distance = [&](const Vec3& a, const Vec3& b, const Vec3& c) {
        return nearest_gap(outline, no_sag, wall_of(one_triangle(a, b, c))).distance;
    };
    EXPECT_NEAR(distance({0.2, -0.2, -0.3}, {0.8, -0.2, -0.3}, {0.5, 0.4, -0.3}), 0.2, promised);
    // An edge across the rod, sloping away on both sides; then a corner.
    EXPECT_NEAR(distance({0.5, -0.2, 0.3}, {0.5, 0.2, 0.3}, {0.5, 0, 0.8}), 0.2, promised);
    EXPECT_NEAR(distance({0.5, 0.18, 0.24}, {0.2, 0.5, 0.7}, {0.8, 0.5, 0.7}), 0.2, promised);
    EXPECT_NEAR(distance({1.3, 0.4, 0.3}, {2, 0.4, 0.3}, {2, 0.5, 0.9}), std::hypot(0.3, 0.4), promised);
}

TEST(GapToMesh, TriangleAcrossTheRod) {
    const MeshShape across = wall_of(one_triangle({1.2, -5, -5}, {1.2, 5, -5}, {1.2, 0, 5}));
    EXPECT_NEAR(nearest_gap(cylinder(0, 1, 0.1), no_sag, across).distance, 0.2, promised);
    const Gap strike = nearest_gap(cylinder(0, 1.3, 0.1), no_sag, across);
    EXPECT_NEAR(strike.distance, -0.1, promised);
    EXPECT_EQ(strike.at, 1.2);
    // Reaching in from above, to 0.06 from the axis.
    const MeshShape blade = wall_of(one_triangle({0.5, 0, 0.06}, {0.5, 0.1, 0.3}, {0.5, -0.1, 0.3}));
    EXPECT_NEAR(nearest_gap(cylinder(0, 1, 0.1), no_sag, blade).distance, -0.04, promised);
}

TEST(GapToMesh, StrikeOfADiscWithoutThickness) {
    const Outline disc = cylinder(0.5, 0.5, 0.1);
    const MeshShape floor = wall_of(one_triangle({0, -0.4, -0.07}, {1, -0.4, -0.07}, {0.5, 0.6, -0.07}));
    const Gap gap = nearest_gap(disc, no_sag, floor);
    EXPECT_NEAR(gap.distance, -0.03, promised);
    EXPECT_EQ(gap.at, 0.5);
}

TEST(GapToMesh, DegenerateTriangles) {
    const MeshShape point = wall_of(one_triangle({0.5, 0, 0.3}, {0.5, 0, 0.3}, {0.5, 0, 0.3}));
    EXPECT_NEAR(nearest_gap(cylinder(0, 1, 0.1), no_sag, point).distance, 0.2, promised);
    const MeshShape segment = wall_of(one_triangle({0.5, 0.1, 0.3}, {0.5, -0.1, 0.3}, {0.5, 0.1, 0.3}));
    EXPECT_NEAR(nearest_gap(cylinder(0, 1, 0.1), no_sag, segment).distance, 0.2, promised);
    EXPECT_NEAR(nearest_gap(cylinder(0, 0, 0), no_sag, point).distance, std::hypot(0.5, 0.3), promised);
}

TEST(GapToMesh, BoxOfTrianglesIsTheBoxFromOutside) {
    std::mt19937 random(99);
    std::uniform_real_distribution<double> unit(-1, 1);
    const Outline outline = sphere(0.3, 0.1, 200);
    int outside = 0;
    for (int round = 0; round < 60; ++round) {
        const Vec3 middle(0.3 + 0.4 * unit(random), 0.3 * unit(random), 0.3 * unit(random));
        const Vec3 half =
            0.03 * Vec3(unit(random), unit(random), unit(random)).cwiseAbs() + Vec3::Constant(0.01);
        const auto sag = [](double x) { return 0.003 * x * (1 - x); };
        const Gap solid = nearest_gap(outline, sag, BoxShape{middle - half, middle + half});
        if (solid.distance <= 0) continue;
        ++outside;
        const Gap wall = nearest_gap(outline, sag, wall_of(box_mesh(middle - half, middle + half)));
        EXPECT_NEAR(wall.distance, solid.distance, promised);
    }
    EXPECT_GT(outside, 30);
}

TEST(GapToMesh, RevolvedWallMadeOfTrianglesComesNearTheRevolvedWall) {
    const RevolvedShape shape{{0.3, 0, 0}, {{0.1, -0.25}, {0.26, -0.05}, {0.26, 0.2}}};
    TriangleMesh mesh;
    constexpr int n = 720;
    for (const Vec2& p : shape.profile) {
        for (int i = 0; i < n; ++i) {
            const double angle = 2 * pi * i / n;
            mesh.vertices.emplace_back(0.3 + p.x() * std::cos(angle), p.x() * std::sin(angle), p.y());
        }
    }
    for (int k = 0; k < 2; ++k) {
        for (int i = 0; i < n; ++i) {
            const int a = k * n + i, b = k * n + (i + 1) % n;
            mesh.triangles.push_back({a, b, b + n});
            mesh.triangles.push_back({a, b + n, a + n});
        }
    }
    const Outline outline = sphere(0.32, 0.16);
    const double facets = 0.26 * (1 - std::cos(pi / n));
    EXPECT_NEAR(nearest_gap(outline, no_sag, wall_of(mesh)).distance,
                nearest_gap(outline, no_sag, shape).distance, facets + promised);
}

// ---- laws and random cases

Outline random_load(std::mt19937& random) {
    std::uniform_real_distribution<double> unit(0, 1);
    const TriangleMesh body = ellipsoid_mesh(0.1 + 0.05 * unit(random), 0.05 + 0.04 * unit(random), 0.07,
                                             {0.3, 0.02 * unit(random), -0.02 * unit(random)}, 16, 12);
    return sweep({{.mesh = &body, .part = 0}},
                 {{.x0 = 0.15, .x1 = 0.45, .radius = 0.005, .part = 1},
                  {.x0 = 0.2, .x1 = 0.2 + 0.02 * unit(random), .radius = 0.1 * unit(random), .part = 2}},
                 5e-3);
}

TEST(Gap, RandomRevolvedWallsAreProven) {
    std::mt19937 random(4711);
    std::uniform_real_distribution<double> unit(0, 1);
    int strikes = 0, clear = 0;
    for (int round = 0; round < 40; ++round) {
        const Outline outline = random_load(random);
        RevolvedShape wall{{0.2 + 0.2 * unit(random), 0.1 * unit(random), -0.1}, {}};
        const double scale = 0.15 + 0.3 * unit(random);
        for (int k = 0; k < 4; ++k)
            wall.profile.emplace_back(scale * unit(random), 0.6 * (unit(random) - 0.5));
        const double depth = 0.004 * unit(random);
        const auto sag = [depth](double x) { return depth * std::sin(pi * x / 0.6); };
        const Gap gap = nearest_gap(outline, sag, wall);
        (gap.distance < 0 ? strikes : clear) += 1;
        expect_proven(outline, sag, wall, gap);
    }
    EXPECT_GT(strikes, 5);
    EXPECT_GT(clear, 5);
}

TEST(Gap, RandomTrianglesAreProven) {
    std::mt19937 random(815);
    std::uniform_real_distribution<double> unit(-1, 1);
    int strikes = 0, clear = 0;
    for (int round = 0; round < 40; ++round) {
        const Outline outline = random_load(random);
        TriangleMesh mesh;
        const Vec3 place(0.3, 0.15 * unit(random), 0.25 * unit(random));
        for (int i = 0; i < 6; ++i) {
            mesh.vertices.emplace_back(place + 0.1 * Vec3(2 * unit(random), unit(random), unit(random)));
        }
        mesh.triangles = {{0, 1, 2}, {1, 2, 3}, {3, 4, 5}};
        const MeshShape wall = wall_of(mesh);
        const auto sag = [](double x) { return 0.004 * std::sin(pi * x / 0.6); };
        const Gap gap = nearest_gap(outline, sag, wall);
        (gap.distance < 0 ? strikes : clear) += 1;
        expect_proven(outline, sag, wall, gap);
    }
    EXPECT_GT(strikes, 5);
    EXPECT_GT(clear, 5);
}

TEST(Gap, BoxesAgreeWithSampledStations) {
    std::mt19937 random(31);
    std::uniform_real_distribution<double> unit(-1, 1);
    for (int round = 0; round < 40; ++round) {
        const Outline outline = random_load(random);
        const Vec3 middle(0.3 + 0.2 * unit(random), 0.2 * unit(random), 0.2 * unit(random));
        const Vec3 half = 0.05 * Vec3(unit(random), unit(random), unit(random)).cwiseAbs();
        const BoxShape box{middle - half, middle + half};
        const auto sag = [](double x) { return 0.004 * std::sin(pi * x / 0.6); };
        double deepest = 1, nearest = 1;
        for (double x = outline.pieces.front().x0; x <= outline.pieces.back().x1; x += 1e-5) {
            const Vec3 axis(x, 0, -sag(x));
            const Vec3 q = axis.cwiseMax(box.min).cwiseMin(box.max);
            const double excess = std::hypot(q.y(), q.z() - axis.z()) - outline.radius_at(x);
            nearest = std::min(nearest, std::hypot(q.x() - x, std::max(0.0, excess)));
            if (q.x() == x) deepest = std::min(deepest, excess);
        }
        const double gap = nearest_gap(outline, sag, box).distance;
        if (deepest < 0) {
            EXPECT_LE(gap, 0);
            EXPECT_GE(gap, deepest - 1e-4);  // stations 1e-5 apart on slopes of up to 10
        } else {
            EXPECT_LE(gap, nearest + promised);
            EXPECT_GE(gap, nearest - 2e-5);
        }
    }
}

TEST(Gap, BiggerOutlineIsNeverFurther) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> unit(0, 1);
    const std::vector<SurfaceShape> surfaces{
        PlaneShape{{0, 0, -0.14}, Vec3(0.1, 0.2, 0.97).normalized()},
        BoxShape{{0.1, -0.05, -0.3}, {0.33, 0.2, -0.09}},
        RevolvedShape{{0.3, 0.01, 0}, {{0.05, -0.12}, {0.2, -0.05}, {0.2, 0.1}}},
        wall_of(ellipsoid_mesh(0.2, 0.14, 0.12, {0.31, 0, 0.01}, 20, 14))};
    for (const SurfaceShape& surface : surfaces) {
        double last = std::numeric_limits<double>::infinity();
        std::vector<SweptCylinder> load;
        for (int i = 0; i < 25; ++i) {
            const double x = 0.15 + 0.25 * unit(random);
            load.push_back({x, x + 0.05 * unit(random), 0.005 * i * unit(random) + 0.01, 0});
            const double gap = nearest_gap(sweep({}, load), no_sag, surface).distance;
            EXPECT_LE(gap, last + promised);
            last = gap;
        }
    }
}

TEST(Gap, RefusesWhatHasNoAnswer) {
    const Outline outline = cylinder(0, 1, 0.1);
    const auto gap_to = [&](const SurfaceShape& shape) { return nearest_gap(outline, no_sag, shape); };
    EXPECT_THROW(nearest_gap({}, no_sag, PlaneShape{}), std::invalid_argument);
    EXPECT_THROW(nearest_gap(
                     outline, [](double) { return nan; }, PlaneShape{}),
                 std::invalid_argument);
    EXPECT_THROW(gap_to(PlaneShape{Vec3::Zero(), {0, 0, 2}}), std::invalid_argument);
    EXPECT_THROW(gap_to(PlaneShape{Vec3::Zero(), {0, 0, nan}}), std::invalid_argument);
    EXPECT_THROW(gap_to(BoxShape{{0, 0, 1}, {1, 1, 0}}), std::invalid_argument);
    EXPECT_THROW(gap_to(RevolvedShape{}), std::invalid_argument);
    EXPECT_THROW(gap_to(RevolvedShape{Vec3::Zero(), {{1, 0}}}), std::invalid_argument);
    EXPECT_THROW(gap_to(RevolvedShape{Vec3::Zero(), {{1, 0}, {-1, 1}}}), std::invalid_argument);
    EXPECT_THROW(gap_to(RevolvedShape{Vec3::Zero(), {{1, 0}, {1, nan}}}), std::invalid_argument);
    EXPECT_THROW(gap_to(MeshShape{}), std::invalid_argument);
    EXPECT_THROW(gap_to(wall_of({})), std::invalid_argument);
}

}  // namespace
}  // namespace evenspit
