// SPDX-License-Identifier: MIT
#include "analysis/placed.h"

#include <numbers>

#include <Eigen/Geometry>
#include <gtest/gtest.h>

#include "loads.h"

namespace evenspit {

using test::box_mesh;
using test::degree;

TEST(RodPoint, ClockGrowsFromYTowardZ) {
    EXPECT_NEAR((rod_point(0.3, 0.05, 0) - Vec3(0.3, 0.05, 0)).norm(), 0, 1e-17);
    EXPECT_NEAR((rod_point(0.3, 0.05, 90 * degree) - Vec3(0.3, 0, 0.05)).norm(), 0, 1e-17);
    EXPECT_NEAR((rod_point(0.3, 0.05, 180 * degree) - Vec3(0.3, -0.05, 0)).norm(), 0, 1e-17);
}

TEST(TineTip, LiesWhereTheForkPoints) {
    EXPECT_DOUBLE_EQ(tine_tip({.at_m = 0.2, .points = Facing::point, .tines = {}}, {.length_m = 0.09}), 0.29);
    EXPECT_DOUBLE_EQ(tine_tip({.at_m = 0.2, .points = Facing::drive, .tines = {}}, {.length_m = 0.09}), 0.11);
}

TEST(PlaceItems, MovesMeshesAndCentresByThePose) {
    Assembly load;
    body::Body body = test::flesh(box_mesh({0, 0, 0}, {0.2, 0.1, 0.04}), 1000);
    body.swung.push_back({"left wing", box_mesh({0.1, 0.1, 0}, {0.15, 0.3, 0.01})});
    Item turned = test::item("roast", body, 0.3);
    turned.pose = Eigen::Translation3d(0.3, 0, 0) * Eigen::AngleAxisd(90 * degree, Vec3::UnitX());
    load.items = {turned};

    const std::vector<PlacedItem> placed = place_items(load);
    ASSERT_EQ(placed.size(), 1U);
    const PlacedItem& p = placed[0];
    EXPECT_NEAR(p.mass_kg, 0.8, 1e-15);
    EXPECT_NEAR((p.centre - Vec3(0.4, -0.02, 0.05)).norm(), 0, 1e-15);
    EXPECT_NEAR((p.unbalance_kg_m() - Vec2(-0.016, 0.04)).norm(), 0, 1e-15);
    EXPECT_NEAR(p.from(), 0.3, 1e-15);
    EXPECT_NEAR(p.to(), 0.5, 1e-15);
    EXPECT_NEAR((p.bounds.max() - Vec3(0.5, 0, 0.1)).norm(), 0, 1e-15) << "swung limbs are not in it";
    ASSERT_EQ(p.swung.size(), 1U);
    EXPECT_NEAR(bounds(p.swung[0]).max().z(), 0.3, 1e-15);
}

// A cavity that is open to the outside ends at a lid across its opening, which is not a part of the roast.
TEST(PlaceItems, CavitiesDoNotCountAsTheBodysReach) {
    Assembly load;
    const body::Body body =
        test::with_part(test::flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})),
                        body::PartKind::cavity, box_mesh({-0.12, -0.02, -0.02}, {0, 0.02, 0.02}), 0, -1);
    load.items = {test::item("roast", body, 0.3)};
    const std::vector<PlacedItem> placed = place_items(load);
    EXPECT_NEAR(placed[0].from(), 0.2, 1e-15);
    EXPECT_NEAR(placed[0].to(), 0.4, 1e-15);
    EXPECT_EQ(placed[0].parts.size(), 2U);
}

}  // namespace evenspit
