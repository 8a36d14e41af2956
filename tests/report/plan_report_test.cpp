// SPDX-License-Identifier: MIT
#include "report/plan_report.h"

#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "analysis/chance.h"
#include "plan/loads.h"
#include "report/text_layout.h"

namespace evenspit {
namespace {

using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

Assembly lopsided() {
    Assembly load = test::load_of(
        test::item_of(test::flesh_body(test::ellipsoid_mesh(0.12, 0.09, 0.09, {0, 0.017, -0.024}), 4, "ball"),
                      {.at_m = 0.4}));
    load.title = "Ball, \"off\" & <on>";
    load.stock = {{0.5, 0.04, 0.25, 0.05}};
    return load;
}

const plan::Plan& sample_plan() {
    static const plan::Plan plan = plan::make_plan(lopsided(), {}, {}, {.steps = {}, .mountings = 0});
    return plan;
}

int widest_line(const std::string& text) {
    std::istringstream lines(text);
    int widest = 0;
    for (std::string line; std::getline(lines, line);) widest = std::max(widest, display_width(line));
    return widest;
}

TEST(PlanText, TellsWhatToDoFirst) {
    const std::string text = plan_text(lopsided(), sample_plan(), {});
    EXPECT_THAT(text, StartsWith("Ball"));
    EXPECT_THAT(text, AllOf(HasSubstr("Recommended: "), HasSubstr("1.  Push the rod through ball"),
                            HasSubstr("0  as it stands"), HasSubstr("worst of the whole cook: ")));
    EXPECT_LE(widest_line(text), 80);
    EXPECT_LE(widest_line(plan_text(lopsided(), sample_plan(), {.width = 50})), 50);
}

TEST(PlanText, SpeaksUsUnits) {
    EXPECT_THAT(plan_text(lopsided(), sample_plan(), {.units = UnitSystem::us}), HasSubstr("lbf in"));
}

TEST(PlanText, SaysWhenNothingIsToBeDone) {
    Assembly load = lopsided();
    load.items[0].seat.line = {.from = {0.017, -0.024}, .to = {0.017, -0.024}};
    load = with_arrangement(load, arrangement_of(load));
    EXPECT_THAT(plan_text(load, plan::make_plan(load), {}), HasSubstr("Leave it as it is."));
}

TEST(PlanText, SaysWhatBinds) {
    Assembly load = lopsided();
    load.forks.clear();
    load.rod.section = Section::round;  // whose edges hold nothing
    const std::string text = plan_text(load, plan::make_plan(load), {});
    EXPECT_THAT(text, AllOf(HasSubstr("What stands in the way, and what would help"),
                            HasSubstr("Nothing holds ball")));
}

TEST(PlanJson, HoldsTheAnswersInOrder) {
    const json j = json::parse(plan_json(lopsided(), sample_plan()));
    ASSERT_EQ(j["plan"].size(), sample_plan().answers.size());
    EXPECT_EQ(j["recommended"], sample_plan().recommended);
    EXPECT_EQ(j["plan"][0]["name"], "as_it_stands");
    EXPECT_EQ(j["plan"][0]["effort"], 0);
    const json& best = j["plan"][sample_plan().recommended];
    EXPECT_EQ(best["recommended"], true);
    EXPECT_EQ(j["verdict"], best["verdict"]);
    EXPECT_NEAR(best["items"][0]["line"]["from_m"][0].get<double>(), 0.017, 1e-12);
    EXPECT_NEAR(best["items"][0]["line"]["to_m"][1].get<double>(), -0.024, 1e-12);
    EXPECT_EQ(best["items"][0]["facing"], "point");
    EXPECT_EQ(best["items"][0]["at_m"].get<double>(), 0.4);
    ASSERT_EQ(best["forks"].size(), 2U);
    EXPECT_TRUE(best["forks"][1].contains("clock_deg"));
    EXPECT_EQ(best["gravity_torque_peak_n_m"].get<double>(),
              sample_plan().answers[sample_plan().recommended].analysis.balance.gravity_torque_peak_n_m);
    EXPECT_TRUE(best.contains("motor_use"));
    EXPECT_FALSE(best.contains("gap_min_m")) << "no cooker, no gap";
    EXPECT_FALSE(best["why"].get<std::string>().empty());
    for (const json& answer : j["plan"]) {
        if (answer["name"] != "counterweight") continue;
        const json& weight = answer["counterweights"][0];
        EXPECT_EQ(weight["mass_kg"], 0.5);
        EXPECT_EQ(std::fmod(weight["clock_deg"].get<double>(), 1), 0) << "whole degrees, not nearly so";
    }
}

std::vector<plan::ComparedLoad> three_loads() {
    std::vector<plan::ComparedLoad> loads;
    for (const double offset : {0.02, 0.01, 0.0005}) {
        plan::ComparedLoad load;
        load.name = "off, by " + std::to_string(static_cast<int>(offset * 1000));
        load.assembly = test::load_of(test::item_of(
            test::flesh_body(test::ellipsoid_mesh(0.12, 0.09, 0.09, {0, offset, 0}), 3), {.at_m = 0.4}));
        load.assembly.title = "A & B";
        load.analysis = analyse(load.assembly);
        loads.push_back(std::move(load));
    }
    return loads;
}

TEST(ComparisonText, SetsLoadsSideBySide) {
    const std::string text = comparison_text(three_loads(), {});
    EXPECT_THAT(text, AllOf(HasSubstr("Different (* better)"), HasSubstr("Alike"), HasSubstr("motor used")));
    EXPECT_LE(widest_line(text), 80);
}

TEST(ComparisonJson, NamesWhatIsBest) {
    const json j = json::parse(comparison_json(three_loads()));
    ASSERT_EQ(j["loads"].size(), 3U);
    EXPECT_GT(j["loads"][0]["motor_use"], j["loads"][2]["motor_use"]);
    EXPECT_NE(std::find(j["loads"][2]["best"].begin(), j["loads"][2]["best"].end(), "motor_use"),
              j["loads"][2]["best"].end());
    EXPECT_EQ(j["loads"][0]["best"].size(), 0U);
}

TEST(ComparisonCsv, QuotesNames) {
    const std::string csv = comparison_csv(three_loads());
    EXPECT_THAT(csv, StartsWith("load,verdict,chance_ready,chance_stop,stops,cares,mass_kg,"));
    EXPECT_THAT(csv, HasSubstr("\n\"off, by 20\",ready,"));
}

TEST(ComparisonCsv, NamesAreNoFormulas) {
    std::vector<plan::ComparedLoad> loads = three_loads();
    loads[0].name = "=1+1";
    loads[1].name = "@sum(a, b)";
    loads[2].name = "-goose";
    EXPECT_THAT(comparison_csv(loads),
                AllOf(HasSubstr("\n'=1+1,ready,"), HasSubstr("\n\"'@sum(a, b)\","), HasSubstr("\n'-goose,")));
}

plan::Sweep three_values() {
    return plan::parse_sweep("fork.1.at=150mm:170mm:10mm");
}

TEST(SweepText, IsOneRowAValue) {
    const std::string text = sweep_text(three_values(), three_loads(), {});
    EXPECT_THAT(text,
                AllOf(HasSubstr("fork.1.at"), HasSubstr("150 mm"), HasSubstr("170 mm"), HasSubstr("motor")));
    EXPECT_THAT(text, Not(HasSubstr("mass"))) << "nothing that does not change";
}

/// As many columns as there are, and what stops each of them.
std::vector<plan::ComparedLoad> stopped_loads() {
    std::vector<plan::ComparedLoad> loads;
    for (const double width : {0.004, 0.0041, 0.012}) {
        plan::ComparedLoad load;
        load.name = "load";
        load.assembly = test::load_of(test::item_of(
            test::flesh_body(test::ellipsoid_mesh(0.12, 0.09, 0.09, {0, 0.02 + width, 0}), 4 + 20 * width,
                             "a very long name for what is to be roasted on a Sunday in autumn"),
            {.at_m = 0.4}));
        load.assembly.rod.width_m = width;
        load.assembly.cooker.surfaces = {
            {"the wall of the cooker toward the garden of the neighbours on the left",
             PlaneShape{Vec3(0, 0, width < 0.005 ? -0.08 : -0.3), Vec3::UnitZ()},
             false,
             {},
             0.02}};
        load.analysis = judge(load.assembly, 32);
        loads.push_back(std::move(load));
    }
    return loads;
}

TEST(SweepText, FitsAndNamesWhatStops) {
    const std::vector<plan::ComparedLoad> loads = stopped_loads();
    for (const char* key : {"rod.width", "cooker.surface.12.a_key_of_more_letters_than_a_table_has"}) {
        const plan::Sweep sweep = plan::parse_sweep(std::string(key) + "=1mm:3mm:1mm");
        for (const UnitSystem system : {UnitSystem::metric, UnitSystem::us}) {
            for (const int width : {80, 60}) {
                const std::string text = sweep_text(sweep, loads, {.units = system, .width = width});
                SCOPED_TRACE(text);
                EXPECT_LE(widest_line(text), width);
                EXPECT_THAT(text, HasSubstr("What stops\n  1 mm to 2 mm  "));
                EXPECT_THAT(text, Not(HasSubstr("3 mm, "))) << "a table, not rows told in words";
                EXPECT_THAT(text, Not(HasSubstr("  3 mm  the")));
            }
        }
    }
    const std::string text = sweep_text(plan::parse_sweep("rod.width=1mm:3mm:1mm"), loads, {.width = 400});
    EXPECT_THAT(text, HasSubstr("the gap to the wall of the cooker toward the garden"));
    EXPECT_THAT(text, HasSubstr("the rod's stress"));
}

TEST(SweepText, SaysNothingOfStopsWhereNothingStops) {
    EXPECT_THAT(sweep_text(three_values(), three_loads(), {}), Not(HasSubstr("What stops")));
}

TEST(SweepText, CannotCommandTheTerminal) {
    plan::Sweep sweep = three_values();
    sweep.key = "\x1b[2J";
    for (std::string& label : sweep.labels) label += "\x1b]0;title\x07";
    std::vector<plan::ComparedLoad> loads = three_loads();
    loads.front().assembly.title = "\x1b[31mgoose\u009B2J";
    const std::string text = sweep_text(sweep, loads, {});
    EXPECT_THAT(text, AllOf(Not(HasSubstr("\x1b")), Not(HasSubstr("\x07")), Not(HasSubstr("\u009B"))));
    EXPECT_THAT(text, HasSubstr("goose"));
}

TEST(SweepCsv, CountsInTheUnitOfTheSweep) {
    const std::string csv = sweep_csv(three_values(), three_loads());
    EXPECT_THAT(csv, StartsWith("fork.1.at [mm],verdict,"));
    EXPECT_THAT(csv, HasSubstr("\n160,"));
}

TEST(SweepJson, TellsKeyAndValues) {
    const json j = json::parse(sweep_json(three_values(), three_loads()));
    EXPECT_EQ(j["sweep"]["key"], "fork.1.at");
    EXPECT_EQ(j["loads"][1]["value"], 160);
}

TEST(SweepSvg, DrawsWhatChanges) {
    const std::string svg = sweep_svg(three_values(), three_loads());
    EXPECT_THAT(svg, StartsWith("<svg xmlns=\"http://www.w3.org/2000/svg\""));
    EXPECT_THAT(svg, AllOf(HasSubstr("A &amp; B"), HasSubstr(">motor used<"), HasSubstr("<polyline"),
                           HasSubstr(">160 mm<"), HasSubstr(">fork.1.at<"), HasSubstr("</svg>")));
    EXPECT_THAT(svg, Not(HasSubstr(">all that turns<")));
    EXPECT_THAT(svg, Not(AllOf(HasSubstr("nan"), HasSubstr("inf"))));
}

TEST(FitText, TellsTheLargestAndWhatStopsMore) {
    plan::Fit fit;
    const plan::PlanLimit bed =
        plan::RoomLimit{.part = {Thing::Kind::item, 0}, .strikes = {{0, 0.01}}, .body_kg = 5};
    fit.rows = {{1, 2.5, Level::ready, Chance{0.9, 0.1, 0, 64}, 0.1, 0.2, 0.3, 0.05, {}},
                {1.2, 3, Level::care, Chance{0.7, 0.3, 0, 64}, 0.1, 0.2, 0.3, 0.02, bed},
                {2, 6, Level::stop, Chance{0, 0, 1, 64}, 1.2, 0.4, 0.6, -0.01, bed}};
    fit.largest_ready_kg = 2.5;
    fit.not_ready_by = bed;
    fit.largest_kg = 3;
    fit.stopped_by = bed;
    Assembly load = lopsided();
    load.cooker.surfaces = {{"bed", PlaneShape{Vec3(0, 0, -0.1), Vec3::UnitZ()}, false, {}, 0.02}};
    const std::string binds = "There is too little room in the cooker: ball strikes bed by 10 mm.";
    const std::string text = fit_text(load, fit, {.width = 200});
    EXPECT_THAT(
        text, AllOf(HasSubstr("Up to 2.5 kg is ready"), HasSubstr("What asks for care above that: " + binds),
                    HasSubstr("Up to 3 kg can turn, with care."), HasSubstr("What stops more: " + binds),
                    HasSubstr("120 %"), HasSubstr("-10 mm")));
    const json j = json::parse(fit_json(load, fit));
    EXPECT_EQ(j["fit"]["largest_mass_kg"], 3);
    EXPECT_EQ(j["fit"]["largest_ready_mass_kg"], 2.5);
    EXPECT_EQ(j["fit"]["masses"][0]["chance"]["ready"], 0.9);
    EXPECT_FALSE(j["fit"]["masses"][0].contains("stopped_by"));
    EXPECT_THAT(j["fit"]["masses"][1]["stopped_by"].get<std::string>(), StartsWith(binds));
}

TEST(FitText, TellsWhatAsksForCareWhereNoneIsReady) {
    plan::Fit fit;
    fit.largest_kg = 3;
    fit.not_ready_by = plan::PlanLimit(plan::StrengthLimit{.yield_use = 0.7, .width_m = 0.01});
    EXPECT_THAT(fit_text(lopsided(), fit, {.width = 200}),
                AllOf(HasSubstr("No mass that was tried is ready without care."),
                      HasSubstr("What asks for care: The rod is too weak"),
                      HasSubstr("Up to 3 kg can turn, with care.")));
}

TEST(FitText, TellsWhenNoneOrAllFit) {
    plan::Fit none;
    none.rows = {{1, 3, std::nullopt, {}, {}, {}, {}, {}, Complaint{}}};
    none.stopped_by = Complaint{};
    EXPECT_THAT(fit_text(lopsided(), none, {}), AllOf(HasSubstr("No mass that was tried can turn."),
                                                      HasSubstr("What stops it: There is no such body.")));
    EXPECT_FALSE(json::parse(fit_json(lopsided(), none))["fit"].contains("largest_mass_kg"));
    plan::Fit all;
    all.largest_kg = 6;
    EXPECT_THAT(fit_text(lopsided(), all, {}), HasSubstr("Nothing stops it up to there"));
}

}  // namespace
}  // namespace evenspit
