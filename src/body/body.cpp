// SPDX-License-Identifier: MIT
#include "body/body.h"

#include <cstdint>
#include <optional>
#include <stdexcept>
#include <utility>

#include "units/parallel.h"

namespace evenspit::body {
namespace {

double parent_density(const Body& body, const Part& part) {
    return part.parent < 0 ? 0.0 : body.parts[static_cast<std::size_t>(part.parent)].density_kg_m3;
}

bool scales_with_weight(const Part& part) {
    return part.kind == PartKind::flesh || part.kind == PartKind::bone;
}

// The volume that each part fills itself: its own less what is nested directly in it.
std::vector<double> net_volumes(const Body& body) {
    std::vector<double> volumes(body.parts.size(), 0.0);
    for (std::size_t i = 0; i < body.parts.size(); ++i) {
        const double volume = volume_moments(body.parts[i].mesh).amount;
        volumes[i] += volume;
        if (const int parent = body.parts[i].parent; parent >= 0)
            volumes[static_cast<std::size_t>(parent)] -= volume;
    }
    return volumes;
}

// By triangle of a part, whether it is of the wall of an open cavity; empty where nothing is known of that.
std::vector<bool> cavity_wall(const Body& body, const Part& part) {
    std::vector<bool> wall;
    wall.reserve(part.regions.size());
    for (const std::uint8_t region : part.regions)
        wall.push_back(region < body.region_table.size() &&
                       body.region_table[region].kind == RegionKind::cavity_wall);
    return wall;
}

}  // namespace

Moments mass_moments(const Body& body) {
    Moments sum;
    for (const Part& part : body.parts) {
        const double density = part.density_kg_m3 - parent_density(body, part);
        if (density != 0) sum = sum + density * volume_moments(part.mesh);
    }
    for (const RegionFlesh& region : body.flesh_by_region) {
        sum = sum + (region.density_kg_m3 - body.parts.front().density_kg_m3) * region.volume;
    }
    return sum;
}

double matter_volume(const Body& body) {
    const std::vector<double> volumes = net_volumes(body);
    double sum = 0;
    for (std::size_t i = 0; i < body.parts.size(); ++i) {
        if (body.parts[i].kind != PartKind::cavity) sum += volumes[i];
    }
    return sum;
}

Body with_scale_weight(Body body, double mass_kg) {
    const std::vector<double> volumes = net_volumes(body);
    double scaled_kg = 0;
    double kept_kg = 0;
    for (std::size_t i = 0; i < body.parts.size(); ++i) {
        const double kg = body.parts[i].density_kg_m3 * volumes[i];
        (scales_with_weight(body.parts[i]) ? scaled_kg : kept_kg) += kg;
    }
    for (const RegionFlesh& region : body.flesh_by_region) {
        scaled_kg += (region.density_kg_m3 - body.parts.front().density_kg_m3) * region.volume.amount;
    }
    if (!(mass_kg > 0) || !(mass_kg > kept_kg)) {
        throw std::invalid_argument("the scale weight must be positive and more than the stuffing");
    }
    if (!(scaled_kg > 0))
        throw std::invalid_argument("the body has neither flesh nor bone to carry its weight");
    const double factor = (mass_kg - kept_kg) / scaled_kg;
    for (Part& part : body.parts) {
        if (scales_with_weight(part)) part.density_kg_m3 *= factor;
    }
    for (RegionFlesh& region : body.flesh_by_region) region.density_kg_m3 *= factor;
    body.mass_model = MassModel::scale_weight;
    return body;
}

std::shared_ptr<const PreparedBody> prepare(Body body) {
    auto prepared = std::make_shared<PreparedBody>();
    prepared->mass = mass_moments(body);
    prepared->volume_m3 = matter_volume(body);
    for (const Part& part : body.parts) prepared->bounds.extend(bounds(part.mesh));
    // The flesh, which takes longest, comes first.
    std::vector<std::optional<SolidQueries>> queries(body.parts.size());
    parallel_for(
        queries.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t p = first; p < last; ++p)
                queries[p].emplace(body.parts[p].mesh, cavity_wall(body, body.parts[p]));
        },
        1);
    prepared->queries.reserve(queries.size());
    for (std::optional<SolidQueries>& part : queries) prepared->queries.push_back(std::move(*part));
    prepared->body = std::move(body);
    return prepared;
}

}  // namespace evenspit::body
