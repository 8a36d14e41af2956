// SPDX-License-Identifier: MIT
#include "roast/item_roast.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "roast/body_foods.h"
#include "roast/cell_depths.h"

namespace evenspit {
namespace {

constexpr double thaws_k = 273.15;
/// What a step may be off. It counts by volume: the cells that change fastest, under a surface whose fire has
/// just changed or that dries, may be off by more, and what lies deep hardly feels it. Measured at 4 mm
/// against steps that are 50 times as exact: a turkey comes off within 15 s of 3 h 13 min, its peaks are
/// right to 0.02 K and its weight to 0.04 %.
constexpr double off_by_volume_k = 0.5, off_in_a_cell_k = 20, surface_change_k = 40;

bool is_flesh(TissueKind kind) {
    return kind == TissueKind::lean;
}

std::vector<ThermalTable> tables_of(const Item& item, const HeatGrid& grid, const RoastOptions& options) {
    std::vector<ThermalTable> tables = thermal_tables(item.body->body, grid);
    for (std::size_t n = 0; n < tables.size(); ++n) {
        const Tissue& tissue = grid.tissues[n];
        const bool soft = tissue.kind == TissueKind::lean || tissue.kind == TissueKind::skin;
        if (soft && (item.conductivity_w_m_k || item.specific_heat_j_kg_k)) {
            constexpr double usual_w_mk = 0.5, usual_j_kgk = 3500;  // of raw meat, common practice
            tables[n] =
                constant_matter(item.conductivity_w_m_k.value_or(usual_w_mk),
                                item.specific_heat_j_kg_k.value_or(usual_j_kgk) * tissue.density_kg_m3);
        }
        if (options.conductivity != 1 || options.heat_capacity != 1)
            tables[n] = tables[n].scaled(options.conductivity, options.heat_capacity);
    }
    return tables;
}

}  // namespace

ConductionOptions cooking_steps() {
    return {.tolerance_k = off_in_a_cell_k,
            .mean_tolerance_k = off_by_volume_k,
            .surface_change_k = surface_change_k};
}

ItemRoast::ItemRoast(const Item& item, std::size_t index, std::span<const RoastPlace> places, double start_k,
                     const RoastOptions& options)
    : item_(item),
      index_(index),
      options_(options),
      grid_(std::make_shared<HeatGrid>(heat_grid(*item.body, {.spacing_m = options.spacing_m}))),
      heat_(std::make_unique<Conduction>(grid_, tables_of(item, *grid_, options), start_k, cooking_steps())),
      change_(std::make_unique<FleshChange>(item, grid_)) {
    const std::vector<float> depths_m = cell_depths_m(*grid_);
    for (const RoastPlace& place : places) {
        if (place.item == index) watched_.push_back(watched(place, depths_m));
    }
    area_m2_.assign(std::size_t(grid_->triangle_count), 0.0);
    is_outside_.assign(std::size_t(grid_->triangle_count), true);
    for (const SurfacePatch& patch : grid_->patches) {
        const auto t = std::size_t(patch.triangle);
        area_m2_[t] += static_cast<double>(patch.area_m2);
        if (grid_->spots[std::size_t(patch.spot)].enclosure >= 0) is_outside_[t] = false;
    }
    dried_kg_ = heat_->water_kg();
    change_->settle(dried_kg_);
    note_peaks();
}

ItemRoast::Watched ItemRoast::watched(const RoastPlace& place, const std::vector<float>& depths_m) const {
    // Away from the outside and from hollows, where a thermometer's tip is put: what lies there cools by
    // drying, or as soon as it is off the fire, and is no measure of what is under it.
    constexpr float deep_m = 0.010f, deep_of_deepest = 0.5f;
    Watched watched;
    if (place.kind == PlaceKind::probe) {
        const auto probe = std::find_if(item_.probes.begin(), item_.probes.end(),
                                        [&](const Probe& p) { return p.name == place.name; });
        watched.point = probe->at;
        watched.peaks_k.push_back(0);
        return watched;
    }
    const std::vector<bool> regions = regions_of_place(item_.body->body, place.kind);
    std::vector<std::int32_t> all;
    float deepest_m = 0;
    for (std::size_t cell = 0; cell < grid_->box.size(); ++cell) {
        if (!grid_->carries(cell) || !grid_->is_inside(cell)) continue;
        const Tissue& tissue = grid_->tissues[grid_->tissue[cell]];
        const bool in_region = tissue.region >= 0 && regions[std::size_t(tissue.region)];
        const bool here = place.kind == PlaceKind::stuffing
                              ? tissue.kind == TissueKind::stuffing
                              : is_flesh(tissue.kind) && (place.kind == PlaceKind::core || in_region);
        if (!here) continue;
        all.push_back(static_cast<std::int32_t>(cell));
        deepest_m = std::max(deepest_m, depths_m[cell]);
    }
    for (const std::int32_t cell : all) {
        const float depth_m = depths_m[std::size_t(cell)];
        if (depth_m < std::min(deep_m, deep_of_deepest * deepest_m)) continue;
        watched.cells.push_back(cell);
        watched.depths_m.push_back(depth_m);
    }
    watched.peaks_k.assign(watched.cells.size(), 0.0f);
    return watched;
}

void ItemRoast::note_peaks() {
    const std::span<const float> all = heat_->temperature_k();
    for (Watched& watched : watched_) {
        if (watched.point) {
            const auto now = static_cast<float>(heat_->temperature_at_k(*watched.point));
            watched.peaks_k[0] = std::max(watched.peaks_k[0], now);
        }
        for (std::size_t n = 0; n < watched.cells.size(); ++n)
            watched.peaks_k[n] = std::max(watched.peaks_k[n], all[std::size_t(watched.cells[n])]);
    }
}

float ItemRoast::coldest_k(const Watched& watched) const {
    const std::span<const float> all = heat_->temperature_k();
    float coldest = std::numeric_limits<float>::max();
    for (const std::int32_t cell : watched.cells) coldest = std::min(coldest, all[std::size_t(cell)]);
    return coldest;
}

// Of points that are about as cold the deepest: where a hand that feels for the thickest part puts it.
std::optional<std::int32_t> ItemRoast::coldest_cell(const Watched& watched) const {
    constexpr float about_k = 1.5f;
    const std::span<const float> all = heat_->temperature_k();
    const float coldest = coldest_k(watched);
    float deepest_m = -1;
    std::optional<std::int32_t> found;
    for (std::size_t n = 0; n < watched.cells.size(); ++n) {
        if (all[std::size_t(watched.cells[n])] > coldest + about_k || watched.depths_m[n] <= deepest_m)
            continue;
        deepest_m = watched.depths_m[n];
        found = watched.cells[n];
    }
    return found;
}

void ItemRoast::leave_thermometers() {
    for (Watched& watched : watched_) watched.left_in = coldest_cell(watched);
}

std::vector<std::optional<Vec3>> ItemRoast::coldest_at() const {
    std::vector<std::optional<Vec3>> places;
    for (const Watched& watched : watched_) {
        const std::optional<std::int32_t> cell = coldest_cell(watched);
        places.push_back(cell ? std::optional(grid_->box.centre(std::size_t(*cell))) : std::nullopt);
    }
    return places;
}

std::vector<double> ItemRoast::least_peaks_k() const {
    std::vector<double> least;
    for (const Watched& watched : watched_) {
        const auto lowest = std::min_element(watched.peaks_k.begin(), watched.peaks_k.end());
        least.push_back(lowest == watched.peaks_k.end() ? std::numeric_limits<double>::quiet_NaN()
                                                        : static_cast<double>(*lowest));
    }
    return least;
}

std::vector<SurfaceExposure> ItemRoast::exposures(const SkinHeating& heating, const RoastAir& air,
                                                  double middle_s) const {
    std::vector<SurfaceExposure> all(std::size_t(grid_->triangle_count));
    for (std::size_t s = 0; s < grid_->surfaces.size(); ++s) {
        const auto part = std::size_t(grid_->surfaces[s].part);
        if (part >= heating.coefficient_w_m2_k.size()) continue;
        const std::vector<double>& coefficient = heating.coefficient_w_m2_k[part];
        for (std::size_t t = 0; t < coefficient.size(); ++t) {
            const std::size_t triangle = std::size_t(grid_->surfaces[s].first_triangle) + t;
            SurfaceExposure& here = all[triangle];
            here.air_k = heating.air_k;
            here.convection_w_m2k = options_.convection * coefficient[t];
            here.irradiation_w_m2 = heating.incident_w_m2[part][t];
            here.emissivity = heating.emissivity;
            here.vapour_pa = air.vapour_pa;
            here.wetness = item_.evaporation ? 1 : 0;
            here.most_water_kg_m2s =
                change_->water_at_surface_kg_m2s(change_->region_of_triangle(triangle), middle_s);
        }
    }
    return all;
}

void ItemRoast::advance(double seconds, const SkinHeating& heating, const RoastAir& air,
                        const std::stop_token& stop) {
    const double from_s = heat_->time_s(), step_s = seconds - from_s;
    const double before_kg = std::accumulate(dried_kg_.begin(), dried_kg_.end(), 0.0);
    std::vector<HollowExposure> hollows;
    std::vector<double> wall_m2(grid_->enclosures.size(), 0.0);
    for (const SurfaceSpot& spot : grid_->spots) {
        if (spot.enclosure >= 0) wall_m2[std::size_t(spot.enclosure)] += static_cast<double>(spot.area_m2);
    }
    for (std::size_t e = 0; e < wall_m2.size(); ++e) {
        const bool closed = grid_->enclosures[e].closed;
        hollows.push_back({closed ? 0 : air.hollow_w_m2k * wall_m2[e], heating.air_k});
    }
    heat_->advance_to(
        seconds, exposures(heating, air, from_s + step_s / 2), hollows,
        [this](const HeatMoment& moment) { change_->pass(moment); }, stop);
    dried_kg_ = heat_->water_kg();
    change_->settle(dried_kg_);
    const double after_kg = std::accumulate(dried_kg_.begin(), dried_kg_.end(), 0.0);
    drying_kg_s_ = (after_kg - before_kg) / step_s;
    note_peaks();
}

double ItemRoast::skin_k() const {
    return heat_->outside_k();
}

std::vector<double> ItemRoast::places_k() const {
    std::vector<double> places;
    const std::span<const float> all = heat_->temperature_k();
    for (const Watched& watched : watched_) {
        if (watched.point) {
            places.push_back(heat_->temperature_at_k(*watched.point));
            continue;
        }
        if (watched.left_in) {
            places.push_back(static_cast<double>(all[std::size_t(*watched.left_in)]));
            continue;
        }
        places.push_back(watched.cells.empty() ? std::numeric_limits<double>::quiet_NaN()
                                               : static_cast<double>(coldest_k(watched)));
    }
    return places;
}

double ItemRoast::ice_share() const {
    const std::span<const float> all = heat_->temperature_k();
    std::vector<body::Composition> foods;
    for (const Tissue& tissue : grid_->tissues)
        foods.push_back(food_of(item_.body->body, tissue.kind, tissue.region));
    double ice_kg = 0, kg = 0;
    for (std::size_t cell = 0; cell < grid_->box.size(); ++cell) {
        if (!grid_->carries(cell)) continue;
        const std::uint8_t tissue = grid_->tissue[cell];
        const double mass = grid_->tissues[tissue].density_kg_m3 * static_cast<double>(grid_->filled[cell]);
        const auto here_k = static_cast<double>(all[cell]);
        kg += mass;
        if (here_k < thaws_k) ice_kg += mass * ::evenspit::ice_share(foods[tissue], here_k);
    }
    return kg > 0 ? ice_kg / kg : 0;
}

ItemMoment ItemRoast::moment() const {
    ItemMoment moment;
    moment.matter = change_->matter();
    moment.skin_k = skin_k();
    moment.juice_kg = change_->juice_kg();
    moment.dried_kg = change_->dried_kg();
    moment.fat_kg = change_->fat_kg();
    const std::span<const float> all = heat_->temperature_k();
    double sum = 0, filled = 0;
    moment.coldest_k = std::numeric_limits<double>::max();
    for (std::size_t cell = 0; cell < grid_->box.size(); ++cell) {
        if (!grid_->carries(cell)) continue;
        sum += static_cast<double>(grid_->filled[cell] * all[cell]);
        filled += static_cast<double>(grid_->filled[cell]);
        if (grid_->is_inside(cell) && is_flesh(grid_->tissues[grid_->tissue[cell]].kind))
            moment.coldest_k = std::min(moment.coldest_k, static_cast<double>(all[cell]));
    }
    moment.mean_k = sum / filled;
    moment.matter.temperature_k = moment.mean_k;
    if (moment.coldest_k < thaws_k) moment.ice_share = ice_share();
    return moment;
}

double ItemRoast::taken_j() const {
    const HeatLedger& ledger = heat_->ledger();
    return ledger.stored_j + evaporation_j_kg(skin_k()) * ledger.evaporated_kg;
}

SkinHeat ItemRoast::skin_heat() const {
    SkinHeat heat;
    const std::vector<double> joules = heat_->heat_j();
    const double latent = evaporation_j_kg(skin_k());
    const std::size_t skin = item_.body->body.parts.front().mesh.triangles.size();
    for (std::size_t t = 0; t < skin; ++t) {
        const double all = joules[t] + latent * dried_kg_[t];
        heat.j_m2.push_back(is_outside_[t] && area_m2_[t] > 0 ? all / area_m2_[t]
                                                              : std::numeric_limits<double>::quiet_NaN());
    }
    return heat;
}

HeatCells ItemRoast::heat_cells() const {
    const CellBox& box = grid_->box;
    HeatCells cells;
    cells.origin = box.centre(0);
    cells.spacing_m = box.spacing_m;
    for (std::size_t axis = 0; axis < 3; ++axis) cells.count[axis] = std::size_t(box.count[axis]);
    const std::span<const float> all = heat_->temperature_k();
    for (std::size_t cell = 0; cell < box.size(); ++cell)
        cells.temperature_k.push_back(grid_->carries(cell) ? all[cell]
                                                           : std::numeric_limits<float>::quiet_NaN());
    for (int ring = 0; ring < 2; ++ring) cells.grow();
    for (const double j_m2 : skin_heat().j_m2) cells.skin_j_m2.push_back(static_cast<float>(j_m2));
    return cells;
}

RoastCut ItemRoast::cut(bool lengthwise) const {
    const CellBox& box = grid_->box;
    RoastCut cut;
    cut.time_s = heat_->time_s();
    cut.item = index_;
    cut.lengthwise = lengthwise;
    cut.spacing_m = box.spacing_m;
    const int across = lengthwise ? 1 : 0, along = lengthwise ? 0 : 1;
    cut.at_m = lengthwise ? 0 : item_.body->bounds.center().x();
    const double place = (cut.at_m - box.origin[across]) / box.spacing_m;
    const auto layer =
        static_cast<std::int32_t>(std::clamp(place, 0.0, double(box.count[std::size_t(across)] - 1)));
    cut.from = {box.origin[along], box.origin.z()};
    cut.count = {std::size_t(box.count[std::size_t(along)]), std::size_t(box.count[2])};
    const std::span<const float> all = heat_->temperature_k();
    for (std::int32_t k = 0; k < box.count[2]; ++k) {
        for (std::int32_t i = 0; i < box.count[std::size_t(along)]; ++i) {
            const std::size_t cell = lengthwise ? box.index(i, layer, k) : box.index(layer, i, k);
            const bool filled = grid_->carries(cell) && grid_->is_inside(cell);
            cut.temperature_k.push_back(filled ? all[cell] : std::numeric_limits<float>::quiet_NaN());
        }
    }
    return cut;
}

}  // namespace evenspit
