// SPDX-License-Identifier: MIT
#include "plan/load_changes.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include "analysis/limits.h"
#include "analysis/placed.h"
#include "cook/cook_course.h"
#include "load/load_file.h"
#include "rig/rod.h"

namespace evenspit::plan {
namespace {

/// Supports that lie no further off are the same cooker's.
constexpr double same_supports_m = 0.02;

bool asks(const Analysis& analysis, Code code) {
    return std::any_of(analysis.findings.begin(), analysis.findings.end(), [code](const Finding& finding) {
        return finding.code == code && finding.level != Level::ready;
    });
}

double usable_m(const Rod& rod) {
    return rod.usable_m[1] - rod.usable_m[0];
}

bool same_supports(const Rod& a, const Rod& b) {
    return std::abs(a.supports_m[0] - b.supports_m[0]) < same_supports_m &&
           std::abs(a.supports_m[1] - b.supports_m[1]) < same_supports_m;
}

bool forks_fit(const Assembly& assembly, const Rod& rod) {
    return std::all_of(assembly.forks.begin(), assembly.forks.end(), [&](const Fork& fork) {
        return !holds_by_shape(fork, assembly.rod) || holds_by_shape(fork, rod);
    });
}

/// Stress and sag on that rod as shares of those on this one, everything else alike.
struct Eased {
    double stress = 1, sag = 1;
};

Eased eased(const Rod& from, const Rod& to) {
    const SectionProperties a = section_properties(from.section, from.width_m),
                            b = section_properties(to.section, to.width_m);
    const double strength_a = a.least_modulus_m3 * from.material.yield_at(from.temperature_k),
                 strength_b = b.least_modulus_m3 * to.material.yield_at(to.temperature_k);
    return {strength_a / strength_b, a.second_moment_m4 * from.material.youngs_modulus_pa /
                                         (b.second_moment_m4 * to.material.youngs_modulus_pa)};
}

}  // namespace

std::vector<LoadChange> ties(const Assembly& assembly) {
    std::vector<LoadChange> changes;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        if (!assembly.items[i].body->body.swung.empty())
            changes.push_back({.kind = LoadChange::Kind::tie, .item = i});
    }
    return changes;
}

std::optional<LoadChange> stouter_rod(const Assembly& assembly, const Analysis& analysis,
                                      const std::vector<RodModel>& rods) {
    const Rod& rod = assembly.rod;
    const bool bends = asks(analysis, Code::rod_stress) || asks(analysis, Code::rod_sag);
    double needed_m = 0;
    for (const Item& item : assembly.items) {
        const auto [from, to] = stretch_on_rod(item);
        needed_m += to - from;
    }
    const bool too_short = needed_m > usable_m(rod);
    if (!bends && !too_short) return std::nullopt;
    using Key = std::tuple<bool, double, double>;  // falls short of what is wanted; how much of a change
    std::optional<Key> least;
    std::optional<LoadChange> found;
    for (const RodModel& model : rods) {
        const Eased there = eased(rod, model.rod);
        const double stress = there.stress * analysis.rod.yield_use,
                     sag_m = there.sag * analysis.rod.sag_max_m;
        if (!forks_fit(assembly, model.rod)) continue;
        if (too_short) {
            if (usable_m(model.rod) < needed_m) continue;
        } else if (!same_supports(rod, model.rod) || there.stress >= 1 || there.sag >= 1) {
            continue;
        }
        const bool short_of = bends && (stress > limits::wanted_rod_use || sag_m > limits::sag_care_m);
        const double change = short_of ? std::max(stress / limits::wanted_rod_use, sag_m / limits::sag_care_m)
                                       : section_properties(model.rod.section, model.rod.width_m).area_m2;
        const Key key{short_of, too_short ? usable_m(model.rod) : 0, change};
        if (least && *least <= key) continue;
        least = key;
        found = LoadChange{.kind = LoadChange::Kind::rod, .rod = model.name};
    }
    return found;
}

std::optional<LoadChange> one_fewer(const Assembly& assembly, const Analysis& analysis,
                                    const std::vector<std::vector<std::size_t>>& forks_of) {
    if (assembly.items.size() < 2) return std::nullopt;
    std::vector<std::tuple<int, double, std::size_t>> items;  // findings about it, station, number
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const auto about = [i](const Finding& finding) {
            const bool its =
                finding.about.kind == Thing::Kind::item || finding.about.kind == Thing::Kind::limb;
            return finding.level == Level::stop && its && finding.about.index == i;
        };
        items.emplace_back(std::count_if(analysis.findings.begin(), analysis.findings.end(), about),
                           assembly.items[i].seat.at_m, i);
    }
    const std::size_t worst = std::get<2>(*std::max_element(items.begin(), items.end()));
    return LoadChange{.kind = LoadChange::Kind::leave_out, .item = worst, .forks = forks_of[worst]};
}

MayChange changes_of_file(const Assembly& load, std::string text, std::filesystem::path file,
                          std::filesystem::path models) {
    return {.rods = [&load, models] { return rod_models(models, load.rod.temperature_k); },
            .load =
                [&load, text = std::move(text), file = std::move(file),
                 models](const std::vector<LoadChange>& changes) {
                    return cook::cooked_as(
                        load,
                        read_load_text(changed_load(text, file.string(), changes, models), file, models));
                }};
}

double effort(const std::vector<LoadChange>& changes) {
    double sum = 0;
    for (const LoadChange& change : changes) {
        switch (change.kind) {
            case LoadChange::Kind::tie:
                sum += 1;
                break;
            case LoadChange::Kind::rod:
                sum += 4;
                break;
            case LoadChange::Kind::leave_out:
                sum += 5;
                break;
        }
    }
    return sum;
}

}  // namespace evenspit::plan
