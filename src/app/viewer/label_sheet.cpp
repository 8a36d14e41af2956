// SPDX-License-Identifier: MIT
#include "app/viewer/label_sheet.h"

#include <algorithm>
#include <utility>

namespace evenspit::viewer {
namespace {

constexpr double pad_side_pt = 4, pad_top_pt = 2, scene_margin_pt = 4;

ImVec2 on_screen(double x, double y) {
    return {static_cast<float>(x), static_cast<float>(y)};
}

}  // namespace

void LabelSheet::add(ImVec2 place, ImVec2 off, std::string text, Ink ink, int rank, bool needed) {
    const ImVec2 size = ui_.size_of(ui_.small(), text);
    labels_.push_back({{{place.x, place.y},
                        {place.x + off.x, place.y + off.y},
                        {size.x + 2 * ui_.px(pad_side_pt), size.y + 2 * ui_.px(pad_top_pt)},
                        needed},
                       std::move(text),
                       ink,
                       rank});
}

void LabelSheet::draw(bool faint) {
    std::stable_sort(labels_.begin(), labels_.end(),
                     [](const Worded& a, const Worded& b) { return a.rank < b.rank; });
    std::vector<LabelWish> wishes;
    for (const Worded& label : labels_) wishes.push_back(label.wish);
    const double margin = ui_.px(scene_margin_pt);
    const Area within{scene_.x + margin, scene_.y + margin, scene_.width - 2 * margin,
                      scene_.height - 2 * margin};
    const auto places = placed_labels(wishes, within, taken_);
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (!places[i]) continue;
        const Vec2 from = wishes[i].place, end = nearest_of(*places[i], from);
        if ((end - from).norm() > ui_.px(5))
            list_.AddLine(on_screen(from.x(), from.y()), on_screen(end.x(), end.y()),
                          ui_.colour(labels_[i].ink), ui_.px(1));
    }
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (!places[i]) continue;
        const Area& area = *places[i];
        list_.AddRectFilled(on_screen(area.x, area.y), on_screen(area.x + area.width, area.y + area.height),
                            ui_.colour(Ink::paper), ui_.px(3));
        ui_.letters(list_, ui_.small(), area.x + ui_.px(pad_side_pt), area.y + ui_.px(pad_top_pt),
                    labels_[i].text, faint ? Ink::faint : labels_[i].ink);
    }
}

}  // namespace evenspit::viewer
