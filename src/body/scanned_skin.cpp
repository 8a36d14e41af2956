// SPDX-License-Identifier: MIT
#include "body/scanned_skin.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

#include "body/bird_species.h"
#include "body/cavity_wall.h"
#include "body/tissues.h"
#include "geometry/moments.h"

namespace evenspit::body {

namespace {

const BirdSpecies* species_called(const std::string& name) {
    for (const BirdSpecies& species : bird_species_table()) {
        if (species.name == name) return &species;
    }
    return nullptr;
}

// Where a wall of a hollow is, what it encloses: empty and outside the flesh, so that it weighs nothing and
// takes nothing away. Without it the wall would pass for skin.
void put_hollow_behind_wall(Body& body) {
    std::vector<bool> wall;
    for (const std::uint8_t region : body.parts.front().regions)
        wall.push_back(body.region_table[region].kind == RegionKind::cavity_wall);
    if (std::optional<TriangleMesh> hollow = behind_wall(body.parts.front().mesh, wall))
        body.parts.push_back({.name = "cavity", .kind = PartKind::cavity, .mesh = std::move(*hollow)});
}

}  // namespace

ScannedSkin skin_of(MeshFile file) {
    ScannedSkin skin;
    skin.mesh = std::move(file.mesh);
    skin.bird = std::move(file.bird);
    const auto named = [&](std::int32_t region) {
        return region >= 0 && std::size_t(region) < file.region_names.size() &&
               !file.region_names[std::size_t(region)].empty();
    };
    if (file.regions.empty() || !std::all_of(file.regions.begin(), file.regions.end(), named)) return skin;
    skin.region_table = named_regions(file.region_names);
    for (const std::int32_t region : file.regions) skin.regions.push_back(static_cast<std::uint8_t>(region));
    return skin;
}

void add_hollow(ScannedSkin& skin, const TriangleMesh& hollow) {
    const auto at = static_cast<std::int32_t>(skin.mesh.vertices.size());
    // A bird may have such a region already.
    auto region = std::find_if(skin.region_table.begin(), skin.region_table.end(),
                               [](const Region& r) { return r.kind == RegionKind::cavity_wall; });
    if (region == skin.region_table.end())
        region = skin.region_table.insert(region, {std::string(cavity_wall_name), RegionKind::cavity_wall});
    const auto wall = static_cast<std::uint8_t>(region - skin.region_table.begin());
    skin.mesh.vertices.insert(skin.mesh.vertices.end(), hollow.vertices.begin(), hollow.vertices.end());
    for (const Triangle& t : hollow.triangles)
        skin.mesh.triangles.push_back({t[0] + at, t[2] + at, t[1] + at});
    skin.regions.resize(skin.mesh.triangles.size(), wall);
}

Body body_of(ScannedSkin skin, const SolidBodyOptions& options) {
    const BirdSpecies* const species = species_called(skin.bird);
    SolidBodyOptions without_mass = options;
    if (species != nullptr) {
        without_mass.mass_kg.reset();
        if (!options.density_kg_m3) without_mass.density_kg_m3 = natural_density(*species);
    }
    Body body = solid_body(std::move(skin.mesh), without_mass);
    if (!skin.regions.empty()) {
        body.region_table = std::move(skin.region_table);
        body.parts.front().regions = std::move(skin.regions);
        put_hollow_behind_wall(body);
    }
    body.hollow_known = species != nullptr || skin.bird == no_bird;
    if (species == nullptr) return body;
    body.remarks.clear();
    body.pointed_ends_known = true;
    body.meat = Meat::poultry;
    if (body.parts.size() > 1) {
        body.remarks.emplace_back(
            "The cavity is inferred, not scanned: it lies where the parametric bird has it.");
        // The hollow weighs nothing, so that what is off in the skin counts for more.
        const double matter = matter_volume(body), hollow = volume_moments(body.parts[1].mesh).amount;
        const double share = (matter + hollow) / matter;
        if (body.centre_covariance_m2) *body.centre_covariance_m2 *= share * share;
    }
    body.remarks.emplace_back("Flesh and bone are taken as one density throughout.");
    return options.mass_kg ? with_scale_weight(std::move(body), *options.mass_kg) : body;
}

double natural_density(const BirdSpecies& species) {
    constexpr std::array<double, 10> shares{0.36,  0.215, 0.02,  0.01,   0.078,
                                            0.078, 0.062, 0.062, 0.0575, 0.0575};
    const std::vector<RegionMatter> matter = species.matter();
    double mass = 0, volume = 0;
    for (std::size_t r = 0; r < std::min(shares.size(), matter.size()); ++r) {
        const RegionMatter& m = matter[r];
        const double fat = m.skin_and_fat > 0 ? m.skin_and_fat / m.skin_and_fat_density : 0;
        mass += shares[r];
        const double bone = 0.5 * m.bone / bone_density + 0.5 * m.bone / gristle_density;
        volume += shares[r] * (bone + fat + (1 - m.bone - m.skin_and_fat) / m.lean_density);
    }
    return mass / volume;
}

}  // namespace evenspit::body
