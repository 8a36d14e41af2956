// SPDX-License-Identifier: MIT
#include "app/viewer/sighting.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <variant>

#include "analysis/placed.h"

namespace evenspit::viewer {
namespace {

using scene::ground_reach_m;
using scene::hub_length_m;
using scene::hub_radius_m;

/// Where a ray meets a round pin with flat ends along X; the distance along the ray.
std::optional<double> met_pin(const Ray& ray, double x0, double x1, const Vec2& centre, double radius) {
    const Vec2 from = ray.from.tail<2>() - centre, along = ray.along.tail<2>();
    double near = -std::numeric_limits<double>::infinity(), far = -near;
    const double a = along.squaredNorm(), b = from.dot(along), c = from.squaredNorm() - radius * radius;
    if (a > 1e-12) {
        const double root = b * b - a * c;
        if (root < 0) return std::nullopt;
        near = (-b - std::sqrt(root)) / a;
        far = (-b + std::sqrt(root)) / a;
    } else if (c > 0) {
        return std::nullopt;
    }
    if (std::abs(ray.along.x()) > 1e-12) {
        const auto [in, out] =
            std::minmax({(x0 - ray.from.x()) / ray.along.x(), (x1 - ray.from.x()) / ray.along.x()});
        near = std::max(near, in);
        far = std::min(far, out);
    } else if (ray.from.x() < x0 || ray.from.x() > x1) {
        return std::nullopt;
    }
    if (near > far || far < 0) return std::nullopt;
    return std::max(near, 0.0);
}

std::optional<double> met_box(const Ray& ray, const Vec3& min, const Vec3& max) {
    double near = 0, far = std::numeric_limits<double>::infinity();
    for (Eigen::Index axis = 0; axis < 3; ++axis) {
        const auto [in, out] = std::minmax(
            {(min[axis] - ray.from[axis]) / ray.along[axis], (max[axis] - ray.from[axis]) / ray.along[axis]});
        near = std::max(near, in);
        far = std::min(far, out);
    }
    if (!(near <= far)) return std::nullopt;
    return near;
}

/// The half of a revolved wall that is drawn, behind its vertical as seen along the ray.
std::optional<double> met_wall(const Ray& ray, const RevolvedShape& wall) {
    std::optional<double> nearest;
    for (std::size_t p = 1; p < wall.profile.size(); ++p) {
        // A cone's stretch: r = r0 + k (h − h0); solved in the ray's parameter.
        const Vec2 a = wall.profile[p - 1], b = wall.profile[p];
        if (std::abs(b.y() - a.y()) < 1e-9) continue;
        const double k = (b.x() - a.x()) / (b.y() - a.y());
        const Vec3 o = ray.from - wall.centre, d = ray.along;
        const double r0 = a.x() + k * (o.z() - a.y()), rd = k * d.z();
        const double qa = d.x() * d.x() + d.y() * d.y() - rd * rd,
                     qb = o.x() * d.x() + o.y() * d.y() - r0 * rd,
                     qc = o.x() * o.x() + o.y() * o.y() - r0 * r0;
        const double root = qb * qb - qa * qc;
        if (root < 0 || std::abs(qa) < 1e-12) continue;
        for (const double sign : {-1.0, 1.0}) {
            const double t = (-qb + sign * std::sqrt(root)) / qa;
            const Vec3 at = o + t * d;
            const bool on_it = at.z() >= std::min(a.y(), b.y()) && at.z() <= std::max(a.y(), b.y()) && t > 0;
            const bool behind = at.head<2>().dot(d.head<2>()) > 0;
            if (on_it && behind && (!nearest || t < *nearest)) nearest = t;
        }
    }
    return nearest;
}

std::optional<double> met_surface(const Ray& ray, const SurfaceShape& shape) {
    if (const auto* box = std::get_if<BoxShape>(&shape)) return met_box(ray, box->min, box->max);
    if (const auto* wall = std::get_if<RevolvedShape>(&shape)) return met_wall(ray, *wall);
    if (const auto* plane = std::get_if<PlaneShape>(&shape)) {
        const double toward = ray.along.dot(plane->normal);
        if (toward >= 0) return std::nullopt;
        const double t = (plane->point - ray.from).dot(plane->normal) / toward;
        const Vec3 at = ray.from + t * ray.along;
        return t > 0 && (at - Vec3(0.4, 0, 0)).head<2>().norm() < ground_reach_m ? std::optional(t)
                                                                                 : std::nullopt;
    }
    return std::nullopt;
}

/// What goes with it when it is hidden.
Thing whole_of(const Thing& thing) {
    switch (thing.kind) {
        case Thing::Kind::limb:
            return {Thing::Kind::item, thing.index};
        case Thing::Kind::tine:
            return {Thing::Kind::fork, thing.index};
        case Thing::Kind::motor:
        case Thing::Kind::support:
            return {Thing::Kind::rod};
        default:
            return thing;
    }
}

/// The first of what a ray meets.
class Nearest {
  public:
    explicit Nearest(const Hidden& hidden) : hidden_(hidden) {}
    void offer(std::optional<double> distance, Thing thing) {
        if (distance && *distance < best_ && !hidden_.has(thing)) {
            best_ = *distance;
            thing_ = thing;
        }
    }
    [[nodiscard]] std::optional<Sighting> at(const Ray& ray) const {
        if (thing_.kind == Thing::Kind::none) return std::nullopt;
        return Sighting{thing_, ray.from + best_ * ray.along};
    }

  private:
    double best_ = std::numeric_limits<double>::infinity();
    Thing thing_;
    const Hidden& hidden_;
};

}  // namespace

bool Hidden::has(const Thing& thing) const {
    return std::find(things_.begin(), things_.end(), whole_of(thing)) != things_.end();
}

void Hidden::toggle(const Thing& thing) {
    const Thing whole = whole_of(thing);
    if (std::erase(things_, whole) == 0) things_.push_back(whole);
}

bool looks_past_motor(const Vec3& along) {
    return along.x() > 0.9;
}

std::optional<Sighting> sighted(const Assembly& assembly, const Ray& ray, double turn_rad,
                                const Hidden& hidden) {
    constexpr double sight_m = 40;
    const Pose to_rod = turned_rod(turn_rad).inverse();
    const Ray rod_ray{to_rod * ray.from, to_rod.linear() * ray.along};
    Nearest nearest(hidden);
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        const Pose to_item = item.pose.inverse();
        const Vec3 from = to_item * rod_ray.from, to = from + sight_m * (to_item.linear() * rod_ray.along);
        for (std::size_t p = 0; p < item.body->body.parts.size(); ++p) {
            const body::Part& part = item.body->body.parts[p];
            if (!body::displaces(part)) continue;
            const std::vector<Interval> inside = item.body->queries[p].inside(from, to);
            if (!inside.empty()) nearest.offer(inside.front().from, {Thing::Kind::item, i});
        }
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        const Thing thing{Thing::Kind::fork, f};
        nearest.offer(met_pin(rod_ray, fork.at_m - hub_length_m / 2, fork.at_m + hub_length_m / 2,
                              Vec2::Zero(), hub_radius_m),
                      thing);
        if (fork.kind == ForkKind::basket) {
            const auto [from, to] = fork_stretch(fork);
            // At its ends: what lies in it can be touched through the wire.
            for (const double end : {from, to})
                nearest.offer(
                    met_pin(rod_ray, end - 0.004, end + 0.004, Vec2::Zero(), cage_reach_m(fork.cage)), thing);
        }
        for (const Tine& tine : fork.tines) {
            const auto [from, to] = tine_stretch(fork, tine);
            if (fork.kind == ForkKind::bracket) {
                // Where the leg stands out; the rest is in the meat.
                nearest.offer(
                    met_pin(rod_ray, from, to, pin_line(fork, tine).tip.tail<2>(), 2 * tine.diameter_m),
                    thing);
                continue;
            }
            // Easier to hit than thin.
            nearest.offer(
                met_pin(rod_ray, from, to, rod_point(0, tine.radius_m, tine_clock(fork, tine)).tail<2>(),
                        tine.diameter_m),
                thing);
        }
    }
    for (std::size_t c = 0; c < assembly.counterweights.size(); ++c) {
        const Counterweight& weight = assembly.counterweights[c];
        const double half = weight.diameter_m / 2;
        nearest.offer(met_pin(rod_ray, weight.at_m - half, weight.at_m + half,
                              rod_point(0, weight.radius_m, weight.clock_rad).tail<2>(), half),
                      {Thing::Kind::counterweight, c});
        nearest.offer(met_pin(rod_ray, weight.at_m - 0.007, weight.at_m + 0.007, Vec2::Zero(), hub_radius_m),
                      {Thing::Kind::counterweight, c});
    }
    nearest.offer(met_pin(rod_ray, 0, assembly.rod.length_m, Vec2::Zero(), assembly.rod.width_m),
                  {Thing::Kind::rod});
    const double seat = assembly.rod.supports_m[0];
    const bool past_motor = looks_past_motor(ray.along);
    if (!past_motor) {
        nearest.offer(met_box(ray, {seat - 0.130, -0.045, -0.065}, {seat - 0.012, 0.045, 0.040}),
                      {Thing::Kind::motor});
    }
    for (std::size_t end = past_motor ? 1 : 0; end < 2; ++end) {
        const double x = assembly.rod.supports_m[end];
        nearest.offer(met_box(ray, {x - 0.010, -0.028, -0.080}, {x + 0.010, 0.028, 0.016}),
                      {Thing::Kind::support, end});
    }
    for (std::size_t s = 0; s < assembly.cooker.surfaces.size(); ++s)
        nearest.offer(met_surface(ray, assembly.cooker.surfaces[s].shape), {Thing::Kind::surface, s});
    return nearest.at(ray);
}

}  // namespace evenspit::viewer
