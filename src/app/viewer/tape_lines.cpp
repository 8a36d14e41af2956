// SPDX-License-Identifier: MIT
#include "app/viewer/tape_lines.h"

#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"
#include "report/reader_units.h"

namespace evenspit::viewer {

void draw_tape(Ui& ui, const Desk& desk, const Area& scene, LabelSheet& labels) {
    if (!desk.tape().on()) return;
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    std::vector<Vec3> places;
    std::vector<ImVec2> shown;
    for (const TapeEnd& end : desk.tape().ends()) {
        places.push_back(end.now(desk.turn().angle_rad));
        const Vec3 at = desk.camera().shown_at(places.back(), scene);
        shown.push_back(corner(at.x(), at.y()));
    }
    if (shown.size() == 2) list.AddLine(shown[0], shown[1], ui.colour(Ink::accent), ui.px(2));
    for (const ImVec2& at : shown) {
        list.AddCircleFilled(at, ui.px(4), ui.colour(Ink::paper), 20);
        list.AddCircle(at, ui.px(4), ui.colour(Ink::accent), 20, ui.px(2));
    }
    if (shown.size() < 2) return;
    const Units units(desk.settings().units);
    const Vec3 run = places[1] - places[0];
    const ImVec2 middle((shown[0].x + shown[1].x) / 2, (shown[0].y + shown[1].y) / 2);
    labels.add(
        middle, {0, ui.px(-18)},
        fmt::format("{}, {} of it along the rod", units.length(run.norm()), units.length(std::abs(run.x()))),
        Ink::accent, 0);
}

}  // namespace evenspit::viewer
