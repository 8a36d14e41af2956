// SPDX-License-Identifier: MIT
#include "scan/clusters.h"

#include <gtest/gtest.h>

namespace evenspit::scan {
namespace {

TEST(Clusters, JoinsWhatTouchesAndNothingElse) {
    std::vector<Vec3> points;
    for (int i = 0; i < 20; ++i) points.emplace_back(0.01 * i, 0, 0);          // a row
    for (int i = 0; i < 5; ++i) points.emplace_back(0.5, 0.01 * i, 0.01 * i);  // another, slanting
    points.emplace_back(-3, 2, 1);                                             // alone
    const Clusters found = cluster(points, 0.011);
    ASSERT_EQ(found.extents.size(), 3u);
    for (int i = 1; i < 20; ++i) EXPECT_EQ(found.of[std::size_t(i)], found.of[0]);
    for (int i = 21; i < 25; ++i) EXPECT_EQ(found.of[std::size_t(i)], found.of[20]);
    EXPECT_NE(found.of[0], found.of[20]);
    EXPECT_NE(found.of[25], found.of[20]);
    EXPECT_EQ(found.largest(), found.of[0]);
}

TEST(Clusters, ExtentDoesNotGrowWithDensity) {
    std::vector<Vec3> points(1000, Vec3::Zero());  // a thousand in one place
    for (int i = 0; i < 10; ++i) points.emplace_back(1 + 0.09 * i, 0, 0);
    const Clusters found = cluster(points, 0.1);
    EXPECT_EQ(found.largest(), found.of[1000]);
}

TEST(Clusters, NeighboursTouchAcrossEveryFaceEdgeAndCorner) {
    for (int dz = -1; dz <= 1; ++dz) {
        for (int dy = -1; dy <= 1; ++dy) {
            for (int dx = -1; dx <= 1; ++dx) {
                const std::vector<Vec3> points{
                    {0.5, 0.5, 0.5}, {0.5 + dx, 0.5 + dy, 0.5 + dz}, {9.5, 9.5, 9.5}, {-9.5, -9.5, -9.5}};
                const Clusters found = cluster(points, 1);
                EXPECT_EQ(found.of[0], found.of[1]) << dx << dy << dz;
            }
        }
    }
}

TEST(Clusters, NothingHasNoPieces) {
    EXPECT_EQ(cluster({}, 1).largest(), -1);
}

}  // namespace
}  // namespace evenspit::scan
