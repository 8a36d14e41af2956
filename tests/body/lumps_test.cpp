// SPDX-License-Identifier: MIT
#include "body/lumps.h"

#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include <gtest/gtest.h>

namespace evenspit::body {
namespace {

Lumps two_balls() {
    Lumps lumps;
    lumps.region("ball");
    lumps.add(RoundCone({-0.1, 0, 0}, {-0.1, 0, 0}, 0.05, 0.05), 0);
    lumps.region("other ball");
    lumps.add(RoundCone({0.1, 0, 0}, {0.1, 0, 0}, 0.05, 0.05), 0.02);
    return lumps;
}

std::vector<RegionLayers::Layer> all_layers(const Lumps& lumps, const Vec3& p,
                                            double full = -std::numeric_limits<double>::infinity()) {
    const RegionLayers layers = lumps.layers(p, full);
    return {layers.all().begin(), layers.all().end()};
}

TEST(Lumps, UnionOfWhatWasAdded) {
    const Lumps lumps = two_balls();
    EXPECT_NEAR(lumps.distance({-0.1, 0, 0}), -0.05, 1e-15);
    EXPECT_NEAR(lumps.distance({0.1, 0.06, 0}), 0.01, 1e-15);
    EXPECT_EQ(lumps.region_on_surface({-0.05, 0, 0}), 0);
    EXPECT_EQ(lumps.region_on_surface({0.05, 0, 0}), 1);
    EXPECT_EQ(lumps.region_names(), (std::vector<std::string>{"ball", "other ball"}));
}

TEST(Lumps, PairsStandOnBothSides) {
    Lumps lumps;
    lumps.region("ears");
    lumps.add_pair(RoundCone({0, 0.1, 0}, {0, 0.1, 0}, 0.02, 0.02), 0);
    EXPECT_NEAR(lumps.distance({0, -0.1, 0}), -0.02, 1e-15);
    EXPECT_EQ(lumps.distance({0.013, 0.09, 0.004}), lumps.distance({0.013, -0.09, 0.004}));
}

TEST(Lumps, CutsTakeAwayFromAll) {
    Lumps lumps = two_balls();
    lumps.cut([](const Vec3& p) { return -p.z(); }, 0);  // all above z = 0
    EXPECT_NEAR(lumps.distance({0.1, 0, 0.01}), 0.01, 1e-15);
    EXPECT_NEAR(lumps.distance({0.1, 0, -0.01}), -0.01, 1e-15);
}

TEST(Lumps, LayersEndWithOneThatIsFull) {
    const Lumps lumps = two_balls();
    EXPECT_EQ(all_layers(lumps, {-0.1, 0, 0}, -0.04).size(), 1U);
    EXPECT_EQ(all_layers(lumps, {-0.1, 0, 0}, -0.06).size(), 2U);
    EXPECT_EQ(all_layers(lumps, {0.1, 0, 0}, -0.04).size(), 2U);
    EXPECT_EQ(all_layers(lumps, {0.1, 0, 0}, -0.04)[1].field, all_layers(lumps, {0.1, 0, 0})[1].field);
}

TEST(Lumps, CutsReachOnlyWhatIsThere) {
    Lumps lumps;
    lumps.region("ball");
    lumps.add(RoundCone({0, 0, 0}, {0, 0, 0}, 0.05, 0.05), 0);
    lumps.cut([](const Vec3& p) { return 0.02 - p.x(); }, 0);  // all beyond x = 0.02
    lumps.region("knob");
    lumps.add(RoundCone({0.02, 0, 0}, {0.02, 0, 0}, 0.01, 0.01), 0);
    EXPECT_GT(lumps.distance({0.025, 0.02, 0}), 0);  // was in the ball
    EXPECT_NEAR(lumps.distance({0.025, 0, 0}), -0.005, 1e-15);
    EXPECT_NEAR(all_layers(lumps, {0.025, 0, 0})[0].field, 0.005, 1e-15);
    EXPECT_NEAR(all_layers(lumps, {0.025, 0, 0})[1].field, -0.005, 1e-15);
}

// A later cut takes from the layers of earlier regions too.
TEST(Lumps, LayersKnowAllCuts) {
    Lumps lumps = two_balls();
    lumps.cut([](const Vec3& p) { return -p.z(); }, 0);
    EXPECT_NEAR(all_layers(lumps, {-0.1, 0, 0.01})[0].field, 0.01, 1e-15);
    EXPECT_EQ(all_layers(lumps, {0.1, 0, 0.01})[1].field, lumps.distance({0.1, 0, 0.01}));
}

TEST(Lumps, PatchesNameTheSurfaceOnly) {
    Lumps lumps = two_balls();
    const double whole = lumps.distance({-0.14, 0, 0});
    lumps.patch("cut face", [](const Vec3& p) { return p.x() + 0.13; });
    lumps.patch("other ball", [](const Vec3& p) { return p.x() + 0.145; });
    lumps.patch("cut face", [](const Vec3& p) { return p.x() + 0.149; });
    EXPECT_EQ(lumps.region_names(), (std::vector<std::string>{"ball", "other ball", "cut face"}));
    EXPECT_EQ(lumps.region_on_surface({-0.1, 0, 0.05}), 0);
    EXPECT_EQ(lumps.region_on_surface({-0.14, 0, 0}), 2);
    EXPECT_EQ(lumps.region_on_surface({-0.147, 0, 0}), 1);  // the later one lies on top
    EXPECT_EQ(lumps.region_on_surface({-0.15, 0, 0}), 2);
    EXPECT_EQ(lumps.distance({-0.14, 0, 0}), whole);
    EXPECT_EQ(all_layers(lumps, {-0.14, 0, 0}).size(), 2U);
}

// What lies too far to matter is left out; the result is the same to the last bit.
TEST(Lumps, LeavingOutWhatIsFarChangesNothing) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> u(-1, 1);
    const auto anywhere = [&](double size) {
        return Vec3(size * u(random), size * u(random), size * u(random));
    };
    Lumps bounded, plain;
    for (const char* region : {"one", "other"}) {
        bounded.region(region);
        plain.region(region);
        for (int k = 0; k < 6; ++k) {
            const Ellipsoid egg(anywhere(0.2), Vec3(0.08, 0.03, 0.05) + anywhere(0.01));
            const RoundCone cone(anywhere(0.2), anywhere(0.2), 0.03, 0.02);
            const RoundBox box(anywhere(0.2), {0.05, 0.03, 0.02}, 0.01);
            bounded.add_pair(egg, 0.02);
            bounded.add(cone, 0.03);
            bounded.add(box, 0.01);
            plain.add_distance(
                [egg](const Vec3& p) {
                    return egg.distance({p.x(), std::abs(p.y()), p.z()});
                },
                0.02);
            plain.add_distance([cone](const Vec3& p) { return cone.distance(p); }, 0.03);
            plain.add_distance([box](const Vec3& p) { return box.distance(p); }, 0.01);
        }
    }
    for (int k = 0; k < 5000; ++k) {
        const Vec3 p = anywhere(0.4);
        ASSERT_EQ(bounded.distance(p), plain.distance(p));
        ASSERT_EQ(bounded.region_on_surface(p), plain.region_on_surface(p));
    }
}

// The last layer is the whole; a layer adds only inside its own region's solid.
TEST(Lumps, LayersGrowToTheWhole) {
    const Lumps lumps = two_balls();
    const auto in_other = all_layers(lumps, {0.1, 0, 0});
    ASSERT_EQ(in_other.size(), 2U);
    EXPECT_GT(in_other[0].field, 0);
    EXPECT_EQ(in_other[1].field, lumps.distance({0.1, 0, 0}));
    EXPECT_EQ(in_other[1].region, 1);
}

}  // namespace
}  // namespace evenspit::body
