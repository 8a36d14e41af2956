// SPDX-License-Identifier: MIT
#include "body/mesher.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <stdexcept>

#include <gtest/gtest.h>

#include "body/field.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"

namespace evenspit::body {
namespace {

using std::numbers::pi;

Field sphere(const Vec3& centre, double r) {
    return [=](const Vec3& p) { return (p - centre).norm() - r; };
}

double volume_of(const TriangleMesh& mesh) {
    return volume_moments(mesh).amount;
}

// Vertices lie on the sphere, so the volume falls short by the chords' sagitta: second order in the spacing.
TEST(Mesher, SphereConvergesWithTheSquareOfTheSpacing) {
    const Box3 box(Vec3::Constant(-0.1), Vec3::Constant(0.1));
    const double exact = 4 * pi / 3 * 1e-3;
    double previous = 0;
    for (const double spacing : {0.04, 0.02, 0.01}) {
        const TriangleMesh mesh = mesh_field(sphere(Vec3::Zero(), 0.1), {.box = box, .spacing = spacing});
        ASSERT_TRUE(check_solid(mesh).ok()) << check_solid(mesh).found;
        const double error = exact - volume_of(mesh);
        EXPECT_GT(error, 0);
        if (previous > 0) {
            EXPECT_NEAR(std::log2(previous / error), 2, 0.35);
        }
        previous = error;
        for (const Vec3& v : mesh.vertices) EXPECT_NEAR(v.norm(), 0.1, 0.02 * spacing);
    }
    EXPECT_LT(previous / exact, 2e-3);
}

TEST(Mesher, EvenFieldsGiveEvenMeshes) {
    const Field pair = [](const Vec3& p) {
        const Vec3 near(p.x(), std::abs(p.y()), p.z());
        return blend(RoundCone({0, 0.03, 0}, {0.1, 0.06, 0.04}, 0.03, 0.02).distance(near),
                     (p - Vec3(0, 0, 0.01)).norm() - 0.03, 0.02);
    };
    const TriangleMesh mesh =
        mesh_field(pair, {.box = {Vec3(-0.05, -0.1, -0.05), Vec3(0.13, 0.1, 0.08)}, .spacing = 0.0071});
    EXPECT_LT(std::abs(volume_moments(mesh).centre.y()), 1e-15);
}

// Half of the places are enough for one that is known to be even, and make the same mesh to the last bit.
TEST(Mesher, AsksHalfOfWhatIsKnownToBeEven) {
    const double spacing = 0.0071;
    int calls = 0;
    double leftmost = 0;
    const Field ring = [&](const Vec3& p) {
        ++calls;
        leftmost = std::min(leftmost, p.y());
        return std::hypot(std::hypot(p.x() - 0.001, p.y()) - 0.06, p.z() + 0.1 * p.x()) - 0.02;
    };
    MesherOptions options{.box = {Vec3(-0.09, -0.09, -0.05), Vec3(0.09, 0.09, 0.05)}, .spacing = spacing};
    const TriangleMesh whole = mesh_field(ring, options);
    const int whole_calls = std::exchange(calls, 0);
    leftmost = 0;
    options.is_even = true;
    const TriangleMesh half = mesh_field(ring, options);
    EXPECT_GT(leftmost, -0.01 * spacing);  // a step for the gradient
    EXPECT_LT(calls, whole_calls * 6 / 10);
    EXPECT_EQ(half.triangles, whole.triangles);
    ASSERT_EQ(half.vertices.size(), whole.vertices.size());
    for (std::size_t i = 0; i < whole.vertices.size(); ++i) EXPECT_EQ(half.vertices[i], whole.vertices[i]);
}

TEST(Mesher, TunnelsAndSeparatePiecesStayClosed) {
    const Field ring_and_ball = [](const Vec3& p) {
        const double ring = std::hypot(std::hypot(p.x(), p.y()) - 0.06, p.z()) - 0.02;
        return std::min(ring, (p - Vec3(0, 0, 0.07)).norm() - 0.015);
    };
    const TriangleMesh mesh = mesh_field(
        ring_and_ball, {.box = {Vec3(-0.08, -0.08, -0.02), Vec3(0.08, 0.08, 0.085)}, .spacing = 0.005});
    const SolidReport report = check_solid(mesh);
    EXPECT_TRUE(report.ok()) << report.found;
    EXPECT_EQ(report.components, 2);
    const double exact = 2 * pi * pi * 0.06 * 0.02 * 0.02 + 4 * pi / 3 * std::pow(0.015, 3);
    EXPECT_NEAR(volume_of(mesh), exact, 0.01 * exact);
    // Euler: V − E + F = 0 for the ring, 2 for the ball; E = 3F/2.
    const auto v = static_cast<long>(mesh.vertices.size()), f = static_cast<long>(mesh.triangles.size());
    EXPECT_EQ(v - f / 2, 2);
}

// Rough fields, thin flaps and touching sheets cannot open the mesh.
TEST(Mesher, ClosedAndTwoTrianglesAtEveryEdgeWhateverTheField) {
    for (int seed = 0; seed < 20; ++seed) {
        const Field rough = [seed](const Vec3& p) {
            const double ball = p.norm() - 0.08;
            return ball + 0.03 * std::sin(190 * p.x() + seed) * std::sin(230 * p.y() + 2 * seed) *
                              std::cos(260 * p.z());
        };
        const TriangleMesh mesh = mesh_field(
            rough,
            {.box = {Vec3::Constant(-0.115), Vec3::Constant(0.115)}, .spacing = 0.008, .steepest = 20});
        ASSERT_FALSE(mesh.triangles.empty());
        std::map<std::pair<int, int>, int> edges;
        for (const Triangle& t : mesh.triangles) {
            for (std::size_t k = 0; k < 3; ++k) ++edges[{t[k], t[(k + 1) % 3]}];
        }
        for (const auto& [edge, count] : edges) {
            ASSERT_EQ(count, 1) << "seed " << seed;
            ASSERT_EQ(edges.count({edge.second, edge.first}), 1U) << "seed " << seed;
        }
        EXPECT_GT(volume_of(mesh), 0);
    }
}

TEST(Mesher, NoNeedles) {
    const TriangleMesh mesh = mesh_field(
        [](const Vec3& p) { return Ellipsoid(Vec3(0.001, 0, 0.002), Vec3(0.1, 0.07, 0.05)).distance(p); },
        {.box = {Vec3(-0.1, -0.07, -0.05), Vec3(0.11, 0.07, 0.06)}, .spacing = 0.01});
    double worst = 1;
    for (const Triangle& t : mesh.triangles) {
        const Vec3 a = mesh.corner(t, 0), b = mesh.corner(t, 1), c = mesh.corner(t, 2);
        const double twice_area = (b - a).cross(c - a).norm();
        const double longest = std::max({(b - a).norm(), (c - b).norm(), (a - c).norm()});
        worst = std::min(
            worst,
            twice_area / (longest * longest));  // least height over longest side; 0.87 for an even triangle
    }
    EXPECT_GT(worst, 0.05);
}

// Far blocks are skipped without a change in the result.
TEST(Mesher, CullingChangesNothing) {
    int calls = 0;
    const Field counted = [&calls](const Vec3& p) {
        ++calls;
        return p.norm() - 0.1;
    };
    const Box3 box(Vec3::Constant(-0.12), Vec3::Constant(0.12));
    const TriangleMesh culled = mesh_field(counted, {.box = box, .spacing = 0.005, .steepest = 1});
    const int culled_calls = std::exchange(calls, 0);
    const TriangleMesh full = mesh_field(counted, {.box = box, .spacing = 0.005, .steepest = 1e6});
    EXPECT_LT(culled_calls, calls * 6 / 10);
    ASSERT_EQ(culled.vertices.size(), full.vertices.size());
    for (std::size_t i = 0; i < full.vertices.size(); ++i) EXPECT_EQ(culled.vertices[i], full.vertices[i]);
    EXPECT_EQ(culled.triangles, full.triangles);
}

TEST(Mesher, SmallChangesMoveTheVolumeLittle) {
    const Box3 box(Vec3::Constant(-0.11), Vec3::Constant(0.11));
    double previous = 0;
    for (int i = 0; i <= 200; ++i) {
        const double r = 0.1 + 1e-5 * i;
        const double volume = volume_of(mesh_field(sphere(Vec3::Zero(), r), {.box = box, .spacing = 0.013}));
        if (i > 0) {
            EXPECT_NEAR(volume - previous, 4 * pi * r * r * 1e-5, 4 * pi * r * r * 1.2e-5);
        }
        previous = volume;
    }
}

TEST(Mesher, RefusesWhatCannotBeMeshed) {
    const Box3 box(Vec3::Constant(-0.1), Vec3::Constant(0.1));
    EXPECT_THROW(mesh_field(sphere(Vec3::Zero(), 0.05), {.box = {}, .spacing = 0.01}), std::invalid_argument);
    EXPECT_THROW(mesh_field(sphere(Vec3::Zero(), 0.05), {.box = box, .spacing = 0}), std::invalid_argument);
    EXPECT_THROW(mesh_field(sphere(Vec3::Zero(), 0.05), {.box = box, .spacing = 1e-4}),
                 std::invalid_argument);
    EXPECT_THROW(mesh_field(sphere(Vec3::Zero(), 0.5), {.box = box, .spacing = 0.01}), std::runtime_error);
    EXPECT_TRUE(mesh_field(sphere(Vec3(9, 9, 9), 0.5), {.box = box, .spacing = 0.01}).triangles.empty());
}

}  // namespace
}  // namespace evenspit::body
