// SPDX-License-Identifier: MIT
#include "report/subject_words.h"

#include <algorithm>

#include <fmt/format.h>

#include "units/listed.h"

namespace evenspit {

std::string at_start_of_sentence(std::string words) {
    if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
        words[0] = static_cast<char>(words[0] - 'a' + 'A');
    return words;
}

std::string at_start(const Thing& thing, std::string name) {
    const bool ours = thing.kind == Thing::Kind::fork || thing.kind == Thing::Kind::tine ||
                      thing.kind == Thing::Kind::counterweight;
    return ours ? at_start_of_sentence(std::move(name)) : name;
}

std::string item_name(const Assembly& assembly, std::size_t item) {
    const std::string& name = assembly.items[item].name;
    const auto same = std::count_if(assembly.items.begin(), assembly.items.end(),
                                    [&](const Item& other) { return other.name == name; });
    return same > 1 ? fmt::format("{} (item {})", name, item + 1) : name;
}

std::string free_limbs(const std::vector<body::SwungLimb>& limbs) {
    std::vector<std::string> words;
    for (const body::SwungLimb& limb : limbs) {
        const std::string kind = limb.name.substr(limb.name.find(' ') + 1);
        const bool pair = std::count_if(limbs.begin(), limbs.end(), [&](const body::SwungLimb& other) {
                              return other.name.ends_with(' ' + kind);
                          }) == 2;
        const std::string word = pair ? kind + "s" : limb.name;
        if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
    }
    return listed(words, "and");
}

std::string subject_text(const Finding& finding, const Assembly& assembly) {
    const std::string whose = thing_name(finding.about, assembly);
    const auto of = [&whose](std::string_view words) {
        return whose.empty() ? std::string(words) : fmt::format("{} of {}", words, whose);
    };
    switch (finding.code) {
        case Code::motor_torque:
            return "the motor's use";
        case Code::stall:
            return "a stall";
        case Code::overrun:
            return "the pull on the gears";
        case Code::knock:
            return "the knock";
        case Code::uneven_speed:
            return "uneven speed";
        case Code::rod_stress:
            return "the rod's stress";
        case Code::rod_sag:
            return "the rod's sag";
        case Code::no_fork:
            return "no fork in " + whose;
        case Code::no_flesh:
            return "no flesh under the forks of " + whose;
        case Code::grip_torque:
            return of("the hold");
        case Code::grip_weight:
            return of("the hold of the meat");
        case Code::clamp_turns:
        case Code::clamp_slides:
            return of("the clamp");
        case Code::tine_bends:
            return of(fmt::format("bending of the {}s", tine_word(assembly.forks, finding.about.index)));
        case Code::leg_short:
            return of("too short legs");
        case Code::leg_off_spine:
            return of("no bone between the legs");
        case Code::out_of_basket:
            return whose + " out of its basket";
        case Code::loose_in_basket:
            return whose + " loose in its basket";
        case Code::basket_full:
            return of("the filling");
        case Code::gap:
            return "the gap to " + whose;
        case Code::limbs_free:
            return of("loose limbs");
        case Code::outside_usable:
            return whose + " outside the usable stretch";
        case Code::one_place:
            return fmt::format("{} and {} in one place", whose, thing_name(finding.other, assembly));
        case Code::hub_in_meat:
            return fmt::format("the hub of {} inside the meat", whose);
        case Code::rod_in_bone:
            return "bone in the way of the rod in " + whose;
        case Code::rod_cover:
            return "little flesh over the rod in " + whose;
        case Code::rod_beside:
            return "the rod beside " + whose;
        case Code::together:
            return "several things together";
        default:
            return of(code_name(finding.code));
    }
}

}  // namespace evenspit
