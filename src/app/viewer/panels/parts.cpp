// SPDX-License-Identifier: MIT
#include "app/viewer/panels/parts.h"

#include <algorithm>
#include <cmath>

namespace evenspit::viewer {

ImVec2 corner(double x, double y) {
    return {static_cast<float>(x), static_cast<float>(y)};
}

void begin_area(const char* name, const Area& area, ImVec2 padding, ImGuiWindowFlags more) {
    ImGui::SetNextWindowPos(corner(area.x, area.y));
    ImGui::SetNextWindowSize(corner(area.width, area.height));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, padding);
    ImGui::Begin(name, nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoNav | more);
    ImGui::PopStyleVar();
}

void begin_over_scene(Ui& ui, const char* name) {
    ui.set_layer(Layer::over_scene);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, ui.px(6));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, ui.px(1));
    ImGui::Begin(name, nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoNav |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoFocusOnAppearing);
    ImGui::PopStyleVar(2);
}

void level_shape(ImDrawList& list, ImVec2 centre, float radius, Level level, ImU32 fill) {
    switch (level) {
        case Level::ready:
            list.AddCircleFilled(centre, radius, fill, 32);
            break;
        case Level::care:
            list.AddTriangleFilled({centre.x, centre.y - radius},
                                   {centre.x + radius, centre.y + 0.8F * radius},
                                   {centre.x - radius, centre.y + 0.8F * radius}, fill);
            break;
        case Level::stop:
            list.AddNgonFilled(centre, radius, fill, 8);
            break;
    }
}

void draw_progress(Ui& ui, double share) {
    constexpr float piece = 0.25F;
    const float width = ImGui::GetContentRegionAvail().x;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const auto known = static_cast<float>(std::clamp(share, 0.0, 1.0));
    const auto swing = static_cast<float>(0.5 - 0.5 * std::cos(2 * ImGui::GetTime()));
    const float from = share >= 0 ? 0 : swing * (1 - piece), to = share >= 0 ? known : from + piece;
    list.AddRectFilled(at, {at.x + width, at.y + ui.px(6)}, ui.colour(Ink::veil), ui.px(3));
    list.AddRectFilled({at.x + from * width, at.y}, {at.x + to * width, at.y + ui.px(6)},
                       ui.colour(Ink::accent), ui.px(3));
    ImGui::Dummy({width, ui.px(10)});
}

void end_over_scene(Ui& ui) {
    const ImVec2 at = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
    ui.cover({at.x, at.y, size.x, size.y});
    ImGui::End();
    ui.set_layer(Layer::panels);
}

}  // namespace evenspit::viewer
