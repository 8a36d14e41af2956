// SPDX-License-Identifier: MIT
#include "analysis/place_findings.h"

#include <algorithm>

#include <Eigen/Geometry>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/grip.h"
#include "loads.h"
#include "support/said.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::degree;
using test::flesh;
using test::good_load;
using test::said;
using test::Said;
using test::two_tines;
using ::testing::AllOf;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::Field;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

std::vector<Said> found(const Assembly& a) {
    const std::vector<ItemOnRod> placed = items_on_rod(a);
    return said(place_findings(a, placed, grip(a, items_on_rod(a))), a);
}

std::vector<Said> of_level(const Assembly& a, Level level) {
    std::vector<Said> kept;
    for (Said& f : found(a)) {
        if (f.level == level) kept.push_back(std::move(f));
    }
    return kept;
}

/// What the findings of a level say.
std::vector<std::string> told(const Assembly& a, Level level) {
    std::vector<std::string> messages;
    for (const Said& f : of_level(a, level)) messages.push_back(f.message);
    return messages;
}

/// The one finding of a level; a failure if there are none or several.
Said only(const Assembly& a, Level level) {
    const std::vector<Said> kept = of_level(a, level);
    EXPECT_EQ(kept.size(), 1U);
    for (std::size_t i = 1; i < kept.size(); ++i) ADD_FAILURE() << kept[i].message;
    if (kept.empty()) return {};
    EXPECT_EQ(kept[0].topic, "place");
    return kept[0];
}

/// What is said of things in one place; here the rod may well pass beside them.
std::vector<std::string> told_in_one_place(const Assembly& a) {
    std::vector<std::string> messages;
    for (const Said& f : found(a)) {
        if (f.code == Code::one_place) messages.push_back(f.message);
    }
    return messages;
}

TriangleMesh block() {
    return box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05});
}

Counterweight weight(double at_m, double clock_deg = 90, double radius_m = 0.08) {
    return {.at_m = at_m,
            .mass_kg = 0.3,
            .radius_m = radius_m,
            .clock_rad = clock_deg * degree,
            .diameter_m = 0.04};
}

}  // namespace

TEST(Places, AGoodLoadHasNothingWrong) {
    EXPECT_THAT(told(good_load(), Level::stop), IsEmpty());
    EXPECT_THAT(told(good_load(), Level::care), IsEmpty());
}

TEST(Places, AnItemMustLieWithinTheUsableStretch) {
    Assembly a = good_load();
    a.rod.usable_m = {0.2, 0.5};
    a.items = {test::item("roast", flesh(block()), 0.34)};
    EXPECT_THAT(told(a, Level::stop), IsEmpty());

    a.rod.usable_m = {0.25, 0.5};
    a.forks.clear();
    Said f = only(a, Level::stop);
    EXPECT_THAT(f.message,
                HasSubstr("roast starts at 240 mm, before the usable stretch of the rod begins at 250 mm"));
    EXPECT_THAT(f.message, HasSubstr("Move it 10 mm or more toward the point"));
    EXPECT_NEAR(f.value.value(), 0.24, 1e-12);
    EXPECT_NEAR(f.limit.value(), 0.25, 1e-12);
    EXPECT_EQ(f.unit, "m");

    a.rod.usable_m = {0.1, 0.42};
    f = only(a, Level::stop);
    EXPECT_THAT(f.message,
                HasSubstr("roast reaches to 440 mm, past the end of the usable stretch at 420 mm"));
    EXPECT_THAT(f.message, HasSubstr("Move it 20 mm or more toward the drive"));
    EXPECT_NEAR(f.value.value(), 0.44, 1e-12);
    EXPECT_NEAR(f.limit.value(), 0.42, 1e-12);
}

TEST(Places, TheEndsOfTheUsableStretchBelongToIt) {
    Assembly a = good_load();
    a.forks.clear();
    a.rod.usable_m = {a.items[0].seat.at_m - 0.1, a.items[0].seat.at_m + 0.1};
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
}

TEST(Places, AForkMustLieWithinItFromHubToTip) {
    Assembly a = good_load();
    a.rod.usable_m = {0.235, 0.6};
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("Fork 1 starts at 230 mm"));
    // Tines that point to the drive may reach out at the other end.
    a = good_load();
    a.forks.push_back(two_tines(0.12, Facing::drive, 0.07, 0.03, 90 * degree));
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("Fork 3 starts at 50 mm"));
    a.forks.back() = two_tines(0.58, Facing::point, 0.07, 0.03, 90 * degree);
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("Fork 3 reaches to 650 mm"));
}

TEST(Places, ACounterweightMustLieWithinItAtItsFullWidth) {
    Assembly a = good_load();
    a.counterweights = {weight(0.085)};
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
    a.counterweights = {weight(0.075)};
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("Counterweight 1 starts at 55 mm"));
    a.counterweights = {weight(0.610)};
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("Counterweight 1 reaches to 630 mm"));
}

TEST(Places, TwoItemsCannotBeInOnePlace) {
    Assembly a = good_load();
    a.forks.clear();
    a.rod.usable_m = {0.06, 0.7};
    a.items.push_back(test::item("other", flesh(block()), 0.50));
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("roast and other are in one place, at 400 mm"));
    // Meat gives way a little where two are pressed together.
    a.items[1].pose.translation().x() = 0.536;
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
    a.items[1].pose.translation().x() = 0.534;
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("in one place"));
}

TEST(Places, TwoItemsBesideEachOtherDoNotMeet) {
    Assembly a = good_load();
    a.forks.clear();
    a.items = {test::item("one", flesh(box_mesh({-0.1, 0.01, -0.05}, {0.1, 0.06, 0.05})), 0.34),
               test::item("other", flesh(box_mesh({-0.1, -0.06, -0.05}, {0.1, -0.01, 0.05})), 0.34)};
    EXPECT_THAT(told_in_one_place(a), IsEmpty());
}

// Neither has a corner in the other, and the axis passes beside both.
TEST(Places, TwoCrossedBarsMeet) {
    Assembly a = good_load();
    a.forks.clear();
    a.items = {test::item("one", flesh(box_mesh({-0.1, 0.02, -0.01}, {0.1, 0.04, 0.01})), 0.34),
               test::item("other", flesh(box_mesh({-0.01, 0.01, -0.1}, {0.01, 0.05, 0.1})), 0.34)};
    EXPECT_THAT(told_in_one_place(a), ElementsAre(HasSubstr("one and other are in one place")));
}

// One wholly within the other, without a crossing of skins.
TEST(Places, AnItemInsideAnotherMeetsIt) {
    Assembly a = good_load();
    a.forks.clear();
    a.items.push_back(test::item("egg", flesh(test::ellipsoid_mesh(0.02, 0.01, 0.01, {0, 0.03, 0})), 0.34));
    EXPECT_THAT(told_in_one_place(a), ElementsAre(HasSubstr("roast and egg")));
}

TEST(Places, AHubCannotSitInTheMeat) {
    Assembly a = good_load();
    a.forks[0].at_m = 0.244;  // pressed against it
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
    a.forks[0].at_m = 0.252;
    const Said f = only(a, Level::stop);
    EXPECT_THAT(f.message, HasSubstr("The hub of fork 1 at 252 mm would sit inside roast, 12 mm deep"));
    EXPECT_NEAR(f.value.value(), 0.012, 1e-9);
    EXPECT_EQ(f.limit.value(), 0.010);
}

TEST(Places, AHubMayBePressedTenMillimetresIn) {
    Assembly a = good_load();
    a.forks[0].at_m = 0.2449;
    EXPECT_THAT(found(a), Not(Contains(Field(&Said::code, Code::hub_in_meat))));
    for (const double at_m : {0.2451, 0.2499}) {
        a.forks[0].at_m = at_m;
        EXPECT_THAT(found(a),
                    Contains(AllOf(Field(&Said::code, Code::hub_in_meat), Field(&Said::level, Level::ready),
                                   Field(&Said::message, HasSubstr("is pressed into roast")))));
    }
    a.forks[0].at_m = 0.2501;
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("The hub of fork 1"));
}

// Meat gives way by 5 mm before it counts as being in the way.
TEST(Places, MeatGivesWayByFiveMillimetres) {
    Assembly a;

    a = good_load();
    a.forks.clear();
    a.rod.usable_m = {0.06, 0.7};
    a.items.push_back(test::item("other", flesh(block()), 0.5351));
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
    a.items[1] = test::item("other", flesh(block()), 0.5349);
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("roast and other are in one place"));

    // The arm of a counterweight whose disc is clear of the meat.
    a = good_load();
    a.forks.clear();
    a.counterweights = {weight(0.2449)};
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
    a.counterweights = {weight(0.2451)};
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("counterweight 1 and roast"));
}

// Two runs of meat on the rod's axis with less than 5 mm between them are one; the hub sits in the whole of
// it.
TEST(Places, AGapThatMeatClosesIsNone) {
    const auto depth_behind_gap = [](double gap_m) {
        Assembly a = good_load();
        body::Body body = flesh(box_mesh({0, -0.05, -0.05}, {0.1, 0.05, 0.05}));
        body = test::with_part(body, body::PartKind::flesh,
                               box_mesh({-0.1, -0.05, -0.05}, {-gap_m, 0.05, 0.05}), 1000, -1);
        a.items = {test::item("roast", body, 0.34)};
        a.forks.pop_back();
        a.forks[0].at_m = 0.360;  // 20 mm into the second run, 120 mm into both
        return only(a, Level::stop).value.value();
    };
    EXPECT_NEAR(depth_behind_gap(0.0049), 0.080, 1e-9) << "one run of 200 mm, 80 mm from its far end";
    EXPECT_NEAR(depth_behind_gap(0.0051), 0.020, 1e-9) << "a run of its own";
}

// The cavity is open toward the fork: its hub may not go in there either.
TEST(Places, AHubCannotSitInACavity) {
    Assembly a = good_load();
    body::Body body = flesh(block());
    body = test::with_part(body, body::PartKind::cavity, box_mesh({-0.08, -0.02, -0.02}, {0.06, 0.02, 0.02}),
                           0, 0);
    a.items = {test::item("roast", body, 0.34)};
    a.forks[0].at_m = 0.30;
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("would sit inside roast, 60 mm deep"));
}

TEST(Places, ACavityAndTheMeatBehindItAreOne) {
    Assembly a = good_load();
    // Open toward the fork: its opening is where the roast begins.
    const body::Body body =
        test::with_part(flesh(box_mesh({-0.04, -0.05, -0.05}, {0.1, 0.05, 0.05})), body::PartKind::cavity,
                        box_mesh({-0.1, -0.02, -0.02}, {-0.04, 0.02, 0.02}), 0, -1);
    a.items = {test::item("roast", body, 0.34)};
    a.forks[0].at_m = 0.297;
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("would sit inside roast, 57 mm deep"));
}

TEST(Places, TwoHubsNeedTheirWidth) {
    Assembly a = good_load();
    a.forks.push_back(two_tines(0.225, Facing::point, 0.075, 0.03, 90 * degree));
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("fork 1 and fork 3 are in one place, at 230 mm"));
    for (const double side_by_side : {0.220, 0.240}) {
        a.forks[2].at_m = side_by_side;
        EXPECT_THAT(told(a, Level::stop), IsEmpty()) << side_by_side;
    }
}

TEST(Places, TinesCannotRunIntoEachOther) {
    Assembly a = good_load();
    for (Fork& fork : a.forks) {
        for (Tine& tine : fork.tines) tine.length_m = 0.12;  // tips at 0.35 and 0.33
    }
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("fork 1 and fork 2 are in one place"));
    // A quarter turn of one fork lets them pass.
    for (Tine& tine : a.forks[1].tines) tine.clock_rad += 90 * degree;
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
}

TEST(Places, ACounterweightCannotTouchAnItem) {
    Assembly a = good_load();
    a.forks.clear();
    a.counterweights = {weight(0.24)};  // 30 mm above the meat's skin, but its arm goes through it
    EXPECT_THAT(told(a, Level::stop), IsEmpty()) << "the arm stands at the very end of the meat";
    a.counterweights = {weight(0.26)};
    EXPECT_THAT(only(a, Level::stop).message,
                HasSubstr("counterweight 1 and roast are in one place, at 260 mm"));
    a.counterweights = {weight(0.23, 90, 0.04)};  // reaches to 0.25 within the meat's height
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("counterweight 1 and roast"));
    a.counterweights = {weight(0.2)};
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
}

TEST(Places, ACounterweightCannotTouchAFork) {
    Assembly a = good_load();
    a.counterweights = {weight(0.225)};
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("fork 1 and counterweight 1 are in one place"));
    a.counterweights = {weight(0.215)};
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
    // A long tine past the weight, at its clock and radius.
    a.forks[0] = two_tines(0.10, Facing::point, 0.20, 0.03, 90 * degree);
    a.counterweights = {weight(0.18, 90, 0.04)};
    EXPECT_THAT(only(a, Level::stop).message, HasSubstr("fork 1 and counterweight 1"));
    a.counterweights = {weight(0.18, 0, 0.04)};
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
}

TEST(Places, TwoCounterweightsCannotTouch) {
    Assembly a = good_load();
    a.counterweights = {weight(0.10), weight(0.13)};
    EXPECT_THAT(only(a, Level::stop).message,
                HasSubstr("counterweight 1 and counterweight 2 are in one place"));
    a.counterweights = {weight(0.10), weight(0.145)};
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
    a.counterweights = {weight(0.10, 90), weight(0.13, 270)};
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
}

TEST(Places, OneForkAloneWantsASecond) {
    Assembly a = good_load();
    a.forks.pop_back();
    const Said f = only(a, Level::care);
    EXPECT_THAT(f.message, HasSubstr("One fork alone holds roast"));
    EXPECT_NEAR(f.value.value(), 0.34, 1e-12);
    EXPECT_FALSE(f.limit);
}

TEST(Places, TheCentreOfMassBelongsBetweenTheForks) {
    Assembly a = good_load();
    a.forks[1] = two_tines(0.210, Facing::point, 0.090, 0.03, 90 * degree);
    Said f = only(a, Level::care);
    EXPECT_THAT(
        f.message,
        HasSubstr("The centre of mass of roast (at 340 mm) is not between its forks (at 210 mm and 230 mm)"));
    EXPECT_NEAR(f.value.value(), 0.34, 1e-12);
    EXPECT_NEAR(f.limit.value(), 0.23, 1e-12);

    a = good_load();
    a.forks[0] = two_tines(0.470, Facing::drive, 0.090, 0.03, 90 * degree);
    f = only(a, Level::care);
    EXPECT_NEAR(f.limit.value(), 0.45, 1e-12);
}

TEST(Places, WithoutForksIsForGripToTell) {
    Assembly a = good_load();
    a.forks.clear();
    EXPECT_THAT(told(a, Level::care), IsEmpty());
    EXPECT_THAT(told(a, Level::stop), IsEmpty());
}

TEST(Places, BoneInTheRodsWayWantsCare) {
    Assembly a = good_load();
    // 60 mm of bone, 5 mm off the axis: the rod's edges are half a diagonal off, 5.66 mm.
    const auto with_bone = [](double off_m) {
        body::Body body =
            test::with_part(flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), body::PartKind::bone,
                            box_mesh({-0.02, off_m, -0.01}, {0.04, off_m + 0.01, 0.01}), 1300, 0);
        body.parts.back().name = "femur";
        return body;
    };
    a.items[0] = test::item("leg", with_bone(0.005), 0.34);
    const Said f = only(a, Level::care);
    EXPECT_THAT(f.message, HasSubstr("The rod meets 60 mm of bone in leg (femur)"));
    EXPECT_THAT(f.message, HasSubstr("until it passes beside"));
    EXPECT_NEAR(f.value.value(), 0.06, 1e-9);
    a.items[0] = test::item("leg", with_bone(0.006), 0.34);
    EXPECT_THAT(told(a, Level::care), IsEmpty());
    // Seen in the item's frame, wherever that lies on the rod.
    a.items[0] = test::item("leg", with_bone(0.006), 0.34, Vec2(-0.002, 0));
    EXPECT_THAT(only(a, Level::care).message, HasSubstr("(femur)"));
}

TEST(Places, ALoadNearTheDriveIsHintedAt) {
    Assembly a = good_load();
    a.rod.usable_m = {0.06, 0.621};  // middle 0.3405
    const Said f = only(a, Level::ready);
    EXPECT_THAT(f.message, HasSubstr("nearer the drive than the middle"));
    EXPECT_NEAR(f.value.value(), 0.34, 1e-12);
    EXPECT_NEAR(f.limit.value(), 0.3405, 1e-12);
    a.rod.usable_m = {0.06, 0.619};
    EXPECT_THAT(told(a, Level::ready), IsEmpty());
}

TEST(Places, AFarForkFromAboveAndBelowABirdIsHintedAt) {
    Assembly a = good_load();
    a.rod.usable_m = {0.06, 0.6};
    a.items[0].bird = true;
    EXPECT_THAT(told(a, Level::ready), IsEmpty()) << "it enters from the sides";
    for (Tine& tine : a.forks[1].tines) tine.clock_rad += 90 * degree;
    EXPECT_THAT(only(a, Level::ready).message, HasSubstr("Fork 2 enters roast from above and below"));
    a.forks[1].points = Facing::point;
    EXPECT_THAT(told(a, Level::ready), IsEmpty()) << "it does not enter from there";
    a.forks[1].points = Facing::drive;
    // What counts is the bird's own up: turn it with the fork.
    a.items[0].pose = a.items[0].pose * Eigen::AngleAxisd(90 * degree, Vec3::UnitX());
    EXPECT_THAT(told(a, Level::ready), IsEmpty());
    a.items[0].bird = false;
    a.items[0].pose = good_load().items[0].pose;
    EXPECT_THAT(told(a, Level::ready), IsEmpty());
}

TEST(Places, InARowOfBirdsEachForkIsHintedAtForItsOwn) {
    Assembly a = good_load();
    a.items[0].bird = true;
    // A second one 250 mm further on, with forks of its own, turned a quarter on the rod.
    Item second = test::item("second", a.items[0].body->body, 0.59);
    second.bird = true;
    second.pose = second.pose * Eigen::AngleAxisd(90 * degree, Vec3::UnitX());
    a.items.push_back(second);
    a.rod.usable_m = {0.06, 0.75};
    a.forks.push_back(test::two_tines(0.48, Facing::point, 0.07));
    // From the second bird's sides, though above and below the first.
    a.forks.push_back(test::two_tines(0.70, Facing::drive, 0.07, 0.03, 90 * degree));
    EXPECT_THAT(told(a, Level::ready), IsEmpty());
    for (Tine& tine : a.forks[3].tines) tine.clock_rad += 90 * degree;
    EXPECT_THAT(only(a, Level::ready).message, HasSubstr("Fork 4 enters second from above and below"));
}

}  // namespace evenspit
