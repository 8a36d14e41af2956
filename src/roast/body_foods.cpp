// SPDX-License-Identifier: MIT
#include "roast/body_foods.h"

#include <algorithm>
#include <cstddef>
#include <string_view>

#include "body/bird_species.h"
#include "roast/flesh_laws.h"

namespace evenspit {
namespace {

constexpr double room_c = 20;

const body::BirdSpecies* species_of(const body::Body& body) {
    const auto named = [](std::string_view name) {
        const auto& table = body::bird_species_table();
        const auto found = std::find_if(table.begin(), table.end(), [&](const body::BirdSpecies& species) {
            return species.name == name;
        });
        return found == table.end() ? nullptr : &*found;
    };
    if (const body::BirdSpecies* own = named(body.shape)) return own;
    return counts_as_poultry(body.meat) ? named("turkey") : nullptr;
}

body::Composition flesh_of(const body::Body& body, TissueKind kind, int region) {
    if (const body::BirdSpecies* species = species_of(body)) {
        if (kind == TissueKind::skin) return species->parts.skin;
        if (region < 0) return body::raw_food("05165").composition;
        const body::RegionKind part = body.region_table[std::size_t(region)].kind;
        const bool light = part == body::RegionKind::breast || part == body::RegionKind::wing;
        return light ? species->parts.light : species->parts.dark;
    }
    switch (body.meat) {
        case body::Meat::beef:
            return body::raw_food("13827").composition;
        case body::Meat::lamb:
            return body::raw_food("17011").composition;
        default:
            return body::raw_food("10070").composition;
    }
}

}  // namespace

body::Composition food_of(const body::Body& body, TissueKind kind, int region) {
    if (kind == TissueKind::bone) return wet_bone;
    if (kind == TissueKind::stuffing) return bread_stuffing;
    return flesh_of(body, kind, region);
}

std::vector<double> skin_volumes_m3(const body::Body& body) {
    std::vector<double> volume(body.region_table.size(), 0.0);
    for (std::size_t r = 0; r < volume.size(); ++r) {
        for (const body::PartShare& share : body.shares) {
            if (share.region.name != body.region_table[r].name) continue;
            const body::Composition food = food_of(body, TissueKind::skin, static_cast<int>(r));
            volume[r] = share.tissues.skin_and_fat_kg / body::composition_density(food, room_c);
        }
    }
    return volume;
}

std::vector<ThermalTable> thermal_tables(const body::Body& body, const HeatGrid& grid) {
    std::vector<ThermalTable> tables;
    tables.reserve(grid.tissues.size());
    for (const Tissue& tissue : grid.tissues) {
        FoodMatter matter{food_of(body, tissue.kind, tissue.region), tissue.density_kg_m3};
        if (tissue.kind == TissueKind::stuffing) {
            const bool is_meat = body.parts[std::size_t(tissue.part)].name == "giblets";
            if (is_meat) matter.composition = flesh_of(body, TissueKind::lean, -1);
            const double solid = body::composition_density(matter.composition, room_c);
            matter.air = std::clamp(1 - matter.density_kg_m3 / solid, 0.0, 0.9);
        }
        if (tissue.kind == TissueKind::lean || tissue.kind == TissueKind::skin)
            matter.boils = water_held(boiling_from_k);
        tables.push_back(thermal_table(matter));
    }
    return tables;
}

}  // namespace evenspit
