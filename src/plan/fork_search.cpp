// SPDX-License-Identifier: MIT
#include "plan/fork_search.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <tuple>

#include "analysis/grip.h"
#include "analysis/limits.h"
#include "analysis/placed.h"
#include "roast/cook_ends.h"
#include "units/stopped.h"

namespace evenspit::plan {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double look_rad = 10 * degree;
constexpr double close_look_rad = 2 * degree;
/// Of forks whose tines meet inside the item, or come nearer than they are thick.
constexpr double touching_price = 20;
constexpr double as_if_thicker = 2;
/// Bone or flesh that is met for less is grazed.
constexpr double graze_m = limits::bone_care_m;

/// What turning something by an angle counts, so that of equals the one with less to do is taken.
double moved(double angle_rad) {
    const double turn = std::abs(std::remainder(angle_rad, 2 * std::numbers::pi));
    return turn > 0 ? 0.03 + 0.02 * turn / std::numbers::pi : 0;
}

/// What a tine meets.
struct TinePath {
    double flesh_m = 0;
    double bone_m = 0;
    double cover_m = 0;
    double beside_bone_m = limits::bone_to_spare_m;  ///< from its side to the nearest bone, at most that
};

/// Tines in an item that sits with turn 0 and its origin at station 0.
class TineProbe {
  public:
    TineProbe(const body::JoinedParts& parts, const Pose& pose) : parts_(parts), to_item_(pose.inverse()) {
        const Box3& box = parts.body().bounds;
        reach_m_ = 2 * (box.sizes().norm() + box.center().norm());
    }

    [[nodiscard]] std::vector<Interval> skin_runs(const Vec3& a, const Vec3& b) const {
        std::vector<Interval> runs = parts_.flesh().inside(a, b);
        for (const SolidQueries* part : {parts_.bone(), parts_.hollow()}) {
            if (part == nullptr) continue;
            const std::vector<Interval> more = part->inside(a, b);
            runs.insert(runs.end(), more.begin(), more.end());
        }
        return merged(std::move(runs));
    }

    /// How much flesh and bone a rod along the axis meets between two stations, m.
    [[nodiscard]] double firm_on_axis_m(const std::array<double, 2>& stations) const {
        const Vec3 a = to_item_ * Vec3(stations[0], 0, 0), b = to_item_ * Vec3(stations[1], 0, 0);
        const double hollow_m = parts_.hollow() != nullptr ? total_length(parts_.hollow()->inside(a, b)) : 0;
        return std::max(0.0, total_length(skin_runs(a, b)) - hollow_m);
    }

    [[nodiscard]] TinePath path(const Tine& tine, double clock_rad, double hub_m, Facing points) const {
        const double way = points == Facing::point ? 1 : -1;
        const Vec3 a = to_item_ * rod_point(hub_m, tine.radius_m, clock_rad);
        const Vec3 b = to_item_ * rod_point(hub_m + way * tine.length_m, tine.radius_m, clock_rad);
        const Vec3 along = (b - a).normalized();
        const std::vector<Interval> runs = skin_runs(a, b);
        TinePath path;
        if (total_length(runs) < graze_m) return path;
        if (parts_.bone() != nullptr) path.bone_m = total_length(parts_.bone()->inside(a, b));
        const double hollow_m = parts_.hollow() != nullptr ? total_length(parts_.hollow()->inside(a, b)) : 0;
        path.flesh_m = std::max(0.0, total_length(runs) - path.bone_m - hollow_m);

        const double first = runs.front().from, last = runs.back().to;
        if (last < tine.length_m - graze_m) return path;  // comes out again: no cover
        const std::vector<Interval> ahead = skin_runs(b, b + reach_m_ * along);
        path.cover_m = ahead.empty() || ahead.front().from > graze_m ? 0 : ahead.front().to;
        const double judged = first + std::min(limits::entry_stretch_m, (last - first) / 2);
        constexpr double step_m = 0.002;
        for (double s = judged; s < last + step_m;) {
            const double d =
                parts_.skin().closest(a + std::min(s, last) * along).distance - tine.diameter_m / 2;
            path.cover_m = std::min(path.cover_m, std::max(0.0, d));
            s += std::max(step_m, d - path.cover_m);
        }
        if (parts_.bone() == nullptr || path.bone_m > graze_m) return path;
        const double tine_radius_m = tine.diameter_m / 2;
        for (double s = first; s < last + step_m && path.beside_bone_m > 0;) {
            const double near =
                parts_.bone()
                    ->closest(a + std::min(s, last) * along, path.beside_bone_m + tine_radius_m)
                    .distance -
                tine_radius_m;
            path.beside_bone_m = std::clamp(near, 0.0, path.beside_bone_m);
            s += step_m;
        }
        return path;
    }

  private:
    const body::JoinedParts& parts_;
    Pose to_item_;
    double reach_m_ = 0;
};

/// One fork at one end, over all clocks and hub stations.
class ForkTable {
  public:
    /// A hub's station and what is wrong with it by itself.
    struct Hub {
        double at_m = 0;
        double price = 0;
    };

    ForkTable(const TineProbe& probe, const Fork& fork, Facing points, std::vector<Hub> hubs,
              double wanted_bite_m3, double wanted_bearing_m2, std::stop_token stop)
        : probe_(probe),
          fork_(fork),
          points_(points),
          hubs_(std::move(hubs)),
          wanted_(wanted_bite_m3),
          wanted_bearing_m2_(wanted_bearing_m2),
          stop_(std::move(stop)) {}

    struct Best {
        double hub_m = 0;
        double price = std::numeric_limits<double>::infinity();
    };

    /// The best hub when the fork stands turned by an angle against the item.
    const Best& best(double turned_rad) {
        const long key = std::lround(turned_rad / degree * 1000);
        const auto [it, is_new] = table_.try_emplace(key);
        if (is_new) {
            for (const Hub& hub : hubs_) {
                stop_if_asked(stop_);
                const double here = hub.price + price(turned_rad, hub.at_m);
                if (here < it->second.price) it->second = {hub.at_m, here};
            }
        }
        return it->second;
    }

    /// What is wrong with the fork there.
    [[nodiscard]] double price(double turned_rad, double hub_m) {
        double price = 0, bite_m3 = 0, bearing_m2 = 0;
        for (const Tine& tine : fork_.tines) {
            const TinePath& path = tine_path(tine, tine_clock(fork_, tine) + turned_rad, hub_m);
            if (path.bone_m > graze_m)
                price += 10 + 1e3 * path.bone_m;
            else
                price += 1 - path.beside_bone_m / limits::bone_to_spare_m;
            const double short_of = limits::cover_care_m - path.cover_m;
            if (short_of > 0) price += 10 + 1e3 * short_of;
            price += std::clamp(short_of + limits::cover_to_spare_m, 0.0, limits::cover_to_spare_m) /
                     limits::cover_to_spare_m;
            price += 20 * std::clamp(1 - path.flesh_m / limits::least_bite_m, 0.0, 1.0);
            bite_m3 += tine.radius_m * tine.diameter_m * path.flesh_m;
            bearing_m2 += tine.diameter_m * path.flesh_m;
        }
        price += 20 * std::clamp(1 - bite_m3 / wanted_, 0.0, 1.0);
        if (wanted_bearing_m2_ > 0) price += 20 * std::clamp(1 - bearing_m2 / wanted_bearing_m2_, 0.0, 1.0);
        // Deeper is better, but only so much.
        price += 0.1 / (1 + bite_m3 / wanted_);
        return price;
    }

  private:
    const TinePath& tine_path(const Tine& tine, double clock_rad, double hub_m) {
        const double turn = std::remainder(clock_rad, 2 * std::numbers::pi);
        const auto key = std::tuple(std::lround(turn / degree * 1000), std::lround(hub_m * 1e6),
                                    tine.radius_m, tine.length_m, tine.diameter_m);
        const auto it = paths_.find(key);
        if (it != paths_.end()) return it->second;
        return paths_.emplace(key, probe_.path(tine, turn, hub_m, points_)).first->second;
    }

    const TineProbe& probe_;
    const Fork& fork_;
    Facing points_;
    std::vector<Hub> hubs_;
    double wanted_;             ///< bite against the torque, m³
    double wanted_bearing_m2_;  ///< under the weight, beside what the rod bears; 0 and less: none
    std::stop_token stop_;
    std::map<long, Best> table_;
    std::map<std::tuple<long, long, double, double, double>, TinePath> paths_;
};

/// Stations for a hub, from the item's origin, whole millimetres on the rod; the first is the deepest.
std::vector<ForkTable::Hub> hubs(const ForkGoal& goal, const Fork& fork, Facing points,
                                 const std::array<double, 2>& meat, std::size_t further_in) {
    const double out = points == Facing::point ? -1 : 1;
    const double leaves = points == Facing::point ? meat[0] : meat[1];
    double longest = 0;
    for (const Tine& tine : fork.tines) longest = std::max(longest, tine.length_m);
    const double first = -limits::hub_in_meat_m + 2 * limits::hub_in_meat_m * static_cast<double>(further_in);
    std::vector<double> offs;
    for (double off = first; off < std::max(first + limits::hub_in_meat_m, longest - limits::least_bite_m);
         off += off < 0.02 ? 0.002 : 0.006) {
        offs.push_back(off);
    }
    // Where it stands now, if that is off the meat.
    const double now = out * (fork.at_m - goal.seat.at_m - leaves);
    if (now >= -limits::hub_in_meat_m && now < longest && further_in == 0) offs.push_back(now);

    std::vector<ForkTable::Hub> list;
    for (const double off : offs) {
        const double station = goal.seat.at_m + leaves + out * off;
        const double mm = station * 1000;
        const double whole = off == now ? fork.at_m : (out < 0 ? std::floor(mm) : std::ceil(mm)) / 1000;
        double price = 0.5 * std::max(0.0, off);
        if (goal.rod_use) {
            const double use = goal.rod_use(whole, points);
            price += 0.5 * use;
            if (use > limits::wanted_rod_use) price += 10 * use / limits::wanted_rod_use;
        }
        if (goal.free != nullptr) {
            for (const Tine& tine : fork.tines) {
                const double tip = whole - out * tine.length_m;
                const double room = goal.free->least(std::min(whole, tip), std::max(whole, tip)) -
                                    (tine.radius_m + tine.diameter_m / 2);
                if (room < 0) price += 5 - 100 * room;
            }
        }
        list.push_back({whole - goal.seat.at_m, price});
    }
    return list;
}

/// The fork as it stands in an item whose origin is at station 0.
Fork at_place(Fork fork, const ForkPlace& place) {
    fork.at_m = place.from_item_m;
    fork.points = place.points;
    fork.clock_rad += place.turned_rad;
    return fork;
}

}  // namespace

std::array<double, 2> meat_on_axis(const PlanItem& item, const Seat& seat) {
    Seat still = seat;
    still.at_m = 0;
    still.turn_rad = 0;
    const Pose pose = pose_in(*item.item, still);
    const TineProbe probe(*item.parts, pose);
    const std::array<double, 2> extent = item.silhouette->extent(pose);
    const double from = extent[0] - 0.01, to = extent[1] + 0.01;
    const Pose to_item = pose.inverse();
    const std::vector<Interval> runs = probe.skin_runs(to_item * Vec3(from, 0, 0), to_item * Vec3(to, 0, 0));
    if (runs.empty()) return extent;
    return {from + runs.front().from, from + runs.back().to};
}

ForksFound find_forks(const PlanItem& item, const ForkGoal& goal) {
    ForksFound best;
    best.turn_rad = goal.seat.turn_rad;
    best.price = std::numeric_limits<double>::infinity();
    const std::size_t n = goal.forks.size();
    if (n == 0) {
        best.price = 0;
        return best;
    }
    Seat still = goal.seat;
    still.at_m = 0;
    still.turn_rad = 0;
    const TineProbe probe(*item.parts, pose_in(*item.item, still));
    const std::array<double, 2> meat = meat_on_axis(item, goal.seat);

    // Which end: by station where there are several, as it looks where there is one.
    std::vector<std::size_t> order(n);
    for (std::size_t f = 0; f < n; ++f) order[f] = f;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return goal.forks[a].at_m < goal.forks[b].at_m; });
    std::vector<Facing> points(n);
    for (std::size_t k = 0; k < n; ++k) {
        points[order[k]] = n == 1       ? goal.forks[0].points
                           : k == 0     ? Facing::point
                           : k == n - 1 ? Facing::drive
                                        : goal.forks[order[k]].points;
    }

    const double strength = least_bearing_strength_pa(*item.item);
    const double wanted_bite_m3 =
        std::max(1e-7, goal.torque_n_m / limits::wanted_grip_use / strength / static_cast<double>(n));
    const double wanted_bearing_m2 =
        (goal.weight_n / limits::wanted_grip_use / strength - goal.rod_width_m * probe.firm_on_axis_m(meat)) /
        static_cast<double>(n);
    std::vector<ForkTable> tables;
    tables.reserve(n);
    for (std::size_t f = 0; f < n; ++f) {
        std::size_t same_end = 0;  // forks that sit further in at this end
        for (std::size_t g = 0; g < f; ++g) same_end += points[g] == points[f] ? 1U : 0U;
        tables.emplace_back(probe, goal.forks[f], points[f],
                            hubs(goal, goal.forks[f], points[f], meat, same_end), wanted_bite_m3,
                            wanted_bearing_m2, goal.stop);
    }

    const auto consider = [&](double turned_rad) {
        ForksFound here;
        here.turn_rad = goal.seat.turn_rad + turned_rad;
        here.price += moved(turned_rad);
        for (std::size_t f = 0; f < n; ++f) {
            ForkPlace place;
            double least = std::numeric_limits<double>::infinity();
            const double step = goal.clock_steps_rad[f];
            const long clocks = std::max(1L, std::lround(2 * std::numbers::pi / step));
            for (long c = 0; c < clocks; ++c) {
                const double shift = static_cast<double>(c) * step;
                const ForkTable::Best& found = tables[f].best(shift - here.turn_rad);
                const ForkPlace there{found.hub_m, points[f], shift};
                double price = found.price + moved(shift);
                if (price >= least) continue;
                const Fork fork = at_place(goal.forks[f], there);
                for (std::size_t g = 0; g < f; ++g) {
                    if (tines_touch(fork, at_place(goal.forks[g], here.places[g]), as_if_thicker))
                        price += touching_price;
                }
                if (price >= least) continue;
                least = price;
                place = there;
            }
            here.places.push_back(place);
            here.price += least;
        }
        if (here.price < best.price) best = std::move(here);
    };
    const long turns = goal.may_turn ? std::lround(2 * std::numbers::pi / look_rad) : 1;
    for (long t = 0; t < turns; ++t) consider(static_cast<double>(t) * look_rad);
    if (!goal.may_turn || best.price < 1) return best;
    // Something is still wrong: once more round the best, closely.
    const double about_rad = best.turn_rad - goal.seat.turn_rad;
    for (double off = close_look_rad; off < look_rad; off += close_look_rad) {
        consider(about_rad - off);
        consider(about_rad + off);
    }
    return best;
}

}  // namespace evenspit::plan
