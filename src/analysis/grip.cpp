// SPDX-License-Identifier: MIT
#include "analysis/grip.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "analysis/limits.h"
#include "body/cavity_wall.h"
#include "units/standard_gravity.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

using Box2 = Eigen::AlignedBox2d;

/// Flesh that is shorter than this is grazed, not gripped.
constexpr double least_bite_m = 1e-4;

double length_of(const std::vector<Interval>& runs) {
    return std::accumulate(runs.begin(), runs.end(), 0.0,
                           [](double sum, const Interval& run) { return sum + run.length(); });
}

/// What a tine passes through inside one item.
struct Passage {
    std::vector<Interval> skin;  ///< inside the body: flesh, bone and cavity
    double in_bone_m = 0;
    double in_cavity_m = 0;
};

Passage passage(const Item& item, const Vec3& hub, const Vec3& tip) {
    const Pose to_item = item.pose.inverse();
    const Vec3 a = to_item * hub, b = to_item * tip;
    const std::vector<Part>& parts = item.body->body.parts;
    std::vector<Interval> all, bone, not_flesh;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const std::vector<Interval> runs = item.body->queries[i].inside(a, b);
        all.insert(all.end(), runs.begin(), runs.end());
        if (parts[i].kind == PartKind::bone) bone.insert(bone.end(), runs.begin(), runs.end());
        // Stuffing fills a cavity and holds nothing.
        if (parts[i].kind != PartKind::flesh) not_flesh.insert(not_flesh.end(), runs.begin(), runs.end());
    }
    // A bone that stands out into a cavity is bone.
    const double in_bone_m = length_of(merged(std::move(bone)));
    return {merged(std::move(all)), in_bone_m, length_of(merged(std::move(not_flesh))) - in_bone_m};
}

double squared_distance_to_edge(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 d = b - a;
    const double length2 = d.squaredNorm();
    const double t = length2 > 0 ? std::clamp((p - a).dot(d) / length2, 0.0, 1.0) : 0.0;
    return (p - a - t * d).squaredNorm();
}

/// Squared distance, seen along X, from a point to the piece of a triangle that lies between two stations;
/// infinite if none does.
double squared_side_distance(const Vec2& p, const std::array<Vec3, 3>& corners, double x0, double x1) {
    // Sutherland–Hodgman against the two planes; a triangle cut twice has five corners at most.
    std::array<Vec3, 8> polygon{corners[0], corners[1], corners[2]};
    std::size_t count = 3;
    for (const auto& [plane, sign] : {std::pair{x0, 1.0}, std::pair{x1, -1.0}}) {
        std::array<Vec3, 8> kept{};
        std::size_t n = 0;
        for (std::size_t i = 0; i < count; ++i) {
            const Vec3 &a = polygon[i], &b = polygon[(i + 1) % count];
            const double da = sign * (a.x() - plane), db = sign * (b.x() - plane);
            if (da >= 0) kept[n++] = a;
            if ((da > 0 && db < 0) || (da < 0 && db > 0)) kept[n++] = a + (b - a) * (da / (da - db));
        }
        polygon = kept;
        count = n;
    }
    double best = std::numeric_limits<double>::infinity();
    bool left = count >= 3, right = count >= 3;
    for (std::size_t i = 0; i < count; ++i) {
        const Vec2 a = polygon[i].tail<2>(), b = polygon[(i + 1) % count].tail<2>();
        best = std::min(best, squared_distance_to_edge(p, a, b));
        const double side = (b - a).x() * (p - a).y() - (b - a).y() * (p - a).x();
        left = left && side >= 0;
        right = right && side <= 0;
    }
    // Inside the polygon's shadow: the pin itself runs through the skin there.
    return left != right ? 0 : best;
}

/// Least distance at right angles to X from the line (y, z) = p to the skin between two stations.
double side_distance(const Body& body, const PlacedItem& placed, const Vec2& p, double x0, double x1) {
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t part = 0; part < body.parts.size(); ++part) {
        // Flesh within flesh has no skin of its own.
        if (body.parts[part].kind != PartKind::flesh || body.parts[part].parent >= 0) continue;
        const TriangleMesh& mesh = placed.parts[part];
        const std::vector<std::uint8_t>& regions = body.parts[part].regions;
        for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
            const std::array<Vec3, 3> c{mesh.corner(mesh.triangles[t], 0), mesh.corner(mesh.triangles[t], 1),
                                        mesh.corner(mesh.triangles[t], 2)};
            if (std::max({c[0].x(), c[1].x(), c[2].x()}) < x0 ||
                std::min({c[0].x(), c[1].x(), c[2].x()}) > x1)
                continue;
            // No nearer than its box seen along X: most triangles need no clipping.
            const Box2 seen = Box2(c[0].tail<2>()).extend(c[1].tail<2>()).extend(c[2].tail<2>());
            if (seen.squaredExteriorDistance(p) >= best) continue;
            if (!regions.empty() && body.region_names[regions[t]] == cavity_wall_name) continue;
            best = std::min(best, squared_side_distance(p, c, x0, x1));
        }
    }
    return std::sqrt(best);
}

/// Flesh beside and ahead of a tine; see grip().
double least_cover(const Item& item, const PlacedItem& placed, const Fork& fork, const Tine& tine,
                   const std::vector<Interval>& skin) {
    const Vec3 hub = rod_point(fork.at_m, tine.radius_m, tine_clock(fork, tine));
    const double way = fork.points == Facing::point ? 1.0 : -1.0;
    const double first = skin.front().from, last = skin.back().to;
    const double judged = first + std::min(limits::entry_stretch_m, (last - first) / 2);
    const double xa = fork.at_m + way * judged, xb = fork.at_m + way * last;
    const double beside =
        side_distance(item.body->body, placed, hub.tail<2>(), std::min(xa, xb), std::max(xa, xb));

    // Ahead of the tip: how far the point would travel before it shows; nothing if it has come out.
    const Vec3 tip = hub + Vec3(way * tine.length_m, 0, 0);
    const Vec3 beyond = tip + Vec3(way * (placed.to() - placed.from() + 1e-3), 0, 0);
    const std::vector<Interval> on = passage(item, tip, beyond).skin;
    const double ahead = on.empty() || on.front().from > least_bite_m ? 0 : on.front().to;
    return std::max(0.0, std::min(beside - tine.diameter_m / 2, ahead));
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

std::vector<CarriedShare> carried_shares(const PlacedItem& item, std::vector<double> hubs_m) {
    if (hubs_m.size() == 1) {
        const bool far_is_to = std::abs(item.to() - hubs_m[0]) > std::abs(item.from() - hubs_m[0]);
        hubs_m.push_back(far_is_to ? item.to() : item.from());
    }
    const std::vector<double> shares = weight_shares(hubs_m, item.centre.x());
    std::vector<CarriedShare> carried;
    for (std::size_t k = 0; k < hubs_m.size(); ++k) carried.push_back({hubs_m[k], shares[k]});
    return carried;
}

Grip grip(const Assembly& assembly, const std::vector<PlacedItem>& placed, const std::stop_token& stop) {
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
                const double cover = least_cover(item, placed[i], fork, tine, through.skin);
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
    weigh(result, assembly, placed);
    return result;
}

void weigh(Grip& grip, const Assembly& assembly, const std::vector<PlacedItem>& placed) {
    grip.torque_use.reset();
    grip.torque_capacity_n_m.reset();
    std::vector<double> carried(grip.forks.size(), 0.0), held(grip.forks.size(), 0.0);
    for (std::size_t i = 0; i < grip.items.size(); ++i) {
        ItemGrip& item = grip.items[i];
        item.gravity_torque_n_m = standard_gravity * placed[i].unbalance_kg_m().norm();
        if (item.forks.empty()) continue;
        std::vector<double> hubs;
        for (const int f : item.forks) hubs.push_back(assembly.forks[static_cast<std::size_t>(f)].at_m);
        const std::vector<CarriedShare> shares = carried_shares(placed[i], hubs);
        for (std::size_t k = 0; k < item.forks.size(); ++k) {
            const auto f = static_cast<std::size_t>(item.forks[k]);
            carried[f] += shares[k].share * placed[i].mass_kg;
            held[f] += placed[i].mass_kg;
        }
        if (item.torque_capacity_n_m <= 0) continue;
        item.torque_use = item.gravity_torque_n_m / item.torque_capacity_n_m;
        if (grip.torque_use && *item.torque_use <= *grip.torque_use) continue;
        grip.torque_use = item.torque_use;
        grip.torque_capacity_n_m = item.torque_capacity_n_m;
    }
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        if (held[f] > 0) grip.forks[f].weight_share = carried[f] / held[f];
    }
}

}  // namespace evenspit
