// SPDX-License-Identifier: MIT
#include "analysis/placed.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenspit {

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
    std::array<double, 2> stretch{std::numeric_limits<double>::infinity(),
                                  -std::numeric_limits<double>::infinity()};
    const Vec3 along = item.pose.linear().transpose() * Vec3::UnitX();
    const double origin = item.pose.translation().x();
    const body::PreparedBody& body = *item.body;
    for (std::size_t i = 0; i < body.queries.size(); ++i) {
        if (!body::displaces(body.body.parts[i])) continue;
        const Interval reach = body.queries[i].extent(along);
        stretch = {std::min(stretch[0], origin + item.off.scale * reach.from),
                   std::max(stretch[1], origin + item.off.scale * reach.to)};
    }
    return stretch;
}

Vec3 rod_point(double at_m, double radius_m, double clock_rad) {
    return {at_m, radius_m * std::cos(clock_rad), radius_m * std::sin(clock_rad)};
}

double tine_tip(const Fork& fork, const Tine& tine) {
    return fork.points == Facing::point ? fork.at_m + tine.length_m : fork.at_m - tine.length_m;
}

std::pair<double, double> tine_stretch(const Fork& fork, const Tine& tine) {
    return std::minmax({fork.at_m, tine_tip(fork, tine)});
}

bool tines_touch(const Fork& one, const Fork& other, double thicker) {
    for (const Tine& a : one.tines) {
        for (const Tine& b : other.tines) {
            const auto [from_a, to_a] = tine_stretch(one, a);
            const auto [from_b, to_b] = tine_stretch(other, b);
            if (from_a >= to_b || from_b >= to_a) continue;
            const Vec3 apart =
                rod_point(0, a.radius_m, tine_clock(one, a)) - rod_point(0, b.radius_m, tine_clock(other, b));
            if (apart.norm() < thicker * (a.diameter_m + b.diameter_m) / 2) return true;
        }
    }
    return false;
}

Vec3 tine_middle(const Fork& fork, std::size_t tine) {
    const Tine& pin = fork.tines[tine];
    return rod_point((fork.at_m + tine_tip(fork, pin)) / 2, pin.radius_m, tine_clock(fork, pin));
}

}  // namespace evenspit
