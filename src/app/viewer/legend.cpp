// SPDX-License-Identifier: MIT
#include "app/viewer/legend.h"

#include <algorithm>
#include <string>

#include "app/viewer/colour_map.h"
#include "report/reader_units.h"

namespace evenspit::viewer {
namespace {

constexpr double width_pt = 190, bar_pt = 10, margin_pt = 14, pad_pt = 8, row_pt = 17;

ImVec2 place(double x, double y) {
    return {static_cast<float>(x), static_cast<float>(y)};
}

}  // namespace

std::string field_figure(const Field& field, double si, UnitSystem units) {
    if (field.what == Colouring::heat) return Units::share(si);
    return field.what == Colouring::temperature ? Units(units).temperature(si)
                                                : Units(units).of(si, field.dimension);
}

void draw_legend(Ui& ui, const Field& field, const Area& scene, UnitSystem units) {
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    ui.set_layer(Layer::scene);
    const double width = ui.px(width_pt), pad = ui.px(pad_pt), bar = ui.px(bar_pt), row = ui.px(row_pt);
    const double left = scene.x + scene.width - width - pad - ui.px(margin_pt);
    const double bottom = scene.y + scene.height - ui.px(margin_pt);
    const double top = bottom - 2 * row - bar - 2 * pad;
    list.AddRectFilled(place(left - pad, top), place(left + width + pad, bottom), ui.colour(Ink::paper),
                       ui.px(3));
    ui.letters(list, ui.small(), left, top + pad * 0.6, field.name, Ink::plain);

    const double bar_top = top + pad + row;
    const auto& map = colour_map();
    for (std::size_t i = 0; i < map.size(); ++i) {
        const double from = left + width * static_cast<double>(i) / map_colours;
        const double to = left + width * static_cast<double>(i + 1) / map_colours;
        list.AddRectFilled(place(from, bar_top), place(to, bar_top + bar),
                           IM_COL32(map[i][0], map[i][1], map[i][2], 255));
    }
    const double below = bar_top + bar + ui.px(2);
    const std::string least = field_figure(field, field.from, units);
    const std::string most = field_figure(field, field.to, units);
    ui.letters(list, ui.small(), left, below, least, Ink::plain);
    ui.letters(list, ui.small(), left + width - ui.size_of(ui.small(), most).x, below, most, Ink::plain);
    ui.cover({left - pad, top, width + 2 * pad, bottom - top});
    ui.set_layer(Layer::panels);
}

}  // namespace evenspit::viewer
