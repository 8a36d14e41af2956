// SPDX-License-Identifier: MIT
#include "app/viewer/hands.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "analysis/placed.h"
#include "units/dial.h"
#include "units/tell.h"

namespace evenspit::viewer {
namespace {

using std::numbers::pi;

// How far outside a thing its ring lies.
constexpr double ring_clearance_m = 0.012;
// Cosine of the angle between rod and line of sight.
constexpr double nearly_along_the_rod = 0.95;

double ring_radius(const Assembly& assembly, const Thing& thing) {
    switch (thing.kind) {
        case Thing::Kind::counterweight:
            return assembly.counterweights[thing.index].radius_m;
        case Thing::Kind::fork: {
            double radius = 0.02;
            const Fork& fork = assembly.forks[thing.index];
            for (const Tine& tine : fork.tines)
                radius = std::max(radius, pin_reach(fork, tine) - tine.diameter_m / 2);
            return std::max(radius, cage_reach_m(fork.cage));
        }
        default: {
            const Box3 box = box_of(assembly, thing);
            return std::max({box.max().y(), -box.min().y(), box.max().z(), -box.min().z()}) +
                   ring_clearance_m;
        }
    }
}

/// Where the rod line crosses the plane of an item's end, item frame.
Vec3 line_end(const Item& item, bool far_end) {
    const Box3& box = item.body->bounds;
    const Vec2& at = far_end ? item.seat.line.to : item.seat.line.from;
    return {far_end ? box.max().x() : box.min().x(), at.x(), at.y()};
}

/// An angle as one within half a turn of another.
double beside(double angle, double other) {
    return other + std::remainder(angle - other, 2 * pi);
}

}  // namespace

double snapped(double value, double step, bool on) {
    return on && step > 0 ? std::round(value / step) * step : value;
}

Whereabouts whereabouts(const Assembly& assembly, const Thing& thing) {
    switch (thing.kind) {
        case Thing::Kind::item:
            return {assembly.items[thing.index].seat.at_m, assembly.items[thing.index].seat.turn_rad};
        case Thing::Kind::fork:
            return {assembly.forks[thing.index].at_m, assembly.forks[thing.index].clock_rad};
        case Thing::Kind::counterweight:
            return {assembly.counterweights[thing.index].at_m,
                    assembly.counterweights[thing.index].clock_rad};
        default:
            return {};
    }
}

std::string clock_words(const Assembly& assembly, const Thing& thing) {
    const double clock_rad = whereabouts(assembly, thing).clock_rad;
    const std::string words = "clock " + clock_text(clock_rad);
    // An item or a fork as a whole has a turn rather than a place.
    return thing.kind == Thing::Kind::counterweight ? words + ", " + dial_text(clock_rad) : words;
}

Box3 box_of(const Assembly& assembly, const Thing& thing) {
    Box3 box;
    if (thing.kind == Thing::Kind::item) {
        const Item& item = assembly.items[thing.index];
        for (int corner = 0; corner < 8; ++corner)
            box.extend(Vec3(item.pose * item.body->bounds.corner(static_cast<Box3::CornerType>(corner))));
    } else if (thing.kind == Thing::Kind::fork) {
        const Fork& fork = assembly.forks[thing.index];
        box.extend(Vec3(fork.at_m, 0, 0));
        if (fork.kind == ForkKind::basket) {
            const auto [from, to] = fork_stretch(fork);
            const double reach = cage_reach_m(fork.cage);
            box.extend(Vec3(from, -reach, -reach));
            box.extend(Vec3(to, reach, reach));
        }
        for (const Tine& tine : fork.tines) {
            const PinLine line = pin_line(fork, tine);
            box.extend(line.root);
            box.extend(line.tip);
        }
    } else if (thing.kind == Thing::Kind::counterweight) {
        const Counterweight& weight = assembly.counterweights[thing.index];
        const Vec3 centre = rod_point(weight.at_m, weight.radius_m, weight.clock_rad);
        box.extend(Vec3(weight.at_m, 0, 0));
        box.extend(Vec3(centre.array() - weight.diameter_m / 2));
        box.extend(Vec3(centre.array() + weight.diameter_m / 2));
    }
    return box;
}

std::vector<Handle> handles(const Assembly& assembly, const Thing& thing, double turn_rad) {
    if (!movable(thing)) return {};
    const Pose turned = turned_rod(turn_rad);
    const Whereabouts where = whereabouts(assembly, thing);
    const double ring = ring_radius(assembly, thing);
    std::vector<Handle> result;
    if (thing.kind == Thing::Kind::item) {
        const Item& item = assembly.items[thing.index];
        for (const bool far_end : {false, true}) {
            result.push_back({far_end ? Grip3d::line_to : Grip3d::line_from, thing,
                              turned * (item.pose * line_end(item, far_end))});
        }
        const Box3 box = box_of(assembly, thing);
        const double middle = box.center().x();
        result.push_back({Grip3d::slide, thing, {middle, 0, 0}});
        result.push_back({Grip3d::clock, thing, turned * rod_point(middle, ring, where.clock_rad + pi / 2)});
    } else {
        result.push_back({Grip3d::slide, thing, {where.at_m, 0, 0}});
        result.push_back({Grip3d::clock, thing, turned * rod_point(where.at_m, ring, where.clock_rad)});
    }
    return result;
}

std::vector<Handle> usable_handles(const Assembly& assembly, const Thing& thing, double turn_rad,
                                   const Camera& camera) {
    std::vector<Handle> all = handles(assembly, thing, turn_rad);
    if (std::abs(camera.forward().x()) > nearly_along_the_rod)
        std::erase_if(all, [](const Handle& handle) { return handle.grip == Grip3d::slide; });
    return all;
}

std::vector<PlacedHandle> placed_handles(const std::vector<Handle>& all, const Camera& camera,
                                         const Area& area, double apart) {
    struct Shown {
        const Handle* handle;
        Vec3 at;
    };
    std::vector<Shown> shown;
    for (const Handle& handle : all) shown.push_back({&handle, camera.shown_at(handle.at, area)});
    std::stable_sort(shown.begin(), shown.end(),
                     [](const Shown& a, const Shown& b) { return a.at.z() < b.at.z(); });
    std::vector<PlacedHandle> placed;
    const auto is_free = [&](const Vec2& at) {
        return std::all_of(placed.begin(), placed.end(),
                           [&](const PlacedHandle& other) { return (other.at - at).norm() >= apart; });
    };
    constexpr int ways = 8, rings = 4;
    for (const Shown& one : shown) {
        const Vec2 own = one.at.head<2>();
        Vec2 at = own;
        // Round its place, to the lower right first.
        for (int i = 0; i < ways * rings && !is_free(at); ++i) {
            const double angle = pi / 4 + 2 * pi * (i % ways) / ways;
            at = own + 1.05 * apart * (1 + i / ways) * Vec2(std::cos(angle), std::sin(angle));
        }
        placed.push_back({*one.handle, own, at});
    }
    return placed;
}

Grab::Grab(const Handle& handle, const Assembly& start, const Camera& camera, const Area& area,
           double turn_rad, double x, double y)
    : handle_(handle), start_(start), turn_rad_(turn_rad) {
    const Ray ray = camera.ray(x, y, area);
    if (handle.thing.kind == Thing::Kind::item) {
        // Seen nearly along the rod, the end's own plane tells both ways; from the side only the way across
        // the picture can be told.
        plane_normal_ = (turned_rod(turn_rad) * start.items[handle.thing.index].pose).linear().col(0);
        if (std::abs(plane_normal_.dot(camera.forward())) < 0.3) plane_normal_ = camera.forward();
    }
    first_station_ = station(ray);
    first_clock_ = whereabouts(start, handle.thing).clock_rad;
    if (handle.grip == Grip3d::clock) first_clock_ = clock(ray);
    if (const std::optional<Vec2> on_plane = on_end_plane(ray)) first_on_plane_ = *on_plane;
}

/// The place on the rod's axis that a line of sight passes nearest.
double Grab::station(const Ray& ray) const {
    const double c = ray.along.x();
    const double across = 1 - c * c;
    // Looking along the rod there is no telling: it stays.
    if (across < 1e-3) return handle_.at.x();
    const Vec3 back = -ray.from;
    return (c * back.dot(ray.along) - back.x()) / across;
}

/// The clock on the handle's circle that a line of sight passes nearest; of equals the one nearer to where it
/// was.
double Grab::clock(const Ray& ray) const {
    const double radius = handle_.at.tail<2>().norm();
    const double before = std::atan2(handle_.at.z(), handle_.at.y());
    double best = before, least = -1;
    constexpr int tries = 1440;
    for (int i = 0; i < tries; ++i) {
        const double angle = before + std::remainder(2 * pi * i / tries, 2 * pi);
        const Vec3 offset = rod_point(handle_.at.x(), radius, angle) - ray.from;
        const double miss = (offset - offset.dot(ray.along) * ray.along).norm() +
                            1e-4 * radius * std::abs(std::remainder(angle - before, 2 * pi));
        if (least >= 0 && miss >= least) continue;
        least = miss;
        best = angle;
    }
    return best;
}

/// Where a line of sight meets the plane in which the end is moved, in (y, z) of the item as it
/// sat.
std::optional<Vec2> Grab::on_end_plane(const Ray& ray) const {
    if (handle_.grip != Grip3d::line_from && handle_.grip != Grip3d::line_to) return std::nullopt;
    const Item& item = start_.items[handle_.thing.index];
    const Pose to_item = (turned_rod(turn_rad_) * item.pose).inverse();
    const double toward = plane_normal_.dot(ray.along);
    if (std::abs(toward) < 1e-6) return std::nullopt;
    const double t = plane_normal_.dot(handle_.at - ray.from) / toward;
    return Vec2((to_item * Vec3(ray.from + t * ray.along)).tail<2>());
}

std::optional<Edit> Grab::pulled(const Camera& camera, const Area& area, double x, double y,
                                 const Snap& snap) const {
    const Ray ray = camera.ray(x, y, area);
    const Thing& thing = handle_.thing;
    const Whereabouts before = whereabouts(start_, thing);
    if (handle_.grip == Grip3d::line_from || handle_.grip == Grip3d::line_to) {
        const std::optional<Vec2> now = on_end_plane(ray);
        if (!now) return std::nullopt;
        Seat seat = start_.items[thing.index].seat;
        Vec2& end = handle_.grip == Grip3d::line_from ? seat.line.from : seat.line.to;
        end += *now - first_on_plane_;
        for (Eigen::Index axis = 0; axis < 2; ++axis) end[axis] = snapped(end[axis], snap.length_m, snap.on);
        return SetSeat{thing.index, seat};
    }
    double along = 0, round = 0;
    if (handle_.grip == Grip3d::slide) {
        along = snapped(before.at_m + station(ray) - first_station_, snap.length_m, snap.on) - before.at_m;
    } else {
        const double clock_now = beside(before.clock_rad + clock(ray) - first_clock_, before.clock_rad);
        round = snapped(clock_now, snap.angle_rad, snap.on) - before.clock_rad;
    }
    return nudged(start_, thing, along, round, Vec2::Zero());
}

std::pair<Vec3, Vec3> tine_line(const Assembly& assembly, const Thing& thing) {
    const Fork& fork = assembly.forks[thing.index];
    const PinLine line = pin_line(fork, fork.tines[thing.part]);
    return {line.root, line.tip};
}

Edit nudged(const Assembly& assembly, const Thing& thing, double along_m, double round_rad,
            const Vec2& line_m) {
    if (thing.kind == Thing::Kind::item) {
        Seat seat = assembly.items[thing.index].seat;
        seat.at_m += along_m;
        seat.turn_rad += round_rad;
        seat.line.from += line_m;
        seat.line.to += line_m;
        return SetSeat{thing.index, seat};
    }
    if (thing.kind == Thing::Kind::fork) {
        const Fork& fork = assembly.forks[thing.index];
        return SetFork{thing.index, fork.at_m + along_m, fork.points, fork.clock_rad + round_rad};
    }
    Counterweight weight = assembly.counterweights[thing.index];
    weight.at_m += along_m;
    weight.clock_rad += round_rad;
    return SetWeight{thing.index, weight};
}

}  // namespace evenspit::viewer
