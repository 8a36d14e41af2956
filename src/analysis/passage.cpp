// SPDX-License-Identifier: MIT
#include "analysis/passage.h"

#include <algorithm>
#include <limits>
#include <numbers>
#include <utility>

#include "analysis/limits.h"

namespace evenspit {
namespace {

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

/// Flesh within flesh has no skin of its own.
bool has_skin(const body::Part& part) {
    return part.kind == body::PartKind::flesh && part.parent < 0;
}

/// Least distance at right angles to the rod from a tine's axis to the skin between two places along it, m.
///
/// \param start of the tine, item frame; places count from here along `way`, in the body's own lengths
double side_distance(const body::PreparedBody& prepared, const Vec3& start, const Vec3& way, double from,
                     double to) {
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < prepared.queries.size(); ++i) {
        if (has_skin(prepared.body.parts[i]))
            best = std::min(best, prepared.queries[i].distance_beside(start, way, from, to));
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
    const double ahead = on.empty() || on.front().from > grazed_m ? 0 : on.front().to;
    return std::max(0.0, std::min(beside - tine.diameter_m / 2, ahead));
}

}  // namespace

Passage passage(const Item& item, const Vec3& from, const Vec3& to) {
    const Pose to_item = item.pose.inverse();
    const double scale = item.off.scale;
    const Vec3 a = to_item * from / scale, b = to_item * to / scale;
    const std::vector<body::Part>& parts = item.body->body.parts;
    std::vector<Interval> all, bone, not_flesh, hollow;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        std::vector<Interval> runs = item.body->queries[i].inside(a, b);
        for (Interval& run : runs) run = {run.from * scale, run.to * scale};
        all.insert(all.end(), runs.begin(), runs.end());
        if (parts[i].kind == body::PartKind::bone) bone.insert(bone.end(), runs.begin(), runs.end());
        if (parts[i].kind == body::PartKind::cavity || parts[i].kind == body::PartKind::stuffing)
            hollow.insert(hollow.end(), runs.begin(), runs.end());
        // Stuffing fills a cavity and holds nothing.
        if (parts[i].kind != body::PartKind::flesh)
            not_flesh.insert(not_flesh.end(), runs.begin(), runs.end());
    }
    // A bone that stands out into a cavity is bone.
    const double in_bone_m = total_length(merged(std::move(bone)));
    all = merged(std::move(all));
    std::vector<Interval> firm = without(all, merged(std::move(hollow)));
    return {std::move(all), std::move(firm), in_bone_m,
            total_length(merged(std::move(not_flesh))) - in_bone_m};
}

PinMet pin_met(const Item& item, const Fork& fork, const Tine& tine) {
    const PinLine line = pin_line(fork, tine);
    PinMet met{passage(item, line.root, line.tip)};
    if (fork.kind == ForkKind::fork && total_length(met.through.skin) >= grazed_m)
        met.cover_m = least_cover(item, fork, tine, met.through.skin);
    return met;
}

PinLine rod_line_through(const ItemOnRod& on_rod) {
    constexpr double beyond_m = 1e-3;
    return {Vec3(on_rod.from() - beyond_m, 0, 0), Vec3(on_rod.to() + beyond_m, 0, 0)};
}

Passage rod_passage(const Item& item, const ItemOnRod& on_rod) {
    const PinLine line = rod_line_through(on_rod);
    return passage(item, line.root, line.tip);
}

std::vector<Interval> rod_stretches(const Item& item) {
    // A stretch of the axis that surely begins and ends outside, cavities included.
    const Box3& box = item.body->bounds;
    const double middle = (item.pose * box.center()).x(), reach = box.diagonal().norm();
    const Vec3 a(middle - reach, 0, 0), b(middle + reach, 0, 0);
    const Pose to_item = item.pose.inverse();
    std::vector<Interval> runs;
    for (const SolidQueries& part : item.body->queries) {
        for (const Interval& run : part.inside(to_item * a, to_item * b)) runs.push_back(run);
    }
    // A cavity and the flesh behind it follow one another without a break.
    runs = merged(std::move(runs), limits::meat_gives_m);
    for (Interval& run : runs) run = {a.x() + run.from, a.x() + run.to};
    return runs;
}

RodInBone rod_in_bone(const Item& item, const ItemOnRod& on_rod, double rod_radius_m) {
    constexpr int edges = 8;
    const Pose to_item = item.pose.inverse();
    RodInBone found;
    for (std::size_t part = 0; part < item.body->body.parts.size(); ++part) {
        if (item.body->body.parts[part].kind != body::PartKind::bone) continue;
        for (int k = 0; k <= edges; ++k) {
            const double clock = 2 * std::numbers::pi * k / edges, off = k < edges ? rod_radius_m : 0;
            const Vec3 a = rod_point(on_rod.from(), off, clock), b = rod_point(on_rod.to(), off, clock);
            const double length = total_length(item.body->queries[part].inside(to_item * a, to_item * b));
            if (length > found.longest_m) found = {length, part};
        }
    }
    return found;
}

std::optional<RodCover> rod_cover(const Item& item, const std::vector<Interval>& stretches,
                                  double rod_radius_m) {
    const std::vector<body::Part>& parts = item.body->body.parts;
    const auto is_hollow = [](const body::Part& part) { return part.kind == body::PartKind::cavity; };
    if (stretches.empty() || std::any_of(parts.begin(), parts.end(), is_hollow)) return std::nullopt;

    const Pose to_item = item.pose.inverse();
    const Vec3 start = to_item * Vec3::Zero(), along = to_item.linear() * Vec3::UnitX();
    const auto beside = [&](double a, double b) { return side_distance(*item.body, start, along, a, b); };
    double least = std::numeric_limits<double>::infinity(), from = 0, to = 0;
    for (const Interval& run : stretches) {
        const double entry = std::min(limits::entry_stretch_m, run.length() / 4);
        const double there = beside(run.from + entry, run.to - entry);
        if (there >= least) continue;
        least = there;
        from = run.from + entry;
        to = run.to - entry;
    }
    RodCover cover{std::max(0.0, least - rod_radius_m)};

    // Where that is: halves are told apart by their own least.
    while (to - from > grazed_m) {
        const double middle = (from + to) / 2;
        (beside(from, middle) <= beside(middle, to) ? to : from) = middle;
    }
    const Vec3 axis = start + along * ((from + to) / 2);
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (!has_skin(parts[i])) continue;
        const ClosestPoint skin = item.body->queries[i].closest(axis);
        if (skin.distance < nearest) cover.skin = item.pose * skin.point;
        nearest = std::min(nearest, skin.distance);
    }
    return cover;
}

double rod_beside_m(const Item& item, const ItemOnRod& on_rod) {
    const PinLine line = rod_line_through(on_rod);
    const Pose to_item = item.pose.inverse();
    const Vec3 start = to_item * line.root;
    return side_distance(*item.body, start, to_item.linear() * Vec3::UnitX(), 0,
                         (line.tip - line.root).norm());
}

}  // namespace evenspit
