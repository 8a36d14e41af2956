// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "app/viewer/camera.h"

namespace evenspit::viewer {

/// A word that belongs to a place of the picture; pixels.
struct LabelWish {
    Vec2 place = Vec2::Zero();   ///< that it names
    Vec2 middle = Vec2::Zero();  ///< where its own middle would best be
    Vec2 size = Vec2::Zero();    ///< that it takes, its margin included
    bool needed = true;          ///< left out only where it would lie over another word
};

/// Where labels stand: as near as can be to where they would best be, never over each other, not over what is
/// taken, and whole within an area. The first have the better room. Nothing for one that has no room; one
/// that is needed may lie over what is taken before it is left out.
std::vector<std::optional<Area>> placed_labels(const std::vector<LabelWish>& wishes, const Area& within,
                                               const std::vector<Area>& taken);

bool overlap(const Area& a, const Area& b);

/// Where a line from a place to a label ends: the label's nearest edge.
Vec2 nearest_of(const Area& label, const Vec2& place);

}  // namespace evenspit::viewer
