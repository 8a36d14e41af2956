// SPDX-License-Identifier: MIT
#include "plan/turn_search.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "plan/loads.h"

namespace evenspit::plan {
namespace {

using test::degree;

Unbalances both(double y, double z) {
    return {Vec2(y, z), Vec2(y, z)};
}

TEST(FindTurns, SetsTwoEqualThingsOpposite) {
    const TurnsFound found = find_turns({both(0, 0.05), both(0, 0.05)}, no_unbalance(), 5 * degree);
    EXPECT_LT(found.unbalance_kg_m, 1e-12);
    EXPECT_NEAR(std::abs(std::remainder(found.turns_rad[0] - found.turns_rad[1], 360 * degree)), 180 * degree,
                1e-9);
    EXPECT_TRUE(found.turns_rad[0] == 0 || found.turns_rad[1] == 0) << "one of them can stay";
}

TEST(FindTurns, SpreadsThreeEqualThingsByThirds) {
    const TurnsFound found =
        find_turns({both(0.01, 0), both(0.01, 0), both(0.01, 0)}, no_unbalance(), 5 * degree);
    EXPECT_LT(found.unbalance_kg_m, 1e-12);
}

TEST(FindTurns, LeavesTheDifferenceOfTwoThatAreNotEqual) {
    const TurnsFound found = find_turns({both(0.03, 0), both(0, 0.05)}, no_unbalance(), 5 * degree);
    EXPECT_NEAR(found.unbalance_kg_m, 0.02, 1e-12);
}

TEST(FindTurns, SetsOneThingAgainstWhatDoesNotTurn) {
    const TurnsFound found = find_turns({both(0.03, 0)}, both(0, 0.03), 5 * degree);
    EXPECT_NEAR(found.turns_rad[0], -90 * degree, 1e-9);
    EXPECT_LT(found.unbalance_kg_m, 1e-12);
}

TEST(FindTurns, LeavesAloneWhatTurningDoesNotMend) {
    EXPECT_EQ(find_turns({both(0.03, 0.01)}, no_unbalance(), 5 * degree).turns_rad[0], 0);
    EXPECT_TRUE(find_turns({}, both(0.03, 0), 5 * degree).turns_rad.empty());
}

TEST(FindTurns, IsAsGoodAsTryingAllTurns) {
    const bool held = rc::check("against all turns of two things", [] {
        const auto draw = [] { return *rc::gen::inRange(-1000, 1001) * 1e-5; };
        const auto any = [&] { return Unbalances{Vec2(draw(), draw()), Vec2(draw(), draw())}; };
        const Unbalances a = any(), b = any(), rest = any();
        const double step = 10 * degree;
        double least = 1;
        for (int i = 0; i < 36; ++i) {
            for (int j = 0; j < 36; ++j)
                least = std::min(least, worst_size(rotated(a, i * step) + rotated(b, j * step) + rest));
        }
        const double all = worst_size(a) + worst_size(b);
        RC_ASSERT(find_turns({a, b}, rest, step).unbalance_kg_m <= least + 0.002 * all);
    });
    EXPECT_TRUE(held);
}

}  // namespace
}  // namespace evenspit::plan
