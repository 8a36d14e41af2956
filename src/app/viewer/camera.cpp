// SPDX-License-Identifier: MIT
#include "app/viewer/camera.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenspit::viewer {
namespace {

using std::numbers::pi;

constexpr double half_view = 15 * pi / 180;  // half the angle that the picture's height spans
constexpr double steepest = 89.9 * pi / 180;
constexpr double nearest_m = 0.05;
constexpr double farthest_m = 20;
constexpr double step_per_notch = 0.88;

}  // namespace

std::string_view view_name(StandardView view) {
    switch (view) {
        case StandardView::home:
            return "Home";
        case StandardView::front:
            return "Front";
        case StandardView::back:
            return "Back";
        case StandardView::drive_end:
            return "Drive end";
        case StandardView::point_end:
            return "Point end";
        case StandardView::above:
            return "Above";
        case StandardView::below:
            return "Below";
    }
    return "";
}

Camera Camera::between(const Camera& from, const Camera& to, double share) {
    Camera camera;
    camera.azimuth_ = from.azimuth_ + share * std::remainder(to.azimuth_ - from.azimuth_, 2 * pi);
    camera.elevation_ = from.elevation_ + share * (to.elevation_ - from.elevation_);
    camera.distance_ = from.distance_ * std::pow(to.distance_ / from.distance_, share);
    camera.target_ = from.target_ + share * (to.target_ - from.target_);
    return camera;
}

Vec3 Camera::forward() const {
    const double level = std::cos(elevation_);
    return {-level * std::sin(azimuth_), level * std::cos(azimuth_), -std::sin(elevation_)};
}

Vec3 Camera::right() const {
    return {std::cos(azimuth_), std::sin(azimuth_), 0};
}

Vec3 Camera::eye() const {
    return target_ - distance_ * forward();
}

void Camera::orbit(double azimuth, double elevation) {
    azimuth_ = std::remainder(azimuth_ + azimuth, 2 * pi);
    elevation_ = std::clamp(elevation_ + elevation, -steepest, steepest);
}

void Camera::pan(double right_px, double up_px, const Area& area) {
    const double m = pixel_m(target_, area);
    target_ -= m * (right_px * right() + up_px * up());
}

void Camera::zoom(double notches, const Vec3& toward) {
    const double before = distance_;
    distance_ = std::clamp(distance_ * std::pow(step_per_notch, notches), nearest_m, farthest_m);
    // What is under the pointer stays there: it moves against the eye's way only along the line of sight.
    const Vec3 aside = toward - target_;
    target_ += (1 - distance_ / before) * (aside - aside.dot(forward()) * forward());
}

void Camera::look_from(StandardView view) {
    const auto stand = [this](double azimuth_deg, double elevation_deg) {
        azimuth_ = azimuth_deg * pi / 180;
        elevation_ = std::clamp(elevation_deg * pi / 180, -steepest, steepest);
    };
    switch (view) {
        case StandardView::home:
            return stand(-28, 17);
        case StandardView::front:
            return stand(0, 0);
        case StandardView::back:
            return stand(180, 0);
        case StandardView::drive_end:
            return stand(-90, 0);
        case StandardView::point_end:
            return stand(90, 0);
        case StandardView::above:
            return stand(0, 90);
        case StandardView::below:
            return stand(0, -90);
    }
}

void Camera::frame(const std::vector<Vec3>& places, const Area& area) {
    if (places.empty()) return;
    constexpr double margin = 1.06;
    constexpr int rounds = 12;
    const double high = std::tan(half_view), wide = high * area.width / std::max(1.0, area.height);
    Box3 box;
    for (const Vec3& place : places) box.extend(place);
    target_ = box.center();
    // Where the middle is depends on how near the eye stands, and that on where the middle is.
    for (int round = 0; round < rounds; ++round) {
        double back = nearest_m;
        for (const Vec3& place : places) {
            const Vec3 offset = place - target_;
            const double depth = offset.dot(forward());
            back = std::max({back, margin * std::abs(offset.dot(right())) / wide - depth,
                             margin * std::abs(offset.dot(up())) / high - depth});
        }
        distance_ = std::min(back, farthest_m);
        Eigen::AlignedBox2d seen;
        for (const Vec3& place : places) {
            const Vec3 offset = place - eye();
            const double depth = std::max(nearest_m / 10, offset.dot(forward()));
            seen.extend(Vec2(offset.dot(right()), offset.dot(up())) / depth);
        }
        if (round + 1 < rounds)
            target_ += distance_ / 2 * (seen.center().x() * right() + seen.center().y() * up());
    }
}

void Camera::look_at(const Vec3& place, double near_m) {
    target_ = place;
    distance_ = std::min(distance_, std::max(near_m, nearest_m));
}

Eigen::Matrix4d Camera::view() const {
    Eigen::Matrix3d axes;
    axes.row(0) = right();
    axes.row(1) = up();
    axes.row(2) = -forward();
    Eigen::Matrix4d m = Eigen::Matrix4d::Identity();
    m.topLeftCorner<3, 3>() = axes;
    m.topRightCorner<3, 1>() = -axes * eye();
    return m;
}

Eigen::Matrix4d Camera::projection(const Area& area) const {
    const double near_plane = 0.02 * distance_, far_plane = distance_ + 4;
    const double high = 1 / std::tan(half_view);
    Eigen::Matrix4d m = Eigen::Matrix4d::Zero();
    m(0, 0) = high * area.height / std::max(1.0, area.width);
    m(1, 1) = high;
    m(2, 2) = -(far_plane + near_plane) / (far_plane - near_plane);
    m(2, 3) = -2 * far_plane * near_plane / (far_plane - near_plane);
    m(3, 2) = -1;
    return m;
}

Vec3 Camera::shown_at(const Vec3& place, const Area& area) const {
    const Vec3 offset = place - eye();
    const double depth = offset.dot(forward());
    const double reach = area.height / 2 / std::tan(half_view) / (depth != 0 ? depth : 1e-9);
    return {area.x + area.width / 2 + reach * offset.dot(right()),
            area.y + area.height / 2 - reach * offset.dot(up()), depth};
}

Ray Camera::ray(double x, double y, const Area& area) const {
    const double unit = 2 * std::tan(half_view) / std::max(1.0, area.height);
    const double across = (x - area.x - area.width / 2) * unit, above = (area.y + area.height / 2 - y) * unit;
    return {eye(), (forward() + across * right() + above * up()).normalized()};
}

double Camera::pixel_m(const Vec3& place, const Area& area) const {
    const double depth = std::max(nearest_m, (place - eye()).dot(forward()));
    return 2 * depth * std::tan(half_view) / std::max(1.0, area.height);
}

}  // namespace evenspit::viewer
