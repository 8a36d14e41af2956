// SPDX-License-Identifier: MIT
#include "report/plan_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "body/bird.h"
#include "plan/effort.h"
#include "plan/loads.h"

namespace evenspit {
namespace {

using test::degree;
using ::testing::_;
using ::testing::Contains;
using ::testing::ContainsRegex;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

/// A joint that is heavy at clock 90°, and the steps that lead from it to another setting.
class Steps : public ::testing::Test {
  protected:
    Assembly before_ = test::load_of(
        test::item_of(test::flesh_body(test::ellipsoid_mesh(0.12, 0.08, 0.08, Vec3::Zero()), 3, "joint"),
                      {.at_m = 0.4, .line = {.from = {0, -0.02}, .to = {0, -0.02}}}));
    Arrangement after_ = arrangement_of(before_);

    [[nodiscard]] std::vector<std::string> steps() const {
        const Assembly after = with_arrangement(before_, after_);
        const Analysis b = analyse(after);
        return answer_steps(
            {.before = before_, .after = after, .analysis_after = b, .kind = plan::PlanKind::everything});
    }
};

TEST_F(Steps, AreNoneForNothing) {
    EXPECT_THAT(steps(), IsEmpty());
    EXPECT_EQ(plan::effort(arrangement_of(before_), after_), 0);
}

TEST_F(Steps, TellTheLineOnce) {
    after_.seats[0].line = {.from = {0.012, -0.008}, .to = {0, 0}};
    EXPECT_THAT(steps(),
                ElementsAre(StartsWith("Push the rod through joint. Measure to the rod's middle, top up")));
    EXPECT_EQ(plan::effort(arrangement_of(before_), after_), 3);
}

TEST_F(Steps, SlideAndTurn) {
    after_.seats[0].at_m = 0.39;
    after_.seats[0].turn_rad = 270 * degree;
    EXPECT_THAT(
        steps(),
        ElementsAre("Turn joint on the rod by 3 hours (90°) clockwise, seen from the point: its top then "
                    "stands at 3 o'clock.",
                    "Slide joint 10 mm toward the drive, to reach from a strip of tape at 270 mm to one "
                    "at 510 mm from the square end."));
}

TEST_F(Steps, TurnEndForEnd) {
    after_.seats[0].facing = Facing::drive;
    EXPECT_THAT(steps(), ElementsAre(HasSubstr("Turn joint end for end")));
}

TEST_F(Steps, MoveAndTurnForks) {
    after_.forks[0].at_m += 0.012;
    after_.forks[0] = turned(after_.forks[0], 90 * degree);
    after_.forks[1].points = Facing::point;
    EXPECT_THAT(
        steps(),
        ElementsAre("Fork 1: put a strip of tape at 290 mm from the square end, 12 mm nearer the point, and "
                    "set the hub there; turn it on the rod by 3 hours (90°) counter-clockwise, seen from "
                    "the point: its tines then stand at 12 o'clock and 6 o'clock. Push the tines in and "
                    "tighten the screw.",
                    "Fork 2: turn it round, tines toward the point. Push the tines in and tighten the "
                    "screw."));
    EXPECT_EQ(plan::effort(arrangement_of(before_), after_), 3);
}

TEST_F(Steps, ExchangeCounterweights) {
    before_.counterweights = {{0.1, 0.3, 0.07, 1, 0.04}};
    after_.counterweights = {{0.65, 0.2, 0.085, 210 * degree, 0.035}};
    EXPECT_THAT(
        steps(),
        ElementsAre("Take counterweight 1 (300 g at 100 mm) off.",
                    StartsWith("Roll the load before the fire is lit, and set counterweights last"),
                    "Clamp a counterweight of 200 g at a strip of tape 650 mm from the square end, its "
                    "middle 85 mm from the rod's middle, at 8 o'clock (210°)."));
    EXPECT_EQ(plan::effort(arrangement_of(before_), after_), 2.5);
    after_.counterweights = before_.counterweights;
    EXPECT_THAT(steps(), IsEmpty());
}

TEST_F(Steps, GoInTheOrderOfHands) {
    before_.counterweights = {{0.1, 0.3, 0.07, 1, 0.04}};
    after_.counterweights = {{0.65, 0.2, 0.085, 210 * degree, 0.035}, {0.1, 0.2, 0.085, 0, 0.035}};
    after_.forks[1] = turned(after_.forks[1], 90 * degree);
    after_.seats[0] = {.at_m = 0.39,
                       .facing = Facing::drive,
                       .turn_rad = 60 * degree,
                       .line = {.from = {0, 0.01}, .to = {0, 0.01}}};
    EXPECT_THAT(
        steps(),
        ElementsAre(StartsWith("Take counterweight 1"), StartsWith("Turn joint end for end"),
                    StartsWith("Push the rod through joint"), StartsWith("Turn joint on the rod"),
                    StartsWith("Slide joint"), StartsWith("Fork 2"), StartsWith("Roll the load"),
                    HasSubstr("650 mm from the square end"), HasSubstr("100 mm from the square end")));
}

TEST(StepsOfABird, TellWhereTheBreastEnds) {
    const Assembly before = test::load_of(test::item_of(
        body::make_bird({.species = "turkey", .mass_kg = 5.9, .spacing_m = 0.014}), {.at_m = 0.4}));
    Arrangement setting = arrangement_of(before);
    setting.seats[0].line = {.from = {0, 0.01}, .to = {0, 0.01}};
    setting.seats[0].turn_rad = 45 * degree;
    const Assembly after = with_arrangement(before, setting);
    const Analysis b = analyse(after);
    const auto steps =
        answer_steps({.before = before, .after = after, .analysis_after = b, .kind = plan::PlanKind::line});
    EXPECT_THAT(steps, ElementsAre(HasSubstr("in at the vent"),
                                   "Turn turkey on the rod by 1 1/2 hours (45°) counter-clockwise, seen from "
                                   "the point: its breast then stands at half past 10."));
}

TEST(Why, IsToldOfEachAnswer) {
    const Assembly load = test::load_of(
        test::item_of(test::flesh_body(test::ellipsoid_mesh(0.12, 0.09, 0.09, {0, 0.017, -0.024}), 4, "ball"),
                      {.at_m = 0.4}));
    const plan::Plan plan = plan::make_plan(load);
    EXPECT_THAT(answer_why(load, plan, 0, UnitSystem::metric),
                HasSubstr("As it stands the heavy side pulls"));
    EXPECT_THAT(answer_steps(load, plan, 0, UnitSystem::metric), IsEmpty());
    EXPECT_THAT(answer_steps(load, plan, 1, UnitSystem::metric),
                Contains(HasSubstr("Push the rod through ball")));
    EXPECT_THAT(answer_steps(load, plan, 1, UnitSystem::us),
                Contains(ContainsRegex("[0-9] in below the top")));
}

TEST_F(Steps, TellStationsFromTheMarkToo) {
    before_.rod.mark_m = 0.04;
    before_.forks.push_back(test::two_tine(0.278, Facing::point));
    after_ = arrangement_of(before_);
    after_.forks[0].at_m = 0.29;
    after_.seats[0].at_m = 0.39;
    EXPECT_THAT(
        steps(),
        ElementsAre(HasSubstr("to reach from a strip of tape at 270 mm (230 mm past the mark) to one at "
                              "510 mm from the square end (470 mm past the mark)."),
                    StartsWith("Fork 1: put a strip of tape at 290 mm from the square end (250 mm past "
                               "the mark), 12 mm nearer the point, and set the hub there.")));
}

// A weight from the cook's stock is known by what it weighs.
TEST_F(Steps, TellAStockWeightByItsOwnMassAndAnIdealOneByWhatOneCanSet) {
    after_.counterweights.push_back({.at_m = 0.65, .mass_kg = 0.227, .radius_m = 0.085});
    EXPECT_THAT(steps(), ElementsAre(_, HasSubstr("a counterweight of 225 g")));
    before_.stock.push_back({.mass_kg = 0.227});
    EXPECT_THAT(steps(), ElementsAre(_, HasSubstr("a counterweight of 227 g")));
}

TEST(LimitText, TellsWhatBindsAndWhatWouldLiftIt) {
    Assembly load = test::load_of(test::item_of(
        test::flesh_body(test::ellipsoid_mesh(0.12, 0.09, 0.09, Vec3::Zero()), 4, "ball"), {.at_m = 0.4}));
    load.cooker.surfaces = {{"bed", PlaneShape{Vec3(0, 0, -0.1), Vec3::UnitZ()}, false, {}, 0.02}};
    const auto told = [&](const plan::PlanLimit& limit) {
        return limit_text(limit, load, UnitSystem::metric);
    };
    EXPECT_EQ(
        told(plan::MotorLimit{.torque_n_m = 3, .rating_needed_n_m = 5, .excess_kg_m = 0.1}),
        "The motor is too weak: the peak needs 3 N m. What would help: a motor rated 5 N m or more, or a "
        "counterweight opposite: 1 kg or more at 100 mm.");
    plan::RoomLimit room{.part = {Thing::Kind::item, 0}, .strikes = {{0, 0.012}}, .body_kg = 3.2};
    EXPECT_EQ(told(room),
              "There is too little room in the cooker: ball strikes bed by 12 mm. What would help: a body of "
              "about 3.2 kg, or a cooker with so much more room.");
    room.loose = true;
    EXPECT_THAT(told(room),
                HasSubstr("What would help: tying it tight, a body of about 3.2 kg, or a cooker"));
    room = {.part = {Thing::Kind::fork, 1}, .strikes = {{0, 0.012}}};
    EXPECT_THAT(told(room),
                HasSubstr("fork 2 strikes bed by 12 mm. What would help: something that reaches less far"));
    EXPECT_THAT(told(plan::StrengthLimit{1.6, 0.012}),
                HasSubstr("a rod 12 mm wide, or a load of 62 % of this weight"));
    EXPECT_THAT(told(plan::HoldLimit{.why = plan::HoldLimit::Why::no_flesh}),
                HasSubstr("The forks of ball find no flesh"));
    EXPECT_THAT(
        told(plan::HoldLimit{.why = plan::HoldLimit::Why::torque, .torque_use = 1.5, .times_longer = 3}),
        HasSubstr("it pulls 150 % of what they hold. What would help: tines 3.0 times as long"));
    EXPECT_THAT(told(plan::LengthLimit{0.2, 0.2399}), HasSubstr("a body shorter by 40 mm"));
    EXPECT_THAT(told(Finding{.level = Level::stop, .code = Code::no_fork, .about = {Thing::Kind::item, 0}}),
                HasSubstr("No fork enters ball"));
}

}  // namespace
}  // namespace evenspit
