// SPDX-License-Identifier: MIT
#include <array>
#include <string>
#include <utility>

#include "app/viewer/panels/parts.h"
#include "report/chance_words.h"
#include "report/report.h"

namespace evenspit::viewer {
namespace {

void draw_verdict(Ui& ui, const Desk& desk) {
    const Analysis& now = desk.answers().analysis();
    const bool stale = desk.answers().stale();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(62);
    const Ink ink = ink_of(now.verdict);
    const double opacity = stale ? 0.45 : 1;
    list.AddRectFilled(at, {at.x + width, at.y + height}, colour_of(ink, 0.13 * opacity), ui.px(6));
    list.AddRectFilled(at, {at.x + ui.px(5), at.y + height}, colour_of(ink, opacity), ui.px(2));
    level_shape(list, {at.x + ui.px(28), at.y + height / 2}, ui.px(13), now.verdict, colour_of(ink, opacity));
    ui.letters(list, ui.large(), at.x + ui.px(52), at.y + ui.px(8), level_mark(now.verdict), ink, opacity);
    const std::string often = now.mounted                 ? chance_sentence(now.mounted->chance)
                              : desk.answers().mounting() ? "As drawn; how often it holds follows."
                                                          : std::string(verdict_sentence(now.verdict));
    // Where there is little room, smaller.
    const bool fits = ui.px(52) + ui.size_of(ui.regular(), often).x + ui.px(4) <= width;
    ui.letters(list, fits ? ui.regular() : ui.small(), at.x + ui.px(52), at.y + ui.px(36), often, Ink::plain,
               opacity);
    if (stale) {
        const std::string words = "working out …";
        const float w = ui.size_of(ui.small(), words).x;
        ui.letters(list, ui.small(), at.x + width - w - ui.px(8), at.y + ui.px(8), words, Ink::accent);
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
                                        colour_of(Ink::line), ui.px(1));
    if (!desk.has_answer()) {
        ui.say(desk.reading().empty() ? "No load on the table." : "");
        ImGui::End();
        return;
    }
    const Assembly& load = desk.session().assembly();
    ui.say(load.title, Ink::strong);
    const std::string file =
        desk.session().file().empty() ? "not saved yet" : desk.session().file().filename().string();
    ui.say_small(desk.session().unsaved() ? file + ", changed" : file);
    draw_verdict(ui, desk);
    constexpr std::array<std::pair<Tab, const char*>, 5> tabs = {{{Tab::findings, "Findings"},
                                                                  {Tab::places, "Places"},
                                                                  {Tab::figures, "Figures"},
                                                                  {Tab::plan, "Plan"},
                                                                  {Tab::roll, "Roll"}}};
    for (const auto& [tab, name] : tabs) {
        if (tab != tabs.front().first) ImGui::SameLine(0, ui.px(6));
        if (ui.toggle(name, desk.tab() == tab)) desk.wish(ShowTab{tab});
    }
    ImGui::BeginChild("tab", {0, 0}, false);
    switch (desk.tab()) {
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
    }
    ImGui::EndChild();
    if (!ui.trouble().empty()) desk.tell_trouble(ui.trouble());
    ImGui::End();
}

}  // namespace evenspit::viewer
