// SPDX-License-Identifier: MIT
#include "plan/answering_weight.h"

#include <cmath>

#include <gtest/gtest.h>

#include "analysis/loads.h"

namespace evenspit::plan {
namespace {

TEST(AnsweringWeight, CancelsTheUnbalanceToWhatItsStepsLeave) {
    Assembly load = test::good_load();
    load.items.front().pose.translation() += Vec3(0, 0.012, -0.020);
    const Balance before = analyse(load).balance;
    const Counterweight weight = answering_weight(load, before);
    EXPECT_GT(weight.mass_kg, 0.05);
    EXPECT_NEAR(std::remainder(weight.mass_kg, 0.01), 0, 1e-12);
    load.counterweights.push_back(weight);
    const Balance after = analyse(load).balance;
    // Half of ten grams on its arm, and half a degree of the whole.
    EXPECT_LT(after.unbalance_kg_m_size,
              0.005 * weight.radius_m + 0.5 * test::degree * before.unbalance_kg_m_size + 1e-9);
}

TEST(AnsweringWeight, SitsOnTheRodBesideTheForks) {
    Assembly load = test::good_load();
    load.forks = {Fork{.at_m = 0.300, .tines = {}}, Fork{.at_m = 0.200, .tines = {}}};
    const Balance balance = analyse(load).balance;
    EXPECT_NEAR(answering_weight(load, balance).at_m, 0.100, 1e-12)
        << "near the drive end of the usable stretch";
    load.forks[1].at_m = 0.130;
    EXPECT_NEAR(answering_weight(load, balance).at_m, 0.090, 1e-12) << "drive-side of the fork";
    load.forks[1].at_m = 0.070;
    EXPECT_NEAR(answering_weight(load, balance).at_m, 0.080, 1e-12) << "no further than the rod can hold it";
}

TEST(AnsweringWeight, IsNeverTooLightToBeSeen) {
    EXPECT_EQ(answering_weight(test::good_load(), Balance{}).mass_kg, 0.05);
}

}  // namespace
}  // namespace evenspit::plan
