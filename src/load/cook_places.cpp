// SPDX-License-Identifier: MIT
#include "load/cook_places.h"

#include <algorithm>

namespace evenspit {
namespace {

bool is_of(const body::Region& region, PlaceKind kind) {
    switch (kind) {
        case PlaceKind::breast:
            return region.kind == body::RegionKind::breast;
        case PlaceKind::thigh:
            return region.kind == body::RegionKind::leg && region.name.find("thigh") != std::string::npos;
        case PlaceKind::wing:
            return region.kind == body::RegionKind::wing;
        case PlaceKind::core:
        case PlaceKind::stuffing:
        case PlaceKind::probe:
            break;
    }
    return false;
}

}  // namespace

std::string_view place_name(PlaceKind kind) {
    switch (kind) {
        case PlaceKind::breast:
            return "breast";
        case PlaceKind::thigh:
            return "thigh";
        case PlaceKind::wing:
            return "wing";
        case PlaceKind::core:
            return "core";
        case PlaceKind::stuffing:
            return "stuffing";
        case PlaceKind::probe:
            break;
    }
    return "probe";
}

std::vector<bool> regions_of_place(const body::Body& body, PlaceKind kind) {
    std::vector<bool> of;
    for (const body::Region& region : body.region_table) of.push_back(is_of(region, kind));
    return of;
}

std::vector<PlaceKind> places_of(const Item& item) {
    const body::Body& body = item.body->body;
    std::vector<PlaceKind> places;
    for (const PlaceKind kind : {PlaceKind::breast, PlaceKind::thigh, PlaceKind::wing}) {
        const std::vector<bool> of = regions_of_place(body, kind);
        if (std::find(of.begin(), of.end(), true) != of.end()) places.push_back(kind);
    }
    const bool stuffed = std::any_of(body.parts.begin(), body.parts.end(), [](const body::Part& part) {
        return part.kind == body::PartKind::stuffing;
    });
    if (stuffed) places.push_back(PlaceKind::stuffing);
    places.push_back(PlaceKind::core);
    return places;
}

}  // namespace evenspit
