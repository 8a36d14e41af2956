// SPDX-License-Identifier: MIT
#include "report/chance_words.h"

#include <set>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "analysis/figures.h"
#include "analysis/mountings.h"
#include "report/finding_words.h"
#include "units/tell.h"

namespace evenspit {
namespace {

Assembly named_load() {
    Assembly a;
    a.items.resize(2);
    a.items[0].name = "goose";
    a.items[0].bird = true;
    a.items[1].name = "roll";
    a.forks.resize(1);
    a.forks[0].tines.resize(2);
    a.cooker.surfaces.resize(2);
    return a;
}

}  // namespace

TEST(ChanceWords, TellAChanceAsPeopleDo) {
    EXPECT_EQ(chance_sentence({0.714, 0.27, 0.016, 1024}), "Ready in 71 of 100 mountings, stop in 2.");
    EXPECT_EQ(chance_sentence({1, 0, 0, 1024}), "Ready in every mounting.");
    EXPECT_EQ(chance_sentence({0, 0.6, 0.4, 1024}), "Ready in no mounting, stop in 40.");
    EXPECT_EQ(chance_sentence({0.997, 0.002, 0.001, 1024}),
              "Ready in more than 99 of 100 mountings, stop in fewer than 1.");
}

TEST(ChanceWords, NothingIsBothReadyAndToBeFixedFirst) {
    const auto words = [](Level verdict, double ready) {
        return verdict_words(verdict,
                             Mounted{.chance = {.ready = ready, .care = 1 - ready, .mountings = 1024}});
    };
    EXPECT_EQ(words(Level::care, 0.89), "Ready in 89 of 100 mountings. It can turn. Fix these first.");
    EXPECT_EQ(words(Level::care, 1),
              "But for what follows, ready in every mounting. It can turn. Fix these first.");
    EXPECT_EQ(
        words(Level::stop, 1),
        "But for what follows, ready in every mounting. Do not put this load on the fire as it stands.");
    EXPECT_EQ(words(Level::ready, 1), "Ready in every mounting. Nothing to fix.");
    EXPECT_EQ(verdict_words(Level::care, {}), "It can turn. Fix these first.");
}

TEST(ChanceWords, NameInputsAsACookWould) {
    const Assembly a = named_load();
    EXPECT_EQ(input_text({Input::Kind::line_to, {Thing::Kind::item, 0}}, a),
              "where the rod passes the neck of goose");
    EXPECT_EQ(input_text({Input::Kind::line_from, {Thing::Kind::item, 1}}, a),
              "where the rod passes the near end of roll");
    EXPECT_EQ(input_text({Input::Kind::friction, {Thing::Kind::motor}}, a), "friction at the far bearing");
    EXPECT_EQ(input_text({Input::Kind::fork_station, {Thing::Kind::fork, 0}}, a),
              "the place along the rod of fork 1");
    EXPECT_EQ(input_key({Input::Kind::line_to, {Thing::Kind::item, 1}}, {}), "item.2.line.to");
    EXPECT_EQ(input_key({Input::Kind::counterweight_mass, {Thing::Kind::counterweight, 0}}, {}),
              "counterweight.1.mass");
    EXPECT_EQ(input_key({Input::Kind::yield_strength, {Thing::Kind::rod}}, {}), "rod.yield_strength");
}

TEST(ChanceWords, TellTheFirstDriversOnly) {
    const Assembly a = named_load();
    const Thing goose{Thing::Kind::item, 0};
    EXPECT_EQ(
        drivers_text({{{Input::Kind::line_to, goose}, 0.7},
                      {{Input::Kind::line_from, goose}, 0.25},
                      {{Input::Kind::item_mass, goose}, 0.05}},
                     a),
        "where the rod passes the neck of goose (70 %) and where the rod passes the tail of goose (25 %)");
    EXPECT_EQ(drivers_text({}, a), "");
}

TEST(ChanceWords, OnlyTheLoadAsWrittenIsToldWhereItsHeavySideIs) {
    // In 30 of 100 mountings, each with another heavy side: moving the line by what mends one harms the next.
    const Assembly a = named_load();
    const Rebalance mend{.heavy_side_rad = 1, .line_shift_m = 0.006, .excess_kg_m = 0.02};
    std::vector<Finding> findings = {
        {.level = Level::care, .code = Code::overrun, .value = 0.3, .facts = OverrunFacts{0.4, 1, mend}},
        {.level = Level::care, .code = Code::knock, .value = 1.2, .facts = KnockFacts{0.1, 1, false, mend}},
        {.level = Level::care, .code = Code::uneven_speed, .value = 0.5, .facts = UnevenFacts{1, mend}},
        {.level = Level::care,
         .code = Code::motor_torque,
         .value = 0.8,
         .facts = MotorFacts{0.8, 1, false, mend}},
    };
    for (Finding& finding : findings) {
        finding.chance = 0.3;
        EXPECT_NE(finding_text(finding, a, UnitSystem::metric).find("Move the rod line 6 mm"),
                  std::string::npos);
        finding.as_written = false;
        const std::string words = finding_text(finding, a, UnitSystem::metric);
        EXPECT_EQ(words.find("rod line"), std::string::npos) << words;
        EXPECT_NE(words.find("let the load hang free"), std::string::npos) << words;
    }
}

TEST(ChanceWords, EveryFigureHasAKeyOfItsOwn) {
    std::set<std::string> keys;
    const std::vector<FigureId> figures = figures_of(named_load());
    for (const FigureId& figure : figures) keys.insert(figure_key(figure));
    EXPECT_EQ(keys.size(), figures.size());
    EXPECT_TRUE(keys.contains("clearance.surfaces[1].gap_m"));
    EXPECT_TRUE(keys.contains("forks[0].tines[1].cover_min_m"));
    EXPECT_FALSE(keys.contains(""));
}

}  // namespace evenspit
