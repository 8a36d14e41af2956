// SPDX-License-Identifier: MIT
#include "plan/fork_search.h"

#include <gtest/gtest.h>

#include "analysis/grip.h"
#include "body/bird.h"
#include "plan/loads.h"
#include "units/stopped.h"

namespace evenspit::plan {
namespace {

using test::degree;
constexpr double mm = 1e-3;

Item box_item(const std::vector<TriangleMesh>& bones = {}) {
    body::Body body = test::flesh_body(test::box_mesh({-0.15, -0.08, -0.08}, {0.15, 0.08, 0.08}), 7);
    for (const TriangleMesh& bone : bones) {
        body.parts.push_back(
            {.name = "bone", .kind = body::PartKind::bone, .mesh = bone, .density_kg_m3 = 1300, .parent = 0});
    }
    return test::item_of(std::move(body), {.at_m = 0.4});
}

ForkGoal goal_for(const Item& item, std::vector<Fork> forks) {
    const std::vector<double> quarters(forks.size(), 90 * degree);
    return {.seat = item.seat,
            .forks = std::move(forks),
            .may_turn = true,
            .clock_steps_rad = quarters,
            .torque_n_m = 0.05};
}

/// What the analysis says of the forks where they were found.
Grip grip_of(const Item& item, const ForkGoal& goal, const ForksFound& found) {
    Assembly load = test::load_of(item);
    Arrangement setting = arrangement_of(load);
    setting.seats[0].turn_rad = found.turn_rad;
    setting.forks.clear();
    for (std::size_t f = 0; f < goal.forks.size(); ++f) {
        Fork fork = turned(goal.forks[f], found.places[f].turned_rad);
        fork.at_m = goal.seat.at_m + found.places[f].from_item_m;
        fork.points = found.places[f].points;
        setting.forks.push_back(fork);
    }
    load = with_arrangement(load, setting);
    return grip(load, items_on_rod(load));
}

TEST(MeatOnAxis, IsWhereTheRodRuns) {
    const Item box = box_item();
    const PlanItem ready = plan_item(box, 0.006);
    const auto [from, to] = meat_on_axis(ready, {.at_m = 0.7});
    EXPECT_NEAR(from, -0.15, 1e-9);
    EXPECT_NEAR(to, 0.15, 1e-9);
}

TEST(FindForks, StopsWhenAsked) {
    const Item item = box_item();
    ForkGoal goal = goal_for(item, {test::two_tine(0.2, Facing::point)});
    std::stop_source source;
    goal.stop = source.get_token();
    EXPECT_NO_THROW(find_forks(plan_item(item, 0.006), goal));
    source.request_stop();
    EXPECT_THROW(find_forks(plan_item(item, 0.006), goal), Stopped);
}

TEST(FindForks, SetsHubsWhereTheRodLeavesTheMeat) {
    const Item item = box_item();
    const ForkGoal goal =
        goal_for(item, {test::two_tine(0.2, Facing::point), test::two_tine(0.6, Facing::drive)});
    const ForksFound found = find_forks(plan_item(item, 0.006), goal);
    ASSERT_EQ(found.places.size(), 2U);
    EXPECT_LE(found.places[0].from_item_m, -0.15 + 0.005);
    EXPECT_GE(found.places[0].from_item_m, -0.15 - 0.05);
    EXPECT_GE(found.places[1].from_item_m, 0.15 - 0.005);
    EXPECT_LE(found.places[1].from_item_m, 0.15 + 0.05);
    EXPECT_LT(found.price, 1);
    EXPECT_EQ(found.turn_rad, item.seat.turn_rad) << "nothing to turn for";
    for (const ForkGrip& fork : grip_of(item, goal, found).forks) {
        for (const TineGrip& tine : fork.tines) {
            EXPECT_GT(tine.in_flesh_m(), 20 * mm);
            EXPECT_GE(*tine.cover_min_m, 8 * mm);
        }
    }
}

TEST(FindForks, TurnsTheForkOffABone) {
    // Where its tines are now there is bone, above and below; to the sides there is none.
    const Item item = box_item({test::box_mesh({-0.14, -0.02, 0.02}, {0.14, 0.02, 0.04}),
                                test::box_mesh({-0.14, -0.02, -0.04}, {0.14, 0.02, -0.02})});
    ForkGoal goal = goal_for(item, {test::two_tine(0.25, Facing::point, 90 * degree),
                                    test::two_tine(0.55, Facing::drive, 90 * degree)});
    goal.may_turn = false;
    const ForksFound found = find_forks(plan_item(item, 0.006), goal);
    for (const ForkPlace& place : found.places) {
        EXPECT_NEAR(std::abs(std::remainder(place.turned_rad, 180 * degree)), 90 * degree, 1e-9);
    }
    for (const ForkGrip& fork : grip_of(item, goal, found).forks) {
        for (const TineGrip& tine : fork.tines) EXPECT_EQ(tine.in_bone_m, 0);
    }
}

// A tine's sides are 2.5 mm from its axis, 30 mm above the rod's: that bone is met by neither way, but hands
// do not set a fork to a millimetre.
TEST(FindForks, KeepsTinesFromBoneByWhatHandsAreOff) {
    const auto quarters_off = [](double beside_m) {
        const double low = 0.03 + 0.0025 + beside_m;
        const Item item = box_item({test::box_mesh({-0.14, -0.02, low}, {0.14, 0.02, low + 0.01}),
                                    test::box_mesh({-0.14, -0.02, -low - 0.01}, {0.14, 0.02, -low})});
        ForkGoal goal = goal_for(item, {test::two_tine(0.25, Facing::point, 90 * degree),
                                        test::two_tine(0.55, Facing::drive, 90 * degree)});
        goal.may_turn = false;
        double off = 0;
        for (const ForkPlace& place : find_forks(plan_item(item, 0.006), goal).places)
            off += std::abs(std::remainder(place.turned_rad, 180 * degree)) / (90 * degree);
        return off;
    };
    EXPECT_NEAR(quarters_off(0.001), 2, 1e-9);
    EXPECT_NEAR(quarters_off(0.0041), 0, 1e-9) << "far enough: they stay";
}

TEST(FindForks, TurnsTheItemWhereQuarterTurnsDoNotDo) {
    // Bones at all four quarters: between them is meat.
    std::vector<TriangleMesh> bones;
    for (int q = 0; q < 4; ++q) {
        const double y = 0.03 * std::round(std::cos(q * 90 * degree)),
                     z = 0.03 * std::round(std::sin(q * 90 * degree));
        bones.push_back(test::box_mesh({-0.14, y - 0.008, z - 0.008}, {0.14, y + 0.008, z + 0.008}));
    }
    const Item item = box_item(bones);
    const ForkGoal goal =
        goal_for(item, {test::two_tine(0.25, Facing::point), test::two_tine(0.55, Facing::drive)});
    const ForksFound found = find_forks(plan_item(item, 0.006), goal);
    EXPECT_GT(std::abs(std::remainder(found.turn_rad, 90 * degree)), 15 * degree);
    for (const ForkGrip& fork : grip_of(item, goal, found).forks) {
        for (const TineGrip& tine : fork.tines) EXPECT_EQ(tine.in_bone_m, 0);
    }
}

TEST(FindForks, TurnsRoundTheOneThatLooksTheWrongWay) {
    const Item item = box_item();
    const ForksFound found =
        find_forks(plan_item(item, 0.006),
                   goal_for(item, {test::two_tine(0.3, Facing::point), test::two_tine(0.5, Facing::point)}));
    EXPECT_EQ(found.places[0].points, Facing::point);
    EXPECT_EQ(found.places[1].points, Facing::drive);
    EXPECT_LT(found.places[0].from_item_m, 0);
    EXPECT_GT(found.places[1].from_item_m, 0) << "the centre of mass lies between them";
}

TEST(FindForks, LeavesOneAloneAtItsEnd) {
    const Item item = box_item();
    const ForksFound found =
        find_forks(plan_item(item, 0.006), goal_for(item, {test::two_tine(0.6, Facing::drive)}));
    EXPECT_EQ(found.places[0].points, Facing::drive);
    EXPECT_GT(found.places[0].from_item_m, 0.14);
    EXPECT_TRUE(find_forks(plan_item(item, 0.006), goal_for(item, {})).places.empty());
}

TEST(FindForks, KeepTinesFromMeeting) {
    // So short a body that the tines of both forks pass one another.
    const Item item = test::item_of(
        test::flesh_body(test::box_mesh({-0.07, -0.06, -0.06}, {0.07, 0.06, 0.06}), 1.5), {.at_m = 0.4});
    const ForkGoal goal =
        goal_for(item, {test::two_tine(0.32, Facing::point), test::two_tine(0.48, Facing::drive)});
    const ForksFound found = find_forks(plan_item(item, 0.006), goal);
    const double apart = found.places[0].turned_rad - found.places[1].turned_rad;
    EXPECT_NEAR(std::abs(std::remainder(apart, 180 * degree)), 90 * degree, 1e-9);
}

TEST(FindForks, SparesTheRod) {
    const Item item = box_item();
    ForkGoal goal =
        goal_for(item, {test::two_tine(0.25, Facing::point), test::two_tine(0.55, Facing::drive)});
    const double near = find_forks(plan_item(item, 0.006), goal).places[0].from_item_m;
    goal.rod_use = [](double station, Facing points) {
        return points == Facing::point ? 2 * (station - 0.02) : 2 * (0.82 - station);
    };
    // Under half of its strength before station 255 mm; 35 mm of the tines still reach the meat from there.
    const ForksFound found = find_forks(plan_item(item, 0.006), goal);
    EXPECT_LE(found.places[0].from_item_m, near);
    EXPECT_LE(goal.rod_use(0.4 + found.places[0].from_item_m, Facing::point), 0.5);
}

// The search looks at covers in space and at clocks ten degrees apart; the analysis judges what it found.
TEST(FindForks, SatisfyTheAnalysisOfATurkey) {
    Item item = test::item_of(body::make_bird({.species = "turkey", .mass_kg = 5.9}),
                              {.at_m = 0.4, .line = {.from = {0, 0.008}, .to = {0, 0.008}}});
    item.bird = true;
    const ForkGoal goal =
        goal_for(item, {test::two_tine(0.25, Facing::point), test::two_tine(0.55, Facing::drive)});
    const ForksFound found = find_forks(plan_item(item, 0.006), goal);
    const Grip judged = grip_of(item, goal, found);
    for (const ForkGrip& fork : judged.forks) {
        for (const TineGrip& tine : fork.tines) {
            EXPECT_LT(tine.in_bone_m, 1e-4);
            EXPECT_GE(*tine.cover_min_m, 8 * mm);
            EXPECT_GT(tine.in_flesh_m(), 15 * mm);
        }
    }
    EXPECT_GT(*judged.torque_capacity_n_m, 0.1);
}

}  // namespace
}  // namespace evenspit::plan
