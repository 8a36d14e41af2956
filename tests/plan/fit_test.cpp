// SPDX-License-Identifier: MIT
#include "plan/fit.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "plan/loads.h"
#include "units/error.h"

namespace evenspit::plan {
namespace {

constexpr double mass_kg = 3;

/// A round joint so many times as heavy, in a cooker whose bed lies so far below the rod.
Assembly joint(double factor, double bed_m) {
    const double size = std::cbrt(factor);
    Assembly load = test::load_of(test::item_of(
        test::flesh_body(test::ellipsoid_mesh(0.12 * size, 0.08 * size, 0.08 * size, Vec3::Zero()),
                         factor * mass_kg, "joint"),
        {.at_m = 0.42}));
    load.cooker.surfaces = {{"bed", PlaneShape{Vec3(0, 0, -bed_m), Vec3::UnitZ()}, false, {}, 0.02}};
    return load;
}

bool stops_at_the_bed(const FitStop& stop) {
    const auto* limit = std::get_if<PlanLimit>(&stop);
    const auto* room = limit == nullptr ? nullptr : std::get_if<RoomLimit>(limit);
    return room != nullptr && room->strikes.size() == 1 && room->strikes[0].surface == 0;
}

TEST(FindFit, StopsWhereTheBodyStrikesTheBed) {
    // The radius is 80 mm at 3 kg: 85 mm, 5 mm from the bed, are reached at 3 kg · (85/80)³, but for the sag.
    const Fit fit = find_fit([](double factor) { return joint(factor, 0.09); }, mass_kg, 0);
    ASSERT_TRUE(fit.largest_kg);
    EXPECT_NEAR(*fit.largest_kg, mass_kg * std::pow(85.0 / 80, 3), 0.1);
    EXPECT_TRUE(stops_at_the_bed(fit.stopped_by));
    EXPECT_TRUE(std::is_sorted(fit.rows.begin(), fit.rows.end(),
                               [](const FitRow& a, const FitRow& b) { return a.mass_kg < b.mass_kg; }));
}

TEST(FindFit, TellsWhenNothingStopsIt) {
    const Fit fit = find_fit([](double) { return joint(1, 0.5); }, mass_kg, 0);
    EXPECT_NEAR(*fit.largest_kg, 8 * mass_kg, 1e-9);
    EXPECT_TRUE(std::holds_alternative<std::monostate>(fit.stopped_by));
    EXPECT_EQ(fit.rows.size(), 17U);
}

TEST(FindFit, GoesDownWhereHalfTheMassIsTooMuch) {
    const Fit fit = find_fit([](double factor) { return joint(factor, 0.057); }, mass_kg, 0);
    ASSERT_TRUE(fit.largest_kg);
    EXPECT_NEAR(*fit.largest_kg, mass_kg * std::pow(52.0 / 80, 3), 0.05);
}

TEST(FindFit, TellsWhenNothingFits) {
    const Fit fit = find_fit([](double factor) { return joint(factor, 0.03); }, mass_kg, 0);
    EXPECT_FALSE(fit.largest_kg);
    EXPECT_TRUE(stops_at_the_bed(fit.stopped_by));
}

// The lightest tried is no body at all: that is not what stops the others.
TEST(FindFit, TellsWhatStopsTheBodiesThereAreWhenNothingFits) {
    const Fit fit = find_fit(
        [](double factor) {
            if (factor < 0.7) {
                Complaint complaint;
                complaint.expected = "a joint of 2 kg or more";
                throw InputError(std::move(complaint));
            }
            return joint(factor, 0.03);
        },
        mass_kg, 0);
    EXPECT_FALSE(fit.largest_kg);
    EXPECT_TRUE(stops_at_the_bed(fit.stopped_by));
    EXPECT_FALSE(fit.rows.front().verdict);
}

TEST(FindFit, TellsThatThereIsNoSuchBodyWhereThatIsAll) {
    const Fit fit = find_fit([](double) -> Assembly { throw InputError(Complaint{}); }, mass_kg, 0);
    EXPECT_FALSE(fit.largest_kg);
    EXPECT_TRUE(std::holds_alternative<Complaint>(fit.stopped_by));
}

/// As joint(), the bed too near between two factors and from a third on.
auto joint_with_gap(double gap_from, double gap_to, double end) {
    return [=](double factor) {
        const bool stopped = (factor > gap_from && factor < gap_to) || factor > end;
        return joint(stopped ? factor : 1, stopped ? 0.03 : 0.5);
    };
}

TEST(FindFit, GoesOnAboveAGap) {
    // Between two of the masses that are tried first, 1.19 and 1.41 times as heavy.
    const Fit inside = find_fit(joint_with_gap(1.25, 1.30, 1.39), mass_kg, 0);
    EXPECT_LE(*inside.largest_kg, 1.39 * mass_kg);
    EXPECT_GE(*inside.largest_kg, 1.39 * mass_kg / 1.01);
    // The first mass beyond twice as heavy.
    const Fit beyond = find_fit(joint_with_gap(2.2, 2.5, 3.0), mass_kg, 0);
    EXPECT_LE(*beyond.largest_kg, 3.0 * mass_kg);
    EXPECT_GE(*beyond.largest_kg, 3.0 * mass_kg / 1.01);
    EXPECT_TRUE(stops_at_the_bed(beyond.stopped_by));
}

/// A lumpy roast with a bone, on forks that stay where they are, over a bed and beside a shelf.
Assembly lumpy_roast(double factor) {
    std::mt19937 random(0);
    TriangleMesh mesh = test::lumpy_mesh(random, 20, 14);
    const double size = std::cbrt(factor);
    for (Vec3& v : mesh.vertices) v *= size;
    body::Body body = test::flesh_body(std::move(mesh), factor * mass_kg);
    body.parts.push_back(
        {.name = "shank",
         .kind = body::PartKind::bone,
         .mesh = test::box_mesh(size * Vec3(-0.06, 0.007, -0.008), size * Vec3(0.06, 0.023, 0.008)),
         .density_kg_m3 = 1300,
         .parent = 0,
         .regions = {}});
    Assembly load = test::load_of(test::item_of(std::move(body), {.at_m = 0.42}));
    load.forks = {test::two_tine(0.28, Facing::point), test::two_tine(0.56, Facing::drive)};
    load.motor.rated_torque_n_m = 1;
    load.motor.stall_torque_n_m = 2;
    load.rod.usable_m[1] = load.rod.length_m;  // bed and shelf alone stop it
    load.cooker.surfaces = {
        {"bed", PlaneShape{Vec3(0, 0, -0.11), Vec3::UnitZ()}, false, {}, 0.02},
        {"shelf", BoxShape{.min = {0.5, -0.3, 0.13}, .max = {0.7, 0.3, 0.14}}, false, {}, 0.02}};
    return load;
}

// Planning one of these from where it stands fails here and there far below the limit.
TEST(FindFit, EndsWhereAFineSweepEnds) {
    const Fit fit = find_fit(lumpy_roast, mass_kg, 0);
    ASSERT_TRUE(fit.largest_kg);
    const auto at = std::find_if(fit.rows.begin(), fit.rows.end(),
                                 [&](const FitRow& row) { return row.mass_kg == *fit.largest_kg; });
    ASSERT_NE(at, fit.rows.end());
    EXPECT_NE(at->verdict, Level::stop);
    EXPECT_EQ(std::holds_alternative<std::monostate>(at->stopped_by), at->verdict == Level::ready);
    const double largest = *fit.largest_kg / mass_kg;
    for (double factor = 1.01 * largest; factor < 1.4 * largest; factor *= 1.02) {
        const Plan plan = test::drawn_plan(lumpy_roast(factor));
        EXPECT_EQ(plan.answers[plan.recommended].analysis.verdict, Level::stop) << factor;
    }
}

TEST(FindFit, StopsWhereThereIsNoSuchBody) {
    const Fit fit = find_fit(
        [](double factor) {
            if (factor > 1.3) {
                Complaint complaint;
                complaint.expected = "a joint of 1 to 4 kg";
                throw InputError(std::move(complaint));
            }
            return joint(factor, 0.5);
        },
        mass_kg, 0);
    EXPECT_NEAR(*fit.largest_kg, 1.3 * mass_kg, 0.05);
    ASSERT_TRUE(std::holds_alternative<Complaint>(fit.stopped_by));
    EXPECT_EQ(std::get<Complaint>(fit.stopped_by).expected, "a joint of 1 to 4 kg");
    EXPECT_FALSE(fit.rows.back().verdict);
}

}  // namespace
}  // namespace evenspit::plan
