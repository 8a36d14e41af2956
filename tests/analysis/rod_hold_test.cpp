// SPDX-License-Identifier: MIT
#include "analysis/rod_hold.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "analysis/grip.h"
#include "analysis/limits.h"
#include "loads.h"

namespace evenspit {
namespace {

using std::numbers::pi;

/// Torque per length and pressure of a turning bar of n sides on which flesh presses wherever a side goes
/// ahead: ∫ max(0, (z × r) · n) over the outline, summed up place by place.
double pressed_m2(int sides, double width_m) {
    const double side_m = width_m * std::tan(pi / sides);
    constexpr int places = 4000;
    double sum = 0;
    for (int k = 0; k < sides; ++k) {
        const double angle = 2 * pi * k / sides;
        const Vec2 normal(std::cos(angle), std::sin(angle)), along(-normal.y(), normal.x());
        for (int n = 0; n < places; ++n) {
            const Vec2 r = width_m / 2 * normal + ((n + 0.5) / places - 0.5) * side_m * along;
            const Vec2 speed(-r.y(), r.x());
            sum += std::max(0.0, speed.dot(normal)) * side_m / places;
        }
    }
    return sum;
}

TEST(RodHold, IsHalfOfWhatAllSidesWouldPress) {
    for (const double width_m : {0.004, 0.008, 0.012}) {
        EXPECT_NEAR(rod_hold_m2(Section::square, width_m), pressed_m2(4, width_m) / 2,
                    1e-6 * width_m * width_m);
        EXPECT_NEAR(rod_hold_m2(Section::hexagon, width_m), pressed_m2(6, width_m) / 2,
                    1e-6 * width_m * width_m);
        EXPECT_NEAR(rod_hold_m2(Section::square, width_m), width_m * width_m / 4, 1e-15);
        EXPECT_NEAR(rod_hold_m2(Section::hexagon, width_m), width_m * width_m / 8, 1e-15);
        EXPECT_EQ(rod_hold_m2(Section::round, width_m), 0);
    }
}

// A plug of flesh that shears out to the corners gives way before more is held.
TEST(RodHold, IsNoMoreThanTheFleshShearsBy) {
    const double pressure_over_shear = 4 * std::numbers::sqrt2 + 2 * pi;
    for (const auto& [section, sides] : {std::pair{Section::square, 4}, {Section::hexagon, 6}}) {
        const double radius = 0.5 / std::cos(pi / sides);
        const double plug = 2 * pi * radius * radius / pressure_over_shear;
        EXPECT_LT(rod_hold_m2(section, 1), plug);
        EXPECT_GT(rod_hold_m2(section, 1), 0.6 * plug);
    }
}

/// 60 mm along the rod, 50 mm square, its middle so far off the axis.
Assembly small_piece(double off_m, Section section = Section::square) {
    Assembly a;
    a.rod = test::steel_rod();
    a.rod.section = section;
    a.motor = test::small_motor();
    a.items.push_back(test::item("piece",
                                 test::flesh(test::box_mesh({-0.03, -0.025, -0.025}, {0.03, 0.025, 0.025})),
                                 0.34, Vec2(off_m, 0)));
    a.items[0].bearing_strength_pa = 100e3;
    return a;
}

TEST(RodHold, HoldsASmallPieceByItsEdges) {
    const Assembly load = small_piece(0.002);
    const Grip held = grip(load, items_on_rod(load));
    const ItemGrip& item = held.items[0];
    EXPECT_TRUE(item.forks.empty());
    EXPECT_TRUE(item.rod_alone);
    const double capacity = 100e3 * 0.008 * 0.008 / 4 * 0.06;  // 0.096 N m
    EXPECT_NEAR(item.torque_capacity_raw_n_m, capacity, 1e-6 * capacity);
    EXPECT_NEAR(item.torque_capacity_n_m, capacity, 1e-6 * capacity) << "its strength is fixed";
    const double weight = 1000 * 0.06 * 0.05 * 0.05 * standard_gravity;
    EXPECT_NEAR(item.torque_use.value(), 0.002 * weight / capacity, 1e-6);
    EXPECT_FALSE(grip(small_piece(0.002, Section::round), items_on_rod(load)).items[0].torque_use);
}

TEST(RodHold, CountsFleshAndNotBoneOrHollow) {
    Assembly load = small_piece(0.002);
    body::Body body = load.items[0].body->body;
    body = test::with_part(body, body::PartKind::bone,
                           test::box_mesh({-0.01, -0.01, -0.01}, {0.0, 0.01, 0.01}), 1300, 0);
    body = test::with_part(body, body::PartKind::cavity,
                           test::box_mesh({0.005, -0.01, -0.01}, {0.02, 0.01, 0.01}), 0, 0);
    load.items[0].body = body::prepare(body);
    const double capacity = 100e3 * 0.008 * 0.008 / 4 * (0.06 - 0.01 - 0.015);
    EXPECT_NEAR(grip(load, items_on_rod(load)).items[0].torque_capacity_raw_n_m, capacity, 1e-6 * capacity);
}

// Cooked flesh bears less and draws back from the rod at both ends.
TEST(RodHold, CountsWhatIsLeftAtTheWorstOfTheCook) {
    Assembly load = small_piece(0.002);
    load.items[0].bearing_strength_pa.reset();
    load.items[0].body = [&] {
        body::Body body = load.items[0].body->body;
        body.meat = body::Meat::pork;
        return body::prepare(body);
    }();
    const ItemGrip item = grip(load, items_on_rod(load)).items[0];
    const BearingStrength strength = bearing_strength(body::Meat::pork);
    EXPECT_NEAR(item.torque_capacity_n_m / item.torque_capacity_raw_n_m, strength.cooked_pa / strength.raw_pa,
                1e-9);
}

const Finding* finding_of(const Analysis& analysis, Code code) {
    for (const Finding& finding : analysis.findings) {
        if (finding.code == code) return &finding;
    }
    return nullptr;
}

TEST(RodHold, APieceThatItHoldsIsNoStopAndOneThatItDoesNotIs) {
    const Analysis held = analyse(small_piece(0.002));
    EXPECT_EQ(finding_of(held, Code::no_fork), nullptr);
    const Finding* alone = finding_of(held, Code::grip_torque);
    ASSERT_NE(alone, nullptr);
    EXPECT_EQ(alone->level, Level::ready);
    EXPECT_TRUE(alone->get<GripFacts>().rod_alone);

    // 1.5 N of meat 45 mm off the axis pulls with about 0.066 N m, of 0.096: care, as of forks.
    const Analysis hardly = analyse(small_piece(0.022));
    EXPECT_EQ(finding_of(hardly, Code::no_fork), nullptr);
    const double use = finding_of(hardly, Code::grip_torque)->value.value();
    EXPECT_EQ(finding_of(hardly, Code::grip_torque)->level,
              use >= limits::grip_care ? Level::care : Level::ready);

    Assembly heavy = small_piece(0.022);
    heavy.items[0].bearing_strength_pa = 20e3;
    const Analysis slips = analyse(heavy);
    const Finding* stop = finding_of(slips, Code::no_fork);
    ASSERT_NE(stop, nullptr);
    EXPECT_EQ(stop->level, Level::stop);
    EXPECT_TRUE(stop->get<GripFacts>().rod_alone);
    EXPECT_EQ(finding_of(slips, Code::grip_torque)->level, Level::stop);

    const Analysis round = analyse(small_piece(0.002, Section::round));
    ASSERT_NE(finding_of(round, Code::no_fork), nullptr);
    EXPECT_EQ(finding_of(round, Code::grip_torque), nullptr);
}

// Where a fork holds an item the rod's edges are left out.
TEST(RodHold, AddsNothingToForks) {
    Assembly load = test::good_load();
    const Grip square = grip(load, items_on_rod(load));
    load.rod.section = Section::round;
    const Grip round = grip(load, items_on_rod(load));
    EXPECT_FALSE(square.items[0].rod_alone);
    EXPECT_EQ(square.items[0].torque_capacity_n_m, round.items[0].torque_capacity_n_m);
    EXPECT_EQ(square.items[0].torque_use, round.items[0].torque_use);
}

}  // namespace
}  // namespace evenspit
