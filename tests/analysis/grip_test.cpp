// SPDX-License-Identifier: MIT
#include "analysis/grip.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include <Eigen/Dense>
#include <Eigen/Geometry>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "analysis/limits.h"
#include "loads.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::degree;
using test::flesh;
using test::two_tines;
using test::with_part;

/// 200 mm along the rod, 100 mm square.
TriangleMesh block() {
    return box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05});
}

Tine pin(double length_m, double clock_rad = 0, double radius_m = 0.03, double diameter_m = 0.005) {
    return {.clock_rad = clock_rad, .radius_m = radius_m, .length_m = length_m, .diameter_m = diameter_m};
}

Assembly load_of(std::vector<Item> items, std::vector<Fork> forks) {
    Assembly a;
    a.rod = test::steel_rod();
    a.motor = test::small_motor();
    a.items = std::move(items);
    a.forks = std::move(forks);
    return a;
}

/// A body centred at station 0.34, met by one fork of one tine whose hub stands 10 mm before its first
/// station.
struct OneTine {
    Grip result;
    const TineGrip& tine() const { return result.forks[0].tines[0]; }
};

OneTine one_tine(body::Body body, const Tine& tine) {
    const double first = bounds(body.parts[0].mesh).min().x();
    const Assembly a =
        load_of({test::item("roast", std::move(body), 0.34)},
                {{.at_m = 0.34 + first - 0.01, .points = Facing::point, .mass_kg = 0.1, .tines = {tine}}});
    return {grip(a, items_on_rod(a))};
}

/// A block with a square pocket from its first face: 60 mm deep, 40 mm wide round the axis; the pocket's
/// walls and floor are the region "cavity wall", and an open cavity fills it.
body::Body pocketed_block(bool walls_are_labelled) {
    TriangleMesh mesh = block();
    // The first face, x = −0.1, makes way for a frame round the mouth.
    std::erase_if(mesh.triangles, [&](const Triangle& t) {
        return std::all_of(t.begin(), t.end(), [&](std::int32_t v) {
            return mesh.vertices[static_cast<std::size_t>(v)].x() < 0;
        });
    });
    const auto base = static_cast<std::int32_t>(mesh.vertices.size());
    const std::array<Vec2, 4> corners{Vec2(-1, -1), Vec2(1, -1), Vec2(1, 1), Vec2(-1, 1)};
    for (const auto& [x, half] : {std::pair{-0.1, 0.05}, std::pair{-0.1, 0.02}, std::pair{-0.04, 0.02}}) {
        for (const Vec2& c : corners) mesh.vertices.emplace_back(x, half * c.x(), half * c.y());
    }
    const auto at = [base](int ring, int k) { return base + 4 * ring + k % 4; };
    for (int k = 0; k < 4; ++k) {
        mesh.triangles.push_back({at(0, k), at(1, k + 1), at(0, k + 1)});
        mesh.triangles.push_back({at(0, k), at(1, k), at(1, k + 1)});
    }
    const std::size_t outside = mesh.triangles.size();
    for (int k = 0; k < 4; ++k) {
        mesh.triangles.push_back({at(1, k), at(2, k + 1), at(1, k + 1)});
        mesh.triangles.push_back({at(1, k), at(2, k), at(2, k + 1)});
    }
    mesh.triangles.push_back({at(2, 0), at(2, 2), at(2, 1)});
    mesh.triangles.push_back({at(2, 0), at(2, 3), at(2, 2)});
    // The block's own corners serve the frame, so that the mesh is closed.
    for (Triangle& t : mesh.triangles) {
        for (std::int32_t& v : t) {
            for (std::int32_t own = 0; own < 8; ++own) {
                if ((mesh.vertices[static_cast<std::size_t>(v)] -
                     mesh.vertices[static_cast<std::size_t>(own)])
                        .norm() == 0)
                    v = own;
            }
        }
    }
    body::Body body = flesh(mesh);
    if (walls_are_labelled) {
        body.region_table = body::named_regions({"skin", "cavity wall"});
        for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
            body.parts[0].regions.push_back(t < outside ? 0 : 1);
    }
    return with_part(std::move(body), body::PartKind::cavity,
                     box_mesh({-0.1, -0.02, -0.02}, {-0.04, 0.02, 0.02}), 0, -1);
}

}  // namespace

// Hub at 0.23, skin from 0.24 to 0.44, tip at 0.30; beside it 20 mm of meat to the skin, less half the pin.
TEST(Grip, ATineInABlock) {
    const OneTine g = one_tine(flesh(block()), pin(0.07));
    EXPECT_EQ(g.tine().item, 0);
    EXPECT_NEAR(g.tine().embedded_m, 0.06, 1e-12);
    EXPECT_EQ(g.tine().in_bone_m, 0);
    EXPECT_EQ(g.tine().in_cavity_m, 0);
    EXPECT_NEAR(g.tine().in_flesh_m(), 0.06, 1e-12);
    EXPECT_NEAR(g.tine().cover_min_m.value(), 0.0175, 1e-12);
    EXPECT_DOUBLE_EQ(g.result.forks[0].at_m, 0.23);
    // radius · strength · diameter · length: 0.03 · 25 kPa · 0.005 · 0.06
    EXPECT_NEAR(g.result.forks[0].torque_capacity_n_m, 1.26, 1e-12);
    EXPECT_NEAR(g.result.forks[0].torque_capacity_raw_n_m,
                0.03 * bearing_strength(body::Meat::unknown).raw_pa * 0.005 * 0.06, 1e-12);
    EXPECT_EQ(g.result.items[0].forks, std::vector<int>{0});
}

TEST(Grip, TheClockPutsTheTineWhereItSays) {
    // The block is 100 mm high and 60 mm to the +Y side only.
    const body::Body body = flesh(box_mesh({-0.1, -0.04, -0.05}, {0.1, 0.06, 0.05}));
    const auto cover = [&](double clock) {
        return one_tine(body, pin(0.07, clock * degree)).tine().cover_min_m.value();
    };
    EXPECT_NEAR(cover(0), 0.0275, 1e-12);
    EXPECT_NEAR(cover(90), 0.0175, 1e-12);
    EXPECT_NEAR(cover(180), 0.0075, 1e-12);
    EXPECT_NEAR(cover(270), 0.0175, 1e-12);
}

TEST(Grip, CoverAheadOfTheTipCounts) {
    // Tip 6 mm before the far skin.
    EXPECT_NEAR(one_tine(flesh(block()), pin(0.204)).tine().cover_min_m.value(), 0.006, 1e-12);
}

TEST(Grip, ATineThatComesOutHasNoCover) {
    const OneTine g = one_tine(flesh(block()), pin(0.22));
    EXPECT_NEAR(g.tine().embedded_m, 0.2, 1e-12);
    EXPECT_EQ(g.tine().cover_min_m.value(), 0);
}

TEST(Grip, ATineThatShowsOnItsWayHasNoCover) {
    // Two blocks of one body with a slit between them: the pin crosses it and ends in the second.
    body::Body body = flesh(box_mesh({-0.1, -0.05, -0.05}, {-0.02, 0.05, 0.05}));
    body =
        with_part(body, body::PartKind::flesh, box_mesh({0.02, -0.05, -0.05}, {0.1, 0.05, 0.05}), 1000, -1);
    const OneTine g = one_tine(body, pin(0.16));
    EXPECT_NEAR(g.tine().embedded_m, 0.08 + 0.03, 1e-12);
    EXPECT_EQ(g.tine().cover_min_m.value(), 0);
}

TEST(Grip, AShortTineIsJudgedOverItsSecondHalf) {
    const body::Body ball = flesh(test::ellipsoid_mesh(0.1, 0.05, 0.05, Vec3::Zero(), 192, 128));
    const OneTine g = one_tine(ball, pin(0.04, 0, 0.03));
    // Enters where 0.05 √(1 − (x/0.1)²) = 0.03, x = −0.08; the tip is at x = −0.07; judged from x = −0.075
    // on.
    EXPECT_NEAR(g.tine().embedded_m, 0.01, 1e-4);
    EXPECT_NEAR(g.tine().cover_min_m.value(), 0.05 * std::sqrt(1 - 0.75 * 0.75) - 0.03 - 0.0025, 5e-5);
}

TEST(Grip, ATineThatMissesHoldsNothing) {
    for (const Tine& tine : {pin(0.009), pin(0.1, 0, 0.06), pin(0.01005)}) {
        const OneTine g = one_tine(flesh(block()), tine);
        EXPECT_EQ(g.tine().item, -1);
        EXPECT_EQ(g.tine().embedded_m, 0);
        EXPECT_FALSE(g.tine().cover_min_m);
        EXPECT_EQ(g.result.forks[0].torque_capacity_n_m, 0);
        EXPECT_EQ(g.result.forks[0].weight_share, 0);
        EXPECT_TRUE(g.result.items[0].forks.empty());
        EXPECT_FALSE(g.result.items[0].torque_use);
        EXPECT_FALSE(g.result.torque_use);
        EXPECT_FALSE(g.result.torque_capacity_n_m);
    }
}

// Radius 80 mm; the pin at 48 mm enters at x = −64 mm and would leave at +64 mm.
TEST(Grip, ATineInABall) {
    const body::Body ball = flesh(test::ellipsoid_mesh(0.08, 0.08, 0.08, Vec3::Zero(), 256, 160));
    const OneTine through = one_tine(ball, pin(0.17, 30 * degree, 0.048));
    EXPECT_NEAR(through.tine().embedded_m, 0.128, 1e-4);
    EXPECT_EQ(through.tine().cover_min_m.value(), 0);
    // Tip at x = −0.09 + 0.1 = 0.01: judged from −0.044 to there; thinnest at the beginning.
    const OneTine within = one_tine(ball, pin(0.1, 30 * degree, 0.048));
    EXPECT_NEAR(within.tine().embedded_m, 0.074, 1e-4);
    EXPECT_NEAR(within.tine().cover_min_m.value(), std::sqrt(0.08 * 0.08 - 0.044 * 0.044) - 0.048 - 0.0025,
                5e-5);
}

// Half axes 120, 50, 70 mm; a pin on the narrow side. At station x the section is an ellipse, and from a
// point on its short axis the nearest skin is straight out.
TEST(Grip, ATineInAnEllipsoid) {
    const body::Body body = flesh(test::ellipsoid_mesh(0.12, 0.05, 0.07, Vec3::Zero(), 256, 160));
    const double radius = 0.025, diameter = 0.006;
    const double entry = -0.12 * std::sqrt(1 - 0.25);  // where the short half axis has grown to 25 mm
    const OneTine g = one_tine(body, pin(0.11, 180 * degree, radius, diameter));
    const double tip = -0.12 - 0.01 + 0.11, judged = entry + limits::entry_stretch_m;
    EXPECT_NEAR(g.tine().embedded_m, tip - entry, 1e-4);
    EXPECT_NEAR(g.tine().cover_min_m.value(),
                0.05 * std::sqrt(1 - std::pow(judged / 0.12, 2)) - radius - diameter / 2, 5e-5);
    EXPECT_NEAR(g.result.forks[0].torque_capacity_n_m,
                radius * bearing_strength(body::Meat::unknown).cooked_pa * diameter * g.tine().embedded_m,
                1e-12);
}

TEST(Grip, BoneIsNotHeldAndIsTold) {
    const body::Body body = with_part(flesh(block()), body::PartKind::bone,
                                      box_mesh({-0.07, 0.02, -0.01}, {-0.055, 0.04, 0.01}), 1300, 0);
    const OneTine g = one_tine(body, pin(0.07));
    EXPECT_NEAR(g.tine().embedded_m, 0.06, 1e-12);
    EXPECT_NEAR(g.tine().in_bone_m, 0.015, 1e-12);
    EXPECT_EQ(g.tine().in_cavity_m, 0);
    EXPECT_NEAR(g.tine().in_flesh_m(), 0.045, 1e-12);
    EXPECT_NEAR(g.tine().cover_min_m.value(), 0.0175, 1e-12) << "bone is not skin";
    EXPECT_NEAR(g.result.forks[0].torque_capacity_n_m, 0.03 * 140e3 * 0.005 * 0.045, 1e-12);
}

TEST(Grip, AClosedCavityHoldsNothing) {
    const TriangleMesh hollow = box_mesh({-0.08, -0.04, -0.04}, {-0.05, 0.04, 0.04});
    const body::Body empty = with_part(flesh(block()), body::PartKind::cavity, hollow, 0, 0);
    const body::Body stuffed = with_part(empty, body::PartKind::stuffing, hollow, 900, 1);
    for (const body::Body& body : {empty, stuffed}) {
        const OneTine g = one_tine(body, pin(0.07));
        EXPECT_NEAR(g.tine().embedded_m, 0.06, 1e-12);
        EXPECT_NEAR(g.tine().in_cavity_m, 0.03, 1e-12);
        EXPECT_NEAR(g.tine().in_flesh_m(), 0.03, 1e-12);
    }
}

TEST(Grip, ABoneThatStandsIntoACavityIsBone) {
    body::Body body = with_part(flesh(block()), body::PartKind::cavity,
                                box_mesh({-0.08, -0.04, -0.04}, {-0.05, 0.04, 0.04}), 0, 0);
    body =
        with_part(body, body::PartKind::bone, box_mesh({-0.06, 0.02, -0.01}, {-0.04, 0.04, 0.01}), 1300, 0);
    const OneTine g = one_tine(body, pin(0.07));
    EXPECT_NEAR(g.tine().in_bone_m, 0.02, 1e-12);
    EXPECT_NEAR(g.tine().in_cavity_m, 0.02, 1e-12);
    EXPECT_NEAR(g.tine().in_flesh_m(), 0.02, 1e-12);
}

TEST(Grip, FleshWithinFleshIsNotSkin) {
    const body::Body body = with_part(flesh(block()), body::PartKind::flesh,
                                      box_mesh({-0.09, 0.02, -0.02}, {0.05, 0.04, 0.02}), 1100, 0);
    const OneTine g = one_tine(body, pin(0.07));
    EXPECT_NEAR(g.tine().in_flesh_m(), 0.06, 1e-12);
    EXPECT_NEAR(g.tine().cover_min_m.value(), 0.0175, 1e-12);
}

// The pocket reaches from −0.10 to −0.04; the pin enters it at once and goes 15 mm into its floor.
TEST(Grip, AnOpenCavityIsInsideTheSkin) {
    const OneTine g = one_tine(pocketed_block(true), pin(0.085, 0, 0.01));
    EXPECT_NEAR(g.tine().embedded_m, 0.075, 1e-12);
    EXPECT_NEAR(g.tine().in_cavity_m, 0.06, 1e-12);
    EXPECT_NEAR(g.tine().in_flesh_m(), 0.015, 1e-12);
}

TEST(Grip, TheWallOfACavityIsNotSkin) {
    // In the meat between pocket (20 mm) and skin (50 mm), 7 mm from the wall and 23 mm from the skin.
    const Tine tine = pin(0.05, 0, 0.027);
    EXPECT_NEAR(one_tine(pocketed_block(true), tine).tine().cover_min_m.value(), 0.023 - 0.0025, 1e-12);
    EXPECT_NEAR(one_tine(pocketed_block(false), tine).tine().cover_min_m.value(), 0.007 - 0.0025, 1e-12)
        << "unlabelled, the wall is skin as any other";
}

TEST(Grip, AForkInTheCavityAloneHasNoHold) {
    const OneTine g = one_tine(pocketed_block(true), pin(0.05, 0, 0.01));
    EXPECT_EQ(g.tine().item, 0);
    EXPECT_EQ(g.result.items[0].forks, std::vector<int>{0});
    EXPECT_NEAR(g.result.items[0].torque_capacity_n_m, 0, 1e-12);
    EXPECT_FALSE(g.result.items[0].torque_use);
}

TEST(Grip, TinesPointingToTheDriveAreTheMirrorImage) {
    const Item roast = test::item("roast", flesh(test::ellipsoid_mesh(0.1, 0.05, 0.06, Vec3::Zero())), 0.34);
    const Assembly one = load_of({roast}, {two_tines(0.23, Facing::point, 0.08)});
    const Assembly other = load_of({roast}, {two_tines(0.45, Facing::drive, 0.08)});
    const Grip a = grip(one, items_on_rod(one)), b = grip(other, items_on_rod(other));
    for (std::size_t t = 0; t < 2; ++t) {
        EXPECT_NEAR(a.forks[0].tines[t].embedded_m, b.forks[0].tines[t].embedded_m, 1e-12);
        EXPECT_NEAR(*a.forks[0].tines[t].cover_min_m, *b.forks[0].tines[t].cover_min_m, 1e-12);
    }
    EXPECT_GT(a.forks[0].torque_capacity_n_m, 0);
    EXPECT_NEAR(a.forks[0].torque_capacity_n_m, b.forks[0].torque_capacity_n_m, 1e-12);
}

TEST(Grip, TurningItemAndForkTogetherChangesNothing) {
    const bool held = rc::check("turning law", [] {
        const double clock = *rc::gen::inRange(0, 360) * degree;
        Item roast =
            test::item("roast", flesh(test::ellipsoid_mesh(0.1, 0.05, 0.06, {0, 0.01, 0}, 24, 16)), 0.34);
        Assembly before = load_of({roast}, {two_tines(0.235, Facing::point, 0.08, 0.025, 0.3)});
        Assembly after = before;
        after.items[0].pose = Eigen::AngleAxisd(clock, Vec3::UnitX()) * after.items[0].pose;
        for (Tine& tine : after.forks[0].tines) tine.clock_rad += clock;
        const Grip a = grip(before, items_on_rod(before)), b = grip(after, items_on_rod(after));
        for (std::size_t t = 0; t < 2; ++t) {
            RC_ASSERT(std::abs(a.forks[0].tines[t].embedded_m - b.forks[0].tines[t].embedded_m) < 1e-12);
            RC_ASSERT(std::abs(*a.forks[0].tines[t].cover_min_m - *b.forks[0].tines[t].cover_min_m) < 1e-12);
        }
        RC_ASSERT(std::abs(*a.torque_use - *b.torque_use) < 1e-10);
    });
    EXPECT_TRUE(held);
}

// Capacity of the two forks 4 · 0.03 · 140 kPa · 0.005 · 0.06 = 5.04 N m; 2 kg of meat 30 mm off the axis
// pull 0.588.
TEST(Grip, AnItemsForksCarryItsOwnTorque) {
    Assembly a = test::good_load();
    a.items = {test::item("roast", flesh(block()), 0.34, {0, 0.03})};
    a.counterweights = {
        {.at_m = 0.1, .mass_kg = 1, .radius_m = 0.06, .clock_rad = 270 * degree, .diameter_m = 0.04}};
    const Grip g = grip(a, items_on_rod(a));
    EXPECT_EQ(g.items[0].forks, (std::vector<int>{0, 1}));
    EXPECT_NEAR(g.items[0].torque_capacity_n_m, 5.04, 1e-12);
    EXPECT_NEAR(g.items[0].gravity_torque_n_m, 2 * standard_gravity * 0.03, 1e-12);
    EXPECT_NEAR(*g.items[0].torque_use, 2 * standard_gravity * 0.03 / 5.04, 1e-12)
        << "the counterweight does not help";
    EXPECT_NEAR(*g.torque_use, *g.items[0].torque_use, 0);
    EXPECT_NEAR(*g.torque_capacity_n_m, 5.04, 1e-12);
}

TEST(Grip, AGivenBearingStrengthIsUsedInEveryState) {
    Assembly a = test::good_load();
    a.items[0].bearing_strength_pa = 120e3;
    const Grip g = grip(a, items_on_rod(a));
    EXPECT_NEAR(g.items[0].torque_capacity_n_m, 5.04 * 120 / 140, 1e-12);
    EXPECT_NEAR(g.items[0].torque_capacity_raw_n_m, 5.04 * 120 / 140, 1e-12);
    EXPECT_NEAR(g.forks[0].torque_capacity_n_m, 0.45 * 120 / 25, 1e-12);
}

// A fork between two roasts, its long tines through the first into the second.
TEST(Grip, OneForkMayHoldTwoItems) {
    Assembly a = load_of(
        {test::item("first", flesh(box_mesh({-0.04, -0.05, -0.05}, {0.04, 0.05, 0.05})), 0.16),
         test::item("second", flesh(box_mesh({-0.05, -0.05, -0.05}, {0.05, 0.05, 0.05}), 1100), 0.28)},
        {{.at_m = 0.10,
          .points = Facing::point,
          .mass_kg = 0.1,
          .tines = {pin(0.16), pin(0.16, 180 * degree)}},
         two_tines(0.38, Facing::drive, 0.08)});
    a.items[0].bearing_strength_pa = 40e3;
    const Grip g = grip(a, items_on_rod(a));
    EXPECT_EQ(g.items[0].forks, std::vector<int>{0});
    EXPECT_EQ(g.items[1].forks, (std::vector<int>{0, 1}));
    const TineGrip& tine = g.forks[0].tines[0];
    EXPECT_EQ(tine.item, 0);
    EXPECT_NEAR(tine.embedded_m, 0.08 + 0.03, 1e-12);
    EXPECT_EQ(*tine.cover_min_m, 0) << "it comes out of the first";
    EXPECT_NEAR(g.items[0].torque_capacity_n_m, 2 * 0.03 * 40e3 * 0.005 * 0.08, 1e-12);
    EXPECT_NEAR(g.items[1].torque_capacity_n_m, 2 * 0.03 * 140e3 * 0.005 * (0.03 + 0.03), 1e-12);
    EXPECT_NEAR(g.forks[0].torque_capacity_n_m, 2 * 0.03 * 0.005 * (40e3 * 0.08 + 140e3 * 0.03), 1e-12);
    // The first hangs on fork 1 alone, the second on both: fork 1 has its flesh from 0.12 to 0.20 and from
    // 0.23 to 0.26, the other from 0.30 to 0.33.
    const double first_kg = 0.8, second_kg = 1.1;
    const double near = g.forks[0].tines[0].flesh_middle_m, far = 0.315;
    const double first_share = 1, second_share = (far - 0.28) / (far - near);
    EXPECT_NEAR(g.forks[0].weight_share,
                (first_share * first_kg + second_share * second_kg) / (first_kg + second_kg), 1e-9);
    EXPECT_NEAR(g.forks[1].weight_share, 1 - second_share, 1e-9);
}

TEST(Grip, TheWorstItemSpeaksForAll) {
    const Assembly a = load_of(
        {test::item("even", flesh(box_mesh({-0.04, -0.05, -0.05}, {0.04, 0.05, 0.05})), 0.16, {0, 0.005}),
         test::item("heavy", flesh(box_mesh({-0.04, -0.05, -0.05}, {0.04, 0.05, 0.05})), 0.40, {0, 0.015})},
        {two_tines(0.11, Facing::point, 0.05), two_tines(0.35, Facing::point, 0.05)});
    const Grip g = grip(a, items_on_rod(a));
    EXPECT_LT(*g.items[0].torque_use, *g.items[1].torque_use);
    EXPECT_EQ(*g.torque_use, *g.items[1].torque_use);
    EXPECT_EQ(*g.torque_capacity_n_m, g.items[1].torque_capacity_n_m);
}

}  // namespace evenspit
