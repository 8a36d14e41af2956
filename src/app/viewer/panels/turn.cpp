// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <numbers>
#include <string>

#include <fmt/format.h>

#include "analysis/balance.h"
#include "app/viewer/panels/parts.h"
#include "app/viewer/turn_play.h"
#include "report/reader_units.h"

namespace evenspit::viewer {
namespace {

using std::numbers::pi;

constexpr const char* turn_name = "▶ Turn";
constexpr const char* stop_name = "■ Stop";
constexpr std::array<double, 3> paces = {1, 4, 16};

void draw_paces(Ui& ui, Desk& desk) {
    for (const double pace : paces) {
        if (pace != paces.front()) ImGui::SameLine(0, ui.px(4));
        if (ui.toggle(fmt::format("{:.0f}×", pace), desk.turn().pace == pace,
                      pace == 1 ? "True speed" : "Faster"))
            desk.wish(SetPace{pace});
    }
}

void draw_by_hand(Ui& ui, Desk& desk, float slider) {
    const bool ready = desk.has_answer();
    const double turn = desk.turn().angle_rad;
    constexpr double step = 5 * pi / 180;
    if (ui.button("−5°", ready, "Back by hand (,)")) desk.wish(SetTurn{turn - step});
    ImGui::SameLine(0, ui.px(4));
    if (ui.button("+5°", ready, "On by hand (.)")) desk.wish(SetTurn{turn + step});
    ImGui::SameLine(0, ui.px(8));
    const auto pulled = ui.angle_slider(turn * 180 / pi, slider);
    if (pulled && ready) desk.wish(SetTurn{*pulled * pi / 180});
}

/// What the motor gives there, beside what came last.
void draw_torque(Ui& ui, const Desk& desk) {
    if (!desk.has_answer()) return;
    ImGui::SameLine(0, ui.px(12));
    const Balance& balance = desk.analysis().balance;
    const Motor& motor = desk.session().assembly().motor;
    const double torque = motor_torque_at(balance, desk.turn().angle_rad);
    const double speed = speed_at(balance, motor, desk.turn().angle_rad);
    const Units units(desk.settings().units);
    std::string words = fmt::format("{}, {}", units.torque(torque), units.speed(speed));
    Ink ink = Ink::plain;
    if (speed <= 0) {
        words = fmt::format("stalled: {}", words);
        ink = Ink::stop;
    } else if (torque < 0) {
        words += ", the load drives";
        ink = Ink::care;
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float room = ImGui::GetContentRegionAvail().x, high = ImGui::GetFrameHeight();
    // Where there is little room, smaller, and in two lines.
    ImFont* const font = ui.size_of(ui.regular(), words).x <= room ? ui.regular() : ui.small();
    const float lines = ui.size_of(font, ui.in_lines(font, words, room)).y;
    ui.paragraph(*ImGui::GetWindowDrawList(), font, {at.x, at.y + (high - lines) / 2}, room, words, ink);
}

}  // namespace

void draw_turn(Ui& ui, Desk& desk, const Layout& layout) {
    begin_area("turn", layout.turn, {ui.px(10), ui.px(5)}, ImGuiWindowFlags_NoScrollWithMouse);
    const bool playing = desk.turn().playing;
    if (ui.button(playing ? stop_name : turn_name, desk.has_answer(),
                  "Turn with the motor's computed speed (Space)", ui.room_for({turn_name, stop_name})))
        desk.wish(Play{!playing});
    ImGui::SameLine(0, ui.px(6));
    if (layout.turn_folded) {
        const float used = ImGui::GetItemRectMax().x - static_cast<float>(layout.turn.x) + ui.px(6) +
                           ui.room_for({"−5°"}) + ui.px(4) + ui.room_for({"+5°"}) + ui.px(8);
        const float left = static_cast<float>(layout.turn.width) - used - ui.px(10);
        draw_by_hand(ui, desk, std::clamp(left, ui.px(70), ui.px(160)));
        ImGui::SetCursorPos({ui.px(10), ui.px(5) + static_cast<float>(layout.turn.height) / 2});
        draw_paces(ui, desk);
    } else {
        draw_paces(ui, desk);
        ImGui::SameLine(0, ui.px(10));
        draw_by_hand(ui, desk, ui.px(120));
    }
    draw_torque(ui, desk);
    ImGui::End();
}

}  // namespace evenspit::viewer
