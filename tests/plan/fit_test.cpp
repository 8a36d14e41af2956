// SPDX-License-Identifier: MIT
#include "plan/fit.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "plan/loads.h"
#include "units/error.h"

namespace evenspit {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;

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

TEST(FindFit, StopsWhereTheBodyStrikesTheBed) {
    // The radius is 80 mm at 3 kg: 90 mm are reached at 3 kg · (9/8)³, but for the sag.
    const Fit fit = find_fit([](double factor) { return joint(factor, 0.09); }, mass_kg);
    ASSERT_TRUE(fit.largest_kg);
    EXPECT_NEAR(*fit.largest_kg, mass_kg * std::pow(9.0 / 8, 3), 0.1);
    EXPECT_THAT(fit.stopped_by, HasSubstr("bed"));
    EXPECT_TRUE(std::is_sorted(fit.rows.begin(), fit.rows.end(),
                               [](const FitRow& a, const FitRow& b) { return a.mass_kg < b.mass_kg; }));
}

TEST(FindFit, TellsWhenNothingStopsIt) {
    const Fit fit = find_fit([](double) { return joint(1, 0.5); }, mass_kg);
    EXPECT_NEAR(*fit.largest_kg, 8 * mass_kg, 1e-9);
    EXPECT_THAT(fit.stopped_by, IsEmpty());
    EXPECT_EQ(fit.rows.size(), 17U);
}

TEST(FindFit, GoesDownWhereHalfTheMassIsTooMuch) {
    const Fit fit = find_fit([](double factor) { return joint(factor, 0.057); }, mass_kg);
    ASSERT_TRUE(fit.largest_kg);
    EXPECT_NEAR(*fit.largest_kg, mass_kg * std::pow(57.0 / 80, 3), 0.05);
}

TEST(FindFit, TellsWhenNothingFits) {
    const Fit fit = find_fit([](double factor) { return joint(factor, 0.03); }, mass_kg);
    EXPECT_FALSE(fit.largest_kg);
    EXPECT_THAT(fit.stopped_by, HasSubstr("bed"));
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
        mass_kg);
    EXPECT_NEAR(*fit.largest_kg, 1.3 * mass_kg, 0.05);
    EXPECT_EQ(fit.stopped_by, "There is no such body: expected a joint of 1 to 4 kg.");
    EXPECT_FALSE(fit.rows.back().verdict);
}

}  // namespace
}  // namespace evenspit
