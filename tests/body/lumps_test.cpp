// SPDX-License-Identifier: MIT
#include "body/lumps.h"

#include <cmath>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

Lumps two_balls() {
    Lumps lumps;
    lumps.region("ball");
    lumps.add(RoundCone({-0.1, 0, 0}, {-0.1, 0, 0}, 0.05, 0.05), 0);
    lumps.region("other ball");
    lumps.add(RoundCone({0.1, 0, 0}, {0.1, 0, 0}, 0.05, 0.05), 0.02);
    return lumps;
}

TEST(Lumps, UnionOfWhatWasAdded) {
    const Lumps lumps = two_balls();
    EXPECT_NEAR(lumps.distance({-0.1, 0, 0}), -0.05, 1e-15);
    EXPECT_NEAR(lumps.distance({0.1, 0.06, 0}), 0.01, 1e-15);
    EXPECT_EQ(lumps.nearest_region({-0.05, 0, 0}), 0);
    EXPECT_EQ(lumps.nearest_region({0.05, 0, 0}), 1);
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

// The last layer is the whole; a layer adds only inside its own region's solid.
TEST(Lumps, LayersGrowToTheWhole) {
    const Lumps lumps = two_balls();
    const auto in_other = lumps.layers({0.1, 0, 0});
    ASSERT_EQ(in_other.all().size(), 2U);
    EXPECT_GT(in_other.all()[0].field, 0);
    EXPECT_EQ(in_other.all()[1].field, lumps.distance({0.1, 0, 0}));
    EXPECT_EQ(in_other.all()[1].region, 1);
}

}  // namespace
}  // namespace evenspit
