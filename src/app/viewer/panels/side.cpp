// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "app/viewer/panels/charts.h"
#include "app/viewer/panels/parts.h"
#include "report/chance_words.h"
#include "report/reader_units.h"
#include "report/report.h"

namespace evenspit::viewer {
namespace {

void draw_verdict(Ui& ui, const Desk& desk) {
    const Analysis& now = desk.analysis();
    const bool stale = desk.stale();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const Ink ink = ink_of(now.verdict);
    const double opacity = stale ? 0.45 : 1;
    const std::string often = desk.moment() != nullptr    ? fmt::format("After {} of the cook, as drawn.",
                                                                        Units::minutes(desk.moment()->time_s))
                              : now.mounted               ? chance_sentence(now.verdict, now.mounted->chance)
                              : desk.answers().mounting() ? "As drawn; how often it holds follows."
                                                          : std::string(verdict_sentence(now.verdict));
    // Where there is little room, smaller, and in two lines.
    const float room = width - ui.px(52 + 4);
    ImFont* const font = ui.size_of(ui.regular(), often).x <= room ? ui.regular() : ui.small();
    const float lines = ui.size_of(font, ui.in_lines(font, often, room)).y;
    const float height = std::max(ui.px(62), ui.px(36 + 8) + lines);
    list.AddRectFilled(at, {at.x + width, at.y + height}, ui.colour(ink, 0.10 * opacity), ui.px(6));
    list.AddRectFilled(at, {at.x + ui.px(5), at.y + height}, ui.colour(ink, opacity), ui.px(2));
    level_shape(list, {at.x + ui.px(28), at.y + height / 2}, ui.px(13), now.verdict, ui.colour(ink, opacity));
    ui.letters(list, ui.large(), at.x + ui.px(52), at.y + ui.px(8), level_mark(now.verdict),
               stale ? Ink::faint : ink);
    ui.paragraph(list, font, {at.x + ui.px(52), at.y + ui.px(36)}, room, often,
                 stale ? Ink::faint : Ink::plain);
    if (stale) {
        const std::string words = "working out …";
        const float w = ui.size_of(ui.small(), words).x;
        ui.letters(list, ui.small(), at.x + width - w - ui.px(8), at.y + ui.px(12), words, Ink::accent);
    }
    ImGui::Dummy({width, height});
    if (!desk.answers().failure().empty())
        ui.say("Cannot be worked out: " + desk.answers().failure(), Ink::stop);
}

}  // namespace

void draw_side(Ui& ui, Desk& desk, const Layout& layout, PanelState& state) {
    begin_area("side", layout.side, {ui.px(14), ui.px(10)}, ImGuiWindowFlags_NoScrollWithMouse);
    const Area& area = layout.side;
    ImGui::GetWindowDrawList()->AddLine(corner(area.x, area.y), corner(area.x, area.y + area.height),
                                        ui.colour(Ink::line), ui.px(1));
    if (!desk.has_answer()) {
        if (desk.reading().empty()) {
            ui.say("No load on the table.");
            if (ui.button("Open##way_on")) desk.wish(ShowDialog{Dialog::open});
            ui.beside("The demo load");
            if (ui.button("The demo load")) desk.wish(OpenDemo{});
        }
        ImGui::End();
        return;
    }
    const Assembly& load = desk.session().assembly();
    ui.say(load.title, Ink::strong);
    const std::string file = desk.session().file().filename().string();
    ui.say_small(file.empty() ? "not saved yet" : desk.session().unsaved() ? file + ", changed" : file);
    draw_verdict(ui, desk);
    if (desk.moment() != nullptr && desk.tab() != Tab::cook) {
        if (ui.button("Back to the load as written")) desk.wish(ShowMoment{});
    }
    constexpr std::array<std::pair<Tab, const char*>, 7> tabs = {{{Tab::findings, "Findings"},
                                                                  {Tab::places, "Places"},
                                                                  {Tab::figures, "Figures"},
                                                                  {Tab::plan, "Plan"},
                                                                  {Tab::roll, "Roll"},
                                                                  {Tab::cook, "Cook"},
                                                                  {Tab::charts, "Charts"}}};
    const bool charts_here = layout.chart_place == ChartPlace::tab;
    const Tab shown = desk.tab() == Tab::charts && !charts_here ? Tab::findings : desk.tab();
    for (const auto& [tab, name] : tabs) {
        if (tab == Tab::charts && !charts_here) continue;
        if (tab != tabs.front().first) ui.beside(name);
        if (ui.toggle(name, shown == tab)) desk.wish(ShowTab{tab});
    }
    ImGui::BeginChild("tab", {0, 0}, false);
    switch (shown) {
        case Tab::findings:
            draw_findings(ui, desk);
            break;
        case Tab::places:
            draw_places(ui, desk);
            break;
        case Tab::figures:
            draw_figures(ui, desk);
            break;
        case Tab::plan:
            draw_plan(ui, desk);
            break;
        case Tab::roll:
            draw_roll(ui, desk, state.roll);
            break;
        case Tab::cook:
            draw_cook(ui, desk);
            break;
        case Tab::charts:
            draw_chart_column(ui, desk, state);
            break;
    }
    ImGui::EndChild();
    if (!ui.trouble().empty()) desk.tell_trouble(ui.trouble());
    ImGui::End();
}

}  // namespace evenspit::viewer
