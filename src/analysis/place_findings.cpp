// SPDX-License-Identifier: MIT
#include "analysis/place_findings.h"

#include <algorithm>
#include <cmath>

#include "analysis/analysis_memory.h"
#include "analysis/limits.h"
#include "analysis/passage.h"

namespace evenspit {
namespace {

/// Stations that differ by less are one.
constexpr double rounding_m = 1e-9;

/// Anything with a first and a last station must lie within the usable stretch.
void check_usable(std::vector<Finding>& findings, const Rod& rod, const Thing& about, double from,
                  double to) {
    const auto [first, last] = rod.usable_m;
    const auto say = [&](double value, double limit) {
        findings.push_back({.level = Level::stop,
                            .code = Code::outside_usable,
                            .about = about,
                            .spot = Spot{Vec3(value, 0, 0)},
                            .value = value,
                            .limit = limit});
    };
    if (from < first - rounding_m) say(from, first);
    if (to > last + rounding_m) say(to, last);
}

/// Whether a point of the rod frame lies within an item (flesh, bone or cavity).
bool inside_item(const Item& item, const Vec3& point) {
    const Vec3 p = item.pose.inverse() * point;
    return std::any_of(item.body->queries.begin(), item.body->queries.end(),
                       [&](const SolidQueries& part) { return part.contains(p); });
}

/// Whether some of a segment of the rod frame lies within an item.
bool crosses_item(const Item& item, const Vec3& a, const Vec3& b) {
    const Pose to_item = item.pose.inverse();
    const Vec3 p = to_item * a, q = to_item * b;
    return std::any_of(item.body->queries.begin(), item.body->queries.end(),
                       [&](const SolidQueries& part) { return !part.inside(p, q).empty(); });
}

/// Whether an edge of one item, between two stations, runs through the other.
bool edges_cross(const Item& one, double from, double to, const Item& other) {
    for (const body::Part& part : one.body->body.parts) {
        const TriangleMesh mesh = transformed(part.mesh, one.pose);
        for (const Triangle& triangle : mesh.triangles) {
            for (int k = 0; k < 3; ++k) {
                // In a closed mesh the neighbour runs along the edge the other way: once is enough.
                if (triangle[static_cast<std::size_t>(k)] > triangle[static_cast<std::size_t>((k + 1) % 3)])
                    continue;
                const Vec3 &a = mesh.corner(triangle, k), &b = mesh.corner(triangle, (k + 1) % 3);
                if (std::max(a.x(), b.x()) <= from || std::min(a.x(), b.x()) >= to) continue;
                if (crosses_item(other, a, b)) return true;
            }
        }
    }
    return false;
}

/// Whether two items fill a common place: an edge of one runs through the other, or both are round the rod at
/// one station.
bool collide(const Assembly& assembly, const std::vector<ItemOnRod>& placed, std::size_t a, std::size_t b) {
    const double from = std::max(placed[a].from(), placed[b].from()),
                 to = std::min(placed[a].to(), placed[b].to());
    if (to - from <= limits::meat_gives_m) return false;
    for (double x = from + limits::meat_gives_m / 2; x < to; x += limits::meat_gives_m) {
        const Vec3 axis(x, 0, 0);
        if (inside_item(assembly.items[a], axis) && inside_item(assembly.items[b], axis)) return true;
    }
    const Item &one = assembly.items[a], &other = assembly.items[b];
    return edges_cross(one, from, to, other) || edges_cross(other, from, to, one);
}

/// How deep a station of the rod's axis lies inside an item, measured along the rod; 0 outside.
///
/// \param stretches of the item; see rod_stretches()
double depth_on_axis(const std::vector<Interval>& stretches, double at) {
    double depth = 0;
    for (const Interval& whole : stretches) depth = std::max(depth, std::min(at - whole.from, whole.to - at));
    return depth;
}

/// Whether two things that are clamped to the rod want the same stretch of it: hubs, or a basket as long as
/// it is.
bool hubs_touch(const Fork& one, const Fork& other) {
    if (one.kind != ForkKind::basket && other.kind != ForkKind::basket)
        return std::abs(one.at_m - other.at_m) < 2 * limits::half_hub_m - rounding_m;
    const auto taken = [](const Fork& fork) {
        return fork.kind == ForkKind::basket
                   ? fork_stretch(fork)
                   : std::pair(fork.at_m - limits::half_hub_m, fork.at_m + limits::half_hub_m);
    };
    const auto [a, b] = taken(one);
    const auto [c, d] = taken(other);
    return std::min(b, d) - std::max(a, c) > rounding_m;
}

/// rod_stretches() of an item.
std::vector<Interval> stretches_of(const Item& item, AnalysisMemory* memory) {
    return recalled(memory ? &memory->rod_stretches : nullptr, MemoryKey(item),
                    [&] { return rod_stretches(item); });
}

void check_collisions(std::vector<Finding>& findings, const Assembly& assembly,
                      const std::vector<ItemOnRod>& placed, AnalysisMemory* memory) {
    const auto both = [&](const Thing& a, const Thing& b, double at) {
        findings.push_back({.level = Level::stop,
                            .code = Code::one_place,
                            .about = a,
                            .other = b,
                            .spot = Spot{Vec3(at, 0, 0)},
                            .value = at});
    };
    const auto item_thing = [](std::size_t i) { return Thing{Thing::Kind::item, i}; };
    const auto fork_thing = [](std::size_t f) { return Thing{Thing::Kind::fork, f}; };
    const auto weight_thing = [](std::size_t c) { return Thing{Thing::Kind::counterweight, c}; };
    const std::vector<Item>& items = assembly.items;
    const std::vector<Fork>& forks = assembly.forks;
    const std::vector<Counterweight>& weights = assembly.counterweights;

    for (std::size_t i = 0; i < items.size(); ++i) {
        for (std::size_t j = i + 1; j < items.size(); ++j) {
            const auto fill_one_place = [&] { return collide(assembly, placed, i, j); };
            if (recalled(memory ? &memory->collisions : nullptr, MemoryKey(items[i]).add(items[j]),
                         fill_one_place)) {
                both(item_thing(i), item_thing(j), std::max(placed[i].from(), placed[j].from()));
            }
        }
        if (forks.empty() && weights.empty()) continue;
        const std::vector<Interval> stretches = stretches_of(items[i], memory);
        for (std::size_t f = 0; f < forks.size(); ++f) {
            if (forks[f].kind == ForkKind::basket) {
                const auto [from, to] = fork_stretch(forks[f]);
                const bool beside =
                    std::min(to, placed[i].to()) - std::max(from, placed[i].from()) > limits::meat_gives_m;
                if (beside && !in_basket(items[i], forks[f]))
                    both(fork_thing(f), item_thing(i), forks[f].at_m);
            }
            // A bracket's place is inside, and a basket's round what lies in it.
            if (forks[f].kind != ForkKind::fork) continue;
            const double depth = depth_on_axis(stretches, forks[f].at_m);
            if (depth > limits::meat_gives_m) {
                findings.push_back({.level = depth > limits::hub_stop_m ? Level::stop : Level::ready,
                                    .code = Code::hub_in_meat,
                                    .about = fork_thing(f),
                                    .other = item_thing(i),
                                    .spot = Spot{Vec3(forks[f].at_m, 0, 0)},
                                    .value = depth,
                                    .limit = limits::hub_stop_m});
            }
        }
        for (std::size_t c = 0; c < weights.size(); ++c) {
            const double half = weights[c].diameter_m / 2;
            if (weights[c].at_m + half < placed[i].from() || weights[c].at_m - half > placed[i].to())
                continue;
            const Vec3 centre = rod_point(weights[c].at_m, weights[c].radius_m, weights[c].clock_rad);
            const Vec3 p = items[i].pose.inverse() * centre;
            // Its arm starts at the rod.
            const double arm_m = depth_on_axis(stretches, weights[c].at_m);
            bool touches = inside_item(items[i], centre) || arm_m > limits::meat_gives_m;
            for (std::size_t part = 0; !touches && part < items[i].body->queries.size(); ++part) {
                touches = items[i].body->queries[part].closest(p).distance < half;
            }
            if (touches) both(weight_thing(c), item_thing(i), weights[c].at_m);
        }
    }
    for (std::size_t f = 0; f < forks.size(); ++f) {
        for (std::size_t g = f + 1; g < forks.size(); ++g) {
            if (hubs_touch(forks[f], forks[g]) || tines_touch(forks[f], forks[g]))
                both(fork_thing(f), fork_thing(g), forks[f].at_m);
        }
        for (std::size_t c = 0; c < weights.size(); ++c) {
            const double half = weights[c].diameter_m / 2;
            bool touches = std::abs(forks[f].at_m - weights[c].at_m) < 2 * limits::half_hub_m - rounding_m;
            if (forks[f].kind == ForkKind::basket) {
                const auto [from, to] = fork_stretch(forks[f]);
                touches = weights[c].at_m + half > from && weights[c].at_m - half < to;
            }
            const Vec2 centre = rod_point(0, weights[c].radius_m, weights[c].clock_rad).tail<2>();
            for (const Tine& tine : forks[f].tines) {
                const auto [from, to] = tine_stretch(forks[f], tine);
                const bool beside = to > weights[c].at_m - half && from < weights[c].at_m + half;
                touches = touches || (beside && beside_rod_m(pin_line(forks[f], tine), centre) <
                                                    half + tine.diameter_m / 2);
            }
            if (touches) both(fork_thing(f), weight_thing(c), weights[c].at_m);
        }
    }
    for (std::size_t c = 0; c < weights.size(); ++c) {
        for (std::size_t d = c + 1; d < weights.size(); ++d) {
            const Vec2 p = rod_point(0, weights[c].radius_m, weights[c].clock_rad).tail<2>();
            const Vec2 q = rod_point(0, weights[d].radius_m, weights[d].clock_rad).tail<2>();
            const double reach = (weights[c].diameter_m + weights[d].diameter_m) / 2;
            if (std::abs(weights[c].at_m - weights[d].at_m) < reach && (p - q).norm() < reach) {
                both(weight_thing(c), weight_thing(d), weights[c].at_m);
            }
        }
    }
}

void check_between_forks(std::vector<Finding>& findings, const Assembly& assembly,
                         const std::vector<ItemOnRod>& placed, const Grip& grip) {
    for (std::size_t i = 0; i < placed.size(); ++i) {
        const std::vector<int>& forks = grip.items[i].forks;
        if (forks.empty() || grip.items[i].basket_out_m) continue;  // told by grip
        const double centre = placed[i].centre.x();
        const Thing about{Thing::Kind::item, i};
        const Spot spot{placed[i].centre};
        if (forks.size() == 1) {
            findings.push_back({.level = Level::care,
                                .code = Code::one_fork,
                                .about = about,
                                .spot = spot,
                                .value = centre});
            continue;
        }
        double low = assembly.forks[static_cast<std::size_t>(forks[0])].at_m, high = low;
        for (const int f : forks) {
            low = std::min(low, assembly.forks[static_cast<std::size_t>(f)].at_m);
            high = std::max(high, assembly.forks[static_cast<std::size_t>(f)].at_m);
        }
        if (centre <= low || centre >= high) {
            findings.push_back({.level = Level::care,
                                .code = Code::centre_not_between_forks,
                                .about = about,
                                .spot = spot,
                                .value = centre,
                                .limit = centre <= low ? low : high,
                                .facts = ForkSpan{low, high}});
        }
    }
}

/// The rod cannot be driven through bone: its axis and lines along its edges tell where it meets some.
void check_rod_in_bone(std::vector<Finding>& findings, const Assembly& assembly,
                       const std::vector<ItemOnRod>& placed, AnalysisMemory* memory) {
    const double radius = section_properties(assembly.rod.section, assembly.rod.width_m).outer_radius_m;
    for (std::size_t i = 0; i < placed.size(); ++i) {
        const Item& item = assembly.items[i];
        const RodInBone met = recalled(memory ? &memory->bones : nullptr,
                                       MemoryKey(item).add(placed[i].from()).add(placed[i].to()).add(radius),
                                       [&] { return rod_in_bone(item, placed[i], radius); });
        if (met.longest_m <= limits::rod_grazes_bone_m) continue;
        findings.push_back({.level = Level::care,
                            .code = Code::rod_in_bone,
                            .about = {Thing::Kind::item, i},
                            .spot = Spot{Vec3(placed[i].centre.x(), 0, 0)},
                            .value = met.longest_m,
                            .limit = 0.0,
                            .facts = BoneFacts{item.body->body.parts[met.part].name}});
    }
}

/// Whether what holds an item keeps it without the rod going through it: a basket round it, or a bracket at
/// its spine.
bool held_beside_rod(const Assembly& assembly, const ItemGrip& grip) {
    return std::any_of(grip.forks.begin(), grip.forks.end(), [&](int f) {
        return assembly.forks[static_cast<std::size_t>(f)].kind != ForkKind::fork;
    });
}

/// The rod goes through every item, and in a joint with flesh all round it.
void check_rod_cover(std::vector<Finding>& findings, const Assembly& assembly,
                     const std::vector<ItemOnRod>& placed, const Grip& grip, AnalysisMemory* memory) {
    const double radius = section_properties(assembly.rod.section, assembly.rod.width_m).outer_radius_m;
    for (std::size_t i = 0; i < placed.size(); ++i) {
        if (held_beside_rod(assembly, grip.items[i])) continue;
        const Item& item = assembly.items[i];
        const Thing about{Thing::Kind::item, i};
        const std::vector<Interval> stretches = stretches_of(item, memory);
        if (stretches.empty()) {
            findings.push_back({.level = Level::stop,
                                .code = Code::rod_beside,
                                .about = about,
                                .spot = Spot{Vec3(placed[i].centre.x(), 0, 0)},
                                .value = rod_beside_m(item, placed[i]),
                                .limit = 0.0});
            continue;
        }
        const std::optional<RodCover> cover =
            recalled(memory ? &memory->covers : nullptr, MemoryKey(item).add(radius),
                     [&] { return rod_cover(item, stretches, radius); });
        if (!cover || cover->least_m >= limits::cover_care_m) continue;
        findings.push_back({.level = Level::care,
                            .code = Code::rod_cover,
                            .about = about,
                            .spot = Spot{cover->skin},
                            .value = cover->least_m,
                            .limit = limits::cover_care_m});
    }
}

/// Habits of the trade; common practice, no source. Told as hints, without weight in the verdict.
void add_hints(std::vector<Finding>& findings, const Assembly& assembly, const std::vector<ItemOnRod>& placed,
               const Grip& grip) {
    double mass = 0, moment = 0;
    for (const ItemOnRod& item : placed) {
        mass += item.mass_kg;
        moment += item.mass_kg * item.centre.x();
    }
    const double middle = (assembly.rod.usable_m[0] + assembly.rod.usable_m[1]) / 2;
    if (mass > 0 && moment / mass < middle) {
        findings.push_back({.code = Code::nearer_drive,
                            .spot = Spot{Vec3(moment / mass, 0, 0)},
                            .value = moment / mass,
                            .limit = middle});
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        for (std::size_t i = 0; i < placed.size(); ++i) {
            const Item& item = assembly.items[i];
            if (!item.bird || fork.kind != ForkKind::fork || fork.tines.size() != 2 ||
                fork.points != Facing::drive)
                continue;
            if (fork.at_m < placed[i].centre.x()) continue;
            // In a row of birds each has its own.
            const std::vector<int>& own = grip.items[i].forks;
            if (std::find(own.begin(), own.end(), static_cast<int>(f)) == own.end()) continue;
            // The bird's own up and side, as they lie on the rod.
            const Vec3 up = item.pose.linear() * Vec3::UnitZ();
            const auto up_share = [&](const Tine& tine) {
                return std::abs(rod_point(0, 1, tine_clock(fork, tine)).dot(up));
            };
            if (up_share(fork.tines[0]) <= limits::upright_share ||
                up_share(fork.tines[1]) <= limits::upright_share)
                continue;
            findings.push_back({.code = Code::fork_upright,
                                .about = {Thing::Kind::fork, f},
                                .other = {Thing::Kind::item, i},
                                .spot = Spot{Vec3(fork.at_m, 0, 0)}});
        }
    }
}

}  // namespace

std::vector<Finding> place_findings(const Assembly& assembly, const std::vector<ItemOnRod>& placed,
                                    const Grip& grip, AnalysisMemory* memory) {
    std::vector<Finding> findings;
    for (std::size_t i = 0; i < placed.size(); ++i) {
        check_usable(findings, assembly.rod, {Thing::Kind::item, i}, placed[i].from(), placed[i].to());
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const auto [from, to] = fork_stretch(assembly.forks[f]);
        check_usable(findings, assembly.rod, {Thing::Kind::fork, f}, from, to);
    }
    for (std::size_t c = 0; c < assembly.counterweights.size(); ++c) {
        const Counterweight& weight = assembly.counterweights[c];
        check_usable(findings, assembly.rod, {Thing::Kind::counterweight, c},
                     weight.at_m - weight.diameter_m / 2, weight.at_m + weight.diameter_m / 2);
    }
    check_collisions(findings, assembly, placed, memory);
    check_rod_in_bone(findings, assembly, placed, memory);
    check_rod_cover(findings, assembly, placed, grip, memory);
    check_between_forks(findings, assembly, placed, grip);
    add_hints(findings, assembly, placed, grip);
    return findings;
}

std::vector<std::size_t> forks_looking_away(const Assembly& assembly, std::size_t item) {
    std::vector<double> centres;
    for (const Item& each : assembly.items) centres.push_back((each.pose * each.body->mass.centre).x());
    std::vector<std::size_t> away;
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        if (fork.kind != ForkKind::fork) continue;
        const auto sees = [&fork](double x) {
            return fork.points == Facing::point ? x > fork.at_m : x < fork.at_m;
        };
        const auto nearer = [&fork](double a, double b) {
            return std::abs(a - fork.at_m) < std::abs(b - fork.at_m);
        };
        const auto nearest = std::min_element(centres.begin(), centres.end(), nearer);
        if (std::size_t(nearest - centres.begin()) == item &&
            std::none_of(centres.begin(), centres.end(), sees))
            away.push_back(f);
    }
    return away;
}

}  // namespace evenspit
