// SPDX-License-Identifier: MIT
#include "report/grip_words.h"

#include <string_view>
#include <variant>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "report/place_words.h"
#include "report/reader_units.h"
#include "report/subject_words.h"
#include "units/tell.h"

namespace evenspit {
namespace {

/// Of what can be held.
std::string use(const Finding& f) {
    return Units::share(*f.value, {1, f.limit.value_or(1)});
}

std::string_view strength_words(const GripFacts& facts) {
    return facts.strength_assumed
               ? " This counts with the lowest strength that was measured for roasted meat."
               : "";
}

std::string no_fork(const Finding& f, const std::string& item, const Assembly& assembly, UnitSystem units) {
    const std::string away = looking_away_text(assembly, f.about.index);
    std::string words = fmt::format("No fork enters {}: the rod will turn inside it. {}", item,
                                    away.empty() ? "Set a fork at each end, tines in the meat." : away);
    if (const auto* facts = std::get_if<GripFacts>(&f.facts))
        words +=
            fmt::format(" They must hold {} or more, twice what {} pulls with.",
                        torque_text(facts->torque_n_m / limits::grip_care, units, {}, Rounding::up), item);
    return words;
}

std::string by_forks(const Finding& f, const std::string& item, const GripFacts& facts, const Beside& pull) {
    std::string words = fmt::format("The forks hold {} against {}; {} pulls with up to {}, {} of it", item,
                                    pull.limit, item, pull.figure, use(f));
    words += f.level == Level::ready ? "."
             : f.level == Level::care
                 ? ": tighten the forks as the meat softens, or set the tines deeper or wider apart."
                 : ": the meat will tear and slip as it softens. Set the tines deeper or wider apart, or "
                   "balance the load closer.";
    return words + std::string(strength_words(facts));
}

/// A piece that no fork enters, on a rod with edges.
std::string by_rod_alone(const Finding& f, const std::string& item, const GripFacts& facts,
                         const Beside& pull) {
    std::string words = fmt::format(
        "No fork holds {0}. The rod's edges alone hold it against {1}; {0} pulls with up to {2}, {3} of it",
        item, pull.limit, pull.figure, use(f));
    words += f.level == Level::ready ? ". Only friction keeps it from sliding along the rod."
             : f.level == Level::care
                 ? ": it may slip as the meat softens. Push the rod through the middle of its weight, or set "
                   "a fork."
                 : ": it slips as the meat softens. Set a fork, or take a wider rod.";
    return words + std::string(strength_words(facts));
}

}  // namespace

std::string grip_text(const Finding& f, const Assembly& assembly, UnitSystem units) {
    const std::string item = thing_name(f.about, assembly);
    if (f.code == Code::no_fork) return no_fork(f, item, assembly, units);
    if (f.code == Code::no_flesh) {
        return fmt::format(
            "The forks of {} find no flesh, only bone and cavity: they hold nothing. Move or turn them to "
            "where there is meat.",
            item);
    }
    const auto& facts = f.get<GripFacts>();
    const Beside pull = torque_beside(facts.torque_n_m, facts.capacity_n_m, units);
    return facts.rod_alone ? by_rod_alone(f, item, facts, pull) : by_forks(f, item, facts, pull);
}

}  // namespace evenspit
