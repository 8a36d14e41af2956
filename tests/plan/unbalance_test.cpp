// SPDX-License-Identifier: MIT
#include "plan/unbalance.h"

#include <stdexcept>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "analysis/analysis.h"
#include "plan/loads.h"

namespace evenspit::plan {
namespace {

using test::degree;

double between(double low, double high) {
    return low + (high - low) * *rc::gen::inRange(0, 1000001) / 1e6;
}

TEST(ItemUnbalance, IsThatOfTheWholeAnalysis) {
    std::mt19937 random(3);
    const Item body = test::item_of(test::flesh_body(test::lumpy_mesh(random), 3), {.at_m = 0.4});
    const auto masses = matter_ends(*body.body);
    const bool held = rc::check("same as analyse()", [&] {
        Item item = body;
        item.seat.at_m = between(0.3, 0.5);
        item.seat.facing = *rc::gen::element(Facing::point, Facing::drive);
        item.seat.turn_rad = between(-4, 4);
        item.seat.line = {.from = {between(-0.03, 0.03), between(-0.03, 0.03)},
                          .to = {between(-0.03, 0.03), between(-0.03, 0.03)}};
        item.pose = pose_in(item, item.seat);
        Assembly load = test::load_of(item);
        load.forks[0].tines.pop_back();  // lopsided itself
        load.counterweights = {
            {.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 1, .diameter_m = 0.03}};
        const Unbalances all = item_unbalance(item, masses, item.seat) + fork_unbalance(load.forks) +
                               counterweight_unbalance(load.counterweights);
        RC_ASSERT((all[0] - analyse(load).balance.unbalance_kg_m).norm() < 1e-14);
    });
    EXPECT_TRUE(held);
}

TEST(Unbalance, TurnsWithTheRod) {
    const Unbalances u{Vec2(1, 0), Vec2(0, 2)};
    const Unbalances turned = rotated(u, 90 * degree);
    EXPECT_TRUE(turned[0].isApprox(Vec2(0, 1), 1e-15));
    EXPECT_TRUE(turned[1].isApprox(Vec2(-2, 0), 1e-15));
    EXPECT_DOUBLE_EQ(worst_size(u), 2);
}

TEST(TwoPlanes, ToOneSideTakeMoreThanTheUnbalance) {
    // A classroom example: the unbalance at 0.1 l, planes at 0.4 l and 0.6 l, both to one side of it, take
    // −2.5 U and +1.5 U. Statics.
    const Vec2 u(0.02, -0.01);
    const auto [a, b] = two_plane_correction({{0.1, u}}, 0.4, 0.6);
    EXPECT_TRUE(a.isApprox(-2.5 * u, 1e-12));
    EXPECT_TRUE(b.isApprox(1.5 * u, 1e-12));
}

TEST(TwoPlanes, OnEitherSideShareByLeverage) {
    const Vec2 u(0.02, 0.04);
    const auto [a, b] = two_plane_correction({{0.3, u}}, 0.2, 0.6);
    EXPECT_TRUE(a.isApprox(-0.75 * u, 1e-12));
    EXPECT_TRUE(b.isApprox(-0.25 * u, 1e-12));
}

TEST(TwoPlanes, LeaveNeitherUnbalanceNorCouple) {
    const bool held = rc::check("nothing left", [] {
        std::vector<UnbalanceAt> given;
        const int n = *rc::gen::inRange(1, 5);
        for (int i = 0; i < n; ++i) given.push_back({between(0, 1), {between(-1, 1), between(-1, 1)}});
        const double plane_a = between(0, 0.45), plane_b = between(0.55, 1);
        const auto [a, b] = two_plane_correction(given, plane_a, plane_b);
        Vec2 sum = a + b, moment = plane_a * a + plane_b * b;
        for (const UnbalanceAt& u : given) {
            sum += u.unbalance_kg_m;
            moment += u.at_m * u.unbalance_kg_m;
        }
        RC_ASSERT(sum.norm() < 1e-12);
        RC_ASSERT(moment.norm() < 1e-12);
    });
    EXPECT_TRUE(held);
}

TEST(TwoPlanes, MustBeTwo) {
    EXPECT_THROW(two_plane_correction({}, 0.4, 0.4), std::invalid_argument);
}

}  // namespace
}  // namespace evenspit::plan
