// SPDX-License-Identifier: MIT
// The clock face that people are told against the axes of the world.
#include <cmath>
#include <numbers>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/placed.h"
#include "plan/loads.h"
#include "report/finding_words.h"
#include "report/plan_words.h"
#include "units/dial.h"

namespace evenspit {
namespace {

using test::degree;
using ::testing::HasSubstr;

constexpr double pi = std::numbers::pi;

/// The hand of a clock, in the world, for one who stands before the rod's point and looks at it: x runs along
/// the rod from the drive to the point, so he looks along −x; z is up.
Vec3 hand_seen_from_the_point(double hours) {
    const Vec3 sight = -Vec3::UnitX(), up = Vec3::UnitZ(), right = sight.cross(up);
    const double after_twelve = hours * pi / 6;
    return std::cos(after_twelve) * up + std::sin(after_twelve) * right;
}

TEST(ClockFace, IsSeenFromThePoint) {
    for (int half = 0; half < 24; ++half) {
        const Vec3 hand = hand_seen_from_the_point(half / 2.0);
        const double clock = std::atan2(hand.z(), hand.y());
        // As the load file's clock puts it there.
        EXPECT_LT((rod_point(0, 1, clock) - hand).norm(), 1e-12);
        const int hour = half / 2 == 0 ? 12 : half / 2;
        EXPECT_EQ(dial_text(clock),
                  half % 2 == 0 ? std::to_string(hour) + " o'clock" : "half past " + std::to_string(hour));
    }
}

// A roast whose weight is on one side, whichever way it looks: what findings call the heavy side is where the
// centre of mass stands, and the counterweight goes opposite.
TEST(ClockFace, TellsTheHeavySideAsTheWorldHasIt) {
    for (const int half : {0, 3, 7, 12, 18, 23}) {
        const Vec3 hand = hand_seen_from_the_point(half / 2.0);
        Assembly load = test::load_of(
            test::item_of(test::flesh_body(test::ellipsoid_mesh(0.12, 0.08, 0.08, 0.03 * hand), 6, "joint"),
                          {.at_m = 0.4}));
        load.motor.rated_torque_n_m = 0.5;
        const Analysis a = analyse(load);
        const Vec3 centre = item_masses(load, Doneness::raw)[0].centre;
        EXPECT_GT(centre.dot(hand), 0.029);
        ASSERT_EQ(a.findings.at(0).code, Code::motor_torque);
        const std::string words = finding_text(a.findings[0], load, UnitSystem::metric);
        EXPECT_THAT(words,
                    HasSubstr("The heavy side is at " + dial_text(std::atan2(hand.z(), hand.y())) + " ("));
        EXPECT_THAT(words, HasSubstr("opposite, at " + dial_text(std::atan2(-hand.z(), -hand.y())) + " ("));
    }
}

// The step that turns an item tells where its top ends, and by how much it came there.
TEST(ClockFace, TellsWhereAnItemEnds) {
    for (const Facing facing : {Facing::point, Facing::drive}) {
        const Assembly before = test::load_of(
            test::item_of(test::flesh_body(test::ellipsoid_mesh(0.12, 0.08, 0.08, Vec3::Zero()), 3, "joint"),
                          {.at_m = 0.4, .facing = facing}));
        Arrangement setting = arrangement_of(before);
        // Two hours with the hands of the face.
        setting.seats[0].turn_rad = 300 * degree;
        const Assembly after = with_arrangement(before, setting);
        const Vec3 top = after.items[0].pose.linear() * Vec3::UnitZ();
        EXPECT_LT((top - hand_seen_from_the_point(2)).norm(), 1e-9);
        const Analysis analysis = analyse(after);
        EXPECT_THAT(answer_steps({.before = before, .after = after, .analysis_after = analysis}),
                    ::testing::ElementsAre("Turn joint on the rod by 2 hours (60°) clockwise, seen from the "
                                           "point: its top then stands at 2 o'clock."));
    }
}

}  // namespace
}  // namespace evenspit
