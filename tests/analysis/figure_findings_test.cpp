// SPDX-License-Identifier: MIT
#include "analysis/figure_findings.h"

#include <cmath>
#include <limits>

#include <Eigen/Geometry>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "loads.h"
#include "support/said.h"

namespace evenspit {
namespace {

using test::degree;
using test::flesh;
using test::said;
using test::Said;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

double just_below(double x) {
    return std::nextafter(x, -std::numeric_limits<double>::infinity());
}
double just_above(double x) {
    return std::nextafter(x, std::numeric_limits<double>::infinity());
}

/// A load and results in which everything is in order, to be made worse one figure at a time.
struct Told {
    Assembly load = test::good_load();
    Analysis results;

    Told() {
        load.cooker.surfaces.resize(1);
        load.cooker.surfaces[0].name = "lid";
        load.forks.resize(1);
        load.forks[0].tines.resize(2);
        Balance& b = results.balance;
        b.rated_torque_n_m = load.motor.rated_torque_n_m;
        b.friction_torque_n_m = 0.3;
        set_unbalance(0.01);
        results.turning = {.stalls = false,
                           .overruns = false,
                           .overrun_share = 0,
                           .speed_mean_rad_s = 0.3,
                           .speed_min_rad_s = 0.29,
                           .speed_max_rad_s = 0.31,
                           .irregularity = 0.07};
        results.rod = {.reactions_n = {10, 12},
                       .sag_max_m = 0.001,
                       .sag_at_m = 0.34,
                       .stress_max_pa = 42e6,
                       .stress_at_m = 0.31,
                       .yield_use = 0.2,
                       .youngs_modulus_pa = 200e9,
                       .yield_strength_pa = 210e6,
                       .sag = {},
                       .moment = {}};
        results.grip.forks = {
            {.at_m = 0.23,
             .tines = {
                 {.item = 0, .embedded_m = 0.06, .in_bone_m = 0, .in_cavity_m = 0, .cover_min_m = 0.02}}}};
        results.grip.items = {{.forks = {0},
                               .gravity_torque_n_m = 0.1,
                               .torque_capacity_n_m = 0.8,
                               .torque_capacity_raw_n_m = 1.6,
                               .torque_use = 0.125}};
        results.clearance.surfaces = {
            {.name = "lid", .gap_m = 0.06, .keep_m = 0.025, .at_m = 0.4, .part = {Thing::Kind::item, 0}}};
    }

    void set_unbalance(double kg_m, double clock_rad = 135 * degree) {
        Balance& b = results.balance;
        b.unbalance_kg_m_size = kg_m;
        b.heavy_side_rad = clock_rad;
        b.gravity_torque_peak_n_m = standard_gravity * kg_m;
        b.motor_torque_peak_n_m = b.gravity_torque_peak_n_m + b.friction_torque_n_m;
        b.motor_use = b.motor_torque_peak_n_m / b.rated_torque_n_m;
    }

    std::vector<Said> findings() const { return said(figure_findings(load, results), load); }

    std::vector<Said> findings(std::string_view topic) const {
        std::vector<Said> kept;
        for (Said& f : findings()) {
            if (f.topic == topic) kept.push_back(std::move(f));
        }
        return kept;
    }

    /// The one finding of a topic; a failure if there are none or several.
    Said only(std::string_view topic) const {
        const std::vector<Said> kept = findings(topic);
        EXPECT_EQ(kept.size(), 1U) << topic;
        for (std::size_t i = 1; i < kept.size(); ++i) ADD_FAILURE() << kept[i].message;
        return kept.empty() ? Said{} : kept[0];
    }
};

void expect_figures(const Said& f, double value, double limit, const std::string& unit) {
    ASSERT_TRUE(f.value);
    ASSERT_TRUE(f.limit);
    EXPECT_DOUBLE_EQ(*f.value, value);
    EXPECT_DOUBLE_EQ(*f.limit, limit);
    EXPECT_EQ(f.unit, unit);
}

}  // namespace

TEST(Findings, EachQuestionInOrderIsToldOnceWithItsMargin) {
    const std::vector<Said> all = Told().findings();
    ASSERT_EQ(all.size(), 4U);
    for (const Said& f : all) {
        EXPECT_EQ(f.level, Level::ready) << f.message;
        EXPECT_TRUE(f.value && f.limit) << f.message;
        EXPECT_EQ(f.message.back(), '.') << f.message;
    }
    const Told t;
    EXPECT_EQ(t.only("motor").message,
              "The motor must give 0.4 N m at the worst point of a turn, 16 % of its rating of 2.5 N m.");
    EXPECT_EQ(t.only("rod").message,
              "The rod is stressed to 42 MPa at 310 mm, 20 % of what it bears at 20 °C.");
    EXPECT_EQ(t.only("clearance").message, "roast clears lid by 60 mm at 400 mm.");
    EXPECT_THAT(
        t.only("grip").message,
        HasSubstr("The forks hold roast against 0.8 N m; roast pulls with up to 0.1 N m, 12 % of it."));
}

TEST(Findings, MotorUseHasItsLimits) {
    Told t;
    const auto level = [&](double use) {
        t.results.balance.motor_use = use;
        return t.only("motor").level;
    };
    EXPECT_EQ(level(0), Level::ready);
    EXPECT_EQ(level(just_below(0.6)), Level::ready);
    EXPECT_EQ(level(0.6), Level::care);
    EXPECT_EQ(level(just_below(1)), Level::care);
    EXPECT_EQ(level(1), Level::stop);
    EXPECT_EQ(level(7), Level::stop);
    t.results.balance.motor_use = 0.3;
    expect_figures(t.only("motor"), 0.3, 0.6, "1");
    t.results.balance.motor_use = 0.7;
    expect_figures(t.only("motor"), 0.7, 0.6, "1");
    t.results.balance.motor_use = 1.2;
    expect_figures(t.only("motor"), 1.2, 1, "1");
}

// 0.25 kg m pulls 2.45 N m, with friction 2.75 of 2.5. Allowed: 0.6 · 2.5 − 0.3 = 1.2 N m, 122.4 g m; 127.6 g
// m have to come off: 1277 g at 100 mm, rounded up.
TEST(Findings, TheMotorIsHelpedByACounterweight) {
    Told t;
    t.set_unbalance(0.25);
    const Said f = t.only("motor");
    EXPECT_EQ(f.level, Level::stop);
    EXPECT_THAT(f.message, AllOf(HasSubstr("2.8 N m"), HasSubstr("110 % of its rating"),
                                 HasSubstr("heavy side is at half past 10 (135°)."),
                                 HasSubstr("1.28 kg or more at 100 mm")));
}

TEST(Findings, TheHeavySideIsToldWithinOneTurn) {
    Told t;
    t.set_unbalance(0.25, 359.7 * degree);
    EXPECT_THAT(t.only("motor").message, HasSubstr("at 3 o'clock (0°)"));
}

TEST(Findings, OnALoneBirdTheHeavySideHasAName) {
    Told t;
    t.load.items[0].bird = true;
    const auto message = [&](double clock) {
        t.set_unbalance(0.25, clock * degree);
        return t.only("motor").message;
    };
    EXPECT_THAT(message(80), HasSubstr("at half past 12 (80°), where the breast is."));
    EXPECT_THAT(message(250), HasSubstr("at half past 6 (250°), where the back is."));
    EXPECT_THAT(message(45), HasSubstr("at half past 1 (45°)."));
    EXPECT_THAT(message(10), HasSubstr("at half past 2 (10°), where its right side is."));
    EXPECT_THAT(message(190), HasSubstr("at half past 8 (190°), where its left side is."));
    // Turned on its side, the breast is at 9 o'clock (180°).
    t.load.items[0].pose = t.load.items[0].pose * Eigen::AngleAxisd(90 * degree, Vec3::UnitX());
    EXPECT_THAT(message(180), HasSubstr("where the breast is"));
    t.load.items.push_back(t.load.items[0]);
    t.results.grip.items.push_back(t.results.grip.items[0]);
    EXPECT_THAT(message(180), HasSubstr("at 9 o'clock (180°).")) << "of two birds, whose?";
}

TEST(Findings, WithoutItemsThereIsNoRodLineToMove) {
    Told t;
    t.load.items.clear();
    t.results.grip.items.clear();
    t.set_unbalance(0.25);
    EXPECT_THAT(t.only("motor").message,
                AllOf(HasSubstr("Set a counterweight opposite"), Not(HasSubstr("rod line"))));
}

TEST(Findings, OrByLessFriction) {
    Told t;
    t.results.balance.friction_torque_n_m = 1.5;
    t.set_unbalance(0.005);
    const Said f = t.only("motor");
    EXPECT_EQ(f.level, Level::care);
    EXPECT_THAT(f.message, HasSubstr("Friction at the supports alone takes that much"));
    EXPECT_THAT(f.message, Not(HasSubstr("or more at")));
}

TEST(Findings, NoCounterweightIsAdvisedThatWeighsNothing) {
    Told t;
    t.results.balance.friction_torque_n_m = 0.5;
    t.set_unbalance(1.0 / standard_gravity);
    EXPECT_THAT(t.only("motor").message, HasSubstr("5 g or more at 100 mm"));
}

TEST(Findings, AStandingMotorIsAStop) {
    Told t;
    t.results.turning = Turning();
    t.results.turning.stalls = true;
    t.set_unbalance(0.6);
    const Said f = t.only("turning");
    EXPECT_EQ(f.level, Level::stop);
    EXPECT_THAT(f.message, HasSubstr("The motor stands still"));
    expect_figures(f, t.results.balance.motor_torque_peak_n_m, 5, "N m");
}

// Nearly every load on a real rod overruns a little: only a quarter of the rating asks for care.
TEST(Findings, OverrunningAloneIsToldInPassing) {
    Told t;
    t.results.turning.overruns = true;
    t.results.turning.overrun_share = 1.0 / 3;
    t.results.turning.pull_n_m = just_below(0.25 * 2.5);
    EXPECT_EQ(t.only("turning").level, Level::ready);
    EXPECT_THAT(
        t.only("turning").message,
        HasSubstr(
            "Over 33 % of each turn the heavy side falls and drives the gears: it pulls them with up to "
            "0.62 N m, 25 % of the motor's rating."));
    t.results.turning.pull_n_m = 0.25 * 2.5;
    t.set_unbalance(0.12);
    const Said f = t.only("turning");
    EXPECT_EQ(f.level, Level::care);
    // Friction of 0.3 and a pull of 0.625 N m hold 94.3 g m; all of it off 2 kg of meat is 60 mm.
    EXPECT_THAT(f.message,
                AllOf(HasSubstr("Move the rod line 60 mm toward it"), HasSubstr("260 g or more at 100 mm")));
    expect_figures(f, 0.625, 0.625, "N m");
}

TEST(Findings, AKnockAtTheRatingWantsCare) {
    Told t;
    t.results.turning.play_rad = 3 * degree;
    t.results.turning.knock_n_m = just_below(2.5);
    EXPECT_EQ(t.only("turning").level, Level::ready);
    t.results.turning.knock_n_m = 2.5;
    EXPECT_EQ(t.only("turning").level, Level::care);
    EXPECT_THAT(t.only("turning").message,
                HasSubstr("through the 3° of play in the drive, it knocks with at most 2.5 N "
                          "m, 100 % of the motor's rating."));
    t.load.motor.drive_stiffness_n_m_rad = 100;
    EXPECT_THAT(t.only("turning").message, HasSubstr("it knocks with 2.5 N m"));
    expect_figures(t.only("turning"), 2.5, 2.5, "N m");
}

TEST(Findings, UnevenTurningIsWorthAHint) {
    Told t;
    t.results.turning.irregularity = 0.2;
    EXPECT_THAT(t.findings("turning"), IsEmpty());
    t.results.turning.irregularity = 0.25;
    const Said f = t.only("turning");
    EXPECT_EQ(f.level, Level::ready);
    EXPECT_THAT(f.message, HasSubstr("varies by 25 %"));
    EXPECT_THAT(f.message,
                HasSubstr("a quarter turn behind that, at half past 1 (45°), stays below longest"));
    t.set_unbalance(0.01, 20 * degree);
    EXPECT_THAT(t.only("turning").message, HasSubstr("at half past 5 (290°)"));
    EXPECT_EQ(*f.value, 0.25);
    t.results.turning.irregularity = just_below(0.4);
    EXPECT_EQ(t.only("turning").level, Level::ready);
    t.results.turning.irregularity = 0.4;
    EXPECT_EQ(t.only("turning").level, Level::care);
    EXPECT_THAT(t.only("turning").message, HasSubstr("counterweight opposite"));
}

TEST(Findings, TheRodHasItsLimits) {
    Told t;
    const auto level = [&](double use) {
        t.results.rod.yield_use = use;
        return t.only("rod").level;
    };
    EXPECT_EQ(level(just_below(0.5)), Level::ready);
    EXPECT_EQ(level(0.5), Level::care);
    EXPECT_THAT(t.only("rod").message, HasSubstr("near bending for good"));
    expect_figures(t.only("rod"), 0.5, 0.5, "1");
    EXPECT_EQ(level(just_below(1)), Level::care);
    EXPECT_EQ(level(1), Level::stop);
    EXPECT_THAT(t.only("rod").message, HasSubstr("it bends and stays bent"));
    expect_figures(t.only("rod"), 1, 1, "1");
}

TEST(Findings, SagOverFiveMillimetresWantsCare) {
    Told t;
    t.results.rod.sag_max_m = 0.005;
    EXPECT_EQ(t.findings("rod").size(), 1U);
    t.results.rod.sag_max_m = just_above(0.005);
    const std::vector<Said> rod = t.findings("rod");
    ASSERT_EQ(rod.size(), 2U);
    EXPECT_EQ(rod[1].level, Level::care);
    EXPECT_THAT(rod[1].message, HasSubstr("The rod sags by 5 mm at 340 mm"));
    expect_figures(rod[1], just_above(0.005), 0.005, "m");
}

TEST(Findings, GripHasItsLimits) {
    Told t;
    const auto level = [&](double use) {
        t.results.grip.items[0].torque_use = use;
        return t.only("grip").level;
    };
    EXPECT_EQ(level(just_below(0.5)), Level::ready);
    EXPECT_EQ(level(0.5), Level::care);
    EXPECT_THAT(t.only("grip").message, HasSubstr("tighten the forks"));
    expect_figures(t.only("grip"), 0.5, 0.5, "1");
    EXPECT_EQ(level(just_below(1)), Level::care);
    EXPECT_EQ(level(1), Level::stop);
    EXPECT_THAT(t.only("grip").message, HasSubstr("the meat will tear and slip"));
    expect_figures(t.only("grip"), 1, 1, "1");
}

TEST(Findings, GripTellsWhichStrengthItCountsWith) {
    Told t;
    EXPECT_THAT(t.only("grip").message, HasSubstr("lowest strength that was measured for roasted meat"));
    t.load.items[0].bearing_strength_pa = 120e3;
    EXPECT_THAT(t.only("grip").message, Not(HasSubstr("lowest strength that was measured for roasted meat")));
}

TEST(Findings, AnItemWithoutForkIsAStop) {
    Told t;
    t.results.grip.items[0] = {};
    t.results.grip.forks.clear();
    const Said f = t.only("grip");
    EXPECT_EQ(f.level, Level::stop);
    EXPECT_THAT(f.message, HasSubstr("No fork enters roast"));
}

TEST(Findings, ForksThatFindNoFleshAreAStop) {
    Told t;
    t.results.grip.items[0].torque_use.reset();
    const Said f = t.only("grip");
    EXPECT_EQ(f.level, Level::stop);
    EXPECT_THAT(f.message, HasSubstr("The forks of roast find no flesh"));
}

TEST(Findings, ATineInBoneWantsCare) {
    Told t;
    t.results.grip.forks[0].tines.push_back(
        {.item = 0, .embedded_m = 0.06, .in_bone_m = 0.004, .in_cavity_m = 0, .cover_min_m = 0.02});
    const std::vector<Said> grip = t.findings("grip");
    ASSERT_EQ(grip.size(), 2U);
    EXPECT_EQ(grip[1].level, Level::care);
    EXPECT_THAT(grip[1].message, HasSubstr("Tine 2 of fork 1 runs through 4 mm of bone"));
    expect_figures(grip[1], 0.004, 0, "m");
}

TEST(Findings, TinesOfOneForkAreToldOnce) {
    Told t;
    t.results.grip.forks[0].tines[0].in_bone_m = 0.003;
    t.results.grip.forks[0].tines.push_back(
        {.item = 0, .embedded_m = 0.06, .in_bone_m = 0.004, .in_cavity_m = 0, .cover_min_m = 0.02});
    const std::vector<Said> grip = t.findings("grip");
    ASSERT_EQ(grip.size(), 2U);
    EXPECT_THAT(grip[1].message, HasSubstr("Both tines of fork 1 run through up to 4 mm of bone"));
    EXPECT_EQ(grip[1].about, (Thing{Thing::Kind::fork, 0}));
    expect_figures(grip[1], 0.004, 0, "m");
}

TEST(Findings, CoverUnderThreeMillimetresWantsCare) {
    Told t;
    std::optional<double>& cover = t.results.grip.forks[0].tines[0].cover_min_m;
    cover = 0.003;
    EXPECT_EQ(t.findings("grip").size(), 1U);
    cover.reset();
    EXPECT_EQ(t.findings("grip").size(), 1U);
    cover = just_below(0.003);
    ASSERT_EQ(t.findings("grip").size(), 2U);
    EXPECT_EQ(t.findings("grip")[1].level, Level::care);
    EXPECT_THAT(t.findings("grip")[1].message, HasSubstr("Tine 1 of fork 1 has only 3 mm of flesh over it"));
    expect_figures(t.findings("grip")[1], just_below(0.003), 0.003, "m");
    cover = 0;
    EXPECT_THAT(t.findings("grip")[1].message, HasSubstr("Tine 1 of fork 1 comes out through the skin"));
    EXPECT_EQ(t.findings("grip")[1].level, Level::care);
}

// One tine beside the meat is told; a fork that holds nothing wants care, if another holds.
TEST(Findings, TinesThatMeetNoFleshAreTold) {
    Told t;
    TineGrip beside, in_hollow{.item = 0, .embedded_m = 0.05, .in_cavity_m = 0.05, .cover_min_m = 0.02};
    t.results.grip.forks[0].tines.push_back(beside);
    std::vector<Said> grip = t.findings("grip");
    ASSERT_EQ(grip.size(), 2U);
    EXPECT_EQ(grip[1].code, Code::tine_free);
    EXPECT_EQ(grip[1].level, Level::ready);
    EXPECT_EQ(grip[1].message, "Tine 2 of fork 1 meets no flesh: it holds nothing.");
    t.results.grip.forks[0].tines[0] = in_hollow;
    grip = t.findings("grip");
    ASSERT_EQ(grip.size(), 2U);
    EXPECT_EQ(grip[1].level, Level::care);
    EXPECT_THAT(grip[1].message, HasSubstr("No tine of fork 1 meets flesh: it holds nothing."));
    t.results.grip.items[0] = {};
    EXPECT_EQ(t.only("grip").code, Code::no_fork) << "told once";
}

TEST(Findings, ClearanceHasItsLimits) {
    Told t;
    const auto level = [&](double gap) {
        t.results.clearance.surfaces[0].gap_m = gap;
        return t.only("clearance").level;
    };
    EXPECT_EQ(level(0.025), Level::ready);
    EXPECT_EQ(level(just_below(0.025)), Level::care);
    EXPECT_EQ(level(0.0101), Level::care);
    EXPECT_THAT(t.only("clearance").message,
                HasSubstr("roast clears lid by 10 mm at 400 mm, less than the 25 mm to keep."));
    expect_figures(t.only("clearance"), 0.0101, 0.025, "m");
    EXPECT_EQ(level(0.005), Level::care);
    EXPECT_EQ(level(just_below(0.005)), Level::stop);
    EXPECT_THAT(t.only("clearance").message, HasSubstr("roast clears lid by 5 mm at 400 mm: too close"));
    EXPECT_EQ(level(0), Level::stop);
    EXPECT_EQ(level(-0.012), Level::stop);
    EXPECT_THAT(t.only("clearance").message, HasSubstr("roast strikes lid at 400 mm, by 12 mm"));
    expect_figures(t.only("clearance"), -0.012, 0.005, "m");
}

TEST(Findings, WhatStrikesIsHelpedByItsKind) {
    Told t;
    SurfaceGap& gap = t.results.clearance.surfaces[0];
    gap.gap_m = -0.01;
    EXPECT_THAT(t.only("clearance").message, HasSubstr("Take a smaller load"));
    gap.part = {Thing::Kind::fork, 1};
    EXPECT_THAT(t.only("clearance").message, HasSubstr("narrower tines"));
    gap.part = {Thing::Kind::counterweight, 0};
    EXPECT_THAT(t.only("clearance").message, HasSubstr("a heavier one nearer the rod"));
    gap.part = {Thing::Kind::item, 0};
    t.load.items[0].name = "fork rib";
    EXPECT_THAT(t.only("clearance").message, HasSubstr("Take a smaller load"));
}

TEST(Findings, FireBurns) {
    Told t;
    t.results.clearance.surfaces[0].fire = true;
    t.results.clearance.surfaces[0].gap_m = 0.02;
    EXPECT_THAT(t.only("clearance").message, HasSubstr("to keep from fire: it will burn there"));
}

TEST(Findings, WithoutACookerNothingIsKnownOfIt) {
    Told t;
    t.load.cooker.surfaces.clear();
    t.results.clearance.surfaces.clear();
    const Said f = t.only("clearance");
    EXPECT_EQ(f.level, Level::ready);
    EXPECT_THAT(f.message, HasSubstr("No cooker was given"));
    EXPECT_FALSE(f.value);
    // Nothing to sweep in a cooker is another matter.
    t.load.cooker.surfaces.resize(1);
    EXPECT_THAT(t.findings("clearance"), IsEmpty());
}

TEST(Findings, RemarksAreToldWithoutWeight) {
    Assembly a = test::good_load();
    EXPECT_THAT(remark_findings(a), IsEmpty());
    a.remarks = {"The usable stretch is the whole rod."};
    body::Body body = a.items[0].body->body;
    body.remarks = {"Its density is a guess."};
    a.items[0].body = body::prepare(body);
    const std::vector<Said> all = said(remark_findings(a), a);
    ASSERT_EQ(all.size(), 2U);
    EXPECT_EQ(all[0].message, "The usable stretch is the whole rod.");
    EXPECT_EQ(all[1].message, "roast: Its density is a guess.");
    for (const Said& f : all) {
        EXPECT_EQ(f.level, Level::ready);
        EXPECT_EQ(f.topic, "assumption");
    }
}

}  // namespace evenspit
