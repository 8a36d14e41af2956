// SPDX-License-Identifier: MIT
#include "scene/colouring.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

namespace evenspit::scene {

void colour_by_radius(Scene& scene) {
    Field field{"distance from the rod", Dimension::length, HUGE_VAL, -HUGE_VAL};
    for (Piece& piece : scene.pieces) {
        if (piece.matter != Matter::skin || !piece.turns) continue;
        std::vector<float> radii;
        radii.reserve(piece.shape->corners.size());
        for (const ShapeMesh::Corner& corner : piece.shape->corners) {
            const Vec3 at = piece.pose * Vec3(corner.at[0], corner.at[1], corner.at[2]);
            const double radius = std::hypot(at.y(), at.z());
            field.from = std::min(field.from, radius);
            field.to = std::max(field.to, radius);
            radii.push_back(static_cast<float>(radius));
        }
        piece.values = std::make_shared<const std::vector<float>>(std::move(radii));
    }
    if (field.from <= field.to) scene.field = std::move(field);
}

}  // namespace evenspit::scene
