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

std::optional<double> temperature_at(const Field& field, const Vec3& at) {
    for (const ItemHeat& item : field.heat) {
        if (!item.cells) continue;
        if (const auto kelvin = item.cells->at(item.to_item * at)) return kelvin;
    }
    return std::nullopt;
}

}  // namespace

double field_value(const Field& field, const Vec3& at) {
    const double radius = std::hypot(at.y(), at.z());
    if (field.what == Colouring::gap) return field.reach.empty() ? 0 : reach_at(field.reach, at.x()) - radius;
    if (field.what == Colouring::temperature) return temperature_at(field, at).value_or(0);
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

std::optional<double> told_value(const Scene& scene, const Vec3& at) {
    const Field& field = *scene.field;
    if (field.what == Colouring::temperature) return temperature_at(field, at);
    if (field.what != Colouring::heat) return field_value(field, at);
    // Farther off it is no place of the skin.
    constexpr double near_m = 0.02;
    std::optional<double> told;
    double least = near_m;
    for (const Piece& piece : scene.pieces) {
        if (!piece.values) continue;
        const Vec3 own = piece.pose.inverse() * at;
        for (std::size_t c = 0; c < piece.values->size(); ++c) {
            const auto& corner = piece.shape->corners[c].at;
            const double away = (Vec3(corner[0], corner[1], corner[2]) - own).norm();
            if (away >= least) continue;
            least = away;
            told = static_cast<double>((*piece.values)[c]);
        }
    }
    return told;
}

std::vector<float> heat_at_corners(const TriangleMesh& mesh, const std::vector<float>& j_m2,
                                   const std::vector<std::uint32_t>& corner_of, std::size_t corners) {
    std::vector<double> heat(corners, 0.0), area(corners, 0.0);
    double all_heat = 0, all_area = 0;
    for (std::size_t t = 0; t < std::min(mesh.triangles.size(), j_m2.size()); ++t) {
        const Triangle& triangle = mesh.triangles[t];
        if (!std::isfinite(j_m2[t])) continue;
        const Vec3 across = (mesh.corner(triangle, 1) - mesh.corner(triangle, 0))
                                .cross(mesh.corner(triangle, 2) - mesh.corner(triangle, 0));
        const double weight = across.norm() / 2, taken = weight * static_cast<double>(j_m2[t]);
        all_heat += taken;
        all_area += weight;
        for (const std::int32_t v : triangle) {
            const std::uint32_t corner = corner_of[static_cast<std::size_t>(v)];
            heat[corner] += taken;
            area[corner] += weight;
        }
    }
    std::vector<float> shares(corners, 1.0F);
    if (!(all_heat > 0)) return shares;
    const double mean = all_heat / all_area;
    for (std::size_t c = 0; c < corners; ++c) {
        if (area[c] > 0) shares[c] = static_cast<float>(heat[c] / area[c] / mean);
    }
    return shares;
}

void colour_skin(Scene& scene, Field field) {
    const bool ranged = field.to > field.from;
    double least = HUGE_VAL, most = -HUGE_VAL;
    for (Piece& piece : scene.pieces) {
        if (piece.matter != Matter::skin || !piece.turns) continue;
        if (!piece.values) {
            std::vector<float> values;
            values.reserve(piece.shape->corners.size());
            for (const ShapeMesh::Corner& corner : piece.shape->corners)
                values.push_back(static_cast<float>(
                    field_value(field, piece.pose * Vec3(corner.at[0], corner.at[1], corner.at[2]))));
            piece.values = std::make_shared<const std::vector<float>>(std::move(values));
        }
        for (const float value : *piece.values) {
            least = std::min(least, static_cast<double>(value));
            most = std::max(most, static_cast<double>(value));
        }
    }
    if (least > most) return;
    if (!ranged) {
        field.from = least;
        field.to = most;
    }
    scene.field = std::move(field);
}

}  // namespace evenspit::scene
