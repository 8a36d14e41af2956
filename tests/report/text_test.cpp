// SPDX-License-Identifier: MIT
#include <limits>
#include <sstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/finding_words.h"
#include "report/report.h"
#include "report/sample_result.h"
#include "report/text_layout.h"

namespace evenspit {
namespace {

using test::sample_analysis;
using test::sample_assembly;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

std::string told(const Analysis& analysis, const TextOptions& options = {}) {
    return text_report(sample_assembly(), analysis, options);
}

// The report with its line breaks and runs of spaces as single spaces, for phrases that may be wrapped.
std::string in_one_line(const std::string& text) {
    std::istringstream words(text);
    std::string out;
    for (std::string word; words >> word;) out += (out.empty() ? "" : " ") + word;
    return out;
}

std::string between(const std::string& text, const std::string& from, const std::string& to) {
    const std::size_t a = text.find(from);
    const std::size_t b = text.find(to, a);
    return a == std::string::npos || b == std::string::npos ? std::string() : text.substr(a, b - a);
}

TEST(TextReport, WholeInMetricUnits) {
    EXPECT_EQ(told(sample_analysis()), R"(STOP  Do not put this load on the fire as it stands.
Goose for the rowing club supper (goose.toml)

To fix, worst first
  STOP  fork 2 strikes drip tray at 500 mm, by 6 mm. Set it at another station,
        or take one with narrower tines.
  CARE  Over 40 % of each turn the heavy side falls and drives the gears: it
        pulls them with up to 1.2 N m, 50 % of the motor's rating. That wears
        them. The heavy side is at 3 o'clock (0°). Set a counterweight opposite,
        at 9 o'clock (180°): 400 g or more at 100 mm.

Good to know
  -  It does not turn evenly: the speed varies by 13 % over a turn. It is
     slowest while the heavy side rises, so the side a quarter turn behind that,
     at 9 o'clock (180°), stays below longest and browns more.

Items
  item     mass     density  centre of mass x, y, z  mass from
  goose  4.6 kg  1150 kg/m³      13 mm, 0 mm, -4 mm  the scale

Balance and motor
  all that turns    5.5 kg, the rod included
  unbalance         0.05 kg m, as 500 g held 100 mm off the rod
  heavy side        at 5 o'clock (307°), seen from the point
  turning torque    0.55 N m at most: 0.49 N m gravity, 0.06 N m friction
  motor             rated 2.5 N m, 22 % used
  over one turn     ▇▇████████▇▇▆▅▅▄▃▃▂▂▁▁▁▁▁▁▁▁▂▂▃▄▄▅▆▆
                    least -0.43 N m at 233°, most 0.55 N m at 53°
  speed             2.86 rpm on average, from 2.67 rpm to 3.06 rpm, uneven by
                    13 %
  overrun           over 40 % of each turn the load drives the gears, with up to
                    0.43 N m
  Centrifugal force at this speed is 0.00009 of the weight: one counterweight is
  enough, balancing in two planes is not needed.

Rod
  supports carry    28 N at the drive, 25 N at the far bearing
  sag               2.1 mm at station 335 mm
  stress            72 MPa at station 410 mm, 36 % of its yield strength

Forks
              at  carries    holds      raw     in flesh  cover
  fork 1  190 mm     55 %  0.9 N m  1.8 N m  75 to 80 mm  11 mm
  fork 2  500 mm      0 %    0 N m    0 N m         0 mm   none
  grip              50 % used of the 0.9 N m held in the worst state of the cook

Clearance, sag included
  surface       gap   keep  at station  part
  coal bed    41 mm  50 mm      360 mm  goose   close
  dome       100 mm  25 mm      300 mm  goose
  drip tray   -6 mm  25 mm      500 mm  fork 2  STRIKES

Assumed
  -  goose: The bones are placed by the species' proportions.

Take care
  -  A thermometer decides when it is done, never the clock.
  -  Rod, forks and weights come off hot enough to burn; point and tines are
     sharp.
  -  Stop the motor before you measure or push a fork in: gears and rod draw in
     fingers, sleeves and hair.
  -  Take plastic and nets that melt off. Keep string clear of the fire.
  -  Thaw in the refrigerator or in cold water, never on the counter (USDA).
     Wash hands, board and knife after raw meat.
  -  A fire gives off carbon monoxide. It kills and has no smell: only outdoors.
  -  Fat can catch fire: lid or extinguisher at hand, never water.
  -  Mains motor outdoors: on a residual-current device, its lead dry.
  -  Makers' manuals, local codes and licensed practice come first.

To read more: evenspit explain clearance (or turning)
)");
}

TEST(TextReport, WholeInUsUnits) {
    EXPECT_EQ(told(sample_analysis(), {.units = UnitSystem::us}),
              R"(STOP  Do not put this load on the fire as it stands.
Goose for the rowing club supper (goose.toml)

To fix, worst first
  STOP  fork 2 strikes drip tray at 19 11/16 in, by 1/4 in. Set it at another
        station, or take one with narrower tines.
  CARE  Over 40 % of each turn the heavy side falls and drives the gears: it
        pulls them with up to 11 lbf in, 50 % of the motor's rating. That wears
        them. The heavy side is at 3 o'clock (0°). Set a counterweight opposite,
        at 9 o'clock (180°): 14 oz or more at 4 in.

Good to know
  -  It does not turn evenly: the speed varies by 13 % over a turn. It is
     slowest while the heavy side rises, so the side a quarter turn behind that,
     at 9 o'clock (180°), stays below longest and browns more.

Items
  item         mass      density  centre of mass x, y, z  mass from
  goose  10 lb 2 oz  71.8 lb/ft³  1/2 in, 0 in, -3/16 in  the scale

Balance and motor
  all that turns    12 lb 2 oz, the rod included
  unbalance         4.3 lb in, as 1 lb 1 oz held 4 in off the rod
  heavy side        at 5 o'clock (307°), seen from the point
  turning torque    4.9 lbf in at most: 4.3 lbf in gravity, 0.53 lbf in friction
  motor             rated 22.1 lbf in, 22 % used
  over one turn     ▇▇████████▇▇▆▅▅▄▃▃▂▂▁▁▁▁▁▁▁▁▂▂▃▄▄▅▆▆
                    least -3.8 lbf in at 233°, most 4.9 lbf in at 53°
  speed             2.86 rpm on average, from 2.67 rpm to 3.06 rpm, uneven by
                    13 %
  overrun           over 40 % of each turn the load drives the gears, with up to
                    3.8 lbf in
  Centrifugal force at this speed is 0.00009 of the weight: one counterweight is
  enough, balancing in two planes is not needed.

Rod
  supports carry    6.3 lbf at the drive, 5.6 lbf at the far bearing
  sag               1/16 in at station 13 3/16 in
  stress            10.4 ksi at station 16 1/8 in, 36 % of its yield strength

Forks
  fork 1, at 7 1/2 in, carries 55 %, holds 8 lbf in, raw 16 lbf in, in flesh
  2 15/16 in to 3 1/8 in, cover 7/16 in
  fork 2, at 19 11/16 in, carries 0 %, holds 0 lbf in, raw 0 lbf in, in flesh
  0 in, cover none
  grip              50 % used of the 8 lbf in held in the worst state of the
                    cook

Clearance, sag included
  surface           gap        keep   at station  part
  coal bed     1 5/8 in  1 15/16 in   14 3/16 in  goose   close
  dome       3 15/16 in        1 in  11 13/16 in  goose
  drip tray     -1/4 in        1 in  19 11/16 in  fork 2  STRIKES

Assumed
  -  goose: The bones are placed by the species' proportions.

Take care
  -  A thermometer decides when it is done, never the clock.
  -  Rod, forks and weights come off hot enough to burn; point and tines are
     sharp.
  -  Stop the motor before you measure or push a fork in: gears and rod draw in
     fingers, sleeves and hair.
  -  Take plastic and nets that melt off. Keep string clear of the fire.
  -  Thaw in the refrigerator or in cold water, never on the counter (USDA).
     Wash hands, board and knife after raw meat.
  -  A fire gives off carbon monoxide. It kills and has no smell: only outdoors.
  -  Fat can catch fire: lid or extinguisher at hand, never water.
  -  Mains motor outdoors: on a residual-current device, its lead dry.
  -  Makers' manuals, local codes and licensed practice come first.

To read more: evenspit explain clearance (or turning)
)");
}

TEST(TextReport, BeginsWithTheVerdict) {
    Analysis analysis = sample_analysis();
    EXPECT_THAT(told(analysis), StartsWith("STOP  "));
    analysis.verdict = Level::care;
    EXPECT_THAT(told(analysis), StartsWith("CARE  "));
    analysis.verdict = Level::ready;
    EXPECT_THAT(told(analysis), StartsWith("READY  "));
}

TEST(TextReport, NoLineIsWiderThanAsked) {
    Assembly assembly = sample_assembly();
    assembly.title =
        "A title that goes on and on, for the supper of the rowing club and all of its many friends 鵞鳥 at "
        "once";
    assembly.items[0].name = "a-very-long-name-without-any-space-in-it-at-all-that-fits-no-column";
    Analysis analysis = sample_analysis();
    analysis.uncertainty = Uncertainty{0.6, 0.02, 500};
    analysis.clearance.surfaces[0].name = "the bed of coals on the left side of the cooker";
    analysis.clearance.surfaces[0].part = {Thing::Kind::item, 0};
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
        for (int width = 24; width <= 130; ++width) {
            std::istringstream lines(text_report(assembly, analysis, {.units = units, .width = width}));
            for (std::string line; std::getline(lines, line);) {
                ASSERT_LE(display_width(line), width) << line;
                ASSERT_TRUE(line.empty() || line.back() != ' ') << "trailing space: " << line;
            }
        }
    }
}

TEST(TextReport, PlainWithoutColourAndTheSameWordsWithIt) {
    const std::string plain = told(sample_analysis());
    EXPECT_THAT(plain, Not(HasSubstr("\x1b")));
    std::string coloured = told(sample_analysis(), {.colour = true});
    EXPECT_THAT(coloured, HasSubstr("\x1b[1;31mSTOP\x1b[0m"));
    EXPECT_THAT(coloured, HasSubstr("\x1b[1;33mCARE\x1b[0m"));
    for (std::size_t at = 0; (at = coloured.find('\x1b')) != std::string::npos;) {
        coloured.erase(at, coloured.find('m', at) + 1 - at);
    }
    EXPECT_EQ(coloured, plain);
}

TEST(TextReport, NamesCannotCommandTheTerminal) {
    Assembly assembly = sample_assembly();
    assembly.title = "goose\x1b]0;owned\x07";
    assembly.items[0].name = "goose\x1b[2J";
    Analysis analysis = sample_analysis();
    analysis.findings.back().facts = Remark{"\x1b[2Jgoose"};
    const std::string text = text_report(assembly, analysis, {});
    EXPECT_THAT(text, Not(HasSubstr("\x1b")));
    EXPECT_THAT(text, Not(HasSubstr("\x07")));
}

TEST(TextReport, MendsStandInTheOrderOfTheFindings) {
    const std::string mend = between(told(sample_analysis()), "To fix", "Good to know");
    EXPECT_LT(mend.find("STOP  fork 2 strikes"), mend.find("CARE  Over 40 %"));
    EXPECT_THAT(mend, Not(HasSubstr("bones")));
}

TEST(TextReport, APassedCheckIsLeftToTheFigures) {
    EXPECT_THAT(told(sample_analysis()), Not(HasSubstr("of what it bears")));
}

TEST(TextReport, AssumptionsComeAfterTheFigures) {
    const std::string text = told(sample_analysis());
    EXPECT_LT(text.find("Clearance"), text.find("The bones are placed"));
}

TEST(TextReport, NothingToMendLeavesNoHeading) {
    Analysis analysis = sample_analysis();
    analysis.verdict = Level::ready;
    analysis.findings.clear();
    const std::string text = told(analysis);
    for (const char* heading : {"To fix", "Good to know", "Assumed"})
        EXPECT_THAT(text, Not(HasSubstr(heading)));
}

TEST(TextReport, CautionsAreAlwaysThere) {
    const std::string text = in_one_line(told(Analysis{}));
    EXPECT_THAT(text, HasSubstr("hot enough to burn"));
    EXPECT_THAT(text, HasSubstr("A thermometer decides"));
    EXPECT_THAT(text, HasSubstr("Makers' manuals"));
}

TEST(TextReport, ABalancedLoadHasNoCurve) {
    Analysis analysis = sample_analysis();
    for (std::size_t i = 0; i < analysis.balance.curve.size(); ++i) {
        analysis.balance.curve[i][1] = 0.07 + 1e-15 * static_cast<double>(i % 5);
    }
    const std::string text = in_one_line(told(analysis));
    EXPECT_THAT(text, HasSubstr("over one turn the same at every angle"));
    EXPECT_THAT(text, Not(HasSubstr("least 0.07")));
}

TEST(TextReport, CentrifugalForceIsToldOnceAndJudged) {
    Analysis analysis = sample_analysis();
    analysis.balance.centrifugal_over_weight = 2.3e-5;
    std::string text = in_one_line(told(analysis));
    EXPECT_THAT(
        text,
        HasSubstr("Centrifugal force at this speed is 0.00002 of the weight: one counterweight is enough, "
                  "balancing in two planes is not needed."));
    EXPECT_EQ(text.find("Centrifugal"), text.rfind("Centrifugal"));
    analysis.balance.centrifugal_over_weight = 0.25;
    text = in_one_line(told(analysis));
    EXPECT_THAT(text, HasSubstr("is 0.2 of the weight"));
    EXPECT_THAT(text, Not(HasSubstr("not needed")));
    analysis.balance.centrifugal_over_weight = 1e-18;
    EXPECT_THAT(in_one_line(told(analysis)),
                HasSubstr("at this speed is less than a millionth of the weight"));
    analysis.balance.centrifugal_over_weight = nan;
    EXPECT_THAT(told(analysis), Not(HasSubstr("Centrifugal")));
}

TEST(TextReport, AStallingLoadHasNoSpeed) {
    Analysis analysis = sample_analysis();
    analysis.turning = Turning{};
    analysis.turning.stalls = true;
    const std::string text = told(analysis);
    EXPECT_THAT(text, HasSubstr("the motor stands still under this load"));
    EXPECT_THAT(text, Not(HasSubstr("rpm")));
}

TEST(TextReport, WhatIsNotKnownIsSaidNotPrinted) {
    Analysis analysis = sample_analysis();
    analysis.balance.motor_use = nan;
    analysis.balance.unbalance_kg_m_size = nan;
    analysis.balance.curve[3][1] = nan;
    analysis.rod.stress_max_pa = std::numeric_limits<double>::infinity();
    const std::string text = told(analysis);
    EXPECT_THAT(text, HasSubstr("rated 2.5 N m, not known used"));
    EXPECT_THAT(text, HasSubstr("stress            not known at"));
    EXPECT_THAT(text, Not(HasSubstr("\n  heavy side ")));
    for (const char* word : {"nan", "inf "}) EXPECT_THAT(text, Not(HasSubstr(word)));
}

TEST(TextReport, SectionsWithoutContentAreLeftOut) {
    Assembly assembly = sample_assembly();
    assembly.items.clear();
    Analysis analysis = sample_analysis();
    analysis.grip = Grip{};
    analysis.clearance = Clearance{};
    const std::string text = text_report(assembly, analysis, {});
    for (const char* heading : {"\nItems", "\nForks", "\nClearance", "\nHow sure"})
        EXPECT_THAT(text, Not(HasSubstr(heading)));
}

TEST(TextReport, UncertaintyIsToldWhenKnown) {
    Analysis analysis = sample_analysis();
    analysis.uncertainty = Uncertainty{0.6, 0.02, 500};
    const std::string text = in_one_line(told(analysis));
    EXPECT_THAT(text, HasSubstr("under 0.6 N m in 95 of 100 mountings (500 tried)"));
    EXPECT_THAT(text, HasSubstr("chance of a stall 2 %"));
    analysis.uncertainty->stall_probability = 0;
    EXPECT_THAT(in_one_line(told(analysis)), HasSubstr("chance of a stall none stalled"));
}

TEST(TextReport, ThePartOfTheScanIsToldWhereItMatters) {
    Analysis analysis = sample_analysis();
    analysis.uncertainty = Uncertainty{0.6, 0.02, 500};
    EXPECT_THAT(in_one_line(told(analysis)), Not(HasSubstr("of it the scan")));
    analysis.uncertainty->gravity_torque_p95_seen_n_m = 0.595;
    EXPECT_THAT(in_one_line(told(analysis)), Not(HasSubstr("of it the scan")));
    analysis.uncertainty->gravity_torque_p95_seen_n_m = 0.55;
    EXPECT_THAT(in_one_line(told(analysis)),
                HasSubstr("of it the scan 0.05 N m for what it did not see; seen all round, under 0.55 N m"));
}

TEST(TextReport, WhatOnlyRoundingLeftIsPrintedAsZero) {
    Assembly assembly = sample_assembly();
    auto body = std::make_shared<body::PreparedBody>(*assembly.items[0].body);
    body->mass.centre = Vec3(0.02, -1.4e-18, 3e-10);
    assembly.items[0].body = body;
    Analysis analysis = sample_analysis();
    analysis.balance.unbalance_kg_m_size = 2e-17;
    analysis.balance.gravity_torque_peak_n_m = 2e-16;
    const std::string text = text_report(assembly, analysis, {});
    EXPECT_THAT(text, HasSubstr("20 mm, 0 mm, 0 mm"));
    EXPECT_THAT(text, HasSubstr("unbalance         0 kg m, as 0 g held"));
    EXPECT_THAT(text, Not(HasSubstr("\n  heavy side ")));
    EXPECT_THAT(text, Not(HasSubstr("e-")));
}

TEST(TextReport, AGapBelowZeroAndAGapBelowKeepAreMarked) {
    const std::string text = told(sample_analysis());
    EXPECT_THAT(text, HasSubstr("goose   close\n"));
    EXPECT_THAT(text, HasSubstr("fork 2  STRIKES\n"));
    EXPECT_THAT(text, HasSubstr("300 mm  goose\n"));
}

TEST(FindingText, SpeaksInTheReadersUnits) {
    const Finding sag{.level = Level::care,
                      .code = Code::rod_sag,
                      .spot = Spot{Vec3(0.3048, 0, 0)},
                      .value = 0.00508,
                      .limit = 0.005};
    EXPECT_THAT(finding_text(sag, sample_assembly(), UnitSystem::metric), HasSubstr("by 5.1 mm at 305 mm."));
    EXPECT_THAT(finding_text(sag, sample_assembly(), UnitSystem::us), HasSubstr("by 0.2 in at 12 in."));
}

TEST(TextReport, TellsStationsFromTheMarkToo) {
    Assembly assembly = sample_assembly();
    assembly.rod.mark_m = 0.025;
    const std::string marked = in_one_line(text_report(assembly, sample_analysis(), {.width = 120}));
    const std::string plain = told(sample_analysis());
    EXPECT_THAT(marked, HasSubstr("strikes drip tray at 500 mm (475 mm past the mark), by 6 mm."));
    EXPECT_THAT(marked, HasSubstr("at station 335 mm (310 mm past the mark)"));
    EXPECT_THAT(marked, HasSubstr("at past mark carries"));
    EXPECT_THAT(marked, HasSubstr("fork 1 190 mm 165 mm 55 %"));
    EXPECT_THAT(marked, HasSubstr("at station past mark part"));
    EXPECT_THAT(marked, HasSubstr("360 mm 335 mm goose"));
    EXPECT_THAT(plain, Not(HasSubstr("mark ")));
}

TEST(FindingText, PlacesOnTheRodAreToldFromTheMarkToo) {
    Assembly assembly = sample_assembly();
    assembly.rod.mark_m = 0.025;
    const auto told_of = [&](const Finding& finding) {
        return finding_text(finding, assembly, UnitSystem::metric);
    };
    EXPECT_THAT(
        told_of({.level = Level::stop,
                 .code = Code::outside_usable,
                 .about = {Thing::Kind::item, 0},
                 .value = 0.0421,
                 .limit = 0.06}),
        HasSubstr("starts at 42 mm, 17 mm past the mark, before the usable stretch of the rod begins at "
                  "60 mm, 35 mm past the mark. Move it 18 mm or more toward the point."));
    EXPECT_THAT(
        told_of(
            {.level = Level::care, .code = Code::one_fork, .about = {Thing::Kind::item, 0}, .value = 0.3}),
        HasSubstr("(at 300 mm, 275 mm past the mark)"));
}

TEST(FindingText, AFigureBesideItsLimitKeepsItsSide) {
    const Assembly assembly = sample_assembly();
    const Finding motor{.level = Level::care,
                        .code = Code::motor_torque,
                        .value = 0.996,
                        .limit = 0.6,
                        .facts = MotorFacts{.torque_n_m = 2.49, .rated_n_m = 2.5}};
    EXPECT_THAT(finding_text(motor, assembly, UnitSystem::metric),
                HasSubstr("2.49 N m at the worst point of a turn, 99.6 % of its rating of 2.5 N m"));
    const Finding gap{.level = Level::care,
                      .code = Code::gap,
                      .about = {Thing::Kind::surface, 0},
                      .value = 0.0498,
                      .limit = 0.05,
                      .facts = GapFacts{.part = {Thing::Kind::item, 0}, .at_m = 0.3}};
    EXPECT_THAT(finding_text(gap, assembly, UnitSystem::metric),
                HasSubstr("by 49.8 mm at 300 mm, less than the 50 mm to keep"));
}

TEST(FindingText, AdvisesACounterweightThatIsEnoughInEitherUnits) {
    EXPECT_EQ(counterweight_text(0.02995, UnitSystem::metric), "300 g or more at 100 mm");
    EXPECT_EQ(counterweight_text(0, UnitSystem::metric), "5 g or more at 100 mm");
    // 0.02995 kg m at 4 in (101.6 mm) are 294.8 g, 10.398 oz.
    EXPECT_EQ(counterweight_text(0.02995, UnitSystem::us), "10 1/2 oz or more at 4 in");
}

}  // namespace
}  // namespace evenspit
