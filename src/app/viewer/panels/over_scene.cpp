// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <string>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"

namespace evenspit::viewer {
namespace {

void draw_hints(Ui& ui, Desk& desk, const Layout& layout) {
    if (desk.settings().welcomed || !desk.has_answer()) return;
    const Area& scene = layout.scene;
    ImGui::SetNextWindowPos(corner(scene.x + ui.px(14), scene.y + scene.height - ui.px(14)), ImGuiCond_Always,
                            {0, 1});
    ImGui::SetNextWindowSize({std::min(ui.px(310), static_cast<float>(scene.width) - ui.px(28)), 0});
    begin_over_scene(ui, "hints");
    const std::array<const char*, 3> steps = {"Drop a scan or a load file on this window, or press Open.",
                                              "Click the roast, take a round handle at its end and shift the "
                                              "rod line until the heavy side is gone.",
                                              "Press Save. Your load file keeps its comments."};
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const bool done = desk.steps_done()[i];
        ui.say_small(fmt::format("{}  {}", done ? "✔" : std::to_string(i + 1), steps[i]),
                     done ? Ink::ready : Ink::plain);
    }
    if (ui.button("Got it")) desk.wish(PutHintsAway{});
    end_over_scene(ui);
}

void draw_notice(Ui& ui, Desk& desk, const Layout& layout) {
    if (!desk.notice()) return;
    const Notice& notice = *desk.notice();
    const Area& scene = layout.scene;
    ImGui::SetNextWindowPos(corner(scene.x + scene.width / 2, scene.y + ui.px(12)), ImGuiCond_Always,
                            {0.5F, 0});
    ImGui::SetNextWindowSize({std::min(ui.px(560), static_cast<float>(scene.width) - ui.px(40)), 0});
    begin_over_scene(ui, "notice");
    const bool trouble = notice.kind == Notice::Kind::trouble;
    if (notice.kind == Notice::Kind::refusal) ui.say("That is not possible:", Ink::care);
    ui.say(notice.text, trouble ? Ink::stop : Ink::plain);
    if (trouble && !desk.failed_file().empty()) {
        ui.say_small(
            fmt::format("{} is read again as soon as it is saved.", desk.failed_file().filename().string()));
        if (ui.button("Read it now")) desk.wish(DropFile{desk.failed_file()});
        ui.beside("Open another");
        if (ui.button("Open another")) desk.wish(ShowDialog{Dialog::open});
        ui.beside("Close");
    }
    if (notice.kind != Notice::Kind::word && ui.button("Close")) desk.wish(CloseNotice{});
    end_over_scene(ui);
}

void draw_reading(Ui& ui, Desk& desk, const Layout& layout) {
    if (desk.reading().empty()) return;
    const Area& scene = layout.scene;
    ImGui::SetNextWindowPos(corner(scene.x + scene.width / 2, scene.y + scene.height / 2), ImGuiCond_Always,
                            {0.5F, 0.5F});
    ImGui::SetNextWindowSize({std::min(ui.px(380), static_cast<float>(scene.width) - ui.px(28)), 0});
    begin_over_scene(ui, "reading");
    const auto [share, what] = desk.reading_progress();
    ui.say(desk.reading(), Ink::strong);
    ui.say_small(what.empty() ? "reading …" : what + " …");
    draw_progress(ui, share);
    if (ui.button("Cancel")) desk.wish(CancelReading{});
    end_over_scene(ui);
}

}  // namespace

void draw_over_scene(Ui& ui, Desk& desk, const Layout& layout) {
    draw_hints(ui, desk, layout);
    draw_notice(ui, desk, layout);
    draw_reading(ui, desk, layout);
}

}  // namespace evenspit::viewer
