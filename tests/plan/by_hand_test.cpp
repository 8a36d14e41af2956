// SPDX-License-Identifier: MIT
#include "plan/by_hand.h"

#include <cmath>

#include <gtest/gtest.h>

#include "analysis/chance.h"
#include "body/bird.h"
#include "body/joint.h"
#include "plan/line_places.h"
#include "plan/loads.h"
#include "plan/moves.h"
#include "plan/plan.h"

namespace evenspit::plan {
namespace {

using test::degree;

bool on_step(double value, double step, double within) {
    return std::abs(value / step - std::round(value / step)) * step < within;
}

PlanProblem problem_of(const Assembly& load) {
    return plan_problem(load, analyse(load));
}

Assembly turkey() {
    return test::load_of(
        test::item_of(body::make_bird({.species = "turkey", .mass_kg = 5.9}), {.at_m = 0.4}));
}

}  // namespace

TEST(LinePlaces, OfABirdAreItsOpenings) {
    const Assembly load = turkey();
    const LinePlaces places = line_places(load.items[0]);
    EXPECT_TRUE(places.openings);
    const Box3& box = load.items[0].body->bounds;
    EXPECT_GT(places.x_m[1], places.x_m[0]);
    EXPECT_LT(places.x_m[1], box.max().x());
}

TEST(LinePlaces, ALineThroughTwoPlacesCrossesThere) {
    const Assembly load = turkey();
    const body::PreparedBody& body = *load.items[0].body;
    const LinePlaces places = line_places(load.items[0]);
    const Vec2 first(0.004, -0.011), second(-0.02, 0.007);
    const RodLine line = line_through(body, places.x_m, first, second);
    EXPECT_LT((crossing(body, line, places.x_m[0]) - first).norm(), 1e-12);
    EXPECT_LT((crossing(body, line, places.x_m[1]) - second).norm(), 1e-12);
}

TEST(ByHand, RoundsWhereHandsMeasure) {
    const Assembly load = turkey();
    const PlanProblem problem = problem_of(load);
    Arrangement wanted = problem.before;
    wanted.seats[0].line = {.from = {0.0031, 0.0123}, .to = {-0.0044, 0.0071}};
    wanted.seats[0].at_m += 0.0131;
    wanted.seats[0].turn_rad += 52 * degree;
    wanted.forks[0].at_m += 0.0131;
    wanted.counterweights = {
        {.at_m = 0.1234, .mass_kg = 0.3, .radius_m = 0.0571, .clock_rad = 200 * degree, .diameter_m = 0.04}};
    const HandSteps steps;
    const Arrangement set = on_steps(problem, wanted, steps);
    const LinePlaces places = line_places(load.items[0]);
    for (const double x : places.x_m) {
        const Vec2 off = crossing(*load.items[0].body, set.seats[0].line, x) - places.middle;
        for (Eigen::Index k = 0; k < 2; ++k)
            EXPECT_TRUE(on_step(off[k], steps.length_m, 2e-4))
                << off[k] << ": a tenth of a millimetre in the file";
    }
    EXPECT_TRUE(on_step(set.seats[0].at_m - problem.before.seats[0].at_m, steps.length_m, 1e-9));
    EXPECT_TRUE(on_step(set.seats[0].turn_rad - problem.before.seats[0].turn_rad, steps.angle_rad, 1e-9));
    EXPECT_TRUE(on_step(set.forks[0].at_m, steps.length_m, 1e-9));
    EXPECT_LE(set.forks[0].at_m, wanted.forks[0].at_m + steps.length_m / 2) << "out of the meat";
    EXPECT_EQ(set.forks[1].at_m, problem.before.forks[1].at_m) << "was not moved";
    EXPECT_EQ(set.forks[1].clock_rad, problem.before.forks[1].clock_rad);
    EXPECT_TRUE(on_step(set.counterweights[0].at_m, steps.length_m, 1e-9));
    EXPECT_TRUE(on_step(set.counterweights[0].radius_m, steps.length_m, 1e-9));
    EXPECT_TRUE(on_step(set.counterweights[0].clock_rad, steps.angle_rad, 1e-9));
}

TEST(ByHand, LeavesWhatWasNotMoved) {
    const Assembly load = turkey();
    const PlanProblem problem = problem_of(load);
    const Arrangement set = on_steps(problem, problem.before, {});
    EXPECT_TRUE(set.seats[0].line == problem.before.seats[0].line);
    EXPECT_EQ(set.seats[0].at_m, problem.before.seats[0].at_m);
    EXPECT_EQ(set.forks[0].at_m, problem.before.forks[0].at_m);
}

// Of the sixteen ways to round a line the one with the least torque is taken.
TEST(ByHand, RoundsALineToTheLeastTorque) {
    std::mt19937 random(11);
    const Assembly load =
        test::load_of(test::item_of(test::flesh_body(test::lumpy_mesh(random), 3), {.at_m = 0.4}));
    const PlanProblem problem = problem_of(load);
    const Plan drawn = test::drawn_plan(load);
    for (const PlanAnswer& answer : drawn.answers) {
        if (answer.kind != PlanKind::line) continue;
        const Arrangement set = on_steps(problem, answer.arrangement, {});
        const double torque = worst_torque_n_m(problem, set);
        const LinePlaces places = line_places(load.items[0]);
        const body::PreparedBody& body = *load.items[0].body;
        const Vec2 near = crossing(body, set.seats[0].line, places.x_m[0]),
                   far = crossing(body, set.seats[0].line, places.x_m[1]);
        Arrangement nearest = set;
        nearest.seats[0].line = line_through(body, places.x_m, near + Vec2(0.005, 0), far + Vec2(0.005, 0));
        EXPECT_LT(torque, worst_torque_n_m(problem, nearest) + 1e-9);
        EXPECT_LT(torque, 0.0071 * 3.1 * standard_gravity) << "half a step each way at most, of 3 kg";
    }
}

// Beside the thigh bone there is little room: none of the sixteen nearest lines on steps passes it.
TEST(ByHand, RoundsALineToOneThatTheRodCanTake) {
    Assembly load = test::load_of(
        test::item_of(body::make_joint({.kind = "leg of lamb", .mass_kg = 2.4}), {.at_m = 0.4}));
    load.rod.width_m = 0.008;
    const PlanProblem problem = problem_of(load);
    Arrangement wanted = problem.before;
    set_lines(problem, wanted, false);
    ASSERT_TRUE(rod_passes(problem, 0, wanted.seats[0].line));
    EXPECT_TRUE(rod_passes(problem, 0, on_steps(problem, wanted, {}).seats[0].line));
}

// A slot between two bones that is a millimetre wider than the rod, between steps: the line is told to the
// millimetre.
TEST(ByHand, LeavesALineThatNoStepFits) {
    const double rod_m = test::stout_rod().width_m / std::numbers::sqrt2, slot_m = 0.0124;
    body::Body block = test::flesh_body(test::box_mesh({-0.1, -0.06, -0.06}, {0.1, 0.06, 0.06}), 2);
    for (const double side : {-1.0, 1.0}) {
        const double near = slot_m + side * (rod_m + 0.0005), far = slot_m + side * 0.045;
        block.parts.push_back({.name = "bone",
                               .kind = body::PartKind::bone,
                               .mesh = test::box_mesh({-0.09, std::min(near, far), -0.059},
                                                      {0.09, std::min(0.059, std::max(near, far)), 0.059}),
                               .density_kg_m3 = 1300,
                               .parent = 0});
    }
    const Assembly load = test::load_of(test::item_of(std::move(block), {.at_m = 0.4}));
    const PlanProblem problem = problem_of(load);
    Arrangement wanted = problem.before;
    wanted.seats[0].line = {.from = {slot_m, 0.001}, .to = {slot_m, 0.001}};
    ASSERT_TRUE(rod_passes(problem, 0, wanted.seats[0].line));
    EXPECT_TRUE(on_steps(problem, wanted, {}).seats[0].line == wanted.seats[0].line);
    // With room to either side steps do.
    wanted.seats[0].line = {.from = {slot_m, 0.001}, .to = {slot_m + 0.006, 0.001}};
    ASSERT_FALSE(rod_passes(problem, 0, wanted.seats[0].line));
    EXPECT_FALSE(on_steps(problem, wanted, {}).seats[0].line == wanted.seats[0].line);
}

// What is recommended is as likely to be ready as what stands there, and fresh draws agree with its chance.
TEST(Plan, RecommendsNothingWorseThanWhatStandsThere) {
    std::mt19937 random(3);
    for (int k = 0; k < 3; ++k) {
        Assembly load =
            test::load_of(test::item_of(test::flesh_body(test::lumpy_mesh(random), 3), {.at_m = 0.4}));
        load.motor.rated_torque_n_m = 0.8;
        load.motor.stall_torque_n_m = 1.6;
        const Plan plan = make_plan(load, {}, {}, {.mountings = 256});
        const Analysis &before = plan.answers.front().analysis,
                       &after = plan.answers[plan.recommended].analysis;
        EXPECT_LE(after.verdict, before.verdict);
        EXPECT_GE(after.mounted->chance.ready, before.mounted->chance.ready - 0.1);
        EXPECT_EQ(after.mounted->chance.mountings, 256);
        const Analysis again = judge(with_arrangement(load, plan.answers[plan.recommended].arrangement), 256);
        EXPECT_EQ(again.mounted->chance.ready, after.mounted->chance.ready);
        EXPECT_EQ(again.balance.motor_torque_peak_n_m, after.balance.motor_torque_peak_n_m);
        if (after.mounted->chance.ready < 0.8) {
            for (const MoreCare& care : plan.more_care) EXPECT_GT(care.ready, after.mounted->chance.ready);
        }
    }
}

}  // namespace evenspit::plan
