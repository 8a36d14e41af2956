// SPDX-License-Identifier: MIT
#include "plan/compare.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "plan/loads.h"
#include "units/error.h"

namespace evenspit::plan {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

std::string complaint(std::string_view sweep) {
    try {
        parse_sweep(sweep);
    } catch (const InputError& error) {
        return error.what();
    }
    return "none";
}

TEST(ParseSweep, CountsInTheUnitGiven) {
    const Sweep sweep = parse_sweep("fork.1.at=150mm:250mm:50mm");
    EXPECT_THAT(sweep.path, ElementsAre("fork", "1", "at"));
    EXPECT_EQ(sweep.key, "fork.1.at");
    EXPECT_THAT(sweep.labels, ElementsAre("150 mm", "200 mm", "250 mm"));
    EXPECT_THAT(sweep.values, ElementsAre("\"150 mm\"", "\"200 mm\"", "\"250 mm\""));
    EXPECT_THAT(sweep.numbers, ElementsAre(150, 200, 250));
    EXPECT_EQ(sweep.unit, "mm");
}

TEST(ParseSweep, TakesTheUnitFromAnyOfTheThree) {
    EXPECT_THAT(parse_sweep("item.1.turn=0:90:45 deg").labels, ElementsAre("0 deg", "45 deg", "90 deg"));
    EXPECT_THAT(parse_sweep("item[1].mass = 4 kg : 5 : 0.5").labels, ElementsAre("4 kg", "4.5 kg", "5 kg"));
}

TEST(ParseSweep, WritesPlainNumbersWithoutQuotes) {
    EXPECT_THAT(parse_sweep("motor.support_friction=0.1:0.3:0.1").values, ElementsAre("0.1", "0.2", "0.3"));
}

TEST(ParseSweep, GoesDownToo) {
    EXPECT_THAT(parse_sweep("a=3:1:-1").numbers, ElementsAre(3, 2, 1));
    EXPECT_THAT(parse_sweep("a=2:2:1").numbers, ElementsAre(2));
}

TEST(ParseSweep, StopsBeforeAnEndThatIsNoWholeStepAway) {
    EXPECT_THAT(parse_sweep("a=0:10:4").numbers, ElementsAre(0, 4, 8));
}

TEST(ParseSweep, SaysWhatIsWrong) {
    EXPECT_THAT(complaint("fork.1.at"), HasSubstr("expected a key and its values"));
    EXPECT_THAT(complaint("=1:2:3"), HasSubstr("expected a key and its values"));
    EXPECT_THAT(complaint("a=1:2"), HasSubstr("expected three values"));
    EXPECT_THAT(complaint("a=1:2:3:4"), HasSubstr("expected three values"));
    EXPECT_THAT(complaint("a=1mm:x:3"), HasSubstr("found 'x'"));
    EXPECT_THAT(complaint("a=1mm:2in:3"), HasSubstr("expected one unit"));
    EXPECT_THAT(complaint("a=1:2:-1"), HasSubstr("a step that leads"));
    EXPECT_THAT(complaint("a=1:2:0"), HasSubstr("a step that leads"));
    EXPECT_THAT(complaint("a=1:nan:1"), HasSubstr("found 'nan'"));
    EXPECT_THAT(complaint("a=0:1:0.0001"), HasSubstr("expected at most 1000"));
    EXPECT_THAT(complaint("a..b=1:2:1"), HasSubstr("expected a key such as"));
}

ComparedLoad load_off_by(double offset_m) {
    ComparedLoad load;
    load.assembly = test::load_of(test::item_of(
        test::flesh_body(test::ellipsoid_mesh(0.12, 0.09, 0.09, {0, offset_m, 0}), 3), {.at_m = 0.4}));
    load.analysis = analyse(load.assembly);
    return load;
}

const ComparedFigure& figure(const std::vector<ComparedFigure>& figures, std::string_view key) {
    return *std::find_if(figures.begin(), figures.end(),
                         [key](const ComparedFigure& f) { return f.key == key; });
}

TEST(ComparedFigures, MarkTheBetterOfWhatDiffers) {
    const std::vector<ComparedFigure> figures = compared_figures({load_off_by(0.02), load_off_by(0.01)});
    const ComparedFigure& torque = figure(figures, "gravity_torque_peak_n_m");
    EXPECT_TRUE(torque.differs);
    EXPECT_THAT(torque.best, ElementsAre(false, true));
    EXPECT_NEAR(*torque.values[0], 2 * *torque.values[1], 1e-3);
    const ComparedFigure& mass = figure(figures, "mass_kg");
    EXPECT_FALSE(mass.differs);
    EXPECT_THAT(mass.best, ElementsAre(false, false));
}

// What differs by less than a thousandth of the largest is the same to a cook.
TEST(ComparedFigures, DifferByMoreThanAThousandth) {
    ComparedLoad load = load_off_by(0.01);
    const auto gaps = [&load](std::vector<double> gaps_m) {
        std::vector<ComparedLoad> loads;
        for (const double gap_m : gaps_m) {
            load.analysis.clearance.gap_min_m = gap_m;
            loads.push_back(load);
        }
        return figure(compared_figures(loads), "gap_min_m");
    };
    EXPECT_FALSE(gaps({0.1, 0.099901}).differs);
    EXPECT_THAT(gaps({0.1, 0.099901}).best, ElementsAre(false, false));
    EXPECT_TRUE(gaps({0.1, 0.099899}).differs);
    EXPECT_THAT(gaps({0.1, 0.099899}).best, ElementsAre(true, false));
    EXPECT_THAT(gaps({0.1, 0.099901, 0.05}).best, ElementsAre(true, true, false))
        << "two as good as each other";
    EXPECT_THAT(gaps({0.1, 0.099899, 0.05}).best, ElementsAre(true, false, false));
    EXPECT_TRUE(gaps({-0.1, -0.099899}).differs) << "of the largest size, not of the largest number";
    EXPECT_FALSE(gaps({-0.1, -0.099901}).differs);
}

TEST(ComparedFigures, KnowThatMoreGapIsBetter) {
    ComparedLoad near = load_off_by(0.01), far = near, open = near;
    near.analysis.clearance.gap_min_m = 0.01;
    far.analysis.clearance.gap_min_m = 0.05;
    const ComparedFigure gap = figure(compared_figures({near, far, open}), "gap_min_m");
    EXPECT_THAT(gap.best, ElementsAre(false, true, false));
    EXPECT_FALSE(gap.values[2]) << "not known is neither better nor worse";
}

}  // namespace
}  // namespace evenspit::plan
