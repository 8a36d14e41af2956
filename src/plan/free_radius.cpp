// SPDX-License-Identifier: MIT
#include "plan/free_radius.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

#include "geometry/gap.h"
#include "units/parallel.h"

namespace evenspit::plan {
namespace {

constexpr double table_step_m = 0.01;
/// Nothing on a spit reaches so far.
constexpr double far_m = 0.5;

double free_at(double x, const CookerSurface& surface, const std::function<double(double)>& sag) {
    // A disc that grows by what it has left never takes more than that: the gap changes no faster than the
    // radius.
    constexpr int rounds = 40;
    constexpr double close_enough_m = 1e-4;
    double radius = 0;
    for (int i = 0; i < rounds && radius < far_m; ++i) {
        const Outline disc{{{x, radius, x, radius, 0}}};
        const double left = nearest_gap(disc, sag, surface.shape).distance - surface.keep_m;
        if (left < close_enough_m) break;
        radius += left;
    }
    return std::min(radius, far_m);
}

double room_at(const Vec3& p, const FreeRadius& free) {
    return free.at(p.x()) - p.tail<2>().norm();
}

}  // namespace

FreeRadius::FreeRadius(const Cooker& cooker, double from_m, double to_m,
                       const std::function<double(double)>& sag)
    : from_m_(from_m) {
    const int steps = std::max(1, static_cast<int>(std::ceil((to_m - from_m) / table_step_m)));
    step_m_ = (to_m - from_m) / steps;
    radius_m_.assign(static_cast<std::size_t>(steps) + 1, far_m);
    constexpr std::size_t piece = 4;
    parallel_for(
        radius_m_.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t k = first; k < last; ++k) {
                for (const CookerSurface& surface : cooker.surfaces) {
                    const double x = from_m + static_cast<double>(k) * step_m_;
                    radius_m_[k] = std::min(radius_m_[k], free_at(x, surface, sag));
                }
            }
        },
        piece);
}

double FreeRadius::at(double x) const {
    const double place = std::clamp((x - from_m_) / step_m_, 0.0, static_cast<double>(radius_m_.size() - 1));
    const auto k = std::min(static_cast<std::size_t>(place), radius_m_.size() - 2);
    return std::lerp(radius_m_[k], radius_m_[k + 1], place - static_cast<double>(k));
}

double FreeRadius::least(double from, double to) const {
    double radius = std::min(at(from), at(to));
    for (double x = from; x < to; x += step_m_) radius = std::min(radius, at(x));
    return radius;
}

Silhouette::Silhouette(const body::Body& body) {
    constexpr std::size_t directions = 24;
    constexpr double slab_m = 0.01;
    std::array<Vec2, directions> outward;
    for (std::size_t d = 0; d < directions; ++d) {
        const double angle = 2 * std::numbers::pi * static_cast<double>(d) / directions;
        outward[d] = {std::cos(angle), std::sin(angle)};
    }
    std::vector<const TriangleMesh*> meshes;
    for (const body::Part& part : body.parts) {
        if (part.kind != body::PartKind::cavity && part.parent < 0) meshes.push_back(&part.mesh);
    }
    for (const body::SwungLimb& limb : body.swung) meshes.push_back(&limb.mesh);

    for (const TriangleMesh* mesh : meshes) {
        const Box3 box = bounds(*mesh);
        const auto slabs = static_cast<std::size_t>(box.sizes().x() / slab_m) + 1;
        struct Extreme {
            double reach = -std::numeric_limits<double>::infinity();
            std::size_t vertex = 0;
        };
        std::vector<std::array<Extreme, directions>> extremes(slabs);
        std::vector<std::size_t> kept;
        std::size_t first = 0, last = 0;
        for (std::size_t v = 0; v < mesh->vertices.size(); ++v) {
            const Vec3& p = mesh->vertices[v];
            const auto slab = std::min(slabs - 1, static_cast<std::size_t>((p.x() - box.min().x()) / slab_m));
            for (std::size_t d = 0; d < directions; ++d) {
                const double reach = p.tail<2>().dot(outward[d]);
                if (reach > extremes[slab][d].reach) extremes[slab][d] = {reach, v};
            }
            if (p.x() < mesh->vertices[first].x()) first = v;
            if (p.x() > mesh->vertices[last].x()) last = v;
        }
        kept.insert(kept.end(), {first, last});
        for (const auto& slab : extremes) {
            for (const Extreme& extreme : slab) {
                if (std::isfinite(extreme.reach)) kept.push_back(extreme.vertex);
            }
        }
        std::sort(kept.begin(), kept.end());
        kept.erase(std::unique(kept.begin(), kept.end()), kept.end());
        for (const std::size_t v : kept) points_.push_back(mesh->vertices[v]);
    }
    for (const Vec3& p : points_) {
        reach_m_ = std::max(reach_m_, p.tail<2>().norm());
        ends_m_ = {std::min(ends_m_[0], p.x()), std::max(ends_m_[1], p.x())};
    }
}

std::array<double, 2> Silhouette::extent(const Pose& pose) const {
    std::array<double, 2> extent{std::numeric_limits<double>::infinity(),
                                 -std::numeric_limits<double>::infinity()};
    for (const Vec3& p : points_) {
        const double x = (pose * p).x();
        extent = {std::min(extent[0], x), std::max(extent[1], x)};
    }
    return extent;
}

double Silhouette::room(const Pose& pose, const FreeRadius& free) const {
    double room = std::numeric_limits<double>::infinity();
    for (const Vec3& p : points_) room = std::min(room, room_at(pose * p, free));
    return room;
}

double Silhouette::room(const Pose& pose, const FreeRadius& free, double enough, CornerOrder& order) const {
    if (order.size() != points_.size()) {
        order.resize(points_.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
    }
    double room = std::numeric_limits<double>::infinity();
    std::size_t tightest = 0;
    for (std::size_t k = 0; k < order.size() && room >= enough; ++k) {
        const double here = room_at(pose * points_[order[k]], free);
        if (here >= room) continue;
        room = here;
        tightest = k;
    }
    const auto place = order.begin() + static_cast<std::ptrdiff_t>(tightest);
    std::rotate(order.begin(), place, place + 1);
    return room;
}

}  // namespace evenspit::plan
