// SPDX-License-Identifier: MIT
#include "analysis/analysis_memory.h"

#include <numbers>
#include <random>

#include <gtest/gtest.h>

#include "analysis/analysis.h"
#include "load/arrangement.h"
#include "loads.h"
#include "report/report.h"

namespace evenspit {
namespace {

using test::degree;

/// A boned roast and a winged bird, on forks of all kinds, beside coals and a wall.
Assembly full_load() {
    Assembly a = test::good_load();
    const auto ball = [](const Vec3& half, const Vec3& at, int around) {
        return test::ellipsoid_mesh(half.x(), half.y(), half.z(), at, around, around / 2);
    };
    body::Body roast = test::flesh(ball({0.08, 0.05, 0.06}, Vec3::Zero(), 36));
    roast =
        test::with_part(roast, body::PartKind::bone, ball({0.05, 0.01, 0.01}, {0, 0.01, 0.012}, 16), 1300, 0);
    body::Body bird = test::flesh(ball({0.06, 0.06, 0.05}, Vec3::Zero(), 28));
    bird = test::with_part(bird, body::PartKind::cavity, ball({0.03, 0.02, 0.02}, Vec3::Zero(), 12), 0, -1);
    bird.swung.push_back({"left wing", ball({0.03, 0.05, 0.02}, {0, 0.06, 0}, 12)});
    bird.if_undone = bird.swung;
    bird.if_undone.push_back({"right wing", ball({0.03, 0.05, 0.02}, {0, -0.06, 0}, 12)});
    a.items = {test::item("roast", roast, 0.22, {0.004, -0.006}), test::item("bird", bird, 0.44)};
    a.items[1].bird = true;
    Fork bracket = test::two_tines(0.23, Facing::point, 0.07, 0.015);
    bracket.kind = ForkKind::bracket;
    a.forks = {test::two_tines(0.12, Facing::point, 0.09), bracket,
               test::two_tines(0.53, Facing::drive, 0.09)};
    a.counterweights = {{.at_m = 0.09, .mass_kg = 0.3, .radius_m = 0.06, .clock_rad = 1, .diameter_m = 0.04}};
    a.cooker.surfaces = {{.name = "coals",
                          .shape = BoxShape{{0.1, -0.2, -0.3}, {0.6, 0.2, -0.2}},
                          .fire = true,
                          .temperature_k = {}},
                         {.name = "wall",
                          .shape = PlaneShape{{0, 0.2, 0}, -Vec3::UnitY()},
                          .fire = false,
                          .temperature_k = {}}};
    return a;
}

/// The load with one thing changed, any of all that hands change.
Assembly changed(Assembly a, std::mt19937& random) {
    const auto drawn = [&random](int below) {
        return static_cast<std::size_t>(random() % static_cast<unsigned>(below));
    };
    const auto off = [&random] { return std::uniform_real_distribution<double>(-1, 1)(random); };
    Item& item = a.items[drawn(static_cast<int>(a.items.size()))];
    Fork& fork = a.forks[drawn(static_cast<int>(a.forks.size()))];
    switch (drawn(9)) {
        case 0:
            item.seat.line.from = {0.01 * off(), 0.01 * off()};
            break;
        case 1:
            item.seat.turn_rad = off();
            break;
        case 2:
            item.seat.at_m += 0.01 * off();
            break;
        case 3:
            fork.at_m += 0.01 * off();
            break;
        case 4:
            fork.clock_rad = 30 * degree * off();
            break;
        case 5:
            a.counterweights[0].radius_m = 0.06 + 0.02 * off();
            break;
        case 6:
            item.off.scale = 1 + 0.01 * off();
            break;
        case 7:
            item.off.undone = !item.off.undone;
            break;
        default:
            // One more of what is there already, or one less.
            if (a.items.size() < 3) {
                a.items.push_back(item);
            } else {
                a.items.pop_back();
            }
    }
    for (Item& each : a.items) each.pose = pose_in(each, each.seat);
    return a;
}

void expect_alike(const Assembly& load, const Analysis& quick, const Analysis& fresh) {
    EXPECT_EQ(json_report(load, quick), json_report(load, fresh));
    const auto &pieces = quick.clearance.outline.pieces, &expected = fresh.clearance.outline.pieces;
    ASSERT_EQ(pieces.size(), expected.size());
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const OutlinePiece &p = pieces[i], &q = expected[i];
        EXPECT_TRUE(p.x0 == q.x0 && p.r0 == q.r0 && p.x1 == q.x1 && p.r1 == q.r1 && p.part == q.part) << i;
    }
    EXPECT_EQ(quick.rod.sag, fresh.rod.sag);
}

TEST(AnalysisMemory, ChangesNoAnswerToTheLastBit) {
    std::mt19937 random(17);
    AnalysisMemory memory;
    std::vector<Assembly> before{full_load()};
    for (int step = 0; step < 120; ++step) {
        // Now and then back to where it was: undone, or looked at once more.
        const bool back = step % 5 == 4;
        const Assembly load =
            back ? before[before.size() - 1 - random() % std::min<std::size_t>(before.size(), 6)]
                 : changed(before.back(), random);
        before.push_back(load);
        SCOPED_TRACE(step);
        expect_alike(load, analyse(load, memory), analyse(load));
    }
}

TEST(AnalysisMemory, WorksOutAnewOnlyWhatMoved) {
    Assembly load = full_load();
    AnalysisMemory memory;
    (void)analyse(load, memory);
    const std::size_t outlines = memory.outlines.size(), pins = memory.pins.size();
    // Two bodies and a wing; six tines and legs, each at the stations of one item.
    EXPECT_EQ(outlines, 3U);
    EXPECT_EQ(pins, 6U);
    load.counterweights[0].at_m += 0.01;
    (void)analyse(load, memory);
    EXPECT_EQ(memory.outlines.size(), outlines);
    EXPECT_EQ(memory.pins.size(), pins);
    load.forks[0].at_m += 0.001;
    (void)analyse(load, memory);
    EXPECT_EQ(memory.outlines.size(), outlines);
    EXPECT_EQ(memory.pins.size(), pins + 2) << "two tines in one item";
    load.items[1].seat.turn_rad = 0.1;
    load.items[1].pose = pose_in(load.items[1], load.items[1].seat);
    (void)analyse(load, memory);
    EXPECT_EQ(memory.outlines.size(), outlines) << "what turns sweeps the same, however it was turned";
    EXPECT_EQ(memory.pins.size(), pins + 2 + 2);
    load.items[1].seat.line.from.x() = 0.002;
    load.items[1].pose = pose_in(load.items[1], load.items[1].seat);
    (void)analyse(load, memory);
    EXPECT_EQ(memory.outlines.size(), outlines + 2) << "the bird and its wing";
    EXPECT_EQ(memory.pins.size(), pins + 2 + 4);
}

TEST(AnalysisMemory, ForgetsWhatNobodyAsksFor) {
    Assembly load = full_load();
    AnalysisMemory memory;
    std::size_t most = 0;
    for (int step = 0; step < 60; ++step) {
        load.items[0].seat.turn_rad = 0.01 * step;
        load.items[0].pose = pose_in(load.items[0], load.items[0].seat);
        (void)analyse(load, memory);
        if (step < 30) most = std::max(most, memory.pins.size());
        EXPECT_LE(memory.pins.size(), most);
    }
    const std::shared_ptr<const SweepTrees> trees = memory.trees();
    EXPECT_EQ(trees->size(), 5U) << "two bodies, a loose wing, and both wings where ties come undone";
    Assembly other = test::good_load();
    (void)analyse(other, memory);
    EXPECT_NE(memory.trees(), trees);
    EXPECT_EQ(memory.trees()->size(), 1U);
}

}  // namespace
}  // namespace evenspit
