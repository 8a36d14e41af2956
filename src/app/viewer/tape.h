// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "geometry/types.h"

namespace evenspit::viewer {

/// A place that was pointed at. What turns with the rod takes its places along.
struct TapeEnd {
    Vec3 at = Vec3::Zero();  ///< rod frame at turn 0 if it turns, else world; m
    bool turns = false;
    /// Where it is at a turn angle, world.
    [[nodiscard]] Vec3 now(double turn_rad) const;
};

/// A tape measure: from one place to another.
class Tape {
  public:
    [[nodiscard]] bool on() const { return on_; }
    /// Takes it up, or puts it away with all that was measured.
    void take(bool on);
    /// The first place, the second, and from then on the first again.
    ///
    /// \param world where it is at that turn angle
    void point(const Vec3& world, bool turns, double turn_rad);
    /// None, one or two.
    [[nodiscard]] const std::vector<TapeEnd>& ends() const { return ends_; }

  private:
    bool on_ = false;
    std::vector<TapeEnd> ends_;
};

}  // namespace evenspit::viewer
