// SPDX-License-Identifier: MIT
// The rod goes through every item, and through a joint with flesh all round it.

#include <cmath>
#include <optional>

#include <Eigen/Geometry>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/grip.h"
#include "analysis/place_findings.h"
#include "loads.h"
#include "support/said.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::degree;
using test::flesh;
using test::good_load;
using test::said;
using test::Said;
using ::testing::HasSubstr;

/// Half the diagonal of the 8 mm square rod.
const double rod_radius_m = 0.004 * std::sqrt(2.0);

/// The box of 200 x 100 x 100 mm without forks, the rod so far from its middle.
Assembly box_off(double y_m, double z_m) {
    Assembly a = good_load();
    a.forks.clear();
    a.items[0].pose.translation() += Vec3(0, -y_m, -z_m);
    return a;
}

std::optional<Said> found(const Assembly& a, Code code) {
    std::optional<Said> one;
    const std::vector<ItemOnRod> placed = items_on_rod(a);
    for (const Said& f : said(place_findings(a, placed, grip(a, placed)), a)) {
        if (f.code != code) continue;
        EXPECT_FALSE(one) << "told twice";
        one = f;
    }
    return one;
}

}  // namespace

TEST(RodCover, ThinFleshOverTheRodWantsCare) {
    EXPECT_FALSE(found(box_off(0, 0), Code::rod_cover));
    EXPECT_FALSE(found(box_off(0, 0.05 - rod_radius_m - 0.0031), Code::rod_cover));
    // 2 mm to the skin above, 20 mm to that beside.
    const std::optional<Said> f = found(box_off(0.024, 0.05 - rod_radius_m - 0.002), Code::rod_cover);
    ASSERT_TRUE(f);
    EXPECT_EQ(f->level, Level::care);
    EXPECT_NEAR(f->value.value(), 0.002, 1e-9);
    EXPECT_EQ(f->limit.value(), 0.003);
    EXPECT_NEAR(f->spot->at.z(), 0.002 + rod_radius_m, 1e-9);
    EXPECT_THAT(f->message, HasSubstr("only 2 mm of flesh over it in roast (at "));
    EXPECT_THAT(f->message, HasSubstr(", 12 o'clock), less than 3 mm"));
    // Of two skins the nearer one is told: 1 mm beside, 2 mm above.
    const std::optional<Said> beside =
        found(box_off(0.05 - rod_radius_m - 0.001, 0.05 - rod_radius_m - 0.002), Code::rod_cover);
    ASSERT_TRUE(beside);
    EXPECT_NEAR(beside->value.value(), 0.001, 1e-9);
    EXPECT_THAT(beside->message, HasSubstr(", 3 o'clock)"));
}

// A rod that runs askew, in through the lower side near its edge and 3 mm further from it every 10 mm.
TEST(RodCover, ARodThatRunsAskewIsToldWhereItIsShallow) {
    Assembly a = good_load();
    a.forks.clear();
    a.items[0].pose = Eigen::Translation3d(0.34, 0, 0) * Eigen::AngleAxisd(std::atan(0.3), Vec3::UnitY()) *
                      Eigen::Translation3d(0, 0, 0.024);
    const std::optional<Said> f = found(a, Code::rod_cover);
    ASSERT_TRUE(f);
    EXPECT_EQ(f->level, Level::care);
    // Behind where it enters cover is not judged for 20 mm; there the skin is 6 mm off at right angles.
    EXPECT_NEAR(f->value.value(), 0.020 * 0.3 - rod_radius_m, 1e-6);
    // Straight through the same box there is room.
    a.items[0].pose = Eigen::Translation3d(0.34, 0, 0) * Eigen::Translation3d(0, 0, 0.024);
    EXPECT_FALSE(found(a, Code::rod_cover));
}

// Ribs are folded on a rod, which goes in and out of them. Each way through counts by itself.
TEST(RodCover, AFoldedPieceMayBeLeftAndEnteredAgain) {
    Assembly a = good_load();
    a.forks.clear();
    body::Body folds = flesh(box_mesh({-0.1, -0.05, -0.05}, {-0.02, 0.05, 0.05}));
    folds.parts.push_back(folds.parts[0]);
    folds.parts[1].mesh = box_mesh({0.02, -0.05, -0.05}, {0.1, 0.05, 0.05});
    a.items[0] = test::item("ribs", folds, 0.34);
    EXPECT_FALSE(found(a, Code::rod_cover));
    EXPECT_FALSE(found(a, Code::rod_beside));
}

// A bird's rod lies in its hollow, with whatever it touches there.
TEST(RodCover, AHollowIsNoFlesh) {
    Assembly a = box_off(0, 0.05 - rod_radius_m - 0.002);
    EXPECT_TRUE(found(a, Code::rod_cover));
    a.items[0] = test::item(
        "bird",
        test::with_part(flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), body::PartKind::cavity,
                        box_mesh({-0.09, -0.04, -0.04}, {0.09, 0.04, 0.04}), 0, 0),
        0.34);
    a.items[0].pose.translation() += Vec3(0, 0, 0.002 + rod_radius_m - 0.05);
    EXPECT_FALSE(found(a, Code::rod_cover));
}

TEST(RodBeside, ARodThatPassesBesideIsAStop) {
    const std::optional<Said> f = found(box_off(0, 0.062), Code::rod_beside);
    ASSERT_TRUE(f);
    EXPECT_EQ(f->level, Level::stop);
    EXPECT_EQ(f->topic, "place");
    EXPECT_NEAR(f->value.value(), 0.012, 1e-9);
    EXPECT_THAT(f->message, HasSubstr("The rod does not go through roast: it passes 12 mm beside it."));
    EXPECT_FALSE(found(box_off(0, 0.062), Code::rod_cover)) << "told once";
    const Analysis a = analyse(box_off(0, 0.062));
    EXPECT_GT(std::count_if(a.findings.begin(), a.findings.end(),
                            [](const Finding& other) { return other.level == Level::stop; }),
              1);
    EXPECT_EQ(a.findings.front().code, Code::rod_beside) << "all else follows from it";
    EXPECT_FALSE(found(box_off(0, 0.049), Code::rod_beside));
}

// What lies in a basket needs no rod through it.
TEST(RodBeside, ABasketHoldsWithoutTheRod) {
    Assembly a = box_off(0, 0.062);
    a.forks = {{.kind = ForkKind::basket,
                .at_m = 0.34,
                .mass_kg = 0.6,
                .clock_rad = 90 * degree,
                .cage = {.length_m = 0.4, .width_m = 0.4, .height_m = 0.4}}};
    EXPECT_FALSE(found(a, Code::rod_beside));
}

}  // namespace evenspit
