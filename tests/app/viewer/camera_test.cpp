// SPDX-License-Identifier: MIT
#include "app/viewer/camera.h"

#include <gtest/gtest.h>

namespace evenspit::viewer {
namespace {

constexpr Area area{100, 50, 800, 600};

std::vector<Vec3> corners(const Box3& box) {
    std::vector<Vec3> result;
    result.reserve(8);
    for (int i = 0; i < 8; ++i) result.emplace_back(box.corner(static_cast<Box3::CornerType>(i)));
    return result;
}

TEST(Camera, SeenFromTheFrontTheMotorIsOnTheLeftAndUpIsUp) {
    Camera camera;
    camera.look_from(StandardView::front);
    camera.frame(corners({Vec3(0, -0.2, -0.2), Vec3(0.7, 0.2, 0.2)}), area);
    EXPECT_LT(camera.shown_at({0, 0, 0}, area).x(), camera.shown_at({0.7, 0, 0}, area).x());
    EXPECT_LT(camera.shown_at({0.3, 0, 0.2}, area).y(), camera.shown_at({0.3, 0, 0}, area).y());
    camera.look_from(StandardView::drive_end);
    EXPECT_NEAR(camera.forward().x(), 1, 1e-12);
    camera.look_from(StandardView::above);
    EXPECT_NEAR(camera.forward().z(), -1, 1e-5);
}

TEST(Camera, FramesEverythingFromEverywhere) {
    const std::vector<Vec3> places = corners({Vec3(-0.1, -0.25, -0.35), Vec3(0.76, 0.25, 0.27)});
    for (const StandardView view :
         {StandardView::home, StandardView::front, StandardView::back, StandardView::drive_end,
          StandardView::point_end, StandardView::above, StandardView::below}) {
        Camera camera;
        camera.look_from(view);
        camera.frame(places, area);
        double widest = 0;
        for (const Vec3& place : places) {
            const Vec3 at = camera.shown_at(place, area);
            EXPECT_TRUE(area.contains(at.x(), at.y())) << view_name(view) << ' ' << at.transpose();
            widest = std::max({widest, std::abs(at.x() - 500) / 400, std::abs(at.y() - 350) / 300});
        }
        EXPECT_GT(widest, 0.85) << view_name(view) << ": it fills the picture";
    }
}

TEST(Camera, FramesLongThingsFromTheirEnd) {
    // What stands near to the eye must not drive it back and forth.
    const std::vector<Vec3> places = corners({Vec3(-0.11, -0.08, -0.08), Vec3(0.9, 0.08, 0.08)});
    Camera camera;
    camera.look_from(StandardView::drive_end);
    camera.frame(places, area);
    EXPECT_LT(camera.distance(), 1.2);
    for (const Vec3& place : places) {
        const Vec3 at = camera.shown_at(place, area);
        EXPECT_TRUE(area.contains(at.x(), at.y())) << at.transpose();
    }
}

TEST(Camera, RaysGoThroughWhatIsShownThere) {
    Camera camera;
    camera.look_from(StandardView::home);
    camera.frame(corners({Vec3(0, -0.1, -0.1), Vec3(0.5, 0.1, 0.1)}), area);
    const Vec3 place(0.3, 0.05, -0.07);
    const Vec3 at = camera.shown_at(place, area);
    const Ray ray = camera.ray(at.x(), at.y(), area);
    EXPECT_LT((place - ray.from).cross(ray.along).norm(), 1e-9);
    EXPECT_GT((place - ray.from).dot(ray.along), 0);
    // The matrices of the drawing agree with it.
    const Eigen::Vector4d clip = camera.projection(area) * camera.view() * place.homogeneous();
    EXPECT_NEAR(area.x + (clip.x() / clip.w() + 1) / 2 * area.width, at.x(), 1e-6);
    EXPECT_NEAR(area.y + (1 - clip.y() / clip.w()) / 2 * area.height, at.y(), 1e-6);
}

TEST(Camera, ZoomsTowardWhatIsUnderThePointer) {
    Camera camera;
    camera.look_from(StandardView::home);
    camera.frame(corners({Vec3(0, -0.1, -0.1), Vec3(0.5, 0.1, 0.1)}), area);
    // In the plane of the target nothing under the pointer moves.
    const Vec3 place = camera.target() + 0.1 * camera.right() - 0.03 * camera.up();
    const Vec3 before = camera.shown_at(place, area);
    camera.zoom(3, place);
    const Vec3 after = camera.shown_at(place, area);
    EXPECT_NEAR(after.x(), before.x(), 1e-6);
    EXPECT_NEAR(after.y(), before.y(), 1e-6);
    EXPECT_LT(after.z(), before.z());
}

TEST(Camera, PansWithThePointerAndOrbitsRoundItsTarget) {
    Camera camera;
    camera.look_from(StandardView::home);
    camera.frame(corners({Vec3(0, -0.1, -0.1), Vec3(0.5, 0.1, 0.1)}), area);
    const Vec3 target = camera.target();
    camera.pan(40, 25, area);
    const Vec3 at = camera.shown_at(target, area);
    EXPECT_NEAR(at.x(), 500 + 40, 1e-6);
    EXPECT_NEAR(at.y(), 350 - 25, 1e-6);
    const Vec3 middle = camera.target();
    camera.orbit(1, 0.3);
    EXPECT_TRUE(camera.target().isApprox(middle));
    camera.orbit(0, 99);
    EXPECT_LT(camera.forward().z(), -0.99) << "held off the pole";
}

}  // namespace
}  // namespace evenspit::viewer
