// SPDX-License-Identifier: MIT
#include "analysis/outer_skin.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "load/arrangement.h"
#include "loads.h"

namespace evenspit {
namespace {

/// Greatest difference of two outlines over many stations.
double difference(const Outline& a, const Outline& b) {
    double greatest = 0;
    for (int k = 0; k <= 4000; ++k) {
        const double x = 0.2 + 0.3 * k / 4000;
        greatest = std::max(greatest, std::abs(a.radius_at(x) - b.radius_at(x)));
    }
    return greatest;
}

/// A roast with a waist and a knob, so that its outline is anything but convex.
Assembly knobbly_load() {
    Assembly a = test::lumpy_load();
    const auto shape = [](double u, double v) {
        const double t = std::numbers::pi * v;
        const double waist = 1 - 0.5 * std::exp(-std::pow((v - 0.5) / 0.08, 2));
        const double knob = 1 + 0.4 * std::exp(-std::pow((v - 0.7) / 0.03, 2) - std::pow((u - 2) / 0.2, 2));
        return Vec3(-0.10 * std::cos(t), 0.06 * waist * knob * std::sin(t) * std::cos(u),
                    0.07 * waist * knob * std::sin(t) * std::sin(u));
    };
    a.items = {test::item("roast", test::flesh(test::grid_mesh(120, 101, shape)), 0.34, {0.004, -0.006})};
    return a;
}

}  // namespace

TEST(OuterSkin, SweepsTheSameOutlineInEveryMounting) {
    for (Assembly a : {test::lumpy_load(), knobbly_load()}) {
        a.spread.rod_line_m = 0.008;
        const Mountings mountings(a, 64);
        const QuickSweep quick(a, mountings);
        for (std::size_t k = 0; k < mountings.count(); ++k) {
            const Assembly mounted = mountings.mounting(k);
            std::vector<SweptItemParts> whole{displacing_parts(mounted.items[0].body->body)};
            ASSERT_LT(difference(quick(mounted).outline, swept_load(mounted, whole, 0.004).outline), 1e-12)
                << k;
        }
    }
}

// A flat body, twice as wide as it is thick: its faces lie well within what its edges sweep.
TEST(OuterSkin, LeavesOutWhatLiesWithin) {
    const TriangleMesh whole = test::ellipsoid_mesh(0.1, 0.06, 0.03, Vec3::Zero(), 120, 60);
    const std::size_t near = outer_skin(whole, Pose::Identity(), 1, 0.002).triangles.size(),
                      far = outer_skin(whole, Pose::Identity(), 1, 0.006).triangles.size();
    EXPECT_LT(near, far);
    EXPECT_LT(far, whole.triangles.size() * 9 / 10);
}

TEST(OuterSkin, CountsNeitherATurnNorAStation) {
    const Assembly a = test::lumpy_load();
    const Pose rest = pose_in(a.items[0], a.items[0].seat).inverse() * a.items[0].pose;
    Item moved = a.items[0];
    moved.seat.at_m += 0.05;
    moved.seat.turn_rad += 1;
    moved.pose = pose_in(moved, moved.seat) * rest;
    EXPECT_LT(off_the_line(a.items[0], moved), 1e-12);
    moved.seat.line.from.x() += 0.003;
    moved.seat.line.to.x() += 0.003;
    moved.pose = pose_in(moved, moved.seat) * rest;
    EXPECT_NEAR(off_the_line(a.items[0], moved), 0.003, 1e-12);
}

}  // namespace evenspit
