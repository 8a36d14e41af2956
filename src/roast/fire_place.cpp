// SPDX-License-Identifier: MIT
#include "roast/fire_place.h"

#include <algorithm>
#include <limits>
#include <utility>
#include <variant>

namespace evenspit {

Cooker with_coals_at(Cooker cooker, CoalPlace place) {
    if (place == CoalPlace::as_drawn) return cooker;
    Box3 room;
    double depth = std::numeric_limits<double>::infinity();
    const auto is_bank = [](const CookerSurface& surface) {
        return surface.fire && std::holds_alternative<BoxShape>(surface.shape);
    };
    for (const CookerSurface& surface : cooker.surfaces) {
        if (!is_bank(surface)) continue;
        const BoxShape& box = std::get<BoxShape>(surface.shape);
        room.extend(Box3(box.min, box.max));
        depth = std::min(depth, box.max.z() - box.min.z());
    }
    if (room.isEmpty()) return cooker;
    const auto between = [&](double from, double to) {
        BoxShape bank{room.min(), room.max()};
        bank.min.y() = room.min().y() + from * room.sizes().y();
        bank.max.y() = room.min().y() + to * room.sizes().y();
        bank.max.z() = bank.min.z() + depth;
        return bank;
    };
    const auto first = std::find_if(cooker.surfaces.begin(), cooker.surfaces.end(), is_bank);
    CookerSurface bank = *first;
    cooker.surfaces.erase(std::remove_if(first + 1, cooker.surfaces.end(), is_bank), cooker.surfaces.end());
    CookerSurface& laid = *std::find_if(cooker.surfaces.begin(), cooker.surfaces.end(), is_bank);
    switch (place) {
        case CoalPlace::as_drawn:
            break;
        case CoalPlace::under:
            laid.shape = between(0.25, 0.75);
            break;
        case CoalPlace::back:
            laid.shape = between(0.75, 1);
            break;
        case CoalPlace::front:
            laid.shape = between(0, 0.25);
            break;
        case CoalPlace::both_sides:
            laid.shape = between(0, 0.25);
            bank.shape = between(0.75, 1);
            bank.name += ", second bank";
            cooker.surfaces.push_back(std::move(bank));
            break;
    }
    return cooker;
}

}  // namespace evenspit
