// SPDX-License-Identifier: MIT
#include "scan/app_closing.h"

#include <cmath>

#include <gtest/gtest.h>

#include "made_points.h"
#include "other_bodies.h"
#include "scan/sampling.h"

namespace evenspit::scan {
namespace {

std::optional<AppClosing> looked_at(const TriangleMesh& mesh) {
    return find_app_closing(mesh, sampled({mesh, {}, 1.0, 0}));
}

TEST(AppClosing, AFloorIsFoundWithItsWalls) {
    const TriangleMesh body = test::other_bird(4).skin;
    const auto found = looked_at(test::closed_by_app(body, test::AppClosing::floor, 4));
    ASSERT_TRUE(found);
    EXPECT_GT(found->up.z(), 0.999);
    EXPECT_GT(found->share, 0.1);
    EXPECT_GT(found->walls_m, 0.004);
    EXPECT_NEAR(found->floor, bounds(body).min().z(), 0.001);
    for (const Vec3& p : found->seen.positions) ASSERT_GT(p.z(), found->floor + 0.004);
}

TEST(AppClosing, ACutHasNoWalls) {
    const TriangleMesh body = test::other_bird(4).skin;
    const auto found = looked_at(test::closed_by_app(body, test::AppClosing::cap, 4));
    ASSERT_TRUE(found);
    EXPECT_GT(found->up.z(), 0.99);
    EXPECT_EQ(found->walls_m, 0);
    EXPECT_FALSE(found->rim);
    // It is made at 0.12 to 0.3 of the height.
    const Box3 box = bounds(body);
    EXPECT_GT(found->floor, box.min().z() + 0.11 * box.sizes().z());
    EXPECT_LT(found->floor, box.min().z() + 0.31 * box.sizes().z());
    for (const Vec3& p : found->seen.positions) ASSERT_GT(p.z(), found->floor - 0.003);
}

TEST(AppClosing, AFlatPlaceOfAFewHundredthsIsFound) {
    EXPECT_TRUE(looked_at(test::closed_by_app(test::other_bird(12).skin, test::AppClosing::cap, 12)));
}

TEST(AppClosing, ABulgeIsSmoothWhereTheRestIsRough) {
    const TriangleMesh body = test::other_bird(0).skin;
    const auto found = looked_at(test::closed_by_app(body, test::AppClosing::bulge, 0));
    ASSERT_TRUE(found);
    EXPECT_GT(found->up.z(), 0.9);
    EXPECT_GT(found->share, 0.15);
    EXPECT_EQ(found->walls_m, 0);
}

/// What is found of a roast over a bulge: a level rim, a tenth to a third of its height up.
std::optional<AppClosing> look_over_bulge(std::uint64_t roast, std::uint64_t seed) {
    const TriangleMesh body = test::other_roast(roast).skin;
    auto found = looked_at(test::closed_by_app(body, test::AppClosing::bulge, seed));
    if (!found) return found;
    EXPECT_TRUE(found->rim);
    const Box3 box = bounds(body);
    EXPECT_GT(found->up.z(), 0.99);
    EXPECT_GT(found->floor, box.min().z() + 0.1 * box.sizes().z());
    EXPECT_LT(found->floor, box.min().z() + 0.35 * box.sizes().z());
    return found;
}

TEST(AppClosing, NothingWasSeenBelowTheRimOfABulge) {
    // Of one that hangs down half as far again as the body did, a quarter was once taken for seen.
    const auto found = look_over_bulge(7, 14);
    ASSERT_TRUE(found);
    std::size_t below = 0;
    for (const Vec3& p : found->seen.positions) below += p.z() < found->floor - 0.005;
    EXPECT_LT(double(below), 0.02 * double(found->seen.size()));
}

TEST(AppClosing, TheRimIsFoundAboveABulgeThatIsCreased) {
    // Of two loins, the crease between them goes on below; it was once taken for rough ground that was seen.
    EXPECT_TRUE(look_over_bulge(31, 62));
}

TEST(AppClosing, SmoothWallsOnAFlatPlaceReachUpToTheRim) {
    const TriangleMesh body = test::other_roast(5).skin;
    const auto found = looked_at(test::closed_by_app(body, test::AppClosing::floor, 10));
    ASSERT_TRUE(found);
    EXPECT_FALSE(found->rim);
    const Box3 box = bounds(body);
    EXPECT_GT(found->walls_m, 0.1 * box.sizes().z());
    EXPECT_LT(found->walls_m, 0.35 * box.sizes().z());
    EXPECT_NEAR(found->floor, box.min().z(), 0.001);
}

// Bodies that nobody closed: smooth all over, smooth in many places, rough all over.
TEST(AppClosing, NothingIsFoundOnWhatWasSeenAllRound) {
    EXPECT_FALSE(looked_at(test::roast()));
    EXPECT_FALSE(looked_at(test::random_bird(0).skin));
    EXPECT_FALSE(looked_at(test::random_bird(1).skin));
    EXPECT_FALSE(looked_at(test::random_roast(2).skin));
    TriangleMesh rough = test::roast();
    for (Vec3& v : rough.vertices)
        v += 0.0005 * std::sin(400 * v.x()) * std::sin(370 * v.y()) * std::sin(430 * v.z()) * v.normalized();
    EXPECT_FALSE(looked_at(rough));
}

}  // namespace
}  // namespace evenspit::scan
