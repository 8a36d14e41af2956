// SPDX-License-Identifier: MIT
#include "roast/cook_ends.h"

#include <gtest/gtest.h>

#include "plan/loads.h"

namespace evenspit {
namespace {

constexpr auto raw = static_cast<std::size_t>(Doneness::raw);
constexpr auto cooked = static_cast<std::size_t>(Doneness::cooked);

body::Body ball() {
    return test::flesh_body(test::ellipsoid_mesh(0.1, 0.06, 0.06, Vec3(0, 0.01, 0)), 2);
}

// USDA SR26: a whole turkey of these parts goes from 4993 g to 3800 g.
TEST(CookingYield, OfTurkeyPartsAddsUpToTheWholeBirds) {
    const double raw_g = 1769 + 1124 + 2 * (367 + 337 + 346);
    const double cooked_g =
        1769 * cooking_yield(body::RegionKind::breast) + 1124 * cooking_yield(body::RegionKind::back) +
        2 * (367 * cooking_yield(body::RegionKind::leg) + 337 * cooking_yield(body::RegionKind::leg) +
             346 * cooking_yield(body::RegionKind::wing));
    EXPECT_NEAR(cooked_g / raw_g, 3800.0 / 4993, 0.002);
}

TEST(MatterEnds, OfABodyWithoutPartsLosesEvenly) {
    const auto prepared = body::prepare(ball());
    const auto bounds = matter_ends(*prepared);
    EXPECT_DOUBLE_EQ(bounds[raw].mass_kg, 2);
    EXPECT_TRUE(bounds[raw].centre.isApprox(prepared->mass.centre, 1e-15));
    EXPECT_NEAR(bounds[cooked].mass_kg, 2 * 0.76, 1e-12);
    EXPECT_TRUE(bounds[cooked].centre.isApprox(bounds[raw].centre, 1e-12));
}

TEST(MatterEnds, MoveTheCentreTowardWhatLosesLess) {
    body::Body body = ball();
    body.shares = {{{"breast", body::RegionKind::breast}, 1.2, {0, 0, 0.03}},
                   {{"left wing", body::RegionKind::wing}, 0.8, {0, 0, -0.04}}};
    const auto bounds = matter_ends(*body::prepare(body));
    const double left_breast = 1.2 * 0.799, left_wing = 0.8 * 0.616;
    EXPECT_NEAR(bounds[cooked].mass_kg, left_breast + left_wing, 1e-12);
    // The body's own centre stays the base: the shares only say what is lost where.
    const double lost = -(1.2 - left_breast) * 0.03 + (0.8 - left_wing) * 0.04;
    EXPECT_NEAR(bounds[cooked].centre.z(), (2 * bounds[raw].centre.z() + lost) / (left_breast + left_wing),
                1e-12);
    EXPECT_GT(bounds[cooked].centre.z(), bounds[raw].centre.z());
}

TEST(MatterEnds, LeaveStuffingAsItIs) {
    body::Body body = ball();
    body.parts.push_back({.name = "stuffing",
                          .kind = body::PartKind::stuffing,
                          .mesh = test::ellipsoid_mesh(0.03, 0.03, 0.03, Vec3::Zero()),
                          .density_kg_m3 = 900,
                          .parent = 0});
    const auto prepared = body::prepare(body);
    const double stuffing_kg = 900 * volume_moments(body.parts[1].mesh).amount;
    const auto bounds = matter_ends(*prepared);
    EXPECT_NEAR(bounds[cooked].mass_kg, 0.76 * (bounds[raw].mass_kg - stuffing_kg) + stuffing_kg, 1e-12);
}

TEST(MatterEnds, SoftenUnlessTheLoadFileFixesTheStrength) {
    const auto prepared = body::prepare(ball());
    EXPECT_EQ(matter_ends(*prepared)[raw].bearing_strength_pa, bearing_strength(body::Meat::unknown).raw_pa);
    EXPECT_EQ(matter_ends(*prepared)[cooked].bearing_strength_pa,
              bearing_strength(body::Meat::unknown).cooked_pa);
    for (const body::Matter& matter : matter_ends(*prepared, 120e3))
        EXPECT_EQ(matter.bearing_strength_pa, 120e3);
}

// Kim et al. 2025, table 5, along the fibres: roasted pork butt 140 kPa, roasted beef loin 180 kPa.
TEST(MatterEnds, BearWhatTheirKindOfMeatDoes) {
    body::Body body = ball();
    const auto least = [&body](body::Meat meat) {
        body.meat = meat;
        return least_bearing_strength_pa(test::item_of(body, {}));
    };
    EXPECT_EQ(least(body::Meat::beef), 180e3);
    EXPECT_EQ(least(body::Meat::pork), 140e3);
    for (const body::Meat meat : {body::Meat::unknown, body::Meat::poultry, body::Meat::lamb})
        EXPECT_EQ(least(meat), 140e3) << "the lowest stands in";
}

TEST(MatterAt, IsTheItemsOwnWhereItHasOne) {
    Item item = test::item_of(ball(), {.at_m = 0.4});
    EXPECT_DOUBLE_EQ(matter_of(item).mass_kg, 2);
    EXPECT_NEAR(matter_at(item, Doneness::cooked).mass_kg, 2 * 0.76, 1e-12);
    EXPECT_EQ(least_bearing_strength_pa(item), bearing_strength(body::Meat::unknown).cooked_pa);
    item.matter = body::Matter{1.7, {0, 0, 0.01}, 40e3};
    for (const Doneness end : {Doneness::raw, Doneness::cooked}) {
        EXPECT_EQ(matter_at(item, end).mass_kg, 1.7);
        EXPECT_EQ(matter_at(item, end).centre.z(), 0.01);
    }
    EXPECT_EQ(least_bearing_strength_pa(item), 40e3);
}

}  // namespace
}  // namespace evenspit
