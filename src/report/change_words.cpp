// SPDX-License-Identifier: MIT
#include "report/change_words.h"

#include <algorithm>
#include <string_view>

#include <fmt/format.h>

#include "report/reader_units.h"
#include "report/subject_words.h"
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

std::string fork_names(const std::vector<std::size_t>& forks) {
    std::vector<std::string> names;
    names.reserve(forks.size());
    for (const std::size_t fork : forks) names.push_back(std::to_string(fork + 1));
    return fmt::format("fork{} {}", names.size() == 1 ? "" : "s", listed(names, "and"));
}

/// What the forks that stay are called once others are gone; "" where they keep their numbers.
std::string counted_anew(const std::vector<std::size_t>& gone, std::size_t count) {
    std::vector<std::string> names;
    std::size_t now = 0;
    for (std::size_t fork = 0; fork < count; ++fork) {
        if (std::find(gone.begin(), gone.end(), fork) != gone.end()) continue;
        if (fork != now) names.push_back(fmt::format("fork {} is fork {}", fork + 1, now + 1));
        ++now;
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
                steps.push_back(fmt::format("Tie the {} of {} tight to its body.",
                                            free_limbs(before.items[change.item].body->body.swung),
                                            item_name(before, change.item)));
                break;
            case LoadChange::Kind::rod:
                steps.push_back(fmt::format("Take another rod: {}, {} wide and {} long.", change.rod,
                                            figures.given(after.rod.width_m, Dimension::length),
                                            figures.length(after.rod.length_m)));
                break;
            case LoadChange::Kind::leave_out:
                steps.push_back(fmt::format("Leave {} off the rod{}, and roast it on its own.{}",
                                            item_name(before, change.item),
                                            change.forks.empty() ? "" : " with " + fork_names(change.forks),
                                            counted_anew(change.forks, before.forks.size())));
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
