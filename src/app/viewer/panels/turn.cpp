// SPDX-License-Identifier: MIT
#include <numbers>
#include <string>

#include <fmt/format.h>

#include "analysis/balance.h"
#include "app/viewer/panels/parts.h"
#include "app/viewer/turn_play.h"
#include "report/reader_units.h"
#include "units/tell.h"

namespace evenspit::viewer {
namespace {

using std::numbers::pi;

}  // namespace

void draw_turn(Ui& ui, Desk& desk, const Layout& layout) {
    begin_area("turn", layout.turn, {ui.px(10), ui.px(5)}, ImGuiWindowFlags_NoScrollWithMouse);
    const bool ready = desk.has_answer();
    const TurnPlay& turn = desk.turn();
    const auto next = [&ui](double gap = 6) { ImGui::SameLine(0, ui.px(gap)); };
    if (ui.button(turn.playing ? "■ Stop turning" : "▶ Turn", ready,
                  "Turn with the motor's computed speed (Space)"))
        desk.wish(Play{!turn.playing});
    next();
    for (const double pace : {1.0, 4.0, 16.0}) {
        if (ui.toggle(fmt::format("{:.0f}×", pace), turn.pace == pace, pace == 1 ? "True speed" : "Faster"))
            desk.wish(SetPace{pace});
        next(4);
    }
    next(10);
    constexpr double step = 5 * pi / 180;
    if (ui.button("−5°", ready, "Back by hand (,)")) desk.wish(SetTurn{turn.angle_rad - step});
    next(4);
    if (ui.button("+5°", ready, "On by hand (.)")) desk.wish(SetTurn{turn.angle_rad + step});
    next(10);
    auto degrees = static_cast<float>(turn.angle_rad * 180 / pi);
    ImGui::SetNextItemWidth(ui.px(120));
    if (ImGui::SliderFloat("##angle", &degrees, 0, 359, "at %.0f°") && ready)
        desk.wish(SetTurn{static_cast<double>(degrees) * pi / 180});
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    ui.note("at " + clock_text(turn.angle_rad), {min.x, min.y, max.x - min.x, max.y - min.y}, true);
    if (ready) {
        next(12);
        const Balance& balance = desk.answers().analysis().balance;
        const Motor& motor = desk.session().assembly().motor;
        const double torque = motor_torque_at(balance, turn.angle_rad);
        const double speed = speed_at(balance, motor, turn.angle_rad);
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
        ui.letters(*ImGui::GetWindowDrawList(), ui.regular(), at.x, at.y + ui.px(4), words, ink);
    }
    ImGui::End();
}

}  // namespace evenspit::viewer
