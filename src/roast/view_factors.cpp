// SPDX-License-Identifier: MIT
#include "roast/view_factors.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "roast/view_cooker.h"
#include "roast/view_directions.h"
#include "units/parallel.h"

namespace evenspit {
namespace {

// How far above the skin a ray starts, m: far more than rounding, far less than a triangle's side.
constexpr double clear_of_skin_m = 1e-7;

// A closed surface that stops rays, and the moves from the rod frame to its own.
struct Stopper {
    std::size_t item;
    const SolidQueries* solid;
    Pose from_rod;
};

std::vector<Stopper> stoppers_of(const Assembly& assembly) {
    std::vector<Stopper> stoppers;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const body::PreparedBody& body = *assembly.items[i].body;
        for (std::size_t p = 0; p < body.body.parts.size(); ++p) {
            if (body::displaces(body.body.parts[p]))
                stoppers.push_back({i, &body.queries[p], assembly.items[i].pose.inverse()});
        }
    }
    return stoppers;
}

// The item that a ray meets first, −1 if none.
int first_item(const std::vector<Stopper>& stoppers, const Vec3& start, const Vec3& direction) {
    double nearest = std::numeric_limits<double>::infinity();
    int item = -1;
    for (const Stopper& stopper : stoppers) {
        const double at =
            stopper.solid->first_hit(stopper.from_rod * start, stopper.from_rod.linear() * direction, nearest)
                .distance;
        if (at >= nearest) continue;
        nearest = at;
        item = static_cast<int>(stopper.item);
    }
    return item;
}

// A ray from a point of a patch, chosen by area; rod frame.
class PatchRays {
  public:
    PatchRays(const SkinPatch& patch, const Item& item)
        : patch_(patch), mesh_(item.body->body.parts[patch.part].mesh), pose_(item.pose) {
        double sum = 0;
        for (const std::int32_t t : patch.triangles) {
            sum += area_normal(t).norm();
            area_up_to_.push_back(sum);
        }
    }

    struct Ray {
        Vec3 start, direction;
    };

    [[nodiscard]] Ray ray(const std::array<double, EvenPoints::dimensions>& place) const {
        const double area = place[2] * area_up_to_.back();
        const auto found = std::upper_bound(area_up_to_.begin(), area_up_to_.end() - 1, area);
        const auto k = static_cast<std::size_t>(found - area_up_to_.begin());
        const double before = k == 0 ? 0 : area_up_to_[k - 1];
        // What is left of the choice of the triangle is as evenly spread as the choice was.
        const double rest = (area - before) / (area_up_to_[k] - before);
        const double root = std::sqrt(std::clamp(rest, 0.0, 1.0));
        const std::int32_t t = patch_.triangles[k];
        const Triangle& triangle = mesh_.triangles[std::size_t(t)];
        const Vec3 point =
            (1 - root) * mesh_.corner(triangle, 0) +
            root * ((1 - place[3]) * mesh_.corner(triangle, 1) + place[3] * mesh_.corner(triangle, 2));
        const Vec3 normal = area_normal(t).stableNormalized();
        return {pose_ * Vec3(point + clear_of_skin_m * normal),
                pose_.linear() * cosine_direction(normal, place[0], place[1])};
    }

  private:
    [[nodiscard]] Vec3 area_normal(std::int32_t t) const {
        const Triangle& triangle = mesh_.triangles[std::size_t(t)];
        const Vec3& a = mesh_.corner(triangle, 0);
        return (mesh_.corner(triangle, 1) - a).cross(mesh_.corner(triangle, 2) - a) / 2;
    }

    const SkinPatch& patch_;
    const TriangleMesh& mesh_;
    const Pose& pose_;
    std::vector<double> area_up_to_;
};

// Turns a point or direction of the rod frame by an angle about the rod.
Vec3 turned_about_rod(const Vec3& v, double cosine, double sine) {
    return {v.x(), cosine * v.y() - sine * v.z(), sine * v.y() + cosine * v.z()};
}

void check(const ViewOptions& options) {
    if (options.rays < 1 || options.angles < 1)
        throw std::invalid_argument("skin_views: without rays or without angles");
}

}  // namespace

SkinViews skin_views(const Assembly& assembly, const ViewOptions& options) {
    check(options);
    SkinViews views{.skin = skin_patches(assembly, options.patch_m),
                    .surfaces = assembly.cooker.surfaces.size(),
                    .angles = options.angles,
                    .items = {},
                    .outside = {},
                    .item_count = assembly.items.size()};
    const std::size_t patches = views.skin.patches.size(), targets = views.surfaces + 1;
    views.items.assign(patches * views.item_count, 0);
    views.outside.assign(patches * views.angles * targets, 0);
    const CookerSight cooker(assembly.cooker);
    const std::vector<Stopper> stoppers = stoppers_of(assembly);
    const double step = 2 * std::numbers::pi / static_cast<double>(views.angles);

    const auto cast = [&](std::size_t k) {
        const SkinPatch& patch = views.skin.patches[k];
        double* const on_items = &views.items[k * views.item_count];
        if (!(patch.area_m2 > 0)) {
            // Nothing leaves it; what it is told to see must not heat it.
            on_items[patch.item] = 1;
            return;
        }
        double* const on_outside = &views.outside[k * views.angles * targets];
        const PatchRays rays(patch, assembly.items[patch.item]);
        const EvenPoints points(k);
        const double share = 1.0 / options.rays;
        for (std::uint32_t n = 0; n < options.rays; ++n) {
            const auto place = points.point(n);
            const PatchRays::Ray ray = rays.ray(place);
            const int item = first_item(stoppers, ray.start, ray.direction);
            if (item >= 0) {
                on_items[item] += share;
                continue;
            }
            // One angle from each step, where the ray's own fifth coordinate puts it.
            const double first = place[4] * step;
            double cosine = std::cos(first), sine = std::sin(first);
            const double cosine_step = std::cos(step), sine_step = std::sin(step);
            for (std::size_t a = 0; a < views.angles; ++a) {
                const int met = cooker.first_met(turned_about_rod(ray.start, cosine, sine),
                                                 turned_about_rod(ray.direction, cosine, sine));
                on_outside[a * targets + (met < 0 ? views.surfaces : std::size_t(met))] += share;
                const double next = cosine * cosine_step - sine * sine_step;
                sine = sine * cosine_step + cosine * sine_step;
                cosine = next;
            }
        }
    };
    parallel_for(
        patches,
        [&](std::size_t first, std::size_t last) {
            for (std::size_t k = first; k < last; ++k) cast(k);
        },
        8);
    return views;
}

TurnViews mean_over_turn(const SkinViews& views, std::span<const double> time_share) {
    std::vector<double> weight(views.angles, 1.0 / static_cast<double>(views.angles));
    if (!time_share.empty()) {
        double sum = 0;
        for (const double share : time_share) {
            if (!(share >= 0)) throw std::invalid_argument("mean_over_turn: a share of time below 0");
            sum += share;
        }
        if (time_share.size() != views.angles || !(sum > 0) || !std::isfinite(sum))
            throw std::invalid_argument("mean_over_turn: not one share of time for each angle");
        for (std::size_t a = 0; a < views.angles; ++a) weight[a] = time_share[a] / sum;
    }
    TurnViews mean{.surfaces = views.surfaces, .item_count = views.item_count, .share = {}};
    const std::size_t patches = views.skin.patches.size(), outside = views.surfaces + 1;
    mean.share.assign(patches * mean.targets(), 0);
    for (std::size_t k = 0; k < patches; ++k) {
        double* const share = &mean.share[k * mean.targets()];
        for (std::size_t a = 0; a < views.angles; ++a) {
            for (std::size_t s = 0; s < outside; ++s)
                share[s] += weight[a] * views.outside[(k * views.angles + a) * outside + s];
        }
        for (std::size_t i = 0; i < views.item_count; ++i)
            share[outside + i] = views.items[k * views.item_count + i];
    }
    return mean;
}

std::vector<double> item_view(const SkinPatches& skin, const TurnViews& views, std::size_t item) {
    std::vector<double> sum(views.targets(), 0);
    double area = 0;
    for (std::size_t k = 0; k < skin.patches.size(); ++k) {
        const SkinPatch& patch = skin.patches[k];
        if (patch.item != item || patch.in_cavity) continue;
        area += patch.area_m2;
        for (std::size_t t = 0; t < sum.size(); ++t) sum[t] += patch.area_m2 * views.of(k)[t];
    }
    for (double& share : sum) share = area > 0 ? share / area : 0;
    return sum;
}

}  // namespace evenspit
