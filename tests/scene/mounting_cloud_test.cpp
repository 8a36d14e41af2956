// SPDX-License-Identifier: MIT
#include "scene/mounting_cloud.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

#include <gtest/gtest.h>

#include "analysis/chance.h"
#include "analysis/mountings.h"
#include "load/load_file.h"
#include "units/stopped.h"

namespace evenspit::scene {
namespace {

Assembly turkey() {
    const std::filesystem::path root = EVENSPIT_SOURCE_DIR;
    return read_load(root / "samples/harvest-turkey.toml", root / "models");
}

TEST(MountingCloud, HasTheVerdictsThatTheLoadIsJudgedBy) {
    const Assembly load = turkey();
    constexpr int count = 48;
    const std::vector<DrawnMounting> cloud = mounting_cloud(load, count);
    ASSERT_EQ(cloud.size(), 48U);
    const Chance chance = judge(load, count).mounted.value().chance;
    const auto share = [&](Level level) {
        return double(std::count_if(cloud.begin(), cloud.end(),
                                    [&](const DrawnMounting& m) { return m.verdict == level; })) /
               count;
    };
    EXPECT_DOUBLE_EQ(share(Level::ready), chance.ready);
    EXPECT_DOUBLE_EQ(share(Level::stop), chance.stop);
}

// What rod_line's spread of 4 mm at each end says, the line is drawn by: in y and z at each of the body's
// ends.
TEST(MountingCloud, LiesAsFarOffAsHandsAre) {
    Assembly load = turkey();
    constexpr std::size_t count = 256;
    load.spread = {};
    const double told_m = load.spread.rod_line_m;
    const std::vector<DrawnMounting> cloud = mounting_cloud(load, count);
    double sum = 0;
    for (const DrawnMounting& mounting : cloud) {
        ASSERT_EQ(mounting.rods.size(), 1U);
        for (const Vec3& end : {mounting.rods[0].from, mounting.rods[0].to})
            sum += (end.y() * end.y() + end.z() * end.z()) / 2;
        EXPECT_NEAR(mounting.rods[0].off_m,
                    std::max(mounting.rods[0].from.tail<2>().norm(), mounting.rods[0].to.tail<2>().norm()),
                    1e-12);
    }
    // Turning by 4 deg adds nothing where the line is; stations move along it.
    EXPECT_NEAR(std::sqrt(sum / (2 * count)), told_m, 0.15 * told_m);
}

TEST(MountingCloud, WithoutSpreadEveryLineIsTheRod) {
    Assembly load = turkey();
    load.spread = Spread::none();
    for (const DrawnMounting& mounting : mounting_cloud(load, 4))
        EXPECT_NEAR(mounting.rods[0].off_m, 0, 1e-9);
}

TEST(MountingCloud, StopsWhenAsked) {
    std::stop_source source;
    source.request_stop();
    EXPECT_THROW(mounting_cloud(turkey(), 8, source.get_token()), Stopped);
}

}  // namespace
}  // namespace evenspit::scene
