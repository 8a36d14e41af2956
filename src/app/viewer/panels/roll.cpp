// SPDX-License-Identifier: MIT
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"
#include "report/reader_units.h"
#include "report/roll_report.h"
#include "units/dial.h"
#include "units/listed.h"

namespace evenspit::viewer {
namespace {

std::string face(double clock_rad) {
    return dial_and_clock_text(clock_rad, DialSteps::minutes);
}

std::string hung_words(const HungWeight& hung, const Units& units) {
    return fmt::format("{} hung {} from the rod's middle at {}", units.mass(hung.mass_kg),
                       units.length(hung.radius_m), face(hung.clock_rad));
}

void draw_tests(Ui& ui, const Assembly& load, const Units& units) {
    for (std::size_t i = 0; i < load.roll_tests.size(); ++i) {
        const RollTest& test = load.roll_tests[i];
        std::string words =
            test.down_rad ? fmt::format("{}  Came to rest with {} at the bottom", i + 1, face(*test.down_rad))
                          : fmt::format("{}  Stayed wherever it was put", i + 1);
        if (test.hung) words += fmt::format(", with {}", hung_words(*test.hung, units));
        ui.say_small(words + ".", Ink::plain);
        if (test.counts) continue;
        const std::string moved = moved_since(test, load);
        ui.say_small(fmt::format("It counts no more: {} was moved since. Roll the load again.",
                                 moved.empty() ? "something" : moved),
                     Ink::care);
    }
}

/// Whether that is the last test, and counts: twice it would tell more than was seen.
bool is_down(const Assembly& load, const RollTest& test) {
    if (load.roll_tests.empty()) return false;
    const RollTest& last = load.roll_tests.back();
    return last.counts && last.down_rad == test.down_rad && last.on == test.on && last.hung == test.hung;
}

void draw_hung(Ui& ui, RollDraft& draft, UnitSystem units) {
    if (ui.toggle("A weight was hung on", draft.hung,
                  "Where, so that the load stays wherever it is put: that tells how heavy the heavy side is"))
        draft.hung = !draft.hung;
    if (!draft.hung) return;
    const auto take = [&](const char* name, double& value, Dimension dimension) {
        if (const auto typed = ui.quantity(name, value, dimension, units)) value = *typed;
    };
    take("weight", draft.weight.mass_kg, Dimension::mass);
    take("its radius", draft.weight.radius_m, Dimension::length);
    take("its clock", draft.weight.clock_rad, Dimension::angle);
}

void draw_draft(Ui& ui, Desk& desk, RollDraft& draft) {
    const UnitSystem units = desk.settings().units;
    ui.heading("A roll test");
    ui.say_small(
        "Free the rod from the motor, lay it with all that is on it on two level supports, and let it roll.");
    if (ui.toggle("Came to rest", !draft.anywhere, "Its heavy side at the bottom")) draft.anywhere = false;
    ui.beside("Stays anywhere");
    if (ui.toggle("Stays anywhere", draft.anywhere, "It stays wherever it is put")) draft.anywhere = true;
    if (!draft.anywhere) {
        if (const auto typed =
                ui.quantity("at the bottom", draft.down_rad.value_or(0), Dimension::angle, units))
            draft.down_rad = typed;
        // It stays when it was done, so that what stands below does not move under the pointer.
        ui.say_small("Type the clock angle that was at the bottom.");
    }
    for (const auto& [word, on] : rolls_on_words()) {
        if (on != rolls_on_words().front().second) ui.beside("On " + word);
        if (ui.toggle("On " + word, draft.on == on)) draft.on = on;
    }
    draw_hung(ui, draft, units);
    RollTest test;
    if (!draft.anywhere) test.down_rad = draft.down_rad;
    test.on = draft.on;
    if (draft.hung) test.hung = draft.weight;
    const bool told = draft.anywhere || draft.down_rad;
    if (ui.button("Put it down", told && !is_down(desk.session().assembly(), test),
                  "The load is judged by it from then on; it can be undone"))
        desk.wish(DoEdit{AddRollTest{std::move(test)}, ""});
}

void draw_trim(Ui& ui, Desk& desk, const Units& units) {
    const Assembly& load = desk.session().assembly();
    ui.heading("Trim");
    if (desk.trimming().running()) {
        ui.say_small("seeking a counterweight …");
        draw_progress(ui, -1);
        if (ui.button("Cancel")) desk.wish(CancelTrim{});
        return;
    }
    if (ui.button("Trim", was_rolled(load),
                  "Sets the counterweight that the test asks for; it can be undone"))
        desk.wish(SeekTrim{});
    if (!was_rolled(load)) {
        ui.say_small("Put down a roll test first.");
        return;
    }
    const std::optional<Trim>& found = desk.trimming().found();
    if (!found || !desk.trimming().belongs_to(desk.session().revision())) return;
    for (const Counterweight& weight : found->added) {
        ui.say_small(
            fmt::format("Added: {} at {}, {} from the rod's middle, at {}.", units.weight(weight.mass_kg),
                        Stations(units.system(), load.rod.mark_m)(weight.at_m), units.length(weight.radius_m),
                        face(weight.clock_rad)),
            Ink::plain);
    }
    const std::vector<std::string> implied = implied_words(load, *found, units.system());
    if (!implied.empty()) ui.say_small(fmt::format("Most likely {}.", listed(implied, "or")), Ink::plain);
    if (found->to_hang) {
        ui.say_small(
            fmt::format("To weigh the heavy side, try {}: move it until the load stays wherever you "
                        "put it, and put that down too.",
                        hung_words(*found->to_hang, units)));
    }
}

}  // namespace

void draw_roll(Ui& ui, Desk& desk, RollDraft& draft) {
    const Units units(desk.settings().units);
    draw_tests(ui, desk.session().assembly(), units);
    draw_draft(ui, desk, draft);
    draw_trim(ui, desk, units);
}

}  // namespace evenspit::viewer
