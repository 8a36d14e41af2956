// SPDX-License-Identifier: MIT
#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "app/viewer/hands.h"
#include "app/viewer/panels/parts.h"
#include "report/reader_units.h"

namespace evenspit::viewer {
namespace {

void draw_seat(Ui& ui, Desk& desk, std::size_t index) {
    const Item& item = desk.session().assembly().items[index];
    const UnitSystem units = desk.settings().units;
    Seat seat = item.seat;
    bool changed = false;
    const auto take = [&changed](std::optional<double> typed, double& into) {
        if (!typed) return;
        into = *typed;
        changed = true;
    };
    take(ui.quantity("at", seat.at_m, Dimension::length, units), seat.at_m);
    take(ui.quantity("turn", seat.turn_rad, Dimension::angle, units), seat.turn_rad);
    const char* first_end = item.bird ? "vent" : "start";
    const char* last_end = item.bird ? "neck" : "end";
    take(ui.quantity(fmt::format("line, {} y", first_end), seat.line.from.x(), Dimension::length, units),
         seat.line.from.x());
    take(ui.quantity(fmt::format("line, {} z", first_end), seat.line.from.y(), Dimension::length, units),
         seat.line.from.y());
    take(ui.quantity(fmt::format("line, {} y", last_end), seat.line.to.x(), Dimension::length, units),
         seat.line.to.x());
    take(ui.quantity(fmt::format("line, {} z", last_end), seat.line.to.y(), Dimension::length, units),
         seat.line.to.y());
    if (ui.button(seat.facing == Facing::point ? "Faces the point" : "Faces the drive", true,
                  "Turn it end for end")) {
        seat.facing = seat.facing == Facing::point ? Facing::drive : Facing::point;
        changed = true;
    }
    if (changed) desk.wish(DoEdit{SetSeat{index, seat}, ""});
}

void draw_fork(Ui& ui, Desk& desk, std::size_t index) {
    const Fork& fork = desk.session().assembly().forks[index];
    const UnitSystem units = desk.settings().units;
    SetFork edit{index, fork.at_m, fork.points, fork.clock_rad};
    bool changed = false;
    if (const auto typed = ui.quantity("at", fork.at_m, Dimension::length, units)) {
        edit.at_m = *typed;
        changed = true;
    }
    if (const auto typed = ui.quantity("clock", fork.clock_rad, Dimension::angle, units)) {
        edit.clock_rad = *typed;
        changed = true;
    }
    if (ui.button(fork.points == Facing::point ? "Tines look to the point" : "Tines look to the drive", true,
                  "Turn the fork end for end")) {
        edit.points = fork.points == Facing::point ? Facing::drive : Facing::point;
        changed = true;
    }
    if (changed) desk.wish(DoEdit{edit, ""});
}

void draw_weight(Ui& ui, Desk& desk, std::size_t index) {
    Counterweight weight = desk.session().assembly().counterweights[index];
    const UnitSystem units = desk.settings().units;
    bool changed = false;
    const auto take = [&](const char* name, double& value, Dimension dimension) {
        if (const auto typed = ui.quantity(name, value, dimension, units)) {
            value = *typed;
            changed = true;
        }
    };
    take("at", weight.at_m, Dimension::length);
    take("mass", weight.mass_kg, Dimension::mass);
    take("radius", weight.radius_m, Dimension::length);
    take("clock", weight.clock_rad, Dimension::angle);
    take("diameter", weight.diameter_m, Dimension::length);
    if (changed) desk.wish(DoEdit{SetWeight{index, weight}, ""});
    if (ui.button("Take it away")) desk.wish(DoEdit{RemoveWeight{index}, ""});
}

/// What the picture shows, each thing to be hidden and shown.
void draw_shown(Ui& ui, Desk& desk) {
    const Assembly& load = desk.session().assembly();
    ui.heading("In the picture");
    bool first = true;
    const auto toggle = [&](const Thing& thing, const std::string& name) {
        const std::string id = fmt::format(
            "{}##shown{}", name, static_cast<int>(thing.kind) * 1000 + static_cast<int>(thing.index));
        if (!std::exchange(first, false)) ui.beside(name);
        if (ui.toggle(id, !desk.hidden().has(thing), "Hide it or show it (H hides what is chosen)"))
            desk.wish(ToggleThing{thing});
    };
    for (std::size_t i = 0; i < load.items.size(); ++i)
        toggle({Thing::Kind::item, i}, thing_name({Thing::Kind::item, i}, load));
    for (std::size_t f = 0; f < load.forks.size(); ++f)
        toggle({Thing::Kind::fork, f}, fork_name(load.forks, f));
    for (std::size_t c = 0; c < load.counterweights.size(); ++c)
        toggle({Thing::Kind::counterweight, c}, counterweight_name(c));
    toggle({Thing::Kind::rod}, "rod and motor");
    for (std::size_t s = 0; s < load.cooker.surfaces.size(); ++s)
        toggle({Thing::Kind::surface, s}, load.cooker.surfaces[s].name);
    const bool clear = desk.settings().through_skin;
    const double opacity = clear ? desk.settings().skin_opacity : 1;
    ui.say_small(clear ? fmt::format("Skin: {:.0f} % of it seen.", 100 * opacity)
                       : std::string("Skin: pull the knob to look through it."));
    if (const auto pulled = ui.slider("how clear the skin is", 1 - opacity, "", {},
                                      std::min(ui.px(220), ImGui::GetContentRegionAvail().x)))
        desk.wish(SetSkin{1 - *pulled});
    if (!desk.hidden().empty() && ui.button("Show everything", true, "(Shift H)")) desk.wish(ShowAllThings{});
}

void draw_chosen(Ui& ui, Desk& desk) {
    const Assembly& load = desk.session().assembly();
    const Thing& selected = desk.selected();
    if (!movable(selected)) {
        ui.say_small(
            "Choose something here or in the picture; then type its place with a unit, or drag its handles.");
        return;
    }
    ui.heading(thing_name(selected, load));
    ImGui::PushID(static_cast<int>(selected.kind) * 1000 + static_cast<int>(selected.index));
    if (selected.kind == Thing::Kind::item && selected.index < load.items.size())
        draw_seat(ui, desk, selected.index);
    if (selected.kind == Thing::Kind::fork && selected.index < load.forks.size())
        draw_fork(ui, desk, selected.index);
    if (selected.kind == Thing::Kind::counterweight && selected.index < load.counterweights.size())
        draw_weight(ui, desk, selected.index);
    ImGui::PopID();
    ui.say_small("Arrow keys: along and round. With Alt: the rod line. Shift: larger steps.");
}

}  // namespace

void draw_places(Ui& ui, Desk& desk) {
    const Assembly& load = desk.session().assembly();
    const UnitSystem units = desk.settings().units;
    const Stations station(units, load.rod.mark_m);
    const auto list = [&](Thing::Kind kind, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) {
            const Thing thing{kind, i};
            const Whereabouts where = whereabouts(load, thing);
            const std::string words = fmt::format("{}   at {}, {}", thing_name(thing, load),
                                                  station(where.at_m), clock_words(load, thing));
            if (ui.row(words + "##" + thing_name(thing, load), desk.selected() == thing))
                desk.wish(Select{thing});
        }
    };
    list(Thing::Kind::item, load.items.size());
    list(Thing::Kind::fork, load.forks.size());
    list(Thing::Kind::counterweight, load.counterweights.size());
    if (ui.button("Add a counterweight", !desk.answers().stale() && !desk.weighing().running(),
                  "One that answers the heavy side and clears everything; move it as you like"))
        desk.wish(AddFittingWeight{});
    draw_chosen(ui, desk);
    draw_shown(ui, desk);
}

}  // namespace evenspit::viewer
