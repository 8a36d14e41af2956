// SPDX-License-Identifier: MIT
#include "report/load_charts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "analysis/placed.h"
#include "analysis/strikes.h"
#include "load/thing.h"
#include "report/motor_words.h"

namespace evenspit {
namespace {

constexpr double thin = 1.6;

using Points = std::vector<std::array<double, 2>>;

std::vector<Vec2> places(const Points& points) {
    std::vector<Vec2> result;
    result.reserve(points.size());
    for (const auto& [x, y] : points) result.emplace_back(x, y);
    return result;
}

Series earlier_series(std::vector<Vec2> points) {
    return {"earlier", std::move(points), Role::earlier, 2, true};
}

// A turn's curve closed: where it ends it begins anew.
std::vector<Vec2> whole_turn(const Balance& balance) {
    std::vector<Vec2> points = places(balance.curve);
    if (!points.empty()) points.emplace_back(360, balance.curve.front()[1]);
    return points;
}

// The outline's upper edge, with gaps where nothing is.
std::vector<Vec2> edge(const Outline& outline) {
    constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
    std::vector<Vec2> points;
    for (std::size_t i = 0; i < outline.pieces.size(); ++i) {
        const OutlinePiece& piece = outline.pieces[i];
        if (i > 0 && outline.pieces[i - 1].x1 < piece.x0) points.emplace_back(nothing, nothing);
        points.emplace_back(piece.x0, piece.r0);
        points.emplace_back(piece.x1, piece.r1);
    }
    return points;
}

// Where sag matters it is drawn: less than this share of the widest radius cannot be seen.
constexpr double seen_share = 0.02;

// The outline's upper edge on the rod's lower side, where sag brings it further down.
std::vector<Vec2> sagged_edge(const Outline& outline, const RodResult& rod) {
    std::vector<Vec2> points = edge(outline);
    for (Vec2& p : points) {
        if (p.allFinite()) p.y() += sag_at(rod, p.x());
    }
    return points;
}

// In red what reaches into a wall, from the wall to as far as it reaches.
void add_strikes(Chart& chart, const ChartedLoad& charted, const std::vector<std::vector<Vec2>>& walls) {
    const Clearance& clearance = charted.now.clearance;
    for (const Strike& strike : strikes(clearance, charted.now.rod, walls)) {
        const double toward = sag_toward(clearance.surfaces[strike.surface]);
        const auto reach = [&](double x) {
            return clearance.outline.radius_at(x) + toward * sag_at(charted.now.rod, x);
        };
        const std::vector<Vec2>& wall = walls[strike.surface];
        for (std::size_t i = 1; i < wall.size(); ++i) {
            const Vec2 &a = wall[i - 1], &b = wall[i];
            if (a.x() < strike.from_m || b.x() > strike.to_m) continue;
            chart.fills.push_back(
                {{a, {a.x(), reach(a.x())}, {b.x(), reach(b.x())}, b}, Role::stop, 0.45, true});
        }
    }
}

// Beside the load, where a wall is nearest to it; nothing for walls that are nowhere beside it.
std::optional<Vec2> nearest_place(const std::vector<Vec2>& wall, const Outline& outline) {
    std::optional<Vec2> nearest;
    double least = 0;
    for (const Vec2& at : wall) {
        const double radius = outline.radius_at(at.x());
        if (radius <= 0 || (nearest && at.y() - radius >= least)) continue;
        nearest = at;
        least = at.y() - radius;
    }
    return nearest;
}

// What 90 of 100 mountings stay within, as a strip of pale quadrangles.
void add_band(Chart& chart, const Band& band) {
    for (std::size_t i = 1; i < band.size(); ++i) {
        const auto& [x0, low0, high0] = band[i - 1];
        const auto& [x1, low1, high1] = band[i];
        chart.fills.push_back({{{x0, low0}, {x1, low1}, {x1, high1}, {x0, high0}}, Role::now, 0.16, true});
    }
}

void extend_axis(Axis& axis, const Band& band) {
    for (const auto& [x, low, high] : band) {
        axis.extend(low);
        axis.extend(high);
    }
}

Bar tine_bar(const TineGrip& grip, const Tine& tine, std::string name, const Units& units) {
    Bar bar;
    bar.name = std::move(name);
    bar.length = tine.length_m;
    bar.pieces = {{grip.in_flesh_m(), Filling::solid},
                  {grip.in_bone_m, Filling::hatched},
                  {grip.in_cavity_m, Filling::hollow}};
    const bool bone = grip.in_bone_m > limits::bone_care_m;
    const bool shallow = grip.cover_min_m && *grip.cover_min_m < limits::cover_care_m;
    bar.role = bone || shallow ? Role::care : Role::plain;
    bar.word = bone      ? "in bone"
               : shallow ? "cover " + units.slack(*grip.cover_min_m, {0, limits::cover_care_m})
                         : units.length(grip.in_flesh_m());
    return bar;
}

}  // namespace

Chart torque_chart(const ChartedLoad& charted, const std::optional<TurnNow>& turn) {
    const Balance& balance = charted.now.balance;
    const Motor& motor = charted.load.motor;
    const Units& units = charted.units;
    const AxisUnit unit = units.axis(Dimension::torque);
    Chart chart;
    chart.title = "Torque over a turn";
    chart.x = {0, 360, {}};
    for (const int deg : {0, 90, 180, 270, 360})
        chart.x.ticks.push_back({static_cast<double>(deg), fmt::format("{}°", deg)});
    chart.y = {0, 1e-6, {}};
    const auto extend = [&chart](const Balance& b) {
        for (const auto& [deg, torque] : b.curve) chart.y.extend(torque);
    };
    extend(balance);
    if (charted.earlier != nullptr) extend(charted.earlier->balance);
    if (charted.now.mounted) extend_axis(chart.y, charted.now.mounted->torque);
    // A limit far above the curve is named; one within sight is drawn.
    const bool rated_near = motor.rated_torque_n_m < 2.5 * chart.y.to;
    const bool stall_near = motor.stall_torque_n_m < 2 * chart.y.to;
    if (rated_near) chart.y.extend(motor.rated_torque_n_m);
    if (stall_near) chart.y.extend(motor.stall_torque_n_m);
    chart.y.to += 0.12 * chart.y.size();
    chart.y.from -= 0.04 * chart.y.size();
    chart.y.tick(unit, 4);
    chart.remark = chart.short_remark = unit.name;
    if (balance.curve.empty()) return chart;
    if (charted.now.mounted) add_band(chart, charted.now.mounted->torque);
    if (!rated_near)
        chart.remark +=
            fmt::format(", rated {} ↑", shared_torque(motor, motor.rated_torque_n_m, units, false));
    if (rated_near)
        chart.limits.push_back({motor.rated_torque_n_m,
                                "rated " + shared_torque(motor, motor.rated_torque_n_m, units, false),
                                Role::care});
    if (stall_near)
        chart.limits.push_back({motor.stall_torque_n_m,
                                "stalls at " + shared_torque(motor, motor.stall_torque_n_m, units, false),
                                Role::stop});

    if (charted.earlier != nullptr)
        chart.series.push_back(earlier_series(whole_turn(charted.earlier->balance)));
    chart.series.push_back({"now", whole_turn(balance)});
    if (turn) {
        chart.marks.push_back({.at = {turn->turn_rad * 180 / std::numbers::pi, turn->torque_n_m},
                               .text = "now " + units.torque(turn->torque_n_m),
                               .shape = MarkShape::large_dot,
                               .upright = true});
    }
    if (chart.y.from < 0) {
        chart.fills.push_back({{{0, 0}, {360, 0}, {360, chart.y.from}, {0, chart.y.from}}, Role::care, 0.10});
        // While the load drives, the letters would lie over the mark.
        if (charted.now.turning.overruns && turn && turn->torque_n_m >= 0) {
            // On the side where the load is not.
            const bool right = turn->turn_rad < std::numbers::pi;
            chart.marks.push_back({.at = {right ? 360 : 0, chart.y.from + 0.13 * chart.y.size()},
                                   .text = "below 0 the load drives the gears",
                                   .role = Role::care,
                                   .anchor = right ? 1.0 : 0.0,
                                   .under = true});
        }
    }
    return chart;
}

Chart radius_chart(const ChartedLoad& charted, const std::vector<std::vector<Vec2>>& walls) {
    const Clearance& clearance = charted.now.clearance;
    const AxisUnit unit = charted.units.axis(Dimension::length);
    Chart chart;
    chart.title = "Radius along the rod";
    chart.remark = unit.name + ", walls as lines";
    chart.short_remark = unit.name;
    chart.x = {0, charted.load.rod.length_m, {}};
    chart.y = {0, 0.02, {}};
    for (const auto& [x, r] : clearance.profile) chart.y.extend(r);
    if (charted.now.mounted) extend_axis(chart.y, charted.now.mounted->profile);
    constexpr double furthest_wall_m = 0.5;
    for (const std::vector<Vec2>& wall : walls) {
        for (const Vec2& at : wall) {
            // Walls beside the load, not those that the rod runs through.
            if (clearance.outline.radius_at(at.x()) > 0) chart.y.extend(std::min(at.y(), furthest_wall_m));
        }
    }
    const std::vector<Vec2> sagged = sagged_edge(clearance.outline, charted.now.rod);
    const bool sag_seen = charted.now.rod.sag_max_m > seen_share * chart.y.to;
    for (const Vec2& p : sagged) {
        if (p.allFinite()) chart.y.extend(p.y());
    }
    chart.y.to *= 1.12;
    chart.x.tick(unit, 4);
    chart.y.tick(unit, 4);

    for (const OutlinePiece& p : clearance.outline.pieces) {
        chart.fills.push_back({{{p.x0, 0}, {p.x0, p.r0}, {p.x1, p.r1}, {p.x1, 0}}, Role::now, 0.22, true});
    }
    if (charted.now.mounted) add_band(chart, charted.now.mounted->profile);
    if (charted.earlier != nullptr)
        chart.series.push_back(earlier_series(places(charted.earlier->clearance.profile)));
    chart.series.push_back({"now", edge(clearance.outline), Role::now, thin});
    if (sag_seen) chart.series.push_back({"with sag", sagged, Role::now, thin, true});
    add_strikes(chart, charted, walls);
    const std::vector<CookerSurface>& surfaces = charted.load.cooker.surfaces;
    double named_at = -1;
    for (std::size_t s = 0; s < std::min(walls.size(), surfaces.size()); ++s) {
        const bool fire = surfaces[s].fire;
        chart.series.push_back(
            {surfaces[s].name, walls[s], fire ? Role::stop : Role::plain, fire ? 2.2 : thin});
        if (!fire || walls[s].size() < 2) continue;
        // Two fires at one height share a name.
        constexpr double one_height_m = 0.02;
        const Vec2& middle = walls[s][walls[s].size() / 2];
        if (std::abs(middle.y() - named_at) < one_height_m) continue;
        named_at = middle.y();
        chart.marks.push_back({.at = middle,
                               .text = surfaces[s].name + " (fire)",
                               .role = Role::stop,
                               .anchor = 0.5,
                               .under = true});
    }
    for (std::size_t s = 0; s < std::min(walls.size(), surfaces.size()); ++s) {
        const auto place = nearest_place(walls[s], clearance.outline);
        if (place && !surfaces[s].fire)
            chart.marks.push_back(
                {.at = *place, .text = surfaces[s].name, .role = Role::plain, .anchor = 0.5});
    }
    if (sag_seen && !sagged.empty()) {
        const auto lowest = std::max_element(sagged.begin(), sagged.end(), [](const Vec2& a, const Vec2& b) {
            return !a.allFinite() || (b.allFinite() && a.y() < b.y());
        });
        chart.marks.push_back({.at = *lowest, .text = "with sag", .role = Role::now, .anchor = 0.5});
    }
    return chart;
}

Chart sag_chart(const ChartedLoad& charted) {
    const RodResult& rod = charted.now.rod;
    const Units& units = charted.units;
    const AxisUnit unit = units.axis(Dimension::length);
    Chart chart;
    chart.title = "Sag of the rod";
    chart.remark = unit.name + " down";
    chart.short_remark = unit.name;
    chart.x = {0, charted.load.rod.length_m, {}};
    chart.y = {0, 1e-4, {}, true};
    const auto extend = [&chart](const RodResult& r) {
        for (const auto& [x, down] : r.sag) chart.y.extend(down);
    };
    extend(rod);
    if (charted.earlier != nullptr) extend(charted.earlier->rod);
    if (chart.y.to > 0.6 * limits::sag_care_m) chart.y.extend(limits::sag_care_m);
    chart.y.to += 0.18 * chart.y.size();
    chart.y.from -= 0.10 * chart.y.size();
    chart.x.tick(unit, 3);
    chart.y.tick(unit, 3);

    if (chart.y.to >= limits::sag_care_m)
        chart.limits.push_back({limits::sag_care_m, "care " + units.length(limits::sag_care_m), Role::care});
    if (charted.earlier != nullptr) chart.series.push_back(earlier_series(places(charted.earlier->rod.sag)));
    chart.series.push_back({"now", places(rod.sag)});
    chart.marks.push_back({.at = {rod.sag_at_m, rod.sag_max_m},
                           .text = units.slack(rod.sag_max_m, {0, limits::sag_care_m}),
                           .anchor = 0.5,
                           .under = true});
    for (const double support : charted.load.rod.supports_m)
        chart.marks.push_back(
            {.at = {support, 0}, .text = "", .role = Role::plain, .shape = MarkShape::support});
    return chart;
}

BarChart grip_chart(const ChartedLoad& charted) {
    BarChart chart{"Grip per tine", "holds ", "flesh ■  bone ▨  hollow □", "No tines on the rod.", {}};
    const std::vector<ForkGrip>& forks = charted.now.grip.forks;
    for (std::size_t f = 0; f < forks.size(); ++f) {
        if (forks[f].tines.empty()) continue;
        BarGroup group{
            fork_name(charted.load.forks, f), charted.units.torque(forks[f].torque_capacity_n_m), {}};
        for (std::size_t t = 0; t < forks[f].tines.size(); ++t)
            group.bars.push_back(tine_bar(forks[f].tines[t], charted.load.forks[f].tines[t],
                                          fmt::format("{} {}", tine_word(charted.load.forks, f), t + 1),
                                          charted.units));
        chart.groups.push_back(std::move(group));
    }
    return chart;
}

}  // namespace evenspit
