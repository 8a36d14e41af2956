// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>
#include <vector>

#include "geometry/types.h"

namespace evenspit::viewer {

/// A part of the picture, pixels from the upper left.
struct Area {
    double x = 0, y = 0, width = 0, height = 0;
    [[nodiscard]] bool contains(double px, double py) const {
        return px >= x && px < x + width && py >= y && py < y + height;
    }
};

/// A straight line of sight; world, m.
struct Ray {
    Vec3 from = Vec3::Zero();
    Vec3 along = Vec3::UnitX();  ///< unit length
};

enum class StandardView { home, front, back, drive_end, point_end, above, below };

std::string_view view_name(StandardView view);

/// An eye on a sphere round the place that it looks at. World frame: Z is up; seen from the front the motor
/// is on the left.
class Camera {
  public:
    /// Turns the eye round the place it looks at; angles in rad, elevation is held off the poles.
    void orbit(double azimuth, double elevation);
    /// Moves along the picture by pixels.
    void pan(double right_px, double up_px, const Area& area);
    /// Comes nearer by notches of a wheel, toward what is under a place of the picture.
    void zoom(double notches, const Vec3& toward);
    void look_from(StandardView view);
    /// Puts places into the middle, large as they can be without being cut.
    void frame(const std::vector<Vec3>& places, const Area& area);
    /// Looks at a place, from where it looks, without coming nearer than `near_m`.
    void look_at(const Vec3& place, double near_m);

    /// The way from one stand to another, by the shorter side.
    ///
    /// \param share 0 … 1 of the way
    static Camera between(const Camera& from, const Camera& to, double share);

    [[nodiscard]] Vec3 eye() const;
    [[nodiscard]] const Vec3& target() const { return target_; }
    [[nodiscard]] double azimuth() const { return azimuth_; }
    [[nodiscard]] double distance() const { return distance_; }
    /// From the eye into the picture, unit length.
    [[nodiscard]] Vec3 forward() const;
    [[nodiscard]] Vec3 right() const;
    [[nodiscard]] Vec3 up() const { return right().cross(forward()); }

    [[nodiscard]] Eigen::Matrix4d view() const;
    [[nodiscard]] Eigen::Matrix4d projection(const Area& area) const;

    /// Where a place shows, pixels; z is its distance along the line of sight, negative behind the eye.
    [[nodiscard]] Vec3 shown_at(const Vec3& place, const Area& area) const;
    [[nodiscard]] Ray ray(double x, double y, const Area& area) const;
    /// Metres per pixel at a place.
    [[nodiscard]] double pixel_m(const Vec3& place, const Area& area) const;

  private:
    // The eye stands at azimuth about Z, 0 in front (−Y), growing toward the point's end (+X).
    double azimuth_ = 0;
    double elevation_ = 0;
    double distance_ = 1;
    Vec3 target_ = Vec3::Zero();
};

}  // namespace evenspit::viewer
