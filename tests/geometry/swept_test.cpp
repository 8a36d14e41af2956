// SPDX-License-Identifier: MIT
#include "geometry/swept.h"

#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>

#include <gtest/gtest.h>

#include "support/meshes.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::ellipsoid_mesh;
using test::grid_mesh;

constexpr double rounding = 1e-11;  // m

Outline sweep_one(const TriangleMesh& mesh, const Pose& pose = Pose::Identity(), double step = 1e-3) {
    return sweep({{.mesh = &mesh, .pose = pose, .part = 0}}, {}, step);
}

double axis_distance(const Vec3& p) {
    return std::hypot(p.y(), p.z());
}

Pose turned(double angle, const Vec3& axis, const Vec3& move = Vec3::Zero()) {
    return Pose(Eigen::Translation3d(move) * Eigen::AngleAxisd(angle, axis.normalized()));
}

TriangleMesh one_triangle(const Vec3& a, const Vec3& b, const Vec3& c) {
    return {.vertices = {a, b, c}, .triangles = {{0, 1, 2}}};
}

/// What every outline must be: in order, not overlapping, no negative radius, each piece with a part.
void expect_well_formed(const Outline& outline) {
    for (std::size_t i = 0; i < outline.pieces.size(); ++i) {
        const OutlinePiece& piece = outline.pieces[i];
        EXPECT_LE(piece.x0, piece.x1);
        EXPECT_GE(piece.r0, 0);
        EXPECT_GE(piece.r1, 0);
        if (piece.x0 == piece.x1) {
            EXPECT_EQ(piece.r0, piece.r1);
        }
        EXPECT_GE(piece.part, 0);
        if (i > 0) {
            EXPECT_LE(outline.pieces[i - 1].x1, piece.x0);
        }
    }
}

/// Random points of the mesh's triangles, in the rod frame, corners and edges among them.
std::vector<Vec3> sample(const TriangleMesh& mesh, const Pose& pose, int per_triangle, std::mt19937& random) {
    std::uniform_real_distribution<double> unit(0, 1);
    std::vector<Vec3> points;
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3 a = pose * mesh.corner(triangle, 0), b = pose * mesh.corner(triangle, 1),
                   c = pose * mesh.corner(triangle, 2);
        points.insert(points.end(), {a, b, c});
        for (int i = 0; i < per_triangle; ++i) {
            const double s = std::sqrt(unit(random)), t = i % 2 ? unit(random) : 0;  // every other on an edge
            points.push_back((1 - s) * a + s * (1 - t) * b + s * t * c);
        }
    }
    return points;
}

TEST(Sweep, OfNothingIsEmpty) {
    const Outline outline = sweep({}, {});
    EXPECT_TRUE(outline.empty());
    EXPECT_EQ(outline.radius_at(0), 0);
    const TriangleMesh none;
    EXPECT_TRUE(sweep_one(none).empty());
}

TEST(Sweep, CylinderIsOnePiece) {
    const Outline outline = sweep({}, {{.x0 = 0.1, .x1 = 0.7, .radius = 0.004, .part = 0}});
    ASSERT_EQ(outline.pieces.size(), 1u);
    EXPECT_EQ(outline.radius_at(0.1), 0.004);
    EXPECT_EQ(outline.radius_at(0.7), 0.004);
    EXPECT_EQ(outline.radius_at(0.0999), 0);
    EXPECT_EQ(outline.radius_at(0.7001), 0);
}

TEST(Sweep, BoxOnTheAxisHasItsCornerRadiusUpToItsEndFaces) {
    const TriangleMesh box = box_mesh({0.1, -0.03, -0.04}, {0.3, 0.03, 0.04});
    const Outline outline = sweep_one(box);
    expect_well_formed(outline);
    EXPECT_EQ(outline.pieces.front().x0, 0.1);
    EXPECT_EQ(outline.pieces.back().x1, 0.3);
    for (const double x : {0.1, 0.1234567, 0.2, 0.2999, 0.3})
        EXPECT_NEAR(outline.radius_at(x), 0.05, rounding);
    EXPECT_EQ(outline.radius_at(0.0999999), 0);
    EXPECT_EQ(outline.radius_at(0.3000001), 0);
}

TEST(Sweep, BoxTurnedAboutUprightFollowsItsCorners) {
    // A square plate 2a × 2a, 2h thick, its corners along X: at x the edges stand at y = ±(a√2 − |x|), z =
    // ±h.
    const double a = 0.05, h = 0.01;
    const TriangleMesh box = box_mesh({-a, -a, -h}, {a, a, h});
    const Outline outline = sweep_one(box, turned(std::numbers::pi / 4, Vec3::UnitZ()));
    expect_well_formed(outline);
    const double tip = a * std::numbers::sqrt2;
    EXPECT_NEAR(outline.pieces.front().x0, -tip, rounding);
    EXPECT_NEAR(outline.radius_at(0), std::hypot(tip, h), 1e-5);  // a ridge within a slab
    for (double x = -0.07; x <= 0.07; x += 0.00037) {
        const double exact = std::hypot(tip - std::abs(x), h);
        EXPECT_GE(outline.radius_at(x), exact - rounding) << x;
        EXPECT_LE(outline.radius_at(x), exact + 2e-5) << x;  // chord over a hyperbola: step²/(8h)
    }
}

TEST(Sweep, SphereFollowsTheCircle) {
    const double r = 0.08;
    const TriangleMesh sphere = ellipsoid_mesh(r, r, r, {0.3, 0, 0}, 64, 512);
    const Outline outline = sweep_one(sphere);
    expect_well_formed(outline);
    for (double x = -0.0799; x < 0.08; x += 0.00031) {
        const double exact = std::sqrt(r * r - x * x);
        EXPECT_LE(outline.radius_at(0.3 + x), exact + rounding);
        // Near the poles the mesh's own latitudes are what is coarse.
        EXPECT_GE(outline.radius_at(0.3 + x), exact - (std::abs(x) < 0.07 ? 1e-5 : 2e-4)) << x;
    }
    EXPECT_NEAR(outline.radius_at(0.3), r, 1e-6);
}

TEST(Sweep, ConeIsExact) {
    // Every edge of the mantle runs along a generator of the cone, or in its base.
    const TriangleMesh cone = grid_mesh(40, 2, [](double u, double v) {
        const double r = v == 0.5 ? 0.06 : 0;
        return Vec3(v == 0 ? 0.0 : 0.2, r * std::cos(u), r * std::sin(u));
    });
    const Outline outline = sweep_one(cone);
    expect_well_formed(outline);
    for (const double x : {0.0, 0.0001, 0.0777777, 0.15, 0.1999, 0.2}) {
        EXPECT_NEAR(outline.radius_at(x), 0.3 * x, rounding) << x;
    }
}

TEST(Sweep, BodyOffTheAxisReachesItsFarSide) {
    const double r = 0.03, off = 0.05;
    const TriangleMesh sphere = ellipsoid_mesh(r, r, r, {0, 0, off}, 128, 256);
    const Outline outline = sweep_one(sphere);
    for (double x = -0.028; x < 0.028; x += 0.0007) {
        EXPECT_NEAR(outline.radius_at(x), off + std::sqrt(r * r - x * x), 2e-5) << x;
    }
}

TEST(Sweep, SpikeNarrowerThanASlabCounts) {
    TriangleMesh mesh = box_mesh({0, -0.02, -0.02}, {0.1, 0.02, 0.02});
    // 0.02 mm wide, well inside a slab of 1 mm.
    const auto v = static_cast<std::int32_t>(mesh.vertices.size());
    mesh.vertices.insert(mesh.vertices.end(), {{0.05050, 0.02, 0}, {0.05052, 0.02, 0}, {0.05051, 0.09, 0}});
    mesh.triangles.push_back({v, v + 1, v + 2});
    const Outline outline = sweep_one(mesh);
    expect_well_formed(outline);
    EXPECT_NEAR(outline.radius_at(0.05051), 0.09, rounding);
    EXPECT_NEAR(outline.radius_at(0.0495), std::hypot(0.02, 0.02), rounding);
    EXPECT_NEAR(outline.radius_at(0.0515), std::hypot(0.02, 0.02), rounding);
}

TEST(Sweep, TriangleAcrossTheAxisIsADisc) {
    const TriangleMesh flat = one_triangle({0.2, 0.01, 0}, {0.2, 0.05, 0}, {0.2, 0, 0.03});
    const Outline outline = sweep_one(flat);
    ASSERT_EQ(outline.pieces.size(), 1u);
    EXPECT_EQ(outline.pieces[0].x0, outline.pieces[0].x1);
    EXPECT_EQ(outline.radius_at(0.2), 0.05);
    EXPECT_EQ(outline.radius_at(0.2001), 0);
}

TEST(Sweep, DiscStandsOutOfABody) {
    // A plate without thickness, once on a plane between slabs and once inside a slab.
    for (const double at : {0.05, 0.0504}) {
        TriangleMesh mesh = box_mesh({0, -0.03, -0.04}, {0.1, 0.03, 0.04});
        const auto v = static_cast<std::int32_t>(mesh.vertices.size());
        mesh.vertices.insert(mesh.vertices.end(), {{at, 0.08, 0}, {at, 0, 0.06}, {at, 0, 0}});
        mesh.triangles.push_back({v, v + 1, v + 2});
        const Outline outline = sweep_one(mesh);
        expect_well_formed(outline);
        EXPECT_NEAR(outline.radius_at(at), 0.08, rounding);
        EXPECT_NEAR(outline.radius_at(at + 0.0011), 0.05, rounding);
        EXPECT_NEAR(outline.radius_at(at - 0.0011), 0.05, rounding);
    }
}

TEST(Sweep, FaceOnAPlaneBetweenSlabsJumps) {
    // Two boxes end to end, the joint at a slab's boundary: no slope in either slab beside it.
    TriangleMesh mesh = box_mesh({0, -0.06, 0}, {0.5, 0.06, 0.001});
    const TriangleMesh thin = box_mesh({0.5, -0.02, 0}, {1, 0.02, 0.001});
    const auto v = static_cast<std::int32_t>(mesh.vertices.size());
    mesh.vertices.insert(mesh.vertices.end(), thin.vertices.begin(), thin.vertices.end());
    for (const Triangle& t : thin.triangles) mesh.triangles.push_back({t[0] + v, t[1] + v, t[2] + v});
    const Outline outline = sweep_one(mesh, Pose::Identity(), 1.0 / 512);
    EXPECT_NEAR(outline.radius_at(0.5), std::hypot(0.06, 0.001), rounding);
    EXPECT_NEAR(outline.radius_at(0.5 + 1e-9), std::hypot(0.02, 0.001), rounding);
    EXPECT_NEAR(outline.radius_at(0.5 - 1e-9), std::hypot(0.06, 0.001), rounding);
}

TEST(Sweep, DegenerateTrianglesCountAsTheSegmentsAndPointsTheyAre) {
    const TriangleMesh segment = one_triangle({0, 0, 0.02}, {0.1, 0, 0.04}, {0, 0, 0.02});
    const Outline line = sweep_one(segment);
    expect_well_formed(line);
    EXPECT_NEAR(line.radius_at(0.05), 0.03, rounding);
    const TriangleMesh point = one_triangle({0.1, 0, 0.02}, {0.1, 0, 0.02}, {0.1, 0, 0.02});
    const Outline dot = sweep_one(point);
    ASSERT_EQ(dot.pieces.size(), 1u);
    EXPECT_EQ(dot.radius_at(0.1), 0.02);
}

TEST(Sweep, VerticesWithoutATriangleDoNotCount) {
    TriangleMesh mesh = box_mesh({0, -0.01, -0.01}, {0.1, 0.01, 0.01});
    mesh.vertices.emplace_back(0.05, 1, 0);
    mesh.vertices.emplace_back(3, 0, 0);
    const Outline outline = sweep_one(mesh);
    EXPECT_NEAR(outline.radius_at(0.05), std::hypot(0.01, 0.01), rounding);
    EXPECT_EQ(outline.pieces.back().x1, 0.1);
}

TEST(Sweep, LeavesAHoleBetweenSeparateThings) {
    const Outline outline = sweep({}, {{.x0 = 0, .x1 = 0.1, .radius = 0.02, .part = 0},
                                       {.x0 = 0.2, .x1 = 0.3, .radius = 0.03, .part = 1}});
    ASSERT_EQ(outline.pieces.size(), 2u);
    EXPECT_EQ(outline.radius_at(0.15), 0);
}

TEST(Sweep, NeverFallsBelowThePointsOfTheMeshAndTouchesThem) {
    std::mt19937 random(20240611);
    std::uniform_real_distribution<double> unit(-1, 1);
    for (int round = 0; round < 12; ++round) {
        const Vec3 centre(0.05 * unit(random), 0.05 * unit(random), 0.05 * unit(random));
        const TriangleMesh mesh =
            round % 3 == 0 ? box_mesh(Vec3(-0.1, -0.05, -0.02), Vec3(0.08, 0.06, 0.03))
                           : ellipsoid_mesh(0.02 + 0.1 * std::abs(unit(random)), 0.05, 0.03, centre, 24, 17);
        const Pose pose = turned(3 * unit(random), Vec3(unit(random), unit(random), unit(random) + 2),
                                 0.1 * Vec3(unit(random), unit(random), unit(random)));
        const double step = round % 2 ? 1e-3 : 7e-3;
        const Outline outline = sweep_one(mesh, pose, step);
        expect_well_formed(outline);
        const std::vector<Vec3> points = sample(mesh, pose, 60, random);
        double first = 1e9, last = -1e9;
        for (const Vec3& p : points) {
            EXPECT_GE(outline.radius_at(p.x()), axis_distance(p) - rounding);
            first = std::min(first, p.x());
            last = std::max(last, p.x());
        }
        EXPECT_EQ(outline.pieces.front().x0, first);
        EXPECT_EQ(outline.pieces.back().x1, last);
        // Every end of a piece is a genuine point: the greatest radius of an edge at that station.
        for (const OutlinePiece& piece : outline.pieces) {
            double edge_radius = 0;
            for (const Triangle& triangle : mesh.triangles) {
                for (int k = 0; k < 3; ++k) {
                    const Vec3 a = pose * mesh.corner(triangle, k),
                               b = pose * mesh.corner(triangle, (k + 1) % 3);
                    const double t = (piece.x0 - a.x()) / (b.x() - a.x());
                    if (t >= -1e-9 && t <= 1 + 1e-9)
                        edge_radius = std::max(edge_radius, axis_distance(a + t * (b - a)));
                }
            }
            EXPECT_NEAR(piece.r0, edge_radius, 1e-8) << "at " << piece.x0;
        }
    }
}

TEST(Sweep, DoesNotDependOnTheTurnOfTheRod) {
    const TriangleMesh mesh = ellipsoid_mesh(0.1, 0.05, 0.03, {0.2, 0.01, -0.02}, 24, 17);
    const Outline a = sweep_one(mesh), b = sweep_one(mesh, turned(1.234, Vec3::UnitX()));
    for (double x = 0.09; x < 0.31; x += 0.0013) EXPECT_NEAR(a.radius_at(x), b.radius_at(x), rounding);
}

TEST(Sweep, NamesWhatReachesFurthestAndCutsWhereOneOvertakes) {
    const TriangleMesh cone = grid_mesh(40, 2, [](double u, double v) {
        const double r = v == 0.5 ? 0.06 : 0;
        return Vec3(v == 0 ? 0.0 : 0.2, r * std::cos(u), r * std::sin(u));
    });
    const Outline outline =
        sweep({{.mesh = &cone, .part = 7}}, {{.x0 = -0.1, .x1 = 0.3, .radius = 0.0301, .part = 4},
                                             {.x0 = 0.19, .x1 = 0.21, .radius = 0.02, .part = 5}});
    expect_well_formed(outline);
    const double cut = 0.0301 / 0.3;
    for (const OutlinePiece& piece : outline.pieces) {
        const double middle = 0.5 * (piece.x0 + piece.x1);
        const bool on_cone = middle > cut && middle < 0.2;
        EXPECT_EQ(piece.part, on_cone ? 7 : 4) << middle;
        EXPECT_NEAR(outline.radius_at(middle), on_cone ? 0.3 * middle : 0.0301, rounding);
    }
    EXPECT_NEAR(outline.pieces.front().x1, cut, 1e-9);
    EXPECT_NEAR(outline.radius_at(0.2), 0.06, rounding);
}

TEST(Sweep, EqualReachBelongsToTheFirstNamed) {
    const Outline outline = sweep({}, {{.x0 = 0, .x1 = 0.2, .radius = 0.02, .part = 3},
                                       {.x0 = 0.1, .x1 = 0.3, .radius = 0.02, .part = 1}});
    ASSERT_EQ(outline.pieces.size(), 2u);
    EXPECT_EQ(outline.pieces[0].part, 3);
    EXPECT_EQ(outline.pieces[0].x1, 0.2);
    EXPECT_EQ(outline.pieces[1].x0, 0.2);
}

TEST(Sweep, OneNumberIsOnePart) {
    const Outline outline = sweep({}, {{.x0 = 0, .x1 = 0.1, .radius = 0.02, .part = 2},
                                       {.x0 = 0.1, .x1 = 0.3, .radius = 0.01, .part = 2}});
    ASSERT_EQ(outline.pieces.size(), 2u);
    EXPECT_EQ(outline.pieces[0].part, 2);
    EXPECT_EQ(outline.pieces[1].part, 2);
}

TEST(Sweep, DiscsOfSeveralThingsKeepWhatStandsOut) {
    const Outline outline = sweep({}, {{.x0 = 0, .x1 = 0.2, .radius = 0.02, .part = 0},
                                       {.x0 = 0.1, .x1 = 0.1, .radius = 0.05, .part = 1},
                                       {.x0 = 0.1, .x1 = 0.1, .radius = 0.04, .part = 2},
                                       {.x0 = 0.15, .x1 = 0.15, .radius = 0.01, .part = 3},
                                       {.x0 = 0.2, .x1 = 0.2, .radius = 0.03, .part = 4},
                                       {.x0 = 0.4, .x1 = 0.4, .radius = 0.03, .part = 5}});
    expect_well_formed(outline);
    ASSERT_EQ(outline.pieces.size(), 5u);
    EXPECT_EQ(outline.radius_at(0.1), 0.05);
    EXPECT_EQ(outline.radius_at(0.15), 0.02);
    EXPECT_EQ(outline.radius_at(0.2), 0.03);
    EXPECT_EQ(outline.radius_at(0.4), 0.03);
    EXPECT_EQ(outline.radius_at(0.3), 0);
}

TEST(Sweep, RefusesWhatCannotBeSwept) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const TriangleMesh box = box_mesh({0, 0, 0}, {1, 1, 1});
    TriangleMesh broken = box;
    broken.vertices[3].y() = nan;
    EXPECT_THROW(sweep_one(box, Pose::Identity(), 0), std::invalid_argument);
    EXPECT_THROW(sweep_one(box, Pose::Identity(), nan), std::invalid_argument);
    EXPECT_THROW(sweep_one(box, Pose::Identity(), 1e-8), std::invalid_argument);
    EXPECT_THROW(sweep_one(broken), std::invalid_argument);
    EXPECT_THROW(sweep({{.mesh = nullptr}}, {}), std::invalid_argument);
    EXPECT_THROW(sweep({}, {{.x0 = 1, .x1 = 0, .radius = 1}}), std::invalid_argument);
    EXPECT_THROW(sweep({}, {{.x0 = 0, .x1 = 1, .radius = -1}}), std::invalid_argument);
    EXPECT_THROW(sweep({}, {{.x0 = 0, .x1 = nan, .radius = 1}}), std::invalid_argument);
}

}  // namespace
}  // namespace evenspit
