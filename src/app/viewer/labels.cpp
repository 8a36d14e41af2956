// SPDX-License-Identifier: MIT
#include "app/viewer/labels.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenspit::viewer {
namespace {

constexpr int rings = 28, directions = 16;
constexpr double ring_step = 0.5;  // of a label's height

bool holds(const Area& outer, const Area& inner) {
    return inner.x >= outer.x && inner.y >= outer.y && inner.x + inner.width <= outer.x + outer.width &&
           inner.y + inner.height <= outer.y + outer.height;
}

bool is_free(const Area& area, const std::vector<Area>& of) {
    return std::none_of(of.begin(), of.end(), [&](const Area& other) { return overlap(area, other); });
}

/// The area of that size round a middle, moved into another.
Area moved_into(const Area& within, const Vec2& middle, const Vec2& size) {
    const double x = std::clamp(middle.x() - size.x() / 2, within.x,
                                std::max(within.x, within.x + within.width - size.x()));
    const double y = std::clamp(middle.y() - size.y() / 2, within.y,
                                std::max(within.y, within.y + within.height - size.y()));
    return {x, y, size.x(), size.y()};
}

std::optional<Area> nearest_free(const LabelWish& wish, const Area& within, const std::vector<Area>& words,
                                 const std::vector<Area>& taken) {
    for (int ring = 0; ring < rings; ++ring) {
        for (int i = 0; i < (ring == 0 ? 1 : directions); ++i) {
            // Below and above before aside: words are wider than high.
            constexpr double half_turn = std::numbers::pi;
            const double angle =
                half_turn / 2 + (i % 2 == 0 ? 1 : -1) * half_turn * ((i + 1) / 2) * 2 / directions;
            const double far = ring * ring_step * wish.size.y();
            const Vec2 middle = wish.middle + far * Vec2(1.6 * std::cos(angle), std::sin(angle));
            const Area area = moved_into(within, middle, wish.size);
            if (holds(within, area) && is_free(area, words) && is_free(area, taken)) return area;
        }
    }
    return std::nullopt;
}

}  // namespace

bool overlap(const Area& a, const Area& b) {
    return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

Vec2 nearest_of(const Area& label, const Vec2& place) {
    return {std::clamp(place.x(), label.x, label.x + label.width),
            std::clamp(place.y(), label.y, label.y + label.height)};
}

std::vector<std::optional<Area>> placed_labels(const std::vector<LabelWish>& wishes, const Area& within,
                                               const std::vector<Area>& taken) {
    std::vector<std::optional<Area>> result;
    std::vector<Area> words;
    for (const LabelWish& wish : wishes) {
        std::optional<Area> area = nearest_free(wish, within, words, taken);
        if (!area && wish.needed) area = nearest_free(wish, within, words, {});
        if (area) words.push_back(*area);
        result.push_back(area);
    }
    return result;
}

}  // namespace evenspit::viewer
