// SPDX-License-Identifier: MIT
#include "body/region.h"

#include <algorithm>
#include <array>
#include <utility>

namespace evenspit::body {
namespace {

constexpr std::array<std::pair<std::string_view, RegionKind>, 13> kinds{{
    {"breast", RegionKind::breast},
    {"back", RegionKind::back},
    {"neck", RegionKind::neck},
    {"tail", RegionKind::tail},
    {"thigh", RegionKind::leg},
    {"drumstick", RegionKind::leg},
    {"leg", RegionKind::leg},
    {"forelegs", RegionKind::leg},
    {"hind legs", RegionKind::leg},
    {"wing", RegionKind::wing},
    {cavity_wall_name, RegionKind::cavity_wall},
    {"cut face", RegionKind::cut_face},
    {"bone end", RegionKind::bone_end},
}};

std::string_view without_side(std::string_view name) {
    for (const std::string_view side : {"left ", "right "}) {
        if (name.starts_with(side)) return name.substr(side.size());
    }
    return name;
}

}  // namespace

RegionKind region_kind(std::string_view name) {
    const std::string_view part = without_side(name);
    const auto* const known =
        std::find_if(kinds.begin(), kinds.end(), [&](const auto& kind) { return kind.first == part; });
    return known == kinds.end() ? RegionKind::other : known->second;
}

std::vector<Region> named_regions(const std::vector<std::string>& names) {
    std::vector<Region> regions;
    regions.reserve(names.size());
    for (const std::string& name : names) regions.push_back({name, region_kind(name)});
    return regions;
}

std::vector<std::string> region_names(const std::vector<Region>& regions) {
    std::vector<std::string> names;
    names.reserve(regions.size());
    for (const Region& region : regions) names.push_back(region.name);
    return names;
}

std::vector<std::uint8_t> mirrored_regions(const std::vector<Region>& regions) {
    std::vector<std::uint8_t> mirrored;
    for (std::size_t i = 0; i < regions.size(); ++i) {
        const std::string_view name = regions[i].name, part = without_side(name);
        const auto other = std::find_if(regions.begin(), regions.end(), [&](const Region& region) {
            return part != name && region.name != name && region.name != part &&
                   without_side(region.name) == part;
        });
        mirrored.push_back(
            static_cast<std::uint8_t>(other == regions.end() ? i : std::size_t(other - regions.begin())));
    }
    return mirrored;
}

}  // namespace evenspit::body
