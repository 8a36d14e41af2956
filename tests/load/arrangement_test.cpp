// SPDX-License-Identifier: MIT
#include "load/arrangement.h"

#include <optional>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "plan/loads.h"
#include "units/quantity.h"

namespace evenspit {
namespace {

using test::degree;

Assembly load() {
    return test::load_of(test::item_of(
        test::flesh_body(test::ellipsoid_mesh(0.1, 0.06, 0.06, Vec3::Zero()), 2), {.at_m = 0.4}));
}

TEST(Arrangement, OfALoadPutBackChangesNothing) {
    const Assembly before = load();
    const Assembly after = with_arrangement(before, arrangement_of(before));
    EXPECT_TRUE(after.items[0].pose.isApprox(before.items[0].pose, 0));
    EXPECT_EQ(after.forks[1].at_m, before.forks[1].at_m);
    EXPECT_EQ(after.items[0].body, before.items[0].body) << "bodies are shared";
}

TEST(Arrangement, MovesPosesWithSeats) {
    const Assembly before = load();
    Arrangement setting = arrangement_of(before);
    setting.seats[0].at_m = 0.45;
    setting.seats[0].turn_rad = 30 * degree;
    const Assembly after = with_arrangement(before, setting);
    EXPECT_TRUE(after.items[0].pose.isApprox(seat_pose(setting.seats[0], -0.1, 0.1), 1e-15));
}

TEST(WholeMillimetres, AreWhatTheFileWouldSay) {
    for (int mm = -1000; mm <= 2000; ++mm) {
        EXPECT_EQ(whole_mm(mm * 1e-3 + 0.0003), parse_quantity(fmt::format("{} mm", mm), Dimension::length));
    }
}

TEST(WholeDegrees, AreWhatTheFileWouldSay) {
    for (int deg = 0; deg < 360; ++deg) {
        const double read = parse_quantity(fmt::format("{} deg", deg), Dimension::angle);
        EXPECT_EQ(whole_degrees((deg + 0.3) * degree), read);
        EXPECT_EQ(whole_degrees((deg - 720.3) * degree), read);
    }
}

TEST(Settled, RoundsOnlyWhatMoved) {
    const Seat before{.at_m = 0.3175, .turn_rad = 0.1, .line = {.from = {0.0015, 0}, .to = {0, 0}}};
    Seat after = before;
    after.line.to = {0.00249, 0};
    const Seat seat = settled(after, before);
    EXPECT_EQ(seat.at_m, 0.3175);
    EXPECT_EQ(seat.turn_rad, 0.1);
    EXPECT_EQ(seat.line.from.x(), 0.0015);
    EXPECT_EQ(seat.line.to.x(), parse_quantity("2 mm", Dimension::length));
}

TEST(ForkClock, GoesByTheRodsShapeWhereTheBoreHasIt) {
    const auto step = [](Section section, std::optional<Section> bore) {
        Rod rod;
        rod.section = section;
        Fork fork;
        fork.bore = bore;
        return fork_clock_step(fork, rod) / degree;
    };
    EXPECT_NEAR(step(Section::square, std::nullopt), 90, 1e-12);
    EXPECT_NEAR(step(Section::hexagon, std::nullopt), 60, 1e-12);
    EXPECT_NEAR(step(Section::round, std::nullopt), 5, 1e-12);
    EXPECT_NEAR(step(Section::square, Section::square), 90, 1e-12);
    EXPECT_NEAR(step(Section::hexagon, Section::hexagon), 60, 1e-12);
    // Another bore turns freely until its screw is tight.
    EXPECT_NEAR(step(Section::square, Section::round), 5, 1e-12);
    EXPECT_NEAR(step(Section::hexagon, Section::round), 5, 1e-12);
    EXPECT_NEAR(step(Section::round, Section::square), 5, 1e-12);
    EXPECT_NEAR(step(Section::hexagon, Section::square), 5, 1e-12);
}

TEST(SitsOnRod, GoesByTheSeatOrByABodyThatLiesBesideItsOrigin) {
    const auto sits = [](double at_m, double x_min, double x_max, Facing facing = Facing::point) {
        return sits_on_rod({.at_m = at_m, .facing = facing}, x_min, x_max, 0.76);
    };
    EXPECT_TRUE(sits(0.34, -0.2, 0.2));
    EXPECT_TRUE(sits(0, -0.2, 0.2));
    EXPECT_TRUE(sits(0.76, -0.2, 0.2));
    EXPECT_FALSE(sits(0.77, -0.2, 0.2)) << "though part of it still lies over the rod";
    EXPECT_FALSE(sits(-0.01, 0, 0.2, Facing::drive));
    EXPECT_TRUE(sits(-0.66, 1.0, 1.3));
    EXPECT_FALSE(sits(-0.66, -1.3, -1.0));
    EXPECT_TRUE(sits(1.34, 1.0, 1.3, Facing::drive));
    EXPECT_FALSE(sits(1.34, 1.0, 1.3));
}

TEST(TurnedFork, TurnsAsAWhole) {
    Fork fork = test::two_tine(0.2, Facing::point, 37.5 * degree);
    fork = turned(turned(fork, 90 * degree), 300 * degree);
    EXPECT_EQ(fork.clock_rad, parse_quantity("30 deg", Dimension::angle));
    EXPECT_EQ(fork.tines[0].clock_rad, 37.5 * degree);
    EXPECT_NEAR(tine_clock(fork, fork.tines[1]), 247.5 * degree, 1e-12);
    fork.clock_rad = 0.1234;
    EXPECT_EQ(turned(fork, 0).clock_rad, 0.1234) << "not even rounded";
}

}  // namespace
}  // namespace evenspit
