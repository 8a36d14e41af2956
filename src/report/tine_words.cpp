// SPDX-License-Identifier: MIT
#include "report/tine_words.h"

#include <vector>

#include <fmt/format.h>

#include "load/thing.h"
#include "report/reader_units.h"
#include "report/subject_words.h"
#include "units/listed.h"
#include "units/tell.h"

namespace evenspit {
namespace {

/// "Both tines of fork 2", "Tines 1 and 3 of fork 1", "Leg 2 of bracket 1".
std::string which_tines(const Finding& f, const Assembly& assembly) {
    if (f.about.kind == Thing::Kind::tine) return at_start(f.about, thing_name(f.about, assembly));
    const std::vector<std::size_t>& tines = f.get<TineFacts>().tines;
    if (tines.size() == 1) {
        const Thing one{Thing::Kind::tine, f.about.index, tines.front()};
        return at_start(one, thing_name(one, assembly));
    }
    const std::size_t all = assembly.forks[f.about.index].tines.size();
    const std::string kind = std::string(tine_word(assembly.forks, f.about.index)) + "s";
    std::string which = tines.size() < all ? at_start_of_sentence(kind) + " "
                        : all == 2         ? "Both " + kind
                                           : "All " + kind;
    if (tines.size() < all) {
        std::vector<std::string> numbers;
        for (const std::size_t t : tines) numbers.push_back(fmt::format("{}", t + 1));
        which += listed(numbers, "and");
    }
    return which + " of " + thing_name(f.about, assembly);
}

}  // namespace

std::string tine_finding_text(const Finding& f, const Assembly& assembly, UnitSystem units) {
    const bool one = f.about.kind == Thing::Kind::tine;
    const std::string which = which_tines(f, assembly);
    if (f.code == Code::tine_in_bone) {
        return fmt::format("{} {} through {}{} of bone. Turn the {}, or move it, so that {} beside.", which,
                           one ? "runs" : "run", one ? "" : "up to ",
                           Units(units).slack(*f.value, {0, f.limit.value_or(0)}),
                           fork_section(assembly.forks, f.about.index).name, one ? "it passes" : "they pass");
    }
    if (f.code == Code::tine_free) {
        const std::vector<std::size_t>& free = f.get<TineFacts>().tines;
        const std::string fork = thing_name(f.about, assembly);
        if (free.size() == assembly.forks[f.about.index].tines.size()) {
            return fmt::format(
                "No {} of {} meets flesh: it holds nothing. Set it so that it does, or take it off the rod.",
                tine_word(assembly.forks, f.about.index), fork);
        }
        return fmt::format("{} {} no flesh: {} nothing.", which, free.size() == 1 ? "meets" : "meet",
                           free.size() == 1 ? "it holds" : "they hold");
    }
    std::string words;
    if (f.code == Code::tine_out) {
        words = fmt::format("{} {} out through the skin.", which, one ? "comes" : "come");
    } else {
        const Beside cover = slack_beside(*f.value, *f.limit, units);
        words = fmt::format("{} {} only {} of flesh over {}, less than {}: {} will tear the skin.", which,
                            one ? "has" : "have", cover.figure, one ? "it" : "them", cover.limit,
                            one ? "it" : "they");
    }
    return words + " Turn the fork, or take shorter tines nearer the rod.";
}

std::string bracket_finding_text(const Finding& f, const Assembly& assembly, UnitSystem units) {
    if (f.code == Code::leg_off_spine) {
        return fmt::format(
            "No bone lies between the legs of {}: it holds {} by flesh alone, and will tear out. Turn it so "
            "that its legs go out through the back, one on each side of the spine.",
            thing_name(f.about, assembly), thing_name(f.other, assembly));
    }
    const bool one = f.get<TineFacts>().tines.size() == 1;
    const std::string which = which_tines(f, assembly);
    if (!(*f.value > 0)) {
        return fmt::format("{} {} in the meat: no plate can be set on {}. Take a bracket with longer legs.",
                           which, one ? "ends" : "end", one ? "it" : "them");
    }
    const Beside out = length_beside(*f.value, *f.limit, units);
    return fmt::format(
        "{} {} only {} out of the back: plate and nut need {}. Take a bracket with longer legs.", which,
        one ? "stands" : "stand", out.figure, out.limit);
}

std::string basket_finding_text(const Finding& f, const Assembly& assembly, UnitSystem units) {
    const std::string name = thing_name(f.about, assembly), basket = thing_name(f.other, assembly);
    const Units told(units);
    switch (f.code) {
        case Code::out_of_basket:
            return fmt::format(
                "{} stands out of {} by {}. Take a larger basket or a smaller piece, or lay it straight.",
                name, basket, told.length(*f.value));
        case Code::loose_in_basket:
            return fmt::format(
                "{} can move by {} in {}: it will flop at every turn. Close the basket tighter, or pack it "
                "with more "
                "food.",
                name, told.length(*f.value), basket);
        default:
            break;
    }
    const std::string fill = Units::share(*f.value, {1, f.limit.value_or(1)});
    if (f.level == Level::stop)
        return fmt::format("What goes into {} takes {} of its room. Take less.", name, fill);
    return fmt::format("{} is {} full: the middle of the heap will not turn over and stays raw. Take less.",
                       at_start(f.about, name), fill);
}

}  // namespace evenspit
