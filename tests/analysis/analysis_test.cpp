// SPDX-License-Identifier: MIT
#include "analysis/analysis.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stop_token>

#include <Eigen/Geometry>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "analysis/chance.h"
#include "analysis/placed.h"
#include "loads.h"
#include "support/said.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

using std::numbers::pi;
using test::box_mesh;
using test::degree;
using test::flesh;
using test::good_load;

/// The good load in a cooker, its meat and a counterweight off the axis.
Assembly busy_load() {
    Assembly a = good_load();
    a.items = {
        test::item("roast", flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34, {0.003, 0.008})};
    a.counterweights = {
        {.at_m = 0.1, .mass_kg = 0.2, .radius_m = 0.06, .clock_rad = 200 * degree, .diameter_m = 0.03}};
    a.motor.friction_torque_n_m.reset();
    a.motor.support_friction = 0.15;
    a.cooker.surfaces = {{.name = "coals",
                          .shape = BoxShape{{0.1, -0.2, -0.3}, {0.6, 0.2, -0.2}},
                          .fire = true,
                          .temperature_k = 973.15,
                          .keep_m = 0.05},
                         {.name = "lid",
                          .shape = PlaneShape{{0, 0, 0.15}, -Vec3::UnitZ()},
                          .fire = false,
                          .temperature_k = {},
                          .keep_m = 0.025}};
    return a;
}

/// The load turned as a whole about the rod.
Assembly turned(Assembly a, double angle_rad) {
    for (Item& item : a.items) item.pose = Eigen::AngleAxisd(angle_rad, Vec3::UnitX()) * item.pose;
    for (Fork& fork : a.forks) {
        for (Tine& tine : fork.tines) tine.clock_rad += angle_rad;
    }
    for (Counterweight& weight : a.counterweights) weight.clock_rad += angle_rad;
    return a;
}

/// The load made larger throughout; densities, stiffness and strengths as they were.
Assembly enlarged(Assembly a, double factor) {
    Rod& rod = a.rod;
    rod.width_m *= factor;
    rod.length_m *= factor;
    for (double* x : {&rod.supports_m[0], &rod.supports_m[1], &rod.usable_m[0], &rod.usable_m[1]})
        *x *= factor;
    for (Item& item : a.items) {
        body::Body body = item.body->body;
        for (body::Part& part : body.parts) part.mesh = scaled(part.mesh, factor);
        item.body = body::prepare(std::move(body));
        item.pose.translation() *= factor;
    }
    for (Fork& fork : a.forks) {
        fork.at_m *= factor;
        fork.mass_kg *= std::pow(factor, 3);
        for (Tine& tine : fork.tines) {
            tine.radius_m *= factor;
            tine.length_m *= factor;
            tine.diameter_m *= factor;
        }
    }
    for (Counterweight& weight : a.counterweights) {
        weight.at_m *= factor;
        weight.mass_kg *= std::pow(factor, 3);
        weight.radius_m *= factor;
        weight.diameter_m *= factor;
    }
    for (CookerSurface& surface : a.cooker.surfaces) {
        if (auto* box = std::get_if<BoxShape>(&surface.shape)) {
            box->min *= factor;
            box->max *= factor;
        } else if (auto* plane = std::get_if<PlaneShape>(&surface.shape)) {
            plane->point *= factor;
        }
    }
    return a;
}

Level worst(const Analysis& a) {
    Level level = Level::ready;
    for (const Finding& f : a.findings) level = std::max(level, f.level);
    return level;
}

}  // namespace

TEST(LevelName, IsWhatTheResultSays) {
    EXPECT_EQ(level_name(Level::ready), "ready");
    EXPECT_EQ(level_name(Level::care), "care");
    EXPECT_EQ(level_name(Level::stop), "stop");
}

// Everything in one go, by hand. Meat 2 kg at (3, 8) mm; counterweight 0.2 kg at 60 mm, 200°; forks 0.16 kg
// each, on the axis; the rod.
TEST(Analyse, AWholeLoadByHand) {
    const Assembly load = busy_load();
    const Analysis a = analyse(load);

    const double rod_kg = 0.008 * 0.008 * 0.76 * 7900;
    const double mass_kg = 2 + 0.2 + 2 * 0.16 + rod_kg;
    EXPECT_NEAR(a.balance.mass_kg, mass_kg, 1e-12);
    const Vec2 unbalance(2 * 0.003 + 0.2 * 0.06 * std::cos(200 * degree),
                         2 * 0.008 + 0.2 * 0.06 * std::sin(200 * degree));
    EXPECT_NEAR((a.balance.unbalance_kg_m - unbalance).norm(), 0, 1e-12);

    // Statics of the rod about the drive seat: supports 0.64 m apart.
    const double g = standard_gravity;
    const double moment = g * (2 * (0.34 - 0.02) + 0.2 * (0.1 - 0.02) + 0.16 * (0.23 - 0.02) +
                               0.16 * (0.45 - 0.02) + rod_kg * (0.38 - 0.02));
    EXPECT_NEAR(a.rod.reactions_n[1], moment / 0.64, 1e-9);
    EXPECT_NEAR(a.rod.reactions_n[0], mass_kg * g - moment / 0.64, 1e-9);

    // The square rod rubs on its corners, at the far bearing.
    const double friction = 0.15 * moment / 0.64 * 0.008 / std::numbers::sqrt2;
    EXPECT_NEAR(a.balance.friction_torque_n_m, friction, 1e-12);
    EXPECT_NEAR(a.balance.motor_torque_peak_n_m, g * unbalance.norm() + friction, 1e-12);
    EXPECT_NEAR(a.balance.motor_use, (g * unbalance.norm() + friction) / 2.5, 1e-12);
    EXPECT_NEAR(*a.turning.speed_min_rad_s,
                load.motor.speed_rad_s * (1 - (g * unbalance.norm() + friction) / 5), 1e-12);
    EXPECT_TRUE(a.turning.overruns);

    // Four tines of 60 mm in the meat.
    EXPECT_NEAR(*a.grip.torque_capacity_n_m, 4 * 0.03 * 140e3 * 0.005 * 0.06, 1e-12);
    EXPECT_NEAR(*a.grip.torque_use, g * 2 * std::hypot(0.003, 0.008) / 5.04, 1e-12);
    EXPECT_NEAR(a.grip.forks[0].weight_share, 0.5, 1e-12);

    // The furthest corner turns at hypot(53, 58) mm; the lid is at 150 mm, the coals at −200 mm, both flat
    // above and below the load, and the sag at the load is all but even.
    const double reach = std::hypot(0.053, 0.058);
    ASSERT_EQ(a.clearance.surfaces.size(), 2U);
    EXPECT_NEAR(a.clearance.surfaces[0].gap_m, 0.2 - reach - a.rod.sag_max_m, 1e-6);
    EXPECT_GT(a.clearance.surfaces[1].gap_m, 0.15 - reach);
    EXPECT_LT(a.clearance.surfaces[1].gap_m, 0.15 - reach + a.rod.sag_max_m);
    EXPECT_EQ(*a.clearance.gap_min_m, a.clearance.surfaces[1].gap_m);

    EXPECT_GT(judge(load).uncertainty.value().gravity_torque_p95_n_m, a.balance.gravity_torque_peak_n_m);
    EXPECT_EQ(a.verdict, Level::ready) << "it overruns a little, and that is all";
    EXPECT_EQ(std::count_if(a.findings.begin(), a.findings.end(),
                            [](const Finding& f) { return f.level != Level::ready; }),
              0);
}

TEST(Analyse, AGoodLoadIsReady) {
    const Analysis a = analyse(good_load());
    EXPECT_EQ(a.verdict, Level::ready);
    EXPECT_FALSE(a.turning.overruns);
}

TEST(Analyse, TheVerdictIsItsWorstFinding) {
    Assembly heavy = busy_load();
    heavy.motor.rated_torque_n_m = 0.1;
    Assembly loose = good_load();
    loose.items[0].trussed = false;
    for (const Assembly& load : {good_load(), busy_load(), heavy, loose}) {
        const Analysis a = analyse(load);
        EXPECT_EQ(a.verdict, worst(a));
        EXPECT_TRUE(std::is_sorted(a.findings.begin(), a.findings.end(),
                                   [](const Finding& x, const Finding& y) { return x.level > y.level; }));
    }
    EXPECT_EQ(analyse(heavy).verdict, Level::stop);
    EXPECT_EQ(analyse(loose).verdict, Level::care);
}

TEST(Analyse, IsTheSameEveryTime) {
    const Analysis a = analyse(busy_load()), b = analyse(busy_load());
    EXPECT_EQ(a.balance.unbalance_kg_m, b.balance.unbalance_kg_m);
    EXPECT_EQ(a.clearance.gap_min_m, b.clearance.gap_min_m);
    EXPECT_EQ(a.rod.stress_max_pa, b.rod.stress_max_pa);
    ASSERT_EQ(a.findings.size(), b.findings.size());
    for (std::size_t i = 0; i < a.findings.size(); ++i)
        EXPECT_EQ(test::said(a.findings[i], busy_load()).message,
                  test::said(b.findings[i], busy_load()).message);
}

TEST(Analyse, TurningTheWholeLoadOnlyTurnsTheHeavySide) {
    const Analysis before = analyse(busy_load());
    for (const double angle : {37 * degree, 180 * degree, -90 * degree}) {
        const Analysis after = analyse(turned(busy_load(), angle));
        EXPECT_NEAR(
            std::remainder(after.balance.heavy_side_rad - before.balance.heavy_side_rad - angle, 2 * pi), 0,
            1e-10);
        EXPECT_NEAR(after.balance.motor_use, before.balance.motor_use, 1e-12);
        EXPECT_NEAR(*after.turning.speed_mean_rad_s, *before.turning.speed_mean_rad_s, 1e-12);
        EXPECT_NEAR(after.rod.stress_max_pa, before.rod.stress_max_pa, 1e-3);
        EXPECT_NEAR(*after.grip.torque_use, *before.grip.torque_use, 1e-12);
        EXPECT_NEAR(*after.clearance.gap_min_m, *before.clearance.gap_min_m, 1e-7);
        EXPECT_EQ(after.verdict, before.verdict);
    }
}

// Enlarged k times throughout, masses grow by k³, unbalance and gravity torque by k⁴ (and friction with
// them), stress by k, sag by k² (E I / L³ by k, weight by k³), the bite of a fork by k³.
TEST(Analyse, KeepsTheLawsOfScale) {
    const Analysis small = analyse(busy_load());
    for (const double k : {0.5, 2.0, 3.0}) {
        const Analysis large = analyse(enlarged(busy_load(), k));
        EXPECT_NEAR(large.balance.mass_kg / small.balance.mass_kg / std::pow(k, 3), 1, 1e-12);
        EXPECT_NEAR(
            large.balance.gravity_torque_peak_n_m / small.balance.gravity_torque_peak_n_m / std::pow(k, 4), 1,
            1e-11);
        EXPECT_NEAR(large.balance.friction_torque_n_m / small.balance.friction_torque_n_m / std::pow(k, 4), 1,
                    1e-12);
        EXPECT_NEAR(large.rod.stress_max_pa / small.rod.stress_max_pa / k, 1, 1e-9);
        EXPECT_NEAR(large.rod.sag_max_m / small.rod.sag_max_m / (k * k), 1, 1e-9);
        EXPECT_NEAR(
            large.grip.torque_capacity_n_m.value() / small.grip.torque_capacity_n_m.value() / std::pow(k, 3),
            1, 1e-9);
        EXPECT_NEAR(*large.grip.torque_use / *small.grip.torque_use / k, 1, 1e-9);
        ASSERT_EQ(large.clearance.surfaces.size(), small.clearance.surfaces.size());
        // Above the load the gap is what the lid leaves, and the sag, which grows by another power.
        const double unsagged = 0.15 - std::hypot(0.053, 0.058);
        const double sag = small.clearance.surfaces[1].gap_m - unsagged;
        EXPECT_NEAR(large.clearance.surfaces[1].gap_m, k * unsagged + k * k * sag, 1e-6);
    }
}

TEST(Analyse, AHeavierLoadIsNeverBetterOff) {
    const bool held = rc::check("monotone in the meat's density", [] {
        const double density = *rc::gen::inRange(300, 2000),
                     more = density * (1 + *rc::gen::inRange(1, 200) / 100.0);
        const auto with = [](double kg_m3) {
            Assembly a = busy_load();
            a.counterweights.clear();
            a.items = {test::item("roast", flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05}), kg_m3),
                                  0.34, {0.003, 0.008})};
            return analyse(a);
        };
        const Analysis light = with(density), heavy = with(more);
        RC_ASSERT(heavy.balance.motor_use > light.balance.motor_use);
        RC_ASSERT(heavy.rod.yield_use > light.rod.yield_use);
        RC_ASSERT(heavy.rod.sag_max_m > light.rod.sag_max_m);
        RC_ASSERT(*heavy.grip.torque_use > *light.grip.torque_use);
        RC_ASSERT(heavy.clearance.surfaces[0].gap_m < light.clearance.surfaces[0].gap_m);
    });
    EXPECT_TRUE(held);
}

// What the motor's finding asks for does what it says.
TEST(Analyse, TheAdvisedCounterweightBringsTheMotorIntoOrder) {
    Assembly load = good_load();
    load.motor.friction_torque_n_m = 0.2;
    load.items = {
        test::item("roast", flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34, {-0.05, 0.1})};
    const Analysis before = analyse(load);
    EXPECT_GE(before.balance.motor_use, 0.6);
    const auto motor = std::find_if(before.findings.begin(), before.findings.end(),
                                    [](const Finding& f) { return f.code == Code::motor_torque; });
    ASSERT_NE(motor, before.findings.end());
    ASSERT_TRUE(motor->get<MotorFacts>().mend);
    const std::string advice =
        counterweight_text(motor->get<MotorFacts>().mend->excess_kg_m, UnitSystem::metric);
    EXPECT_THAT(test::said(*motor, load).message, ::testing::HasSubstr(advice));
    const double grams = std::stod(advice);
    const auto corrected = [&](double mass_kg) {
        Assembly better = load;
        better.counterweights = {{.at_m = 0.1,
                                  .mass_kg = mass_kg,
                                  .radius_m = 0.1,
                                  .clock_rad = before.balance.heavy_side_rad + pi,
                                  .diameter_m = 0.03}};
        return analyse(better).balance.motor_use;
    };
    EXPECT_LE(corrected(grams / 1000), 0.6);
    EXPECT_GT(corrected((grams - 5) / 1000), 0.6);
}

TEST(Analyse, TheAdvisedMoveOfTheRodLineBalancesTheLoad) {
    Assembly load = busy_load();
    const Balance before = analyse(load).balance;
    const double way = before.unbalance_kg_m_size / load.items[0].body->mass.amount;
    // The rod toward the heavy side is the meat away from it.
    load.items[0].pose =
        Pose(Eigen::Translation3d(-rod_point(0, way, before.heavy_side_rad))) * load.items[0].pose;
    EXPECT_NEAR(analyse(load).balance.unbalance_kg_m_size, 0, 1e-12);
}

// The side that the uneven speed leaves longest toward a fire below, by summing over a turn: what a side at a
// clock receives goes with how far it faces down, and counts for as long as the turn dwells there.
TEST(Analyse, TheSideBehindTheHeavySideSeesTheFireLongest) {
    Assembly load = busy_load();
    load.motor.friction_torque_n_m = 0;
    load.motor.stall_torque_n_m = 0.4;
    const Analysis a = analyse(load);
    ASSERT_FALSE(a.turning.stalls);
    ASSERT_GT(*a.turning.irregularity, 0.2);
    double longest = 0, its_clock = 0;
    for (int clock = 0; clock < 360; ++clock) {
        double received = 0;
        for (const auto& [turn_deg, torque_n_m] : a.balance.curve) {
            const double dwell = 1 / (1 - torque_n_m / load.motor.stall_torque_n_m);
            received += dwell * std::max(0.0, -std::sin((clock + turn_deg) * degree));
        }
        if (received > longest) {
            longest = received;
            its_clock = clock;
        }
    }
    EXPECT_NEAR(std::remainder(its_clock * degree - (a.balance.heavy_side_rad - pi / 2), 2 * pi), 0,
                1.01 * degree);
    const double told_deg = std::fmod(std::round((a.balance.heavy_side_rad - pi / 2) / degree) + 360, 360);
    EXPECT_TRUE(std::any_of(a.findings.begin(), a.findings.end(), [&](const Finding& f) {
        return test::said(f, load).message.find("(" + std::to_string(static_cast<int>(told_deg)) +
                                                "°), stays below longest") != std::string::npos;
    }));
}

TEST(Analyse, ALoadWithoutForksIsStillComputed) {
    Assembly load = good_load();
    load.forks.clear();
    load.rod.section = Section::round;  // whose edges hold nothing
    const Analysis a = analyse(load);
    EXPECT_EQ(a.verdict, Level::stop);
    EXPECT_FALSE(a.grip.torque_use);
    EXPECT_FALSE(a.grip.torque_capacity_n_m);
    EXPECT_GT(a.rod.sag_max_m, 0);
    EXPECT_NEAR(a.rod.reactions_n[0] + a.rod.reactions_n[1], a.balance.mass_kg * standard_gravity, 1e-9);
}

TEST(Analyse, AnEmptyRodIsReady) {
    Assembly load = good_load();
    load.items.clear();
    load.forks.clear();
    const Analysis a = analyse(load);
    EXPECT_EQ(a.verdict, Level::ready);
    EXPECT_FALSE(a.clearance.gap_min_m);
    EXPECT_EQ(judge(load).uncertainty.value().stall_probability, 0);
}

/// A roast that is balanced raw and loses much of one side in the cook.
Assembly uneven_load() {
    Assembly load = good_load();
    body::Body body = load.items[0].body->body;
    const double mass_kg = load.items[0].body->mass.amount;
    body.shares = {{{"breast", body::RegionKind::breast}, mass_kg / 2, {0, 0, 0.04}},
                   {{"left wing", body::RegionKind::wing}, mass_kg / 2, {0, 0, -0.04}}};
    load.items[0].body = body::prepare(body);
    return load;
}

TEST(Analyse, JudgesTheWorseEndOfACook) {
    const Assembly load = uneven_load();
    const double mass_kg = load.items[0].body->mass.amount;
    const Analysis cold = analyse(load);
    EXPECT_FALSE(cold.balance.cooked);
    EXPECT_NEAR(cold.balance.unbalance_kg_m_size, 0, 1e-12) << "no cook is told of";
    Assembly cooking = load;
    cooking.cook = Cook();
    const Analysis a = analyse(cooking);
    EXPECT_TRUE(a.balance.cooked);
    // Yields of breast and wing, each half of the mass at 40 mm.
    const double unbalance_kg_m =
        0.5 * mass_kg * 0.04 *
        (cooking_yield(body::RegionKind::breast) - cooking_yield(body::RegionKind::wing));
    EXPECT_NEAR(a.balance.unbalance_kg_m_size, unbalance_kg_m, 1e-12);
    EXPECT_NEAR(a.balance.heavy_side_rad, pi / 2, 1e-9) << "the breast keeps more";
    EXPECT_NEAR(a.grip.items[0].gravity_torque_n_m, standard_gravity * unbalance_kg_m, 1e-12);
    EXPECT_LT(a.balance.mass_kg, cold.balance.mass_kg);
    // The rod bends most under the raw weight.
    EXPECT_EQ(a.rod.yield_use, cold.rod.yield_use);
    EXPECT_EQ(a.clearance.gap_min_m, cold.clearance.gap_min_m);
    EXPECT_GT(judge(cooking, 64).uncertainty.value().gravity_torque_p95_n_m, 0);
}

TEST(Analyse, KeepsTheStartWhereThatIsWorse) {
    Assembly load = busy_load();
    const Analysis cold = analyse(load);
    load.cook = Cook();
    const Analysis a = analyse(load);
    EXPECT_FALSE(a.balance.cooked);
    EXPECT_EQ(a.balance.motor_torque_peak_n_m, cold.balance.motor_torque_peak_n_m);
}

TEST(Analyse, TakesAnItemAtItsMoment) {
    Assembly load = uneven_load();
    load.cook = Cook();
    load.items[0].matter = body::Matter{1.6, {0, 0, 0.01}, 40e3};
    const Analysis a = analyse(load);
    EXPECT_FALSE(a.balance.cooked) << "it is told when it is";
    EXPECT_NEAR(a.balance.unbalance_kg_m_size, 0.016, 1e-12);
    EXPECT_NEAR(a.grip.items[0].torque_capacity_n_m, a.grip.items[0].torque_capacity_raw_n_m, 1e-12);
}

// Half as strong all over as the mean says, and the skin 10 mm further in: a tine in plain flesh holds by
// half of what is left of it.
TEST(Analyse, TinesHoldByTheFleshTheyPassAndLessWhereTheSkinMovesIn) {
    Assembly load = uneven_load();
    const Analysis cold = analyse(load);
    body::FleshField field{.origin = Vec3(-1, -1, -1), .spacing_m = 2, .count = {1, 1, 1}, .values = {}};
    field.values = {{0.5f, 0.01f}};
    load.cook = Cook();
    body::Matter cooked = matter_at(load.items[0], Doneness::raw);
    cooked.flesh = std::make_shared<const body::FleshField>(field);
    load.items[0].cooked = cooked;
    const Analysis a = analyse(load);
    double bite_m3 = 0, hold_m3 = 0;
    for (std::size_t f = 0; f < load.forks.size(); ++f) {
        for (std::size_t t = 0; t < load.forks[f].tines.size(); ++t) {
            const Tine& tine = load.forks[f].tines[t];
            const TineGrip& grip = a.grip.forks[f].tines[t];
            ASSERT_GT(grip.in_flesh_m(), 0.01);
            EXPECT_NEAR(grip.holds_m, 0.5 * (grip.in_flesh_m() - 0.01), 1e-6);
            EXPECT_NEAR(cold.grip.forks[f].tines[t].holds_m, grip.in_flesh_m(), 1e-12);
            bite_m3 += tine.radius_m * tine.diameter_m * grip.in_flesh_m();
            hold_m3 += tine.radius_m * tine.diameter_m * grip.holds_m;
        }
    }
    EXPECT_NEAR(a.grip.items[0].torque_capacity_n_m / a.grip.items[0].torque_capacity_raw_n_m,
                hold_m3 / bite_m3, 1e-9);
}

TEST(Analyse, StopsWhenItIsAskedTo) {
    std::stop_source source;
    EXPECT_NO_THROW(analyse(busy_load(), source.get_token()));
    source.request_stop();
    EXPECT_THROW(analyse(busy_load(), source.get_token()), Stopped);
}

TEST(Analyse, SeveralItemsAddUp) {
    Assembly load = good_load();
    load.rod.usable_m = {0.03, 0.7};
    const body::Body half = flesh(box_mesh({-0.04, -0.05, -0.05}, {0.04, 0.05, 0.05}));
    load.items = {test::item("one", half, 0.2, {0.01, 0}), test::item("two", half, 0.4, {0, 0.01})};
    load.forks = {test::two_tines(0.15, Facing::point, 0.04), test::two_tines(0.45, Facing::drive, 0.04)};
    const Analysis a = analyse(load);
    EXPECT_NEAR((a.balance.unbalance_kg_m - Vec2(0.8 * 0.01, 0.8 * 0.01)).norm(), 0, 1e-12);
    EXPECT_NEAR(a.balance.heavy_side_rad, 45 * degree, 1e-9);
    EXPECT_EQ(a.grip.items.size(), 2U);
}

}  // namespace evenspit
