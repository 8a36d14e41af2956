// SPDX-License-Identifier: MIT
#include "app/viewer/axes_mark.h"

#include <algorithm>
#include <cmath>

namespace evenspit::viewer {
namespace {

constexpr double reach_pt = 26, end_radius_pt = 8, from_corner_pt = 44;

}  // namespace

std::array<AxisEnd, 6> axis_ends(const Camera& camera, const Area& scene, double scale) {
    std::array<AxisEnd, 6> ends = {{{StandardView::point_end, "x"},
                                    {StandardView::drive_end, ""},
                                    {StandardView::back, "y"},
                                    {StandardView::front, ""},
                                    {StandardView::above, "z"},
                                    {StandardView::below, ""}}};
    const Vec2 middle(scene.x + from_corner_pt * scale, scene.y + scene.height - from_corner_pt * scale);
    for (std::size_t i = 0; i < ends.size(); ++i) {
        Vec3 axis = Vec3::Zero();
        axis[static_cast<Eigen::Index>(i / 2)] = i % 2 == 0 ? 1 : -1;
        ends[i].at = middle + reach_pt * scale * Vec2(axis.dot(camera.right()), -axis.dot(camera.up()));
        ends[i].depth = axis.dot(camera.forward());
    }
    return ends;
}

std::optional<StandardView> axis_view_at(const Camera& camera, const Area& scene, double scale, double x,
                                         double y) {
    std::optional<StandardView> found;
    double depth = 0;
    for (const AxisEnd& end : axis_ends(camera, scene, scale)) {
        if ((end.at - Vec2(x, y)).norm() > end_radius_pt * scale || (found && end.depth >= depth)) continue;
        found = end.view;
        depth = end.depth;
    }
    return found;
}

void draw_axes(Ui& ui, const Camera& camera, const Area& scene) {
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    std::array<AxisEnd, 6> ends = axis_ends(camera, scene, ui.scale());
    const Vec2 middle = (ends[0].at + ends[1].at) / 2;
    std::sort(ends.begin(), ends.end(), [](const AxisEnd& a, const AxisEnd& b) { return a.depth > b.depth; });
    const auto screen = [](const Vec2& p) {
        return ImVec2(static_cast<float>(p.x()), static_cast<float>(p.y()));
    };
    ui.set_layer(Layer::scene);
    for (const AxisEnd& end : ends) {
        const bool named = *end.letter != '\0';
        const float radius = ui.px(named ? end_radius_pt : 4);
        if (named) list.AddLine(screen(middle), screen(end.at), ui.colour(Ink::accent), ui.px(2));
        list.AddCircleFilled(screen(end.at), radius, ui.colour(Ink::paper), 24);
        list.AddCircle(screen(end.at), radius, ui.colour(Ink::accent), 24, ui.px(1.5));
        ui.note(view_name(end.view), {end.at.x() - radius, end.at.y() - radius, 2.0 * radius, 2.0 * radius});
        if (!named) continue;
        const ImVec2 size = ui.size_of(ui.small(), end.letter);
        list.AddText(ui.small(), ui.small()->FontSize,
                     {screen(end.at).x - size.x / 2, screen(end.at).y - size.y / 2}, ui.colour(Ink::strong),
                     end.letter);
    }
    const double reach = (reach_pt + end_radius_pt) * ui.scale();
    ui.cover_in_scene({middle.x() - reach, middle.y() - reach, 2 * reach, 2 * reach});
    ui.set_layer(Layer::panels);
}

}  // namespace evenspit::viewer
