// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"
#include "report/chance_words.h"
#include "report/reader_units.h"
#include "report/report.h"

namespace evenspit::viewer {
namespace {

void draw_hints(Ui& ui, Desk& desk, const Layout& layout) {
    if (desk.settings().welcomed || !desk.has_answer()) return;
    const Area& scene = layout.scene;
    ImGui::SetNextWindowPos(corner(scene.x + ui.px(14), scene.y + scene.height - ui.px(14)), ImGuiCond_Always,
                            {0, 1});
    ImGui::SetNextWindowSize({std::min(ui.px(310), static_cast<float>(scene.width) - ui.px(28)), 0});
    begin_over_scene(ui, "hints");
    const std::array<const char*, 3> steps = {
        "Press New to make a load, or drop a scan or a load file on this window.",
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
    ImGui::SetNextWindowPos(corner(scene.x + scene.width / 2, scene.y + ui.px(desk.cloud().on() ? 132 : 12)),
                            ImGuiCond_Always, {0.5F, 0});
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

/// Work that goes on beside, with how far it is and a button that stops it.
struct Beside {
    std::string what;
    double share = -1;
    Wish stop;
};

std::vector<Beside> beside_of(const Desk& desk) {
    std::vector<Beside> all;
    if (desk.carding().running()) {
        const auto [share, what] = desk.carding().progress();
        all.push_back({what.empty() ? "The card" : "The card: " + what, share, CancelCard{}});
    }
    if (desk.film()) {
        const auto [done, of] = *desk.film();
        all.push_back(
            {fmt::format("The film: {} of {} pictures", done, of), double(done) / of, CancelFilm{}});
    }
    if (desk.weighing().running()) all.push_back({"Seeking a counterweight", -1, CancelWeight{}});
    return all;
}

void draw_beside(Ui& ui, Desk& desk, const Layout& layout) {
    const std::vector<Beside> all = beside_of(desk);
    if (all.empty()) return;
    const Area& scene = layout.scene;
    ImGui::SetNextWindowPos(corner(scene.x + scene.width / 2, scene.y + scene.height / 2), ImGuiCond_Always,
                            {0.5F, 0.5F});
    ImGui::SetNextWindowSize({std::min(ui.px(320), static_cast<float>(scene.width) - ui.px(28)), 0});
    begin_over_scene(ui, "beside");
    int number = 0;
    for (const Beside& work : all) {
        ui.say_small(work.what + " …", Ink::plain);
        draw_progress(ui, work.share);
        if (ui.button(fmt::format("Stop it##{}", number++))) desk.wish(work.stop);
    }
    end_over_scene(ui);
}

/// The cloud of mountings: how many are ready, which is looked at, and how far off the rod is in it.
void draw_cloud(Ui& ui, Desk& desk, const Layout& layout) {
    if (!desk.cloud().on() || !desk.has_answer()) return;
    const Area& scene = layout.scene;
    ImGui::SetNextWindowPos(corner(scene.x + ui.px(12), scene.y + ui.px(12)));
    ImGui::SetNextWindowSize({std::min(ui.px(300), static_cast<float>(scene.width) - ui.px(24)), 0});
    begin_over_scene(ui, "mountings");
    const Analysis& now = desk.analysis();
    if (now.mounted) {
        ui.say_small(chance_sentence(now.mounted->chance), Ink::strong);
    } else {
        ui.say_small("How often it is ready follows.", Ink::strong);
    }
    if (desk.cloud().found()) {
        const std::size_t at = desk.cloud().at();
        const scene::DrawnMounting& mounting = (*desk.cloud().found())[at];
        double off_m = 0;
        for (const scene::RodRun& run : mounting.rods) off_m = std::max(off_m, run.off_m);
        ui.say_small(fmt::format("{} of {}, {}: the rod up to {} off", at + 1, desk.cloud().found()->size(),
                                 level_mark(mounting.verdict), Units(desk.settings().units).length(off_m)),
                     Ink::plain);
        if (ui.button(desk.cloud().playing() ? "Pause" : "Play", true, "One mounting after the other",
                      ui.room_for({"Pause", "Play"})))
            desk.wish(PlayCloud{!desk.cloud().playing()});
        ui.beside("Put away");
    }
    if (ui.button("Put away", true, "No mountings (M)")) desk.wish(ToggleCloud{});
    // Where the scene is small, what it shows is worth more than words.
    if (scene.width >= ui.px(600))
        ui.say_small("Lines: where the rod may lie. Solid: ready; dashes: care or stop.");
    end_over_scene(ui);
}

}  // namespace

void draw_over_scene(Ui& ui, Desk& desk, const Layout& layout, const PanelState& state) {
    draw_hints(ui, desk, layout);
    draw_notice(ui, desk, layout);
    draw_reading(ui, desk, layout);
    if (!state.large_chart) draw_cloud(ui, desk, layout);
    draw_beside(ui, desk, layout);
}

}  // namespace evenspit::viewer
