// SPDX-License-Identifier: MIT
#include "report/change_words.h"

#include <algorithm>
#include <string_view>

#include <fmt/format.h>

#include "load/thing.h"
#include "report/reader_units.h"
#include "report/subject_words.h"
#include "report/tie_words.h"
#include "units/listed.h"

namespace evenspit {
namespace {

std::string_view kind_key(LoadChange::Kind kind) {
    switch (kind) {
        case LoadChange::Kind::tie:
            return "tie";
        case LoadChange::Kind::rod:
            return "rod";
        case LoadChange::Kind::leave_out:
            return "leave_out";
    }
    return "";
}

std::string fork_names(const std::vector<Fork>& all, const std::vector<std::size_t>& forks) {
    std::vector<std::string> parts;
    for (const std::string_view kind : {"fork", "bracket", "basket"}) {
        std::vector<std::string> numbers;
        for (const std::size_t fork : forks) {
            const ForkSection section = fork_section(all, fork);
            if (section.name == kind) numbers.push_back(std::to_string(section.number));
        }
        if (!numbers.empty())
            parts.push_back(
                fmt::format("{}{} {}", kind, numbers.size() == 1 ? "" : "s", listed(numbers, "and")));
    }
    return listed(parts, "and");
}

std::string tie_step(const Assembly& assembly, std::size_t item) {
    const std::string limbs = free_limbs(assembly.items[item].body->body.swung),
                      name = item_name(assembly, item);
    return is_pig(assembly.items[item])
               ? fmt::format("Fold the {} of {} over its belly and tie them there with {}.", limbs, name,
                             leg_ties)
               : fmt::format("Tie the {} of {} tight to its body.", limbs, name);
}

/// What the forks that stay are called once others are gone; "" where they keep their numbers.
std::string counted_anew(const std::vector<std::size_t>& gone, const std::vector<Fork>& before) {
    std::vector<std::string> names;
    std::vector<Fork> left;
    for (std::size_t fork = 0; fork < before.size(); ++fork) {
        if (std::find(gone.begin(), gone.end(), fork) != gone.end()) continue;
        left.push_back(before[fork]);
        const std::string was = fork_name(before, fork), now = fork_name(left, left.size() - 1);
        if (was != now) names.push_back(fmt::format("{} is {}", was, now));
    }
    return names.empty() ? "" : fmt::format(" From here on {}.", listed(names, "and"));
}

}  // namespace

std::vector<std::string> change_steps(const std::vector<LoadChange>& changes, const Assembly& before,
                                      const Assembly& after, UnitSystem units) {
    const Units figures(units);
    std::vector<std::string> steps;
    for (const LoadChange& change : changes) {
        switch (change.kind) {
            case LoadChange::Kind::tie:
                steps.push_back(tie_step(before, change.item));
                break;
            case LoadChange::Kind::rod:
                steps.push_back(fmt::format("Take another rod: {}, {} wide and {} long.", change.rod,
                                            figures.given(after.rod.width_m, Dimension::length),
                                            figures.length(after.rod.length_m)));
                break;
            case LoadChange::Kind::leave_out:
                steps.push_back(fmt::format(
                    "Leave {} off the rod{}, and roast it on its own.{}", item_name(before, change.item),
                    change.forks.empty() ? "" : " with " + fork_names(before.forks, change.forks),
                    counted_anew(change.forks, before.forks)));
                break;
        }
    }
    return steps;
}

Json changes_json(const std::vector<LoadChange>& changes) {
    Json list = Json::array();
    for (const LoadChange& change : changes) {
        Json entry;
        entry["kind"] = kind_key(change.kind);
        if (change.kind == LoadChange::Kind::rod) {
            entry["rod"] = change.rod;
        } else {
            entry["item"] = change.item + 1;
        }
        list.push_back(std::move(entry));
    }
    return list;
}

}  // namespace evenspit
