// SPDX-License-Identifier: MIT
#include "analysis/clearance.h"

#include <algorithm>
#include <tuple>

#include <gtest/gtest.h>

#include "analysis/mountings.h"
#include "load/arrangement.h"
#include "loads.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::flesh;

/// The meat of the good load alone: stations 0.24 … 0.44, corners 50 √2 mm from the axis.
Assembly without_forks() {
    Assembly a = test::good_load();
    a.forks.clear();
    return a;
}

constexpr double corner_m = 0.05 * std::numbers::sqrt2;

CookerSurface floor_at(double z, double keep_m = 0.025) {
    return {.name = "floor",
            .shape = PlaneShape{{0, 0, z}, Vec3::UnitZ()},
            .fire = false,
            .temperature_k = {},
            .keep_m = keep_m};
}

/// A beam so stiff that it does not sag.
Beam stiff() {
    return Beam({.length_m = 0.76,
                 .supports_m = {0.02, 0.66},
                 .bending_stiffness_n_m2 = 1e3,
                 .points = {},
                 .spreads = {}});
}

/// A beam that sags by a known amount in the middle of its span: P L³ / 48 E I.
Beam sagging(double middle_m) {
    const double stiffness = 1e3, span = 0.64;
    return Beam({.length_m = 0.76,
                 .supports_m = {0.02, 0.66},
                 .bending_stiffness_n_m2 = stiffness,
                 .points = {{0.34, middle_m * 48 * stiffness / (span * span * span)}},
                 .spreads = {}});
}

SweptLoad swept(const Assembly& a) {
    return swept_load(a);
}

Outline outline_of(const Assembly& a) {
    return swept(a).outline;
}

/// What reaches furthest at a station.
Thing reaches_at(const SweptLoad& load, double x) {
    for (const OutlinePiece& piece : load.outline.pieces) {
        if (piece.x0 <= x && x <= piece.x1) return load.parts.at(static_cast<std::size_t>(piece.part));
    }
    return {};
}

/// A lumpy roast with a loose wing, and another that may come loose.
Assembly winged_load() {
    Assembly a = test::lumpy_load();
    body::Body body = a.items[0].body->body;
    body.swung.push_back({"left wing", test::ellipsoid_mesh(0.03, 0.05, 0.02, {0, 0.07, 0}, 30, 20)});
    body.if_undone = body.swung;
    body.if_undone.push_back({"right wing", test::ellipsoid_mesh(0.03, 0.05, 0.02, {0, -0.07, 0}, 30, 20)});
    a.items = {test::item("roast", body, 0.34, {0.004, -0.006})};
    a.spread.rod_line_m = 0.008;
    a.spread.limb_loose = 0.5;
    return a;
}

}  // namespace

TEST(SweptOutline, IsTheSameWithTreesInEveryMounting) {
    constexpr double step_m = 0.004;
    const Assembly a = winged_load();
    const Mountings mountings(a, 32);
    const SweepTrees trees = sweep_trees(a);
    EXPECT_EQ(trees.size(), 4U);
    for (std::size_t k = 0; k < mountings.count(); ++k) {
        const Assembly mounted = mountings.mounting(k);
        const SweptLoad quick = swept_load(mounted, step_m, trees), whole = swept_load(mounted, step_m);
        EXPECT_EQ(quick.parts, whole.parts);
        ASSERT_EQ(quick.outline.pieces.size(), whole.outline.pieces.size()) << k;
        for (std::size_t i = 0; i < whole.outline.pieces.size(); ++i) {
            const OutlinePiece &one = quick.outline.pieces[i], &other = whole.outline.pieces[i];
            EXPECT_EQ(std::tie(one.x0, one.r0, one.x1, one.r1, one.part),
                      std::tie(other.x0, other.r0, other.x1, other.r1, other.part));
        }
    }
}

TEST(SweptOutline, HangsOnNoTurnOfTheItem) {
    constexpr double rounding = 1e-12;  // m
    Assembly a = without_forks();
    Item& item = a.items[0];
    item.seat.line = {{0.010, -0.004}, {-0.002, 0.006}};
    item.pose = pose_in(item, item.seat);
    const std::vector<OutlinePiece> before = outline_of(a).pieces;
    item.seat.turn_rad = 1.1;
    item.pose = pose_in(item, item.seat);
    const std::vector<OutlinePiece> turned = outline_of(a).pieces;
    const auto end = [](const OutlinePiece& p) { return std::tie(p.x0, p.r0, p.x1, p.r1); };
    ASSERT_EQ(turned.size(), before.size());
    for (std::size_t i = 0; i < turned.size(); ++i) EXPECT_EQ(end(turned[i]), end(before[i]));
    // As it really sits.
    const Outline true_one = sweep({{.mesh = &item.body->body.parts[0].mesh, .pose = item.pose}}, {});
    const Outline found{turned};
    for (double x = 0.22; x < 0.46; x += 0.0007)
        EXPECT_NEAR(found.radius_at(x), true_one.radius_at(x), rounding) << x;
    // A pose that its seat knows nothing of counts as it is.
    item.pose = Eigen::Translation3d(0, 0.03, 0) * item.pose;
    EXPECT_GT(outline_of(a).radius_at(0.34), true_one.radius_at(0.34) + 0.01);
}

TEST(SweptOutline, HoldsTheItemAndNotTheRod) {
    const Outline outline = outline_of(without_forks());
    EXPECT_EQ(outline.radius_at(0.2), 0) << "the rod is not counted";
    EXPECT_NEAR(outline.radius_at(0.34), corner_m, 1e-12);
    EXPECT_NEAR(outline.pieces.front().x0, 0.24, 1e-12);
    EXPECT_NEAR(outline.pieces.back().x1, 0.44, 1e-12);
    EXPECT_EQ(reaches_at(swept(without_forks()), 0.3), (Thing{Thing::Kind::item, 0}));
}

TEST(SweptOutline, HoldsForksFromHubToTip) {
    Assembly a = without_forks();
    a.forks = {test::two_tines(0.23, Facing::point, 0.07, 0.08),
               test::two_tines(0.52, Facing::drive, 0.06, 0.09)};
    const Outline outline = outline_of(a);
    EXPECT_NEAR(outline.radius_at(0.26), 0.0825, 1e-12);
    EXPECT_NEAR(outline.radius_at(0.34), corner_m, 1e-12);
    EXPECT_NEAR(outline.radius_at(0.49), 0.0925, 1e-12);
    EXPECT_EQ(outline.radius_at(0.45), 0);
    EXPECT_NEAR(outline.pieces.back().x1, 0.52, 1e-12);
    EXPECT_EQ(reaches_at(swept(a), 0.49), (Thing{Thing::Kind::fork, 1}));
}

TEST(SweptOutline, HoldsCounterweightsAsWideAsLong) {
    Assembly a = without_forks();
    a.counterweights = {{.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 1, .diameter_m = 0.04}};
    const Outline outline = outline_of(a);
    EXPECT_NEAR(outline.pieces.front().x0, 0.08, 1e-12);
    EXPECT_NEAR(outline.radius_at(0.1), 0.09, 1e-12);
    EXPECT_NEAR(outline.radius_at(0.119), 0.09, 1e-12);
    EXPECT_EQ(outline.radius_at(0.125), 0);
    EXPECT_EQ(reaches_at(swept(a), 0.1), (Thing{Thing::Kind::counterweight, 0}));
}

TEST(SweptOutline, CountsLooseLimbsSwungOut) {
    Assembly a = without_forks();
    body::Body body = a.items[0].body->body;
    body.swung.push_back({"left wing", box_mesh({-0.02, 0.05, -0.01}, {0.02, 0.15, 0.01})});
    a.items = {test::item("goose", body, 0.34)};
    const Outline outline = outline_of(a);
    EXPECT_NEAR(outline.radius_at(0.34), std::hypot(0.15, 0.01), 1e-12);
    EXPECT_NEAR(outline.radius_at(0.37), corner_m, 1e-12);
    const Thing wing = reaches_at(swept(a), 0.34);
    EXPECT_EQ(wing, (Thing{Thing::Kind::limb, 0, 0}));
    EXPECT_EQ(thing_name(wing, a), "goose, left wing swung out");
}

TEST(SweptOutline, LeavesOutWhatLiesWithinAndCavities) {
    Assembly a = without_forks();
    body::Body body = test::with_part(a.items[0].body->body, body::PartKind::bone,
                                      box_mesh({-0.3, -0.1, -0.1}, {0.3, 0.1, 0.1}), 1300, 0);
    body = test::with_part(body, body::PartKind::cavity, box_mesh({-0.2, -0.2, -0.2}, {0, 0.2, 0.2}), 0, -1);
    a.items = {test::item("roast", body, 0.34)};
    const Outline outline = outline_of(a);
    EXPECT_NEAR(outline.pieces.front().x0, 0.24, 1e-12);
    EXPECT_NEAR(outline.radius_at(0.3), corner_m, 1e-12);
}

TEST(Clearance, IsTheDistanceOfTheSweptSolid) {
    const Assembly a = without_forks();
    const Clearance c = clearance({"", {floor_at(-0.1), floor_at(-0.08)}}, swept(a), stiff());
    ASSERT_EQ(c.surfaces.size(), 2U);
    EXPECT_NEAR(c.surfaces[0].gap_m, 0.1 - corner_m, 1e-7);
    EXPECT_NEAR(c.surfaces[1].gap_m, 0.08 - corner_m, 1e-7);
    EXPECT_EQ(c.gap_min_m, c.surfaces[1].gap_m);
    EXPECT_EQ(c.surfaces[0].name, "floor");
    EXPECT_EQ(c.surfaces[0].part, (Thing{Thing::Kind::item, 0}));
    EXPECT_EQ(c.surfaces[0].keep_m, 0.025);
    EXPECT_GE(c.surfaces[0].at_m, 0.24 - 1e-9);
    EXPECT_LE(c.surfaces[0].at_m, 0.44 + 1e-9);
}

TEST(Clearance, IsNegativeWhereItStrikes) {
    const Clearance c = clearance({"", {floor_at(-0.06)}}, swept(without_forks()), stiff());
    EXPECT_NEAR(c.surfaces[0].gap_m, 0.06 - corner_m, 1e-7);
    EXPECT_LT(*c.gap_min_m, 0);
}

TEST(Clearance, SagTakesItselfOffTheGapBelow) {
    // A slice at the middle of the span, so that the sag hardly varies along it.
    Assembly a = without_forks();
    a.items = {test::item("slice", flesh(box_mesh({-0.001, -0.05, -0.05}, {0.001, 0.05, 0.05})), 0.34)};
    const Cooker cooker{"", {floor_at(-0.1)}};
    const double straight = *clearance(cooker, swept(a), stiff()).gap_min_m;
    const Clearance sagged = clearance(cooker, swept(a), sagging(0.004));
    EXPECT_NEAR(straight - *sagged.gap_min_m, 0.004, 1e-7);
    // Above it gives way.
    const Cooker lid{"",
                     {{.name = "lid",
                       .shape = PlaneShape{{0, 0, 0.1}, -Vec3::UnitZ()},
                       .fire = false,
                       .temperature_k = {},
                       .keep_m = 0}}};
    EXPECT_NEAR(*clearance(lid, swept(a), sagging(0.004)).gap_min_m - straight, 0.004, 2e-6);
}

TEST(Clearance, EachStationSagsByItsOwnAmount) {
    // Two discs of one size: the one in the middle comes nearer to the floor.
    Assembly a = without_forks();
    const TriangleMesh slice = box_mesh({-0.005, -0.05, -0.05}, {0.005, 0.05, 0.05});
    a.items = {test::item("end", flesh(slice), 0.08), test::item("middle", flesh(slice), 0.34)};
    const Clearance c = clearance({"", {floor_at(-0.1)}}, swept(a), sagging(0.004));
    EXPECT_EQ(c.surfaces[0].part, (Thing{Thing::Kind::item, 1}));
    EXPECT_NEAR(c.surfaces[0].at_m, 0.34, 0.005 + 1e-9);
}

TEST(Clearance, SurfacesKeepTheirKeepAndFire) {
    CookerSurface coals = floor_at(-0.2, 0.05);
    coals.fire = true;
    const Clearance c = clearance({"", {coals}}, swept(without_forks()), stiff());
    EXPECT_TRUE(c.surfaces[0].fire);
    EXPECT_EQ(c.surfaces[0].keep_m, 0.05);
}

TEST(Clearance, TellsTheProfile) {
    const Assembly a = without_forks();
    const Clearance c = clearance({}, swept(a), stiff());
    EXPECT_FALSE(c.gap_min_m);
    EXPECT_TRUE(c.surfaces.empty());
    ASSERT_GE(c.profile.size(), 2U);
    EXPECT_NEAR(c.profile.front()[0], 0.24, 1e-12);
    EXPECT_NEAR(c.profile.back()[0], 0.44, 1e-12);
    for (std::size_t i = 1; i < c.profile.size(); ++i) {
        EXPECT_GE(c.profile[i][0], c.profile[i - 1][0]);
        EXPECT_NE(c.profile[i], c.profile[i - 1]) << "a point is told once";
    }
    for (const auto& [x, radius] : c.profile) EXPECT_LE(radius, corner_m + 1e-12) << x;
}

TEST(Clearance, OfNothingIsUnknown) {
    Assembly a = without_forks();
    a.items.clear();
    const Clearance c = clearance({"", {floor_at(-0.1)}}, swept(a), stiff());
    EXPECT_FALSE(c.gap_min_m);
    EXPECT_TRUE(c.surfaces.empty());
    EXPECT_TRUE(c.profile.empty());
}

}  // namespace evenspit
