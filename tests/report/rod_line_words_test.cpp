// SPDX-License-Identifier: MIT
#include "report/rod_line_words.h"

#include <cmath>
#include <map>
#include <string>
#include <utility>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "body/bird.h"
#include "body/joined_parts.h"
#include "plan/line_places.h"
#include "plan/loads.h"

namespace evenspit {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

constexpr double mm = 1e-3;

TEST(BirdOffset, IsToldFromTheMiddleOfTheOpening) {
    EXPECT_EQ(bird_offset_text({0, 0.012}), "12 mm toward the breast from its middle");
    EXPECT_EQ(bird_offset_text({-0.003, -0.004}),
              "4 mm toward the back and 3 mm toward its left from its middle");
    EXPECT_EQ(bird_offset_text({0.0021, 0}), "2 mm toward its right from its middle");
    EXPECT_EQ(bird_offset_text({0.0004, -0.0004}), "through its middle");
}

Item box(const RodLine& line, Facing facing = Facing::point) {
    return test::item_of(
        test::flesh_body(test::box_mesh({-0.1, -0.06, -0.04}, {0.1, 0.08, 0.05}), 2, "block"),
        {.at_m = 0.4, .facing = facing, .line = line});
}

// The drive end of a rod that runs along +x is where one looks along +x: +y is on the left, z up.
TEST(RodLineOfAJoint, IsToldFromItsFaces) {
    const RodLine line{.from = {0.05, 0.03}, .to = {-0.02, -0.03}};
    EXPECT_EQ(
        rod_line_step(box(line), "block", UnitSystem::metric),
        "Push the rod through block. Measure to the rod's middle, top up and seen from the drive end: in 20 "
        "mm below the top and 30 mm from the left side; out 10 mm above the bottom and 40 mm from the right "
        "side.");
    EXPECT_THAT(
        rod_line_step(box(line, Facing::drive), "block", UnitSystem::metric),
        HasSubstr("in 10 mm above the bottom and 40 mm from the left side; out 20 mm below the top and 30 "
                  "mm from the right side."));
    EXPECT_THAT(rod_line_step(box({.from = {0, 0}, .to = {0, 0}}), "block", UnitSystem::us),
                HasSubstr("in and out 1 9/16 in above the bottom and 2 3/8 in from the right side."));
}

// A round end is met where the skin is, not where the body ends.
TEST(RodLineOfAJoint, IsMeasuredWhereTheRodMeetsTheSkin) {
    for (const Facing facing : {Facing::point, Facing::drive}) {
        const Item item = test::item_of(
            test::flesh_body(test::ellipsoid_mesh(0.12, 0.08, 0.07, Vec3::Zero()), 3, "roll"),
            {.at_m = 0.4, .facing = facing, .line = {.from = {0.02, -0.04}, .to = {-0.03, 0.03}}});
        const FeltLine felt = felt_line(item).value();
        EXPECT_FALSE(felt.openings);
        for (const FeltEnd& end : felt.ends) {
            const Vec2 at = plan::crossing(*item.body, item.seat.line, end.x_m);
            const Vec3 place(end.x_m, at.x(), at.y());
            EXPECT_LT(item.body->queries[0].closest(place).distance, 1e-9);
            const Box3& bounds = item.body->bounds;
            const bool top = end.edge == FeltEnd::Edge::top;
            EXPECT_NEAR(end.from_edge_m, top ? bounds.max().z() - at.y() : at.y() - bounds.min().z(), 1e-12);
            // From the drive's end of the rod, as the assembly has it.
            const Vec3 on_rod = item.pose * place, left = item.pose.linear() * Vec3::UnitY();
            const double to_left = left.y() > 0 ? bounds.max().y() - at.x() : at.x() - bounds.min().y();
            const double to_right = bounds.sizes().y() - to_left;
            EXPECT_NEAR(end.aside_m, std::min(to_left, to_right), 1e-12);
            EXPECT_EQ(end.side == FeltEnd::Side::left, to_left <= to_right);
            EXPECT_LT(on_rod.tail<2>().norm(), 1e-9) << "on the rod";
        }
        const auto station = [&](const FeltEnd& end) {
            const Vec2 at = plan::crossing(*item.body, item.seat.line, end.x_m);
            return (item.pose * Vec3(end.x_m, at.x(), at.y())).x();
        };
        EXPECT_LT(station(felt.ends[0]), station(felt.ends[1])) << "the point goes in at the drive's side";
    }
}

/// Grown once, for that takes long.
const body::Body& bird_of(const std::string& species, double mass_kg) {
    static std::map<std::string, body::Body> grown;
    auto at = grown.find(species);
    if (at == grown.end())
        at = grown
                 .emplace(species,
                          body::make_bird({.species = species, .mass_kg = mass_kg, .spacing_m = 0.01}))
                 .first;
    return at->second;
}

/// The line through two places, (y, z), one at each opening.
Item spitted(const body::Body& body, const Vec2& vent, const Vec2& neck, Facing facing = Facing::point) {
    Item item = test::item_of(body, {.at_m = 0.4, .facing = facing});
    item.seat.line = plan::line_through(*item.body, plan::line_places(item).x_m, vent, neck);
    item.pose = pose_in(item, item.seat);
    return item;
}

// From the rod straight toward the rim there is nothing in the way for as far as is told, and there is flesh
// just behind.
TEST(RodLineOfABird, IsAsFarFromTheRimAsTold) {
    for (const auto& [species, mass_kg] : {std::pair{"turkey", 5.9}, {"chicken", 1.8}, {"goose", 4.6}}) {
        const body::Body& body = bird_of(species, mass_kg);
        for (const auto& [vent, neck] : {std::pair{Vec2(0, 0), Vec2(0, 0)},
                                         {Vec2(-0.008, 0.005), Vec2(0.004, -0.004)},
                                         {Vec2(0.006, -0.007), Vec2(-0.003, 0.006)}}) {
            const Item item = spitted(body, vent, neck);
            const body::JoinedParts parts(item.body);
            const FeltLine felt = felt_line(item).value();
            EXPECT_TRUE(felt.openings);
            for (const FeltEnd& end : felt.ends) {
                SCOPED_TRACE(std::string(species) + " at " + std::to_string(end.x_m));
                const Vec2 at = plan::crossing(*item.body, item.seat.line, end.x_m);
                const Vec3 rod(end.x_m, at.x(), at.y());
                const Vec3 toward = Vec3::UnitZ() * (end.edge == FeltEnd::Edge::breast ? 1 : -1);
                ASSERT_GT(end.from_edge_m, 4 * mm);
                EXPECT_TRUE(
                    parts.flesh().inside(rod, Vec3(rod + (end.from_edge_m - 0.5 * mm) * toward)).empty());
                EXPECT_LT(parts.flesh().closest(Vec3(rod + end.from_edge_m * toward)).distance, 1e-9);
                EXPECT_NEAR(end.aside_m, std::abs(at.x()), 1e-12);
            }
            EXPECT_NEAR(felt.ends[0].aside_m, std::abs(vent.x()), 2 * mm);
            EXPECT_NEAR(felt.ends[1].aside_m, std::abs(neck.x()), 2 * mm);
            EXPECT_EQ(felt.ends[0].side == FeltEnd::Side::right, vent.x() >= 0);
        }
    }
}

// 5 mm nearer the breast is 5 mm less to its rim, or more from the other.
TEST(RodLineOfABird, FollowsTheRod) {
    const body::Body& body = bird_of("turkey", 5.9);
    const auto end = [&](double z, int which) {
        return felt_line(spitted(body, {0, z}, {0, z})).value().ends[std::size_t(which)];
    };
    for (const int which : {0, 1}) {
        const FeltEnd high = end(0.012, which), higher = end(0.017, which), low = end(-0.012, which);
        EXPECT_EQ(high.edge, FeltEnd::Edge::breast);
        EXPECT_NEAR(high.from_edge_m - higher.from_edge_m, 5 * mm, 1e-9);
        EXPECT_EQ(low.edge, FeltEnd::Edge::back);
    }
}

TEST(RodLineOfABird, IsToldFromTheRimThatIsNearest) {
    const body::Body& body = bird_of("turkey", 5.9);
    const std::string words =
        rod_line_step(spitted(body, {-0.005, 0.012}, {0, -0.012}), "turkey", UnitSystem::metric);
    EXPECT_THAT(words, ::testing::MatchesRegex(
                           "Push the rod through turkey. Measure to the rod's middle: in at the vent "
                           "[0-9]+ mm from the rim on the breast side and 5 mm to the left of the "
                           "middle; out at the neck [0-9]+ mm from the rim on the back side and midway "
                           "between left and right. Left and right are the bird's own."));
    const std::string turned =
        rod_line_step(spitted(body, {0, 0.012}, {0, -0.012}, Facing::drive), "turkey", UnitSystem::metric);
    EXPECT_THAT(turned, AllOf(HasSubstr("in at the neck"), HasSubstr("out at the vent"),
                              Not(HasSubstr("bird's own"))));
}

// So far to the side no rim stands over the rod.
TEST(RodLineOfABird, IsToldFromTheMiddleBesideTheOpening) {
    const Item item = spitted(bird_of("turkey", 5.9), {0.2, 0}, {0, 0.01});
    EXPECT_FALSE(felt_line(item));
    EXPECT_EQ(
        rod_line_step(item, "turkey", UnitSystem::metric),
        "Push the rod through turkey: at the vent 200 mm toward its right from its middle; at the neck 10 mm "
        "toward the breast from its middle.");
}

}  // namespace
}  // namespace evenspit
