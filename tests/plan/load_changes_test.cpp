// SPDX-License-Identifier: MIT
#include "plan/load_changes.h"

#include <cmath>
#include <string>
#include <utility>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "load/load_file.h"
#include "plan/plan.h"

namespace evenspit::plan {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;
using testing::Not;

const std::filesystem::path models = EVENSPIT_SOURCE_DIR "/models";

std::string turkey(const std::string& rod, const std::string& item) {
    return "title = \"t\"\n[rod]\n" + rod +
           "[motor]\nmodel = \"mains-gearmotor\"\n[cooker]\nmodel = \"kettle-57\"\n[[item]]\nshape = "
           "\"turkey\"\nat = \"345 mm\"\n" +
           item +
           "[[fork]]\nmodel = \"two-long-two-short\"\nat = \"190 mm\"\npoints = \"point\"\n"
           "[[fork]]\nmodel = \"two-tine\"\nat = \"500 mm\"\npoints = \"drive\"\n";
}

Plan plan_of(const std::string& text, bool other_rods = true) {
    const Assembly load = read_load_text(text, "load.toml", models);
    PlanWish wish{.mountings = 64};
    wish.change = changes_of_file(load, text, "load.toml", models);
    if (!other_rods) wish.change.rods = [] { return std::vector<RodModel>(); };
    return make_plan(load, {}, {}, wish);
}

const PlanAnswer* answer_of(const Plan& plan, PlanKind kind) {
    for (const PlanAnswer& answer : plan.answers) {
        if (answer.kind == kind) return &answer;
    }
    return nullptr;
}

}  // namespace

TEST(Plan, TiesWhatFlops) {
    const Plan plan =
        plan_of(turkey("model = \"square-8mm\"\n", "mass = \"5.5 kg\"\ntrussing = \"loose\"\n"));
    EXPECT_NE(plan.answers.front().analysis.verdict, Level::ready);
    const PlanAnswer& best = plan.answers[plan.recommended];
    EXPECT_EQ(best.kind, PlanKind::tied);
    EXPECT_THAT(best.changes, ElementsAre(Field(&LoadChange::kind, LoadChange::Kind::tie)));
    ASSERT_TRUE(best.changed);
    EXPECT_TRUE(best.changed->items[0].body->body.swung.empty());
    EXPECT_GT(best.analysis.mounted->chance.ready, plan.answers.front().analysis.mounted->chance.ready + 0.5);
}

TEST(Plan, TakesAStouterRodWhereTheRodIsWhatBends) {
    const Plan plan = plan_of(
        turkey("section = \"square\"\nwidth = \"6 mm\"\nlength = \"760 mm\"\nsupports = [\"20 mm\", \"660 "
               "mm\"]\nusable = [\"60 mm\", \"620 mm\"]\nmaterial = \"stainless steel\"\n",
               "mass = \"5.5 kg\"\ntrussing = \"tight\"\n"));
    const PlanAnswer& best = plan.answers[plan.recommended];
    ASSERT_EQ(best.kind, PlanKind::other_rod);
    EXPECT_GT(best.changed->rod.width_m, 0.0075);
    EXPECT_LT(best.analysis.rod.yield_use, plan.answers.front().analysis.rod.yield_use);
    EXPECT_LE(best.analysis.verdict, plan.answers.front().analysis.verdict);
}

TEST(Plan, ProposesNoChangeWhereMovingThingsIsEnough) {
    const Plan plan = plan_of(turkey("model = \"square-10mm\"\n", "mass = \"4 kg\"\ntrussing = \"tight\"\n"));
    ASSERT_EQ(plan.answers[plan.recommended].analysis.verdict, Level::ready);
    for (const PlanAnswer& answer : plan.answers) EXPECT_TRUE(answer.changes.empty());
}

TEST(Plan, LeavesOneOutWhereTheyDoNotFit) {
    std::string text =
        "title = \"t\"\n[rod]\nmodel = \"square-10mm\"\n[motor]\nmodel = \"mains-gearmotor\"\n";
    for (const int at : {160, 330, 500}) {
        text += "[[item]]\nshape = \"chicken\"\nmass = \"1.7 kg\"\ntrussing = \"tight\"\nat = \"" +
                std::to_string(at) + " mm\"\n";
        text += "[[fork]]\nmodel = \"two-tine-wide\"\nat = \"" + std::to_string(at - 95) +
                " mm\"\npoints = \"point\"\n";
    }
    const Plan plan = plan_of(text, false);
    EXPECT_EQ(plan.answers.front().analysis.verdict, Level::stop);
    const PlanAnswer* fewer = answer_of(plan, PlanKind::fewer);
    ASSERT_NE(fewer, nullptr);
    EXPECT_EQ(fewer->changed->items.size(), 2U);
    EXPECT_LT(fewer->changed->forks.size(), 3U);
    EXPECT_LT(fewer->stops, plan.answers.front().stops);
}

// Loose limbs are never ready: whatever else is changed, they are tied, even where that alone does not help.
TEST(Plan, TiesWhateverElseIsChanged) {
    std::string text = "title = \"t\"\n[rod]\nmodel = \"square-8mm\"\n[motor]\nmodel = \"mains-gearmotor\"\n";
    for (const int at : {240, 450}) {
        text += "[[item]]\nshape = \"duck\"\nmass = \"2.4 kg\"\ntrussing = \"legs tied\"\nat = \"" +
                std::to_string(at) + " mm\"\n";
        for (const auto& [by, points] : {std::pair(-110, "point"), std::pair(110, "drive")}) {
            text += "[[fork]]\nmodel = \"two-tine-short\"\nat = \"" + std::to_string(at + by) +
                    " mm\"\npoints = \"" + points + "\"\n";
        }
    }
    const Plan plan = plan_of(text, false);
    const PlanAnswer& best = plan.answers[plan.recommended];
    ASSERT_EQ(best.kind, PlanKind::fewer);
    ASSERT_EQ(best.changed->items.size(), 1U);
    EXPECT_TRUE(best.changed->items[0].body->body.swung.empty());
    EXPECT_LT(best.stops, plan.answers.front().stops);
}

TEST(ChangedLoad, IsALoadFileAgain) {
    const std::string text = turkey("model = \"square-8mm\"  # the old one\nwidth = \"7 mm\"\n",
                                    "mass = \"5 kg\"\ntrussed = false\n");
    const std::string changed = changed_load(
        text, "load.toml",
        {{.kind = LoadChange::Kind::tie}, {.kind = LoadChange::Kind::rod, .rod = "square-10mm"}}, models);
    EXPECT_THAT(changed, AllOf(HasSubstr("trussed = true"), HasSubstr("# the old one"),
                               HasSubstr("width = \"10 mm\""), Not(HasSubstr("7 mm\""))));
    const Assembly load = read_load_text(changed, "load.toml", models);
    EXPECT_NEAR(load.rod.width_m, 0.010, 1e-12);
    EXPECT_TRUE(load.items[0].trussed);
    const std::string fewer =
        changed_load(text + "[[item]]\nshape = \"chicken\"\nmass = \"1.5 kg\"\nat = \"500 mm\"\n",
                     "load.toml", {{.kind = LoadChange::Kind::leave_out, .item = 0, .forks = {1}}}, models);
    const Assembly left = read_load_text(fewer, "load.toml", models);
    EXPECT_EQ(left.items.size(), 1U);
    EXPECT_EQ(left.forks.size(), 1U);
    EXPECT_EQ(left.items[0].name, "chicken");
}

// "Leave chicken 1 off the rod": the other is chicken 2 still, in that file and in what is said of it.
TEST(ChangedLoad, CallsWhatIsLeftAsBefore) {
    const std::string chicken = "[[item]]\nshape = \"chicken\"\nmass = \"1.5 kg\"\nat = \"500 mm\"\n";
    const std::string text =
        turkey("model = \"square-8mm\"\n", "mass = \"5 kg\"\n") + chicken + chicken + chicken;
    const auto named = [](const std::string& load) {
        std::vector<std::string> names;
        for (const Item& item : read_load_text(load, "load.toml", models).items) names.push_back(item.name);
        return names;
    };
    const auto without = [&](std::size_t item) {
        return changed_load(text, "load.toml", {{.kind = LoadChange::Kind::leave_out, .item = item}}, models);
    };
    EXPECT_THAT(named(text), ElementsAre("turkey", "chicken 1", "chicken 2", "chicken 3"));
    EXPECT_THAT(named(without(1)), ElementsAre("turkey", "chicken 2", "chicken 3"));
    EXPECT_THAT(named(without(3)), ElementsAre("turkey", "chicken 1", "chicken 2"));
    EXPECT_THAT(without(0), Not(HasSubstr("name ="))) << "nothing is written that is not asked for";
}

TEST(ChangedLoad, TiesAPigInTheWayThatIsUsualForOne) {
    std::string text = turkey("model = \"square-10mm\"\n", "mass = \"5 kg\"\ntrussing = \"loose\"\n");
    const auto at = text.find("\"turkey\"");
    ASSERT_NE(at, std::string::npos);
    text.replace(at, 8, "\"Suckling Pig\"");
    const std::string changed = changed_load(text, "load.toml", {{.kind = LoadChange::Kind::tie}}, models);
    EXPECT_THAT(changed, HasSubstr("trussing = \"folded\""));
    EXPECT_TRUE(read_load_text(changed, "load.toml", models).items[0].trussed);
}

TEST(HeavierLoad, GrowsWhatWasTapedWithTheBody) {
    const std::string text = turkey("model = \"square-8mm\"\n",
                                    "mass = \"5.9 kg\"\ntape = { length = \"37 cm\", girth = '660 mm' }\n");
    const Assembly load = read_load_text(text, "load.toml", models);
    const Assembly heavier = read_load_text(heavier_load(text, load, 1.2), "load.toml", models);
    const auto length_m = [](const Assembly& a) { return a.items[0].body->bounds.sizes().x(); };
    EXPECT_NEAR(heavier.items[0].body->mass.amount, 1.2 * 5.9, 1e-6);
    EXPECT_NEAR(length_m(heavier) / length_m(load), std::cbrt(1.2), 0.01);
}

TEST(RodModels, AreThoseOfTheLibrary) {
    const std::vector<RodModel> rods = rod_models(models, 450);
    ASSERT_GE(rods.size(), 5U);
    for (const RodModel& model : rods) {
        EXPECT_GT(model.rod.width_m, 0.005) << model.name;
        EXPECT_EQ(model.rod.temperature_k, 450) << model.name;
    }
    EXPECT_TRUE(rod_models("no/such/folder", 450).empty());
}

}  // namespace evenspit::plan
