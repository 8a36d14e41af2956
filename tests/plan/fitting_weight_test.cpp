// SPDX-License-Identifier: MIT
#include "plan/fitting_weight.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "analysis/loads.h"
#include "load/arrangement.h"

namespace evenspit::plan {
namespace {

Assembly heavy_sided() {
    const Assembly load = test::good_load();
    Arrangement places = arrangement_of(load);
    for (Vec2* end : {&places.seats.front().line.from, &places.seats.front().line.to})
        *end += Vec2(-0.012, 0.020);
    return with_arrangement(load, places);
}

TEST(FittingWeights, TakeMostOfTheUnbalanceAwayAndLieWhereTheyMay) {
    Assembly load = heavy_sided();
    const Analysis before = analyse(load);
    const std::vector<Counterweight> weights = fitting_weights(load, before);
    ASSERT_FALSE(weights.empty());
    for (const Counterweight& weight : weights) {
        EXPECT_GT(weight.mass_kg, 0);
        EXPECT_GE(weight.at_m - weight.diameter_m / 2, load.rod.usable_m[0] - 1e-9);
        EXPECT_LE(weight.at_m + weight.diameter_m / 2, load.rod.usable_m[1] + 1e-9);
        load.counterweights.push_back(weight);
    }
    const Analysis after = analyse(load);
    EXPECT_LT(after.balance.unbalance_kg_m_size, 0.3 * before.balance.unbalance_kg_m_size);
    const auto stops = [](const Analysis& a) {
        return std::count_if(a.findings.begin(), a.findings.end(),
                             [](const Finding& f) { return f.level == Level::stop; });
    };
    EXPECT_LE(stops(after), stops(before)) << "it strikes nothing and sits in nothing";
}

TEST(FittingWeights, KeepOffWhatIsOnTheRodAlready) {
    Assembly load = heavy_sided();
    const std::vector<Counterweight> first = fitting_weights(load, analyse(load));
    ASSERT_FALSE(first.empty());
    Counterweight there = first.front();
    there.mass_kg /= 4;
    load.counterweights.push_back(there);
    for (const Counterweight& weight : fitting_weights(load, analyse(load)))
        EXPECT_GE(std::abs(weight.at_m - there.at_m), (weight.diameter_m + there.diameter_m) / 2);
}

TEST(FittingWeights, AreNoneWhereAllIsEven) {
    Assembly load = heavy_sided();
    for (const Counterweight& weight : fitting_weights(load, analyse(load)))
        load.counterweights.push_back(weight);
    const Analysis now = analyse(load);
    const std::vector<Counterweight> more = fitting_weights(load, now);
    for (const Counterweight& weight : more) load.counterweights.push_back(weight);
    EXPECT_LE(analyse(load).balance.unbalance_kg_m_size, now.balance.unbalance_kg_m_size + 1e-12)
        << "never worse";
}

}  // namespace
}  // namespace evenspit::plan
