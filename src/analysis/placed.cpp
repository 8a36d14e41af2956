// SPDX-License-Identifier: MIT
#include "analysis/placed.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace evenspit {
namespace {

/// How far the axes of two pins are apart, m: the least distance of two segments. Where both run past their
/// nearest points it lies between these; else at an end of one of them.
double pins_apart(const PinLine& a, const PinLine& b) {
    const auto beside = [](const Vec3& p, const PinLine& line) {
        const Vec3 run = line.tip - line.root;
        const double s = std::clamp((p - line.root).dot(run) / run.squaredNorm(), 0.0, 1.0);
        return (p - line.root - s * run).norm();
    };
    double least = std::min({beside(a.root, b), beside(a.tip, b), beside(b.root, a), beside(b.tip, a)});
    const Vec3 u = a.tip - a.root, v = b.tip - b.root, w = b.root - a.root;
    const Vec3 across = u.cross(v);
    const double size = across.squaredNorm();
    constexpr double parallel = 1e-12;
    if (size <= parallel * u.squaredNorm() * v.squaredNorm()) return least;
    const double s = w.cross(v).dot(across) / size, t = w.cross(u).dot(across) / size;
    if (s >= 0 && s <= 1 && t >= 0 && t <= 1)
        least = std::min(least, std::abs(w.dot(across)) / std::sqrt(size));
    return least;
}

/// From where to where an item's body reaches along a way, m; no cavities, no swung limbs.
///
/// \param pose item frame → the frame of the way
std::array<double, 2> reach_along(const Item& item, const Pose& pose, const Vec3& way) {
    std::array<double, 2> reach{std::numeric_limits<double>::infinity(),
                                -std::numeric_limits<double>::infinity()};
    const Vec3 along = pose.linear().transpose() * way;
    const double origin = way.dot(pose.translation());
    const body::PreparedBody& body = *item.body;
    for (std::size_t i = 0; i < body.queries.size(); ++i) {
        if (!body::displaces(body.body.parts[i])) continue;
        const Interval extent = body.queries[i].extent(along);
        reach = {std::min(reach[0], origin + item.off.scale * extent.from),
                 std::max(reach[1], origin + item.off.scale * extent.to)};
    }
    return reach;
}

}  // namespace

std::vector<TurningMass> item_masses(const Assembly& assembly, Doneness end) {
    std::vector<TurningMass> masses;
    masses.reserve(assembly.items.size());
    for (const Item& item : assembly.items) {
        const body::Matter matter = matter_at(item, end);
        masses.push_back({matter.mass_kg, item.pose * matter.centre});
    }
    return masses;
}

std::vector<ItemOnRod> items_on_rod(const Assembly& assembly, Doneness end) {
    std::vector<ItemOnRod> items;
    items.reserve(assembly.items.size());
    const std::vector<TurningMass> masses = item_masses(assembly, end);
    for (std::size_t i = 0; i < masses.size(); ++i) {
        const auto [from, to] = stretch_on_rod(assembly.items[i]);
        items.push_back({masses[i], from, to});
    }
    return items;
}

std::vector<PlacedItem> place_items(const Assembly& assembly) {
    std::vector<PlacedItem> placed;
    placed.reserve(assembly.items.size());
    const std::vector<ItemOnRod> items = items_on_rod(assembly);
    for (std::size_t i = 0; i < items.size(); ++i) {
        const Item& item = assembly.items[i];
        PlacedItem p;
        static_cast<ItemOnRod&>(p) = items[i];
        for (const body::Part& part : item.body->body.parts) {
            p.parts.push_back(transformed(part.mesh, item.pose));
            if (body::displaces(part)) p.bounds.extend(bounds(p.parts.back()));
        }
        for (const body::SwungLimb& limb : item.body->body.swung)
            p.swung.push_back(transformed(limb.mesh, item.pose));
        placed.push_back(std::move(p));
    }
    return placed;
}

std::array<double, 2> stretch_on_rod(const Item& item) {
    return reach_along(item, item.pose, Vec3::UnitX());
}

Vec3 rod_point(double at_m, double radius_m, double clock_rad) {
    return {at_m, radius_m * std::cos(clock_rad), radius_m * std::sin(clock_rad)};
}

PinLine pin_line(const Fork& fork, const Tine& tine) {
    const double clock = tine_clock(fork, tine);
    if (fork.kind == ForkKind::fork) {
        return {rod_point(fork.at_m, tine.radius_m, clock),
                rod_point(tine_tip(fork, tine), tine.radius_m, clock)};
    }
    const Vec3 root = rod_point(fork.at_m, tine.radius_m, clock + std::numbers::pi / 2);
    return {root, root + rod_point(0, tine.length_m, clock)};
}

double tine_tip(const Fork& fork, const Tine& tine) {
    if (fork.kind == ForkKind::bracket) return fork.at_m;
    return fork.points == Facing::point ? fork.at_m + tine.length_m : fork.at_m - tine.length_m;
}

std::pair<double, double> tine_stretch(const Fork& fork, const Tine& tine) {
    if (fork.kind == ForkKind::bracket)
        return {fork.at_m - tine.diameter_m / 2, fork.at_m + tine.diameter_m / 2};
    return std::minmax({fork.at_m, tine_tip(fork, tine)});
}

double pin_reach(const Fork& fork, const Tine& tine) {
    const double axis_m =
        fork.kind == ForkKind::bracket ? std::hypot(tine.length_m, tine.radius_m) : tine.radius_m;
    return axis_m + tine.diameter_m / 2;
}

double mean_lever_m(const Fork& fork, const Tine& tine, const std::vector<Interval>& stretches) {
    if (fork.kind == ForkKind::fork) return tine.radius_m;
    return middle_of(stretches).value_or(0);
}

bool tines_touch(const Fork& one, const Fork& other, double thicker) {
    for (const Tine& a : one.tines) {
        for (const Tine& b : other.tines) {
            const auto [from_a, to_a] = tine_stretch(one, a);
            const auto [from_b, to_b] = tine_stretch(other, b);
            if (from_a >= to_b || from_b >= to_a) continue;
            const double apart = one.kind == ForkKind::fork && other.kind == ForkKind::fork
                                     ? (rod_point(0, a.radius_m, tine_clock(one, a)) -
                                        rod_point(0, b.radius_m, tine_clock(other, b)))
                                           .norm()
                                     : pins_apart(pin_line(one, a), pin_line(other, b));
            if (apart < thicker * (a.diameter_m + b.diameter_m) / 2) return true;
        }
    }
    return false;
}

std::pair<double, double> fork_stretch(const Fork& fork) {
    if (fork.kind == ForkKind::basket)
        return {fork.at_m - fork.cage.length_m / 2, fork.at_m + fork.cage.length_m / 2};
    double from = fork.at_m, to = from;
    for (const Tine& tine : fork.tines) {
        const auto [start, end] = tine_stretch(fork, tine);
        from = std::min(from, start);
        to = std::max(to, end);
    }
    return {from, to};
}

double cage_reach_m(const Cage& cage) {
    return cage.round ? cage.width_m / 2 : std::hypot(cage.width_m, cage.height_m) / 2;
}

std::optional<InBasket> in_basket(const Item& item, const Fork& basket) {
    const Cage& cage = basket.cage;
    const Vec3 middle = item.pose * item.body->mass.centre;
    const auto [from, to] = fork_stretch(basket);
    if (middle.x() < from || middle.x() > to || middle.tail<2>().norm() > cage_reach_m(cage))
        return std::nullopt;
    // In the basket's own axes: along the rod, across, and up toward its clock.
    const Pose to_cage = Pose(Eigen::AngleAxisd(std::numbers::pi / 2 - basket.clock_rad, Vec3::UnitX())) *
                         Pose(Eigen::Translation3d(-basket.at_m, 0, 0)) * item.pose;
    const auto reach = [&](const Vec3& way) { return reach_along(item, to_cage, way); };
    InBasket lies{.play_m = std::numeric_limits<double>::infinity()};
    const auto hold = [&lies](const std::array<double, 2>& extent, double half) {
        lies.out_m = std::max({lies.out_m, extent[1] - half, -half - extent[0]});
        lies.play_m = std::min(lies.play_m, 2 * half - (extent[1] - extent[0]));
    };
    const auto along = reach(Vec3::UnitX());
    lies.out_m = std::max({0.0, along[1] - cage.length_m / 2, -cage.length_m / 2 - along[0]});
    if (!cage.round) {
        hold(reach(Vec3::UnitY()), cage.width_m / 2);
        hold(reach(Vec3::UnitZ()), cage.height_m / 2);
    } else {
        constexpr int ways = 12;
        for (int k = 0; k < ways; ++k)
            hold(reach(rod_point(0, 1, std::numbers::pi * k / ways)), cage.width_m / 2);
    }
    lies.play_m = std::max(0.0, lies.play_m);
    return lies;
}

double beside_rod_m(const PinLine& pin, const Vec2& at) {
    const Vec2 root = pin.root.tail<2>(), run = pin.tip.tail<2>() - root;
    const double size = run.squaredNorm();
    const double s = size > 0 ? std::clamp((at - root).dot(run) / size, 0.0, 1.0) : 0.0;
    return (at - root - s * run).norm();
}

Vec3 tine_middle(const Fork& fork, std::size_t tine) {
    const PinLine line = pin_line(fork, fork.tines[tine]);
    return (line.root + line.tip) / 2;
}

}  // namespace evenspit
