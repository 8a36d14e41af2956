// SPDX-License-Identifier: MIT
// What a flow of heat tells of its state.
#include <cmath>
#include <limits>

#include "roast/conduction.h"

namespace evenspit {

double Conduction::temperature_at_k(const Vec3& place) const {
    const std::optional<std::size_t> own = grid_->cell_at(place);
    if (!own) return std::numeric_limits<double>::quiet_NaN();
    const CellBox& box = grid_->box;
    const Vec3 at = (place - box.origin) / box.spacing_m - Vec3::Constant(0.5);
    const Vec3 low = at.array().floor();
    double sum = 0, weights = 0;
    for (int corner = 0; corner < 8; ++corner) {
        double weight = 1;
        std::array<std::int32_t, 3> cell{};
        for (int axis = 0; axis < 3; ++axis) {
            const bool upper = (corner >> axis) & 1;
            const double within = at[axis] - low[axis];
            weight *= upper ? within : 1 - within;
            cell[std::size_t(axis)] = static_cast<std::int32_t>(low[axis]) + (upper ? 1 : 0);
        }
        const std::size_t index = box.index(cell[0], cell[1], cell[2]);
        if (!grid_->carries(index)) continue;
        sum += weight * static_cast<double>(temperature_k_[index]);
        weights += weight;
    }
    return weights > 0.25 ? sum / weights : static_cast<double>(temperature_k_[*own]);
}

// Sums what each spot has over its patches, by area.
template <class OfSpot>
std::vector<double> Conduction::by_triangle(const OfSpot& of_spot) const {
    std::vector<double> sums(std::size_t(grid_->triangle_count), 0.0);
    for (const SurfacePatch& patch : grid_->patches) {
        const auto n = std::size_t(patch.spot);
        sums[std::size_t(patch.triangle)] +=
            of_spot(n) * static_cast<double>(patch.area_m2) / static_cast<double>(grid_->spots[n].area_m2);
    }
    return sums;
}

std::vector<double> Conduction::heat_j() const {
    return by_triangle([&](std::size_t n) { return spot_totals_[n].heat_j; });
}

std::vector<double> Conduction::water_kg() const {
    return by_triangle([&](std::size_t n) { return spot_totals_[n].water_kg; });
}

double Conduction::outside_k() const {
    double sum = 0, area = 0;
    for (std::size_t n = 0; n < spot_flux_.size(); ++n) {
        const SurfaceSpot& spot = grid_->spots[n];
        if (spot.enclosure >= 0) continue;
        sum += static_cast<double>(spot.area_m2) * static_cast<double>(spot_flux_[n].surface_k);
        area += static_cast<double>(spot.area_m2);
    }
    return sum / area;
}

std::vector<double> Conduction::surface_temperatures_k() const {
    const auto area = [&](std::size_t n) { return static_cast<double>(grid_->spots[n].area_m2); };
    std::vector<double> means =
        by_triangle([&](std::size_t n) { return area(n) * static_cast<double>(spot_flux_[n].surface_k); });
    const std::vector<double> areas = by_triangle(area);
    for (std::size_t t = 0; t < means.size(); ++t) {
        if (areas[t] > 0) means[t] /= areas[t];
    }
    return means;
}

}  // namespace evenspit
