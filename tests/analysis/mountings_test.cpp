// SPDX-License-Identifier: MIT
#include "analysis/mountings.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "loads.h"

namespace evenspit {
namespace {

using test::degree;
using test::good_load;

double mean(const std::vector<double>& values) {
    double sum = 0;
    for (const double v : values) sum += v;
    return sum / static_cast<double>(values.size());
}
double deviation(const std::vector<double>& values) {
    const double middle = mean(values);
    double sum = 0;
    for (const double v : values) sum += (v - middle) * (v - middle);
    return std::sqrt(sum / static_cast<double>(values.size()));
}

/// What a figure of the load is in each of many mountings.
template <typename Figure>
std::vector<double> over(const Assembly& load, const Figure& figure, std::size_t count = 1024) {
    const Mountings mountings(load, count);
    std::vector<double> values;
    for (std::size_t k = 0; k < count; ++k) values.push_back(figure(mountings.mounting(k)));
    return values;
}

Assembly busy() {
    Assembly a = good_load();
    a.counterweights = {{.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 1, .diameter_m = 0.04}};
    a.cooker.surfaces = {{.name = "lid",
                          .shape = PlaneShape{{0, 0, 0.3}, -Vec3::UnitZ()},
                          .fire = false,
                          .temperature_k = {},
                          .keep_m = 0.025}};
    a.motor.friction_torque_n_m.reset();
    a.motor.support_friction = 0.15;
    return a;
}

}  // namespace

TEST(Mountings, AScanThatTellsItsScaleIsOffByThat) {
    Assembly a = busy();
    a.items[0].scanned = true;
    const auto scale_spread = [&] {
        return deviation(over(a, [](const Assembly& m) { return m.items[0].off.scale; }));
    };
    EXPECT_NEAR(scale_spread(), a.spread.scan_scale, 4e-4);
    body::Body body = a.items[0].body->body;
    body.scale_sigma = 0.003;
    a.items[0].body = body::prepare(std::move(body));
    EXPECT_NEAR(scale_spread(), 0.003, 1e-4);
    a.spread.scan_scale = 0;
    EXPECT_NEAR(scale_spread(), 0.003, 1e-4);
    a.spread = Spread::none();
    EXPECT_EQ(scale_spread(), 0);
}

TEST(Mountings, DrawEachInputWithItsSpread) {
    const Assembly a = busy();
    const Spread& s = a.spread;
    const auto spread_of = [&](const auto& figure) { return deviation(over(a, figure)); };
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.items[0].seat.line.from.x(); }), s.rod_line_m,
                4e-5);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.items[0].seat.line.to.y(); }), s.rod_line_m, 4e-5);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.items[0].seat.at_m; }), s.station_m, 4e-5);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.items[0].seat.turn_rad; }), s.turn_rad,
                0.01 * s.turn_rad);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.items[0].off.mass; }), s.mass, 0.01 * s.mass);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.items[0].off.centre.z(); }), s.centre_m, 2e-5);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.forks[0].at_m - m.items[0].seat.at_m; }),
                s.fork_station_m, 3e-5)
        << "against its item";
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.counterweights[0].radius_m; }),
                s.counterweight_radius_m, 3e-5);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.motor.support_friction / 0.15; }), s.friction,
                0.01);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.motor.stall_torque_n_m / 5; }), s.motor, 0.001);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.rod.material.yield_strength_pa / 210e6; }),
                s.yield_strength, 0.001);
    EXPECT_NEAR(spread_of([](const Assembly& m) { return m.cooker.surfaces[0].nearer_m; }),
                s.cooker_measures_m, 2e-5);
    EXPECT_NEAR(mean(over(a, [](const Assembly& m) { return m.items[0].seat.at_m; })), 0.34, 2e-5);
}

TEST(Mountings, MotorRatingsGoTogether) {
    for (const double ratio : over(
             busy(), [](const Assembly& m) { return m.motor.stall_torque_n_m / m.motor.rated_torque_n_m; },
             64))
        EXPECT_NEAR(ratio, 2, 1e-12);
}

TEST(Mountings, AKeyedForkDoesNotTurn) {
    Assembly a = busy();
    for (const double clock : over(
             a, [](const Assembly& m) { return m.forks[0].clock_rad; }, 64))
        EXPECT_EQ(clock, 0);
    a.forks[0].bore = Section::round;
    EXPECT_NEAR(deviation(over(a, [](const Assembly& m) { return m.forks[0].clock_rad; })), 4 * degree,
                0.001);
}

TEST(Mountings, WhatWouldTurnNegativeIsCut) {
    Assembly a = busy();
    a.spread.friction = 1;
    std::vector<double> frictions = over(a, [](const Assembly& m) { return m.motor.support_friction; });
    EXPECT_EQ(*std::min_element(frictions.begin(), frictions.end()), 0);
    EXPECT_NEAR(static_cast<double>(std::count(frictions.begin(), frictions.end(), 0)) / 1024, 0.1587, 0.005)
        << "one standard deviation and more below";
}

TEST(Mountings, DrawKIsTheSameHoweverManyAreDrawn) {
    const Assembly a = busy();
    const Mountings few(a, 8), many(a, 512);
    for (std::size_t k = 0; k < 8; ++k) {
        EXPECT_EQ(few.mounting(k).items[0].seat.line.from, many.mounting(k).items[0].seat.line.from);
        EXPECT_EQ(few.mounting(k).motor.stall_torque_n_m, many.mounting(k).motor.stall_torque_n_m);
    }
}

TEST(Mountings, LeaveNothingOfTheOneBefore) {
    const Assembly a = busy();
    const Mountings mountings(a, 16);
    Assembly work = a;
    mountings.mount(work, 3);
    mountings.mount(work, 7);
    const Assembly fresh = mountings.mounting(7);
    EXPECT_EQ(work.items[0].seat.line.from, fresh.items[0].seat.line.from);
    EXPECT_EQ(work.items[0].pose.matrix(), fresh.items[0].pose.matrix());
    EXPECT_EQ(work.counterweights[0].mass_kg, fresh.counterweights[0].mass_kg);
    EXPECT_EQ(work.rod.supports_m, fresh.rod.supports_m);
    mountings.mount_only(work, 7, 0);
    EXPECT_EQ(work.items[0].seat.line.from, fresh.items[0].seat.line.from);
    EXPECT_EQ(work.items[0].seat.line.to, a.items[0].seat.line.to);
    EXPECT_EQ(work.forks[0].at_m, a.forks[0].at_m);
}

TEST(Mountings, OfNoSpreadIsTheLoadItself) {
    Assembly a = busy();
    a.spread = Spread::none();
    const Mountings mountings(a, 4);
    EXPECT_TRUE(mountings.inputs().empty());
    EXPECT_TRUE(mountings.mounting(2).items[0].pose.isApprox(a.items[0].pose, 1e-15));
}

TEST(Mountings, AForkGoesWithTheItemItsTinesShareMostWith) {
    Assembly a = busy();
    EXPECT_EQ(item_of_fork(a, a.forks[0]), 0);
    Fork far = a.forks[0];
    far.at_m = 0.6;
    EXPECT_EQ(item_of_fork(a, far), -1);
}

}  // namespace evenspit
