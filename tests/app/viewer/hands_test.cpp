// SPDX-License-Identifier: MIT
#include "app/viewer/hands.h"

#include <cmath>

#include <gtest/gtest.h>

#include "analysis/loads.h"

namespace evenspit::viewer {
namespace {

using test::degree;
using test::good_load;

constexpr Area area{0, 0, 1000, 700};
constexpr Snap loose{.on = false};

Camera looking(StandardView view) {
    Camera camera;
    camera.look_from(view);
    camera.frame({Vec3(0, -0.2, -0.2), Vec3(0.7, 0.2, 0.2)}, area);
    return camera;
}

Handle handle(const Assembly& load, const Thing& thing, Grip3d grip, double turn_rad = 0) {
    for (const Handle& h : handles(load, thing, turn_rad)) {
        if (h.grip == grip) return h;
    }
    ADD_FAILURE() << "no such handle";
    return {};
}

/// The load after a handle was pulled to where a place (world) shows.
Assembly pulled(const Assembly& load, const Handle& held, const Camera& camera, const Vec3& to,
                double turn_rad = 0, const Snap& snap = loose) {
    const Vec3 from = camera.shown_at(held.at, area), there = camera.shown_at(to, area);
    const Grab grab(held, load, camera, area, turn_rad, from.x(), from.y());
    const auto edit = grab.pulled(camera, area, there.x(), there.y(), snap);
    EXPECT_TRUE(edit);
    return with_arrangement(load, std::get<Arrangement>(applied(load, *edit)));
}

TEST(Hands, ThingsHaveTheirHandles) {
    const Assembly load = good_load();
    EXPECT_EQ(handles(load, {Thing::Kind::item, 0}, 0).size(), 4U);
    EXPECT_EQ(handles(load, {Thing::Kind::fork, 0}, 0).size(), 2U);
    EXPECT_TRUE(handles(load, {Thing::Kind::rod, 0}, 0).empty());
    const Handle end = handle(load, {Thing::Kind::item, 0}, Grip3d::line_to);
    EXPECT_TRUE(end.at.isApprox(Vec3(0.44, 0, 0), 1e-12)) << "where the rod leaves the body";
}

TEST(Hands, SlidingFollowsThePointerAlongTheRod) {
    const Assembly load = good_load();
    for (const StandardView view : {StandardView::home, StandardView::front, StandardView::above}) {
        const Camera camera = looking(view);
        for (const Thing& thing : {Thing{Thing::Kind::item, 0}, Thing{Thing::Kind::fork, 1}}) {
            const Handle held = handle(load, thing, Grip3d::slide);
            const Assembly moved = pulled(load, held, camera, held.at + Vec3(-0.0437, 0, 0));
            EXPECT_NEAR(whereabouts(moved, thing).at_m, whereabouts(load, thing).at_m - 0.0437, 1e-9)
                << view_name(view);
        }
    }
}

TEST(Hands, SlidingSnapsToMillimetres) {
    const Assembly load = good_load();
    const Handle held = handle(load, {Thing::Kind::fork, 0}, Grip3d::slide);
    const Assembly moved =
        pulled(load, held, looking(StandardView::front), held.at + Vec3(0.0123, 0, 0), 0, Snap{});
    EXPECT_EQ(moved.forks[0].at_m, snapped(0.242, 0.001, true));
    EXPECT_NEAR(moved.forks[0].at_m, 0.242, 1e-15);
}

TEST(Hands, TurningFollowsThePointerRoundTheRod) {
    const Assembly load = good_load();
    const double turn = 20 * degree;
    for (const StandardView view : {StandardView::drive_end, StandardView::point_end, StandardView::home}) {
        const Camera camera = looking(view);
        const Thing thing{Thing::Kind::fork, 0};
        const Handle held = handle(load, thing, Grip3d::clock, turn);
        const Vec3 to = Eigen::AngleAxisd(35 * degree, Vec3::UnitX()) * held.at;
        const Assembly moved = pulled(load, held, camera, to, turn);
        EXPECT_NEAR(whereabouts(moved, thing).clock_rad, 35 * degree, 0.006) << view_name(view);
    }
}

TEST(Hands, TheRodLineGoesWhereItIsPulled) {
    const Assembly load = good_load();
    const Thing thing{Thing::Kind::item, 0};
    // From the end both ways across the rod can be told.
    const Handle from = handle(load, thing, Grip3d::line_from);
    Assembly moved = pulled(load, from, looking(StandardView::drive_end), from.at + Vec3(0, 0.012, -0.007));
    EXPECT_NEAR(moved.items[0].seat.line.from.x(), 0.012, 1e-9);
    EXPECT_NEAR(moved.items[0].seat.line.from.y(), -0.007, 1e-9);
    EXPECT_EQ(moved.items[0].seat.line.to, load.items[0].seat.line.to);
    // From the side only up and down.
    const Handle to = handle(load, thing, Grip3d::line_to);
    moved = pulled(load, to, looking(StandardView::front), to.at + Vec3(0, 0, 0.020));
    EXPECT_NEAR(moved.items[0].seat.line.to.y(), 0.020, 1e-6);
    EXPECT_NEAR(moved.items[0].seat.line.to.x(), 0, 1e-6);
}

TEST(Hands, TheRodLineIsPulledInTheTurnedItemsOwnAxes) {
    Assembly load = good_load();
    Seat seat = load.items[0].seat;
    seat.turn_rad = 90 * degree;
    seat.facing = Facing::drive;
    load = with_arrangement(load, std::get<Arrangement>(applied(load, SetSeat{0, seat})));
    const Thing thing{Thing::Kind::item, 0};
    const double turn = 50 * degree;
    const Handle held = handle(load, thing, Grip3d::line_from, turn);
    EXPECT_NEAR(held.at.x(), 0.44, 1e-9) << "its start looks to the point";
    const Vec3 shift(0, 0.004, 0.009);
    const Assembly moved = pulled(load, held, looking(StandardView::point_end), held.at + shift, turn);
    const Vec3 expected = (turned_rod(turn) * load.items[0].pose).linear().transpose() * shift;
    EXPECT_NEAR(moved.items[0].seat.line.from.x(), expected.y(), 1e-9);
    EXPECT_NEAR(moved.items[0].seat.line.from.y(), expected.z(), 1e-9);
}

TEST(Hands, MarksNeverCoverOneAnother) {
    const Assembly assembly = good_load();
    constexpr double apart = 22;
    for (const StandardView view : {StandardView::home, StandardView::front, StandardView::drive_end,
                                    StandardView::point_end, StandardView::above}) {
        const Camera camera = looking(view);
        const auto placed = placed_handles(usable_handles(assembly, {Thing::Kind::item, 0}, 0.4, camera),
                                           camera, area, apart);
        ASSERT_GE(placed.size(), 3U);
        for (std::size_t i = 0; i < placed.size(); ++i) {
            for (std::size_t j = 0; j < i; ++j)
                EXPECT_GE((placed[i].at - placed[j].at).norm(), apart) << view_name(view);
        }
        EXPECT_EQ(placed.front().at, placed.front().own) << "the nearest stays where it is";
    }
}

TEST(Hands, NudgesMoveByALittle) {
    Assembly load = good_load();
    load.counterweights.push_back(
        {.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 1, .diameter_m = 0.04});
    const auto after = [&](const Thing& thing) {
        return with_arrangement(
            load, std::get<Arrangement>(applied(load, nudged(load, thing, 0.001, 0.1, Vec2(0.002, 0)))));
    };
    EXPECT_NEAR(after({Thing::Kind::item, 0}).items[0].seat.line.to.x(), 0.002, 1e-15);
    EXPECT_NEAR(after({Thing::Kind::fork, 0}).forks[0].clock_rad, 0.1, 1e-15);
    EXPECT_NEAR(after({Thing::Kind::counterweight, 0}).counterweights[0].at_m, 0.101, 1e-15);
}

TEST(Hands, SnapsToTheNearestStep) {
    EXPECT_EQ(snapped(0.0123, 0.001, false), 0.0123);
    EXPECT_NEAR(snapped(-0.0126, 0.001, true), -0.013, 1e-15);
}

}  // namespace
}  // namespace evenspit::viewer
