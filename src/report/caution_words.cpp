// SPDX-License-Identifier: MIT
#include "report/caution_words.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/reader_units.h"
#include "units/fahrenheit.h"

namespace evenspit {
namespace {

/// From there on two people lift: what one person may lift with arms held out, HSE INDG143 (from memory).
constexpr double two_lift_kg = 10;

double turning_mass_kg(const Assembly& assembly) {
    double kg = 0;
    for (const Item& item : assembly.items) kg += item.body->mass.amount;
    for (const Fork& fork : assembly.forks) kg += fork.mass_kg;
    for (const Counterweight& weight : assembly.counterweights) kg += weight.mass_kg;
    return kg;
}

}  // namespace

std::vector<std::string> caution_words(const Assembly& assembly, UnitSystem units) {
    const Units told(units);
    const auto any = [&](auto&& is) { return std::any_of(assembly.items.begin(), assembly.items.end(), is); };
    const bool bird = any([](const Item& item) { return item.bird; });
    const bool poultry =
        bird || any([](const Item& item) { return item.body->body.meat == body::Meat::poultry; });
    const std::string safe = told.temperature(fahrenheit_to_k(165)) + (told.metric() ? " (165 °F)" : "");
    std::vector<std::string> words;
    words.emplace_back("A thermometer decides when it is done, never the clock.");
    if (poultry) words.back() += fmt::format(" Poultry and stuffing: {} in the coldest place (USDA).", safe);
    words.emplace_back("Rod, forks and weights come off hot enough to burn; point and tines are sharp.");
    words.emplace_back(
        "Stop the motor before you measure or push a fork in: gears and rod draw in fingers, sleeves and "
        "hair.");
    if (!assembly.counterweights.empty())
        words.emplace_back("A weight that comes loose flies off: stand aside when the motor starts.");
    if (turning_mass_kg(assembly) > two_lift_kg) words.emplace_back("Two people lift it.");
    words.emplace_back(
        bird ? "Take giblets, plastic clips and pop-up timers out. Keep string clear of the fire."
             : "Take plastic and nets that melt off. Keep string clear of the fire.");
    words.emplace_back(
        "Thaw in the refrigerator or in cold water, never on the counter (USDA). Wash hands, board and knife "
        "after raw meat.");
    const bool gas = assembly.cook && assembly.cook->fire.fuel == FuelKind::gas;
    words.emplace_back(gas ? "Gas: check hose and valve for leaks. Only outdoors: carbon monoxide kills "
                             "and has no smell."
                           : "A fire gives off carbon monoxide. It kills and has no smell: only outdoors.");
    words.emplace_back("Fat can catch fire: lid or extinguisher at hand, never water.");
    words.emplace_back("Mains motor outdoors: on a residual-current device, its lead dry.");
    words.emplace_back("Makers' manuals, local codes and licensed practice come first.");
    return words;
}

void put_cautions(Page& page, const Assembly& assembly, UnitSystem units) {
    page.heading("Take care");
    for (const std::string& words : caution_words(assembly, units)) page.marked("-", Ink::plain, words);
}

}  // namespace evenspit
