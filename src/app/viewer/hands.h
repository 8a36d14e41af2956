// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/viewer/camera.h"
#include "app/viewer/edit.h"
#include "app/viewer/sighting.h"

namespace evenspit::viewer {

/// What can be taken hold of at a thing.
enum class Grip3d {
    slide,      ///< along the rod
    clock,      ///< round the rod
    line_from,  ///< the rod line, where it crosses the plane of the body's least x
    line_to,    ///< … of the body's greatest x
};

struct Handle {
    Grip3d grip = Grip3d::slide;
    Thing thing;
    Vec3 at = Vec3::Zero();  ///< world, m
};

/// The handles of a thing at a turn angle; none for what cannot be moved.
std::vector<Handle> handles(const Assembly& assembly, const Thing& thing, double turn_rad);

/// Those of them that are of use as the eye looks: along the rod nothing can be slid along it.
std::vector<Handle> usable_handles(const Assembly& assembly, const Thing& thing, double turn_rad,
                                   const Camera& camera);

/// A handle where it can be taken hold of in the picture.
struct PlacedHandle {
    Handle handle;
    Vec2 own = Vec2::Zero();  ///< where its place shows, pixels
    Vec2 at = Vec2::Zero();   ///< where its mark is: beside that where another mark lies there already
};

/// Handles as they show, no two marks nearer to each other than that; the nearest to the eye stay where they
/// are.
///
/// \param apart pixels
std::vector<PlacedHandle> placed_handles(const std::vector<Handle>& all, const Camera& camera,
                                         const Area& area, double apart);

/// Steps that dragging keeps to.
struct Snap {
    bool on = true;
    double length_m = 0.001;
    double angle_rad = 0.01745329251994329577;  ///< 1°
};

/// The nearest multiple of a step; the value itself if snapping is off.
double snapped(double value, double step, bool on);

/// Something in hand: it follows the pointer from where it was when it was taken.
class Grab {
  public:
    /// \param x, y pixels, where the pointer took hold
    Grab(const Handle& handle, const Assembly& start, const Camera& camera, const Area& area, double turn_rad,
         double x, double y);

    [[nodiscard]] const Handle& handle() const { return handle_; }
    /// The load as it sat when it was taken.
    [[nodiscard]] const Assembly& start() const { return start_; }

    /// What the pointer at x, y asks for.
    [[nodiscard]] std::optional<Edit> pulled(const Camera& camera, const Area& area, double x, double y,
                                             const Snap& snap) const;

  private:
    [[nodiscard]] double station(const Ray& ray) const;
    [[nodiscard]] double clock(const Ray& ray) const;
    [[nodiscard]] std::optional<Vec2> on_end_plane(const Ray& ray) const;

    Handle handle_;
    Assembly start_;
    double turn_rad_;
    Vec3 plane_normal_ = Vec3::UnitY();  // of the plane in which a line's end is moved; world
    double first_station_ = 0;
    double first_clock_ = 0;
    Vec2 first_on_plane_ = Vec2::Zero();
};

/// An edit that moves a thing by a little, for the keyboard. \pre movable(thing)
Edit nudged(const Assembly& assembly, const Thing& thing, double along_m, double round_rad,
            const Vec2& line_m);

/// Station and clock of a movable thing.
struct Whereabouts {
    double at_m = 0;
    double clock_rad = 0;
};
Whereabouts whereabouts(const Assembly& assembly, const Thing& thing);

/// From where a tine leaves its fork's ring to its tip; rod frame at turn 0.
std::pair<Vec3, Vec3> tine_line(const Assembly& assembly, const Thing& tine);

/// Its clock as one types it, of a counterweight with its place on the clock face: "clock 210°, 8 o'clock".
std::string clock_words(const Assembly& assembly, const Thing& thing);

/// The box round a thing, rod frame at turn 0.
Box3 box_of(const Assembly& assembly, const Thing& thing);

}  // namespace evenspit::viewer
