// SPDX-License-Identifier: MIT
#include "plan/station_search.h"

#include <limits>

#include <gtest/gtest.h>

namespace evenspit::plan {
namespace {

double endless(double) {
    return std::numeric_limits<double>::infinity();
}
RodBlock block(double half_m, double at_m) {
    return {.from_m = -half_m, .to_m = half_m, .at_m = at_m, .room_m = endless};
}
constexpr std::array<double, 2> usable{0.1, 0.7};

TEST(FindStations, LeavesWhatIsInPlace) {
    const StationsFound found = find_stations({block(0.1, 0.3175), block(0.1, 0.55)}, {.usable_m = usable});
    EXPECT_EQ(found.at_m[0], 0.3175);
    EXPECT_EQ(found.at_m[1], 0.55);
    EXPECT_EQ(found.overflow_m, 0);
}

TEST(FindStations, BringsBackWhatStandsOut) {
    EXPECT_NEAR(find_stations({block(0.1, 0.15)}, {.usable_m = usable}).at_m[0], 0.2, 1e-12);
    EXPECT_NEAR(find_stations({block(0.1, 0.65)}, {.usable_m = usable}).at_m[0], 0.6, 1e-12);
}

TEST(FindStations, KeepsBlocksApart) {
    const StationsFound found = find_stations({block(0.1, 0.3), block(0.1, 0.35)}, {.usable_m = usable});
    EXPECT_GE(found.at_m[1] - found.at_m[0], 0.2 + 0.001 - 1e-12);
    EXPECT_LE(found.at_m[1] - found.at_m[0], 0.203);
    EXPECT_EQ(found.overflow_m, 0);
}

TEST(FindStations, SaysByHowMuchItIsTooMuch) {
    const StationsFound found =
        find_stations({block(0.15, 0.2), block(0.1, 0.4), block(0.1, 0.6)}, {.usable_m = usable});
    EXPECT_NEAR(found.overflow_m, 0.1 + 2 * 0.001, 2e-3);
    EXPECT_NEAR(find_stations({block(0.35, 0.4)}, {.usable_m = usable}).overflow_m, 0.1, 1e-9);
}

TEST(FindStations, StaysOutOfWhatIsTaken) {
    const StationsFound found =
        find_stations({block(0.1, 0.3)}, {.usable_m = usable, .taken_m = {{0.35, 0.37}}});
    EXPECT_EQ(found.overflow_m, 0);
    EXPECT_TRUE(found.at_m[0] + 0.1 < 0.35 || found.at_m[0] - 0.1 > 0.37);
    EXPECT_NEAR(found.at_m[0], 0.249, 1e-9) << "the nearer side";
}

TEST(FindStations, GoesWhereThereIsRoom) {
    RodBlock tight = block(0.1, 0.3);
    tight.room_m = [](double at) { return at - 0.45; };  // a lid that falls toward the drive
    const StationsFound found = find_stations({tight}, {.usable_m = usable});
    EXPECT_NEAR(found.at_m[0], 0.45, 1e-9);
    EXPECT_NEAR(found.room_m, 0, 1e-9);
}

TEST(FindStations, GoesOverTheFire) {
    const StationsFound found = find_stations({block(0.1, 0.25)}, {.usable_m = usable, .fire_m = {0.3, 0.6}});
    EXPECT_NEAR(found.at_m[0], 0.4, 1e-9);
}

TEST(FindStations, PutsPlaceBeforeRoomAndRoomBeforeFire) {
    RodBlock tight = block(0.1, 0.3);
    tight.room_m = [](double at) { return at - 0.65; };
    EXPECT_NEAR(find_stations({tight}, {.usable_m = usable, .fire_m = {0.2, 0.5}}).at_m[0], 0.6, 1e-9);
}

TEST(FindStations, OfNothingIsNothing) {
    EXPECT_TRUE(find_stations({}, {.usable_m = usable}).at_m.empty());
}

}  // namespace
}  // namespace evenspit::plan
