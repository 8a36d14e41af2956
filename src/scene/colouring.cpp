// SPDX-License-Identifier: MIT
#include "scene/colouring.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <utility>

namespace evenspit::scene {
namespace {

double reach_at(const std::vector<Vec2>& reach, double x) {
    if (x <= reach.front().x()) return reach.front().y();
    if (x >= reach.back().x()) return reach.back().y();
    const auto after = std::find_if(reach.begin(), reach.end(), [&](const Vec2& p) { return p.x() >= x; });
    const auto before = std::prev(after);
    return before->y() + (x - before->x()) / (after->x() - before->x()) * (after->y() - before->y());
}

/// The wall at a station, straight between its points; nothing where it does not reach.
std::optional<double> wall_at(const std::vector<Vec2>& wall, double x) {
    for (std::size_t i = 1; i < wall.size(); ++i) {
        const Vec2 &a = wall[i - 1], &b = wall[i];
        if (x < a.x() || x > b.x()) continue;
        return b.x() > a.x() ? a.y() + (x - a.x()) / (b.x() - a.x()) * (b.y() - a.y()) : a.y();
    }
    return std::nullopt;
}

}  // namespace

double field_value(const Field& field, const Vec3& at) {
    const double radius = std::hypot(at.y(), at.z());
    if (field.what == Colouring::gap) return field.reach.empty() ? 0 : reach_at(field.reach, at.x()) - radius;
    if (field.what != Colouring::cover) return radius;
    double least = HUGE_VAL;
    for (const TineLine& tine : field.tines) {
        const Vec3 run = tine.tip - tine.root;
        const double along = std::clamp((at - tine.root).dot(run) / run.squaredNorm(), 0.0, 1.0);
        least = std::min(least, (at - tine.root - along * run).norm() - tine.radius_m);
    }
    return field.tines.empty() ? 0 : least;
}

std::vector<Vec2> free_reach(const Clearance& clearance, const RodResult& rod, double rod_length_m,
                             const std::vector<std::vector<Vec2>>& walls) {
    std::vector<Vec2> reach;
    double most = 0;
    for (std::size_t i = 0; i < reach_stations; ++i) {
        const double x = rod_length_m * static_cast<double>(i) / (reach_stations - 1);
        double least = HUGE_VAL;
        for (std::size_t s = 0; s < std::min(walls.size(), clearance.surfaces.size()); ++s) {
            const auto wall = wall_at(walls[s], x);
            if (wall) least = std::min(least, *wall - sag_toward(clearance.surfaces[s]) * sag_at(rod, x));
        }
        if (std::isfinite(least)) most = std::max(most, least);
        reach.emplace_back(x, least);
    }
    if (most <= 0) return {};
    for (Vec2& p : reach) {
        if (!std::isfinite(p.y())) p.y() = most;
    }
    return reach;
}

void colour_skin(Scene& scene, Field field) {
    field.from = HUGE_VAL;
    field.to = -HUGE_VAL;
    for (Piece& piece : scene.pieces) {
        if (piece.matter != Matter::skin || !piece.turns) continue;
        std::vector<float> values;
        values.reserve(piece.shape->corners.size());
        for (const ShapeMesh::Corner& corner : piece.shape->corners) {
            const double value =
                field_value(field, piece.pose * Vec3(corner.at[0], corner.at[1], corner.at[2]));
            field.from = std::min(field.from, value);
            field.to = std::max(field.to, value);
            values.push_back(static_cast<float>(value));
        }
        piece.values = std::make_shared<const std::vector<float>>(std::move(values));
    }
    if (field.from <= field.to) scene.field = std::move(field);
}

}  // namespace evenspit::scene
