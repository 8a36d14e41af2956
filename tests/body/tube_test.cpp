// SPDX-License-Identifier: MIT
#include "body/tube.h"

#include <cmath>
#include <numbers>
#include <utility>

#include <gtest/gtest.h>

#include "geometry/moments.h"
#include "geometry/solid_check.h"

namespace evenspit::body {
namespace {

// A prism over a regular n-gon: area n/2·r²·sin(2π/n), whatever way it looks.
TEST(Tube, FlatEndsMakeAPrism) {
    const TubeOptions options{
        .from = {0.1, 0.2, 0.3}, .to = {0.4, 0.1, 0.5}, .around = 12, .along = 5, .flat_ends = true};
    const TriangleMesh mesh = tube_mesh(options, [](const Vec3&, const Vec3&, double) { return 0.05; });
    ASSERT_TRUE(check_solid(mesh).ok()) << check_solid(mesh).found;
    const Moments volume = volume_moments(mesh);
    EXPECT_NEAR(volume.amount,
                6 * 0.05 * 0.05 * std::sin(std::numbers::pi / 6) * (options.to - options.from).norm(), 1e-12);
    EXPECT_TRUE(volume.centre.isApprox(0.5 * (options.from + options.to), 1e-12));
}

TEST(Tube, PointedEndsAndEvenDiagonals) {
    const TubeOptions options{.from = {-0.1, 0, 0.01}, .to = {0.1, 0, 0.02}, .around = 16, .along = 9};
    const TriangleMesh mesh = tube_mesh(options, [](const Vec3&, const Vec3& outward, double s) {
        return std::sin(std::numbers::pi * s) * (0.02 + 0.01 * outward.z() + 0.005 * std::abs(outward.y()));
    });
    ASSERT_TRUE(check_solid(mesh).ok()) << check_solid(mesh).found;
    EXPECT_NEAR(volume_moments(mesh).centre.y(), 0, 1e-16);
}

// A plate between radii r and R over an angle of w and a length L, in n flat steps: n triangles from the axis
// on each side, (R² − r²)/2·n·sin(w/n)·L.
TEST(Shell, VolumeOfACurvedPlate) {
    const ShellOptions options{
        .from_x = -0.1, .to_x = 0.2, .from_angle = -0.5, .to_angle = 1.0, .along = 6, .around = 60};
    const TriangleMesh mesh = shell_mesh(options, [](const Vec3&, const Vec3&) {
        return std::pair{0.05, 0.06};
    });
    ASSERT_TRUE(check_solid(mesh).ok()) << check_solid(mesh).found;
    EXPECT_NEAR(volume_moments(mesh).amount,
                0.5 * (0.06 * 0.06 - 0.05 * 0.05) * 60 * std::sin(1.5 / 60) * 0.3, 1e-15);
}

TEST(Tube, MirrorImageIsOutwardToo) {
    const TubeOptions options{.from = {0, 0.1, 0}, .to = {0.1, 0.2, 0}};
    const TriangleMesh mesh =
        tube_mesh(options, [](const Vec3&, const Vec3&, double s) { return 0.01 + 0.01 * s; });
    const Moments here = volume_moments(mesh), there = volume_moments(mirror_image(mesh));
    EXPECT_GT(here.amount, 0);
    EXPECT_NEAR(there.amount, here.amount, 1e-18);
    EXPECT_NEAR(there.centre.y(), -here.centre.y(), 1e-15);
}

}  // namespace
}  // namespace evenspit::body
