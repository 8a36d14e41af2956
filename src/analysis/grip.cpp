// SPDX-License-Identifier: MIT
#include "analysis/grip.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <numeric>

#include "analysis/limits.h"
#include "body/cavity_wall.h"
#include "units/standard_gravity.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

/// Flesh that is shorter than this is grazed, not gripped.
constexpr double least_bite_m = 1e-4;

double length_of(const std::vector<Interval>& runs) {
    return std::accumulate(runs.begin(), runs.end(), 0.0,
                           [](double sum, const Interval& run) { return sum + run.length(); });
}

/// Stretches without others; both in order and disjoint.
std::vector<Interval> without(const std::vector<Interval>& stretches, const std::vector<Interval>& taken) {
    std::vector<Interval> left;
    for (Interval rest : stretches) {
        for (const Interval& t : taken) {
            if (t.to <= rest.from || t.from >= rest.to) continue;
            if (t.from > rest.from) left.push_back({rest.from, t.from});
            rest.from = t.to;
        }
        if (rest.to > rest.from) left.push_back(rest);
    }
    return left;
}

/// What a tine or the rod passes through inside one item.
struct Passage {
    std::vector<Interval> skin;  ///< inside the body: flesh, bone and cavity
    std::vector<Interval> firm;  ///< the same without cavities and what fills them
    double in_bone_m = 0;
    double in_cavity_m = 0;
};

/// Lengths are real ones, whatever the scan's scale.
Passage passage(const Item& item, const Vec3& hub, const Vec3& tip) {
    const Pose to_item = item.pose.inverse();
    const double scale = item.off.scale;
    const Vec3 a = to_item * hub / scale, b = to_item * tip / scale;
    const std::vector<Part>& parts = item.body->body.parts;
    std::vector<Interval> all, bone, not_flesh, hollow;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        std::vector<Interval> runs = item.body->queries[i].inside(a, b);
        for (Interval& run : runs) run = {run.from * scale, run.to * scale};
        all.insert(all.end(), runs.begin(), runs.end());
        if (parts[i].kind == PartKind::bone) bone.insert(bone.end(), runs.begin(), runs.end());
        if (parts[i].kind == PartKind::cavity || parts[i].kind == PartKind::stuffing)
            hollow.insert(hollow.end(), runs.begin(), runs.end());
        // Stuffing fills a cavity and holds nothing.
        if (parts[i].kind != PartKind::flesh) not_flesh.insert(not_flesh.end(), runs.begin(), runs.end());
    }
    // A bone that stands out into a cavity is bone.
    const double in_bone_m = length_of(merged(std::move(bone)));
    all = merged(std::move(all));
    std::vector<Interval> firm = without(all, merged(std::move(hollow)));
    return {std::move(all), std::move(firm), in_bone_m, length_of(merged(std::move(not_flesh))) - in_bone_m};
}

/// Least distance at right angles to the rod from a tine's axis to the skin between two places along it, m.
///
/// \param start of the tine, item frame; places count from here along `way`, in the body's own lengths
double side_distance(const PreparedBody& prepared, const Vec3& start, const Vec3& way, double from,
                     double to) {
    const Body& body = prepared.body;
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t part = 0; part < body.parts.size(); ++part) {
        // Flesh within flesh has no skin of its own.
        if (body.parts[part].kind != PartKind::flesh || body.parts[part].parent >= 0) continue;
        const std::vector<std::uint8_t>& regions = body.parts[part].regions;
        std::function<bool(std::int32_t)> skip;
        if (!regions.empty()) {
            skip = [&](std::int32_t t) {
                return body.region_names[regions[static_cast<std::size_t>(t)]] == cavity_wall_name;
            };
        }
        best = std::min(best, prepared.queries[part].distance_beside(start, way, from, to, skip));
    }
    return best;
}

/// Flesh beside and ahead of a tine; see grip().
double least_cover(const Item& item, const Fork& fork, const Tine& tine, const std::vector<Interval>& skin) {
    const Vec3 hub = rod_point(fork.at_m, tine.radius_m, tine_clock(fork, tine));
    const double way = fork.points == Facing::point ? 1.0 : -1.0;
    const double first = skin.front().from, last = skin.back().to;
    const double judged = first + std::min(limits::entry_stretch_m, (last - first) / 2);
    const double scale = item.off.scale;
    const Pose to_item = item.pose.inverse();
    const double beside =
        scale * side_distance(*item.body, to_item * hub / scale, way * to_item.linear() * Vec3::UnitX(),
                              judged / scale, last / scale);

    // Ahead of the tip: how far the point would travel before it shows; nothing if it has come out.
    const Vec3 tip = hub + Vec3(way * tine.length_m, 0, 0);
    const Vec3 beyond = tip + Vec3(way * (scale * item.body->bounds.diagonal().norm() + 1e-3), 0, 0);
    const std::vector<Interval> on = passage(item, tip, beyond).skin;
    const double ahead = on.empty() || on.front().from > least_bite_m ? 0 : on.front().to;
    return std::max(0.0, std::min(beside - tine.diameter_m / 2, ahead));
}

/// Station of the middle of stretches along a tine that begins at a hub.
double middle_of(const std::vector<Interval>& stretches, double hub_m, double way) {
    double length = 0, moment = 0;
    for (const Interval& s : stretches) {
        length += s.length();
        moment += s.length() * (s.from + s.to) / 2;
    }
    return length > 0 ? hub_m + way * moment / length : hub_m;
}

/// Where the rod's axis runs through flesh or bone.
std::vector<Interval> rod_runs(const Item& item, const ItemOnRod& on_rod) {
    constexpr double beyond_m = 1e-3;
    const double start = on_rod.from() - beyond_m;
    std::vector<Interval> runs = passage(item, Vec3(start, 0, 0), Vec3(on_rod.to() + beyond_m, 0, 0)).firm;
    for (Interval& run : runs) run = {start + run.from, start + run.to};
    return runs;
}

/// Of a tine at clock `tine`, weight and torque together, at the worst angle of a turn: |w down + t cos θ
/// round|.
double together(double weight_use, double torque_use, double tine_rad, double heavy_side_rad) {
    constexpr int angles = 72;
    double worst = 0;
    for (int k = 0; k < angles; ++k) {
        const double turn = 2 * std::numbers::pi * k / angles;
        const double torque = torque_use * std::cos(heavy_side_rad + turn), clock = tine_rad + turn;
        // Round the rod at that clock is (−sin, cos); what the torque pulls at pushes the other way as the
        // weight.
        const Vec2 force(torque * -std::sin(clock), -weight_use - torque * std::cos(clock));
        worst = std::max(worst, force.norm());
    }
    return worst;
}

void weigh_on_metal(ItemGrip& item, const Grip& grip, const Assembly& assembly, const ItemOnRod& on_rod,
                    double strength_pa) {
    double area_m2 = assembly.rod.width_m * length_of(item.rod_runs);
    for (const int f : item.forks) {
        const Fork& fork = assembly.forks[static_cast<std::size_t>(f)];
        const ForkGrip& held = grip.forks[static_cast<std::size_t>(f)];
        for (std::size_t t = 0; t < fork.tines.size(); ++t)
            area_m2 += fork.tines[t].diameter_m * std::max(0.0, held.tines[t].in_flesh_m());
    }
    item.weight_use.reset();
    item.hold_use.reset();
    if (!(area_m2 > 0) || !(strength_pa > 0)) return;
    item.weight_use = on_rod.mass_kg * standard_gravity / (strength_pa * area_m2);
    item.hold_use = item.weight_use;
    const Vec2 heavy = on_rod.unbalance_kg_m();
    for (const int f : item.forks) {
        const Fork& fork = assembly.forks[static_cast<std::size_t>(f)];
        for (const Tine& tine : fork.tines) {
            item.hold_use =
                std::max(*item.hold_use, together(*item.weight_use, item.torque_use.value_or(0),
                                                  tine_clock(fork, tine), std::atan2(heavy.y(), heavy.x())));
        }
    }
}

}  // namespace

std::vector<double> weight_shares(const std::vector<double>& stations_m, double centre_m) {
    const auto n = static_cast<double>(stations_m.size());
    const double mean = std::accumulate(stations_m.begin(), stations_m.end(), 0.0) / n;
    double spread = 0;
    for (const double x : stations_m) spread += (x - mean) * (x - mean);
    std::vector<double> shares;
    shares.reserve(stations_m.size());
    for (const double x : stations_m) {
        // All at one station: nothing but an even split can be said.
        shares.push_back(1 / n + (spread > 0 ? (x - mean) * (centre_m - mean) / spread : 0));
    }
    return shares;
}

double flesh_middle_m(const ForkGrip& fork) {
    double length = 0, moment = 0;
    for (const TineGrip& tine : fork.tines) {
        length += tine.in_flesh_m();
        moment += tine.in_flesh_m() * tine.flesh_middle_m;
    }
    return length > 0 ? moment / length : fork.at_m;
}

Grip grip(const Assembly& assembly, const std::vector<ItemOnRod>& items, const std::stop_token& stop) {
    Grip result;
    result.items.resize(assembly.items.size());
    result.forks.resize(assembly.forks.size());
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        result.forks[f].at_m = assembly.forks[f].at_m;
        result.forks[f].tines.resize(assembly.forks[f].tines.size());
    }
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        ItemGrip& item_grip = result.items[i];
        const double raw = matter_of(item).bearing_strength_pa;
        const double least = least_bearing_strength_pa(item);

        item_grip.rod_runs = rod_runs(item, items[i]);
        for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
            const Fork& fork = assembly.forks[f];
            double bite_m3 = 0;  // Σ radius · diameter · length in flesh
            bool enters = false;
            for (std::size_t t = 0; t < fork.tines.size(); ++t) {
                stop_if_asked(stop);
                const Tine& tine = fork.tines[t];
                const Vec3 hub = rod_point(fork.at_m, tine.radius_m, tine_clock(fork, tine));
                const Vec3 tip = rod_point(tine_tip(fork, tine), tine.radius_m, tine_clock(fork, tine));
                const Passage through = passage(item, hub, tip);
                const double embedded = length_of(through.skin);
                if (embedded < least_bite_m) continue;
                enters = true;
                TineGrip& told = result.forks[f].tines[t];
                if (told.item < 0) told.item = static_cast<int>(i);
                told.embedded_m += embedded;
                told.in_bone_m += through.in_bone_m;
                told.in_cavity_m += through.in_cavity_m;
                told.flesh_middle_m = middle_of(through.firm, hub.x(), tip.x() > hub.x() ? 1 : -1);
                const double cover = least_cover(item, fork, tine, through.skin);
                told.cover_min_m = std::min(cover, told.cover_min_m.value_or(cover));
                bite_m3 += tine.radius_m * tine.diameter_m *
                           std::max(0.0, embedded - through.in_bone_m - through.in_cavity_m);
            }
            if (!enters) continue;
            item_grip.forks.push_back(static_cast<int>(f));
            item_grip.torque_capacity_raw_n_m += raw * bite_m3;
            item_grip.torque_capacity_n_m += least * bite_m3;
            result.forks[f].torque_capacity_raw_n_m += raw * bite_m3;
            result.forks[f].torque_capacity_n_m += least * bite_m3;
        }
    }
    weigh(result, assembly, items);
    return result;
}

void weigh(Grip& grip, const Assembly& assembly, const std::vector<ItemOnRod>& items) {
    grip.torque_use.reset();
    grip.torque_capacity_n_m.reset();
    std::vector<double> carried(grip.forks.size(), 0.0), held(grip.forks.size(), 0.0);
    for (std::size_t i = 0; i < grip.items.size(); ++i) {
        ItemGrip& item = grip.items[i];
        item.gravity_torque_n_m = standard_gravity * items[i].unbalance_kg_m().norm();
        item.torque_use.reset();
        if (!item.forks.empty()) {
            std::vector<double> middles;
            for (const int f : item.forks)
                middles.push_back(flesh_middle_m(grip.forks[static_cast<std::size_t>(f)]));
            const std::vector<double> shares = weight_shares(middles, items[i].centre.x());
            for (std::size_t k = 0; k < item.forks.size(); ++k) {
                const auto f = static_cast<std::size_t>(item.forks[k]);
                carried[f] += shares[k] * items[i].mass_kg;
                held[f] += items[i].mass_kg;
            }
            if (item.torque_capacity_n_m > 0)
                item.torque_use = item.gravity_torque_n_m / item.torque_capacity_n_m;
        }
        weigh_on_metal(item, grip, assembly, items[i], least_bearing_strength_pa(assembly.items[i]));
        if (!item.torque_use || (grip.torque_use && *item.torque_use <= *grip.torque_use)) continue;
        grip.torque_use = item.torque_use;
        grip.torque_capacity_n_m = item.torque_capacity_n_m;
    }
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        if (held[f] > 0) grip.forks[f].weight_share = carried[f] / held[f];
    }
}

}  // namespace evenspit
