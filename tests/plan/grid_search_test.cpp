// SPDX-License-Identifier: MIT
#include "plan/grid_search.h"

#include <cmath>

#include <gtest/gtest.h>

#include "analysis/chance.h"
#include "load/load_file.h"
#include "support/sweep.h"

namespace evenspit::plan {
namespace {

constexpr int draws = 300;

/// Standard deviations by which a share of 300 draws and one of 1,024 may differ.
double sampling_error(double share, double deviations) {
    const double variance =
        std::max(share * (1 - share), 1.0 / draws) * (1.0 / draws + 1.0 / usual_mountings);
    return deviations * std::sqrt(variance);
}

}  // namespace

class PlanAgainstAGrid : public testing::TestWithParam<std::size_t> {};

// What a plan promises is kept in fresh draws, is no worse than the load as it stands, and no arrangement of
// a coarse grid is ready clearly more often. Three of the twenty loads; grid_against_plan looks at all of
// them.
TEST_P(PlanAgainstAGrid, IsReadyAsOftenAsPromisedAndAsTheBestOfTheGrid) {
    if (test::sweep_sets(20) < 20) GTEST_SKIP() << "minutes in a slow build";
    const Assembly load =
        read_load_text(test::loads_to_plan()[GetParam() - 1], "load.toml", EVENSPIT_SOURCE_DIR "/models");
    const Plan plan = make_plan(load);
    const PlanAnswer &base = plan.answers.front(), &best = plan.answers[plan.recommended];
    const Chance& told = best.analysis.mounted->chance;
    const test::FreshChance kept = test::fresh_chance(with_arrangement(load, best.arrangement), draws, 5);
    EXPECT_NEAR(kept.ready, told.ready, sampling_error(told.ready, 3.5));
    EXPECT_NEAR(kept.stop, told.stop, sampling_error(told.stop, 3.5));
    EXPECT_LE(best.analysis.verdict, base.analysis.verdict);
    if (best.analysis.verdict == base.analysis.verdict) {
        EXPECT_GE(told.ready, base.analysis.mounted->chance.ready - 0.05);
    }

    std::vector<Arrangement> hubs;
    for (const PlanAnswer& answer : plan.answers) {
        if (answer.kind == PlanKind::line_forks) hubs.push_back(answer.arrangement);
    }
    const test::GridBest grid = test::best_on_grid(load, hubs);
    ASSERT_GT(grid.tried, 0);
    if (grid.written == Level::stop) return;  // what hands see stands against all of them
    const test::FreshChance found = test::fresh_chance(with_arrangement(load, grid.arrangement), draws, 7);
    // Five of 100, and what two samples of 300 may differ by.
    EXPECT_LE(found.ready, kept.ready + 0.05 + 1.65 * std::sqrt(2.0) * sampling_error(kept.ready, 1));
}

INSTANTIATE_TEST_SUITE_P(Loads, PlanAgainstAGrid, testing::Values(1, 9));

}  // namespace evenspit::plan
