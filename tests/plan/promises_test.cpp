// SPDX-License-Identifier: MIT
// What a plan promises, held against loads that are drawn anew.
#include <algorithm>
#include <filesystem>
#include <random>

#include <gtest/gtest.h>

#include "analysis/chance.h"
#include "files/whole_file.h"
#include "load/load_change.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "load/models.h"
#include "plan/load_changes.h"
#include "plan/plan.h"
#include "support/independent_draws.h"
#include "support/sweep.h"

namespace evenspit::plan {
namespace {

const std::filesystem::path source = EVENSPIT_SOURCE_DIR;
const std::filesystem::path models = source / "models";

/// All loads in a long run, else a few of them, others whenever one is added.
std::vector<std::string> loads_to_promise() {
    constexpr std::size_t few = 4;
    std::vector<std::string> all = test::loads_to_draw();
    if (test::long_tests()) return all;
    std::vector<std::string> some;
    std::mt19937 random(20240707);
    std::sample(all.begin(), all.end(), std::back_inserter(some), few, random);
    return some;
}

}  // namespace

class Promises : public testing::TestWithParam<std::string> {};

// As often ready and as often a stop as told; no worse than the load as it stands; and what was ready in 80
// of 100 or more is so.
TEST_P(Promises, AreKeptInFreshDraws) {
    if (test::sweep_sets(20) < 20) GTEST_SKIP() << "minutes in a slow build";
    constexpr int draws = 300;
    const std::filesystem::path file = source / GetParam();
    const std::string text = read_whole_file(file);
    const Assembly load = read_load(file, models);
    PlanWish wish;
    wish.change = changes_of_file(load, text, file, models);
    const Plan plan = make_plan(load, {}, {}, wish);
    const PlanAnswer &base = plan.answers.front(), &best = plan.answers[plan.recommended];
    const Chance& told = best.analysis.mounted->chance;
    EXPECT_LE(best.analysis.verdict, base.analysis.verdict);

    const Assembly set_up = with_arrangement(load_of(best, load), best.arrangement);
    const test::Found found = test::found_in(test::Drawer(set_up, GetParam()), draws);
    EXPECT_TRUE(test::agree(told.ready, wish.mountings, found.ready, draws)) << "ready";
    EXPECT_TRUE(test::agree(told.stop, wish.mountings, found.stop, draws)) << "stop";
    if (told.ready >= 0.8 && found.ready < 0.8 * draws) {
        EXPECT_TRUE(test::agree(0.8, wish.mountings, found.ready, draws)) << "80 of 100";
    }
    RecordProperty("told", std::to_string(told.ready));
    RecordProperty("found", std::to_string(found.ready));
}

INSTANTIATE_TEST_SUITE_P(Loads, Promises, testing::ValuesIn(loads_to_promise()), [](const auto& file) {
    std::string name = std::filesystem::path(file.param).stem().string();
    std::replace(name.begin(), name.end(), '-', '_');
    return name;
});

}  // namespace evenspit::plan
