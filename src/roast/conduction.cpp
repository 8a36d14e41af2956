// SPDX-License-Identifier: MIT
#include "roast/conduction.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

#include "roast/cell_rows.h"
#include "roast/food_properties.h"
#include "units/parallel.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

constexpr float crust_from_k = 363.15f;  // 90 °C: no rule asks for more, and juice is gone by then
constexpr double safety = 0.9, most_growth = 2.5, most_shrinking = 0.2;
// The most heat that a cell had of which no water has boiled yet.
constexpr double never_boiled_j_m3 = std::numeric_limits<double>::lowest();

// Calls work(cell) for each cell of a plane that carries a temperature.
template <class Work>
void for_cells(const HeatGrid& grid, std::size_t plane, const Work& work) {
    for_rows(grid, plane, [&](std::size_t first, std::size_t past) {
        for (std::size_t cell = first; cell < past; ++cell) {
            if (grid.carries(cell)) work(cell);
        }
    });
}

// The same of all planes, on several threads.
template <class Work>
void for_cells(const HeatGrid& grid, const Work& work) {
    for_planes(grid, [&](std::size_t plane) { for_cells(grid, plane, work); });
}

// What flows along one axis between the cells of a row and those `stride` beyond, by conductivity. Where
// nothing is open, and so perhaps nothing conducts, it is 0.
void row_conductances(std::size_t count, std::size_t stride, float h, const float* __restrict conductivity,
                      const float* __restrict open, float* __restrict conductance) {
    constexpr float nothing = 1e-30f;
    for (std::size_t i = 0; i < count; ++i) {
        const float here = conductivity[i], there = conductivity[i + stride];
        conductance[i] = h * open[i] * 2 * here * there / std::max(here + there, nothing);
    }
}

}  // namespace

double HeatLedger::imbalance() const {
    const double in = outside_j + hollows_j;
    const double most = std::max(std::abs(in), std::abs(stored_j));
    return most > 0 ? std::abs(in - stored_j) / most : 0.0;
}

Conduction::Conduction(std::shared_ptr<const HeatGrid> grid, std::vector<ThermalTable> tables,
                       double temperature_k, const ConductionOptions& options)
    : grid_(std::move(grid)),
      tables_(std::move(tables)),
      options_(options),
      stepper_(*grid_),
      enthalpy_j_m3_(grid_->box.size(), 0.0),
      temperature_k_(grid_->box.size(), static_cast<float>(temperature_k)),
      warmed_k_(grid_->box.size(), 0.0f),
      capacity_j_k_(grid_->box.size(), 0.0f),
      conductivity_w_mk_(grid_->box.size(), 0.0f),
      spot_flux_(grid_->spots.size()),
      spot_totals_(grid_->spots.size()),
      next_step_s_(options.first_step_s),
      coldest_k_(static_cast<float>(temperature_k)),
      hottest_k_(coldest_k_) {
    if (tables_.size() != grid_->tissues.size())
        throw std::invalid_argument("a heat flow needs one thermal table per tissue");
    std::vector<double> start, capacity_j_m3k;
    for (const ThermalTable& table : tables_) {
        start.push_back(table.enthalpy_j_m3(temperature_k));
        capacity_j_m3k.push_back(table.at(start.back()).capacity_j_m3k);
        smooth_above_k_ = std::max(smooth_above_k_, table.smooth_above_k());
        boils_ = boils_ || table.boils();
    }
    for_cells(*grid_, [&](std::size_t cell) {
        enthalpy_j_m3_[cell] = start[grid_->tissue[cell]];
        capacity_j_k_[cell] = static_cast<float>(capacity_j_m3k[grid_->tissue[cell]] * volume_m3(cell));
    });
    if (boils_) {
        most_j_m3_.assign(grid_->box.size(), never_boiled_j_m3);
        straight_to_k_.assign(grid_->box.size(), static_cast<float>(boiling_from_k));
    }
    for (SpotFlux& spot : spot_flux_) spot.surface_k = static_cast<float>(temperature_k);
    for (std::vector<float>& axis : flow_.conductance_w_k) axis.assign(grid_->box.size(), 0.0f);
    flow_.warming_k_j.assign(grid_->box.size(), 0.0f);
    flow_.rate_w.assign(grid_->box.size(), 0.0f);

    for (const SurfaceSpot& spot : grid_->spots)
        flow_.outlets.push_back({.cell = spot.cell, .under = spot.under, .hollow = spot.enclosure});
    const std::size_t plane = grid_->box.stride(2);
    for (std::size_t p = 0; p <= std::size_t(grid_->box.count[2]); ++p) {
        const auto first = std::partition_point(
            flow_.outlets.begin(), flow_.outlets.end(),
            [&](const HeatFlow::Outlet& outlet) { return std::size_t(outlet.cell) < p * plane; });
        flow_.outlets_before.push_back(static_cast<std::size_t>(first - flow_.outlets.begin()));
    }
    for (std::size_t n = 0, p = 0; n <= grid_->spots.size(); ++n) {
        while (p < grid_->patches.size() && std::size_t(grid_->patches[p].spot) < n) ++p;
        patches_before_.push_back(p);
    }
    flow_.hollows.resize(grid_->enclosures.size());
    hollow_k_.assign(grid_->enclosures.size(), temperature_k);
}

double Conduction::volume_m3(std::size_t cell) const {
    const double h = grid_->box.spacing_m;
    return h * h * h * static_cast<double>(grid_->filled[cell]);
}

ThermalTable::State Conduction::state(std::size_t cell, double enthalpy_j_m3) const {
    const ThermalTable& table = tables_[grid_->tissue[cell]];
    if (boils_ && enthalpy_j_m3 < most_j_m3_[cell])
        return table.after_boiling(most_j_m3_[cell], enthalpy_j_m3);
    return table.at(enthalpy_j_m3);
}

void Conduction::find_materials(double step_s) {
    const double ahead = last_step_s_ > 0 ? 0.5 * std::min(step_s / last_step_s_, most_growth) : 0.0;
    const double h = grid_->box.spacing_m;
    const double per_cube = ahead / (h * h * h);
    for_cells(*grid_, [&](std::size_t cell) {
        flow_.warming_k_j[cell] = 1 / capacity_j_k_[cell];
        const float taken = warmed_k_[cell] * capacity_j_k_[cell] / grid_->filled[cell];
        const double soon = enthalpy_j_m3_[cell] + per_cube * static_cast<double>(taken);
        conductivity_w_mk_[cell] = static_cast<float>(state(cell, soon).conductivity_w_mk);
    });
}

void Conduction::find_conductances() {
    const auto h = static_cast<float>(grid_->box.spacing_m);
    for_planes(*grid_, [&](std::size_t plane) {
        for_rows(*grid_, plane, [&](std::size_t first, std::size_t past) {
            for (int axis = 0; axis < 3; ++axis) {
                const auto a = std::size_t(axis);
                row_conductances(past - first, grid_->box.stride(axis), h, &conductivity_w_mk_[first],
                                 &grid_->open[a][first], &flow_.conductance_w_k[a][first]);
            }
        });
    });
}

void Conduction::find_exposures(std::span<const SurfaceExposure> surface,
                                std::span<const HollowExposure> hollows) {
    if (surface.size() != std::size_t(grid_->triangle_count))
        throw std::invalid_argument("a heat flow needs one exposure per triangle of all surfaces");
    if (!hollows.empty() && hollows.size() != grid_->enclosures.size())
        throw std::invalid_argument("a heat flow needs one exposure per hollow, or none");
    exposures_.resize(grid_->spots.size());
    parallel_for(exposures_.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t n = begin; n < end; ++n) {
            MeanExposure mean;
            for (std::size_t p = patches_before_[n]; p < patches_before_[n + 1]; ++p) {
                const SurfacePatch& patch = grid_->patches[p];
                mean.add(surface[std::size_t(patch.triangle)], static_cast<double>(patch.area_m2));
            }
            exposures_[n] = mean.mean();
        }
    });
    hollow_exposures_.assign(hollows.begin(), hollows.end());
    hollow_exposures_.resize(grid_->enclosures.size());
}

void Conduction::find_outside() {
    parallel_for(spot_flux_.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t n = begin; n < end; ++n) {
            const SurfaceSpot& spot = grid_->spots[n];
            if (spot.enclosure >= 0) continue;
            const auto under = std::size_t(spot.under);
            const double inward =
                static_cast<double>(conductivity_w_mk_[under]) / static_cast<double>(spot.depth_m);
            SpotFlux& out = spot_flux_[n];
            const auto [at, flux] =
                balanced_surface(exposures_[n], static_cast<double>(temperature_k_[under]), inward,
                                 static_cast<double>(out.surface_k + warmed_k_[under]));
            // By how much the surface follows the cell under it.
            const double follows = inward / (inward - flux.heat_slope_w_m2k);
            out = {static_cast<float>(at), static_cast<float>(flux.heat_w_m2),
                   static_cast<float>(-flux.heat_slope_w_m2k * follows),
                   static_cast<float>(flux.water_kg_m2s),
                   static_cast<float>(flux.water_slope_kg_m2sk * follows)};
        }
    });
}

void Conduction::find_hollows() {
    if (flow_.hollows.empty()) return;
    std::vector<double> exchange, exchanged, heat;
    for (std::size_t e = 0; e < flow_.hollows.size(); ++e) {
        flow_.hollows[e].leak_w_k = hollow_exposures_[e].leak_w_k;
        exchange.push_back(hollow_exchange_w_m2k(hollow_k_[e], grid_->enclosures[e].closed));
        exchanged.push_back(hollow_exposures_[e].leak_w_k);
        heat.push_back(hollow_exposures_[e].leak_w_k * hollow_exposures_[e].air_k);
    }
    for (std::size_t n = 0; n < spot_flux_.size(); ++n) {
        const SurfaceSpot& spot = grid_->spots[n];
        if (spot.enclosure < 0) continue;
        const auto under = std::size_t(spot.under), e = std::size_t(spot.enclosure);
        const double inward =
            static_cast<double>(conductivity_w_mk_[under]) / static_cast<double>(spot.depth_m);
        const double loss = exchange[e] * inward / (exchange[e] + inward);
        spot_flux_[n] = {0, 0, static_cast<float>(loss), 0, 0};
        exchanged[e] += loss * static_cast<double>(spot.area_m2);
        heat[e] += loss * static_cast<double>(spot.area_m2 * temperature_k_[under]);
    }
    for (std::size_t e = 0; e < flow_.hollows.size(); ++e) {
        if (exchanged[e] > 0) hollow_k_[e] = heat[e] / exchanged[e];
    }
    for (std::size_t n = 0; n < spot_flux_.size(); ++n) {
        const SurfaceSpot& spot = grid_->spots[n];
        if (spot.enclosure < 0) continue;
        SpotFlux& out = spot_flux_[n];
        out.surface_k = static_cast<float>(hollow_k_[std::size_t(spot.enclosure)]);
        out.heat_w_m2 = out.loss_w_m2k * (out.surface_k - temperature_k_[std::size_t(spot.under)]);
    }
}

void Conduction::gather_outlets() {
    for_planes(*grid_, [&](std::size_t plane) {
        const std::size_t end = flow_.outlets_before[plane + 1];
        for (std::size_t first = flow_.outlets_before[plane], past = 0; first < end; first = past) {
            const std::int32_t cell = flow_.outlets[first].cell;
            float loss = 0, heat = 0;
            for (past = first; past < end && flow_.outlets[past].cell == cell; ++past) {
                const SurfaceSpot& spot = grid_->spots[past];
                heat += spot.area_m2 * spot_flux_[past].heat_w_m2;
                flow_.outlets[past].loss_w_k = spot.area_m2 * spot_flux_[past].loss_w_m2k;
                loss += flow_.outlets[past].loss_w_k;
            }
            flow_.rate_w[std::size_t(cell)] += heat;
            for (std::size_t n = first; n < past; ++n) share_pace(flow_.outlets[n], loss);
        }
    });
    gather_hollow_walls();
}

// What follows the cell under it, not the one that is heated, makes the flow lopsided. As long as that is
// little beside what passes between the two it does no harm; the rest follows the heated cell, by as much
// slower as the other was in the last step.
void Conduction::share_pace(HeatFlow::Outlet& outlet, float loss_of_cell_w_k) const {
    if (outlet.under == outlet.cell) return;
    constexpr float little = 0.4f, still_k = 1e-3f, slowest = 0.1f;
    const auto cell = std::size_t(outlet.cell);
    float passes = 0;
    for (int axis = 0; axis < 3; ++axis) {
        const std::vector<float>& g = flow_.conductance_w_k[std::size_t(axis)];
        passes += g[cell] + g[cell - grid_->box.stride(axis)];
    }
    outlet.by_under = loss_of_cell_w_k > little * passes ? little * passes / loss_of_cell_w_k : 1.0f;
    const float own = warmed_k_[cell], under = warmed_k_[std::size_t(outlet.under)];
    const float pace = std::abs(own) > still_k ? std::clamp(under / own, slowest, 1.0f) : 1.0f;
    outlet.by_cell = (1 - outlet.by_under) * pace;
}

void Conduction::gather_hollow_walls() {
    for (HeatFlow::Hollow& hollow : flow_.hollows) {
        hollow.walls.clear();
        hollow.sum_w_k = hollow.leak_w_k;
    }
    for (std::size_t n = 0; n < grid_->spots.size(); ++n) {
        if (grid_->spots[n].enclosure < 0) continue;
        HeatFlow::Hollow& hollow = flow_.hollows[std::size_t(grid_->spots[n].enclosure)];
        hollow.walls.push_back(flow_.outlets[n]);
        hollow.sum_w_k += static_cast<double>(flow_.outlets[n].loss_w_k);
    }
}

Conduction::BentCell Conduction::bent_cell(std::size_t cell) const {
    BentCell bent;
    bent.table = &tables_[grid_->tissue[cell]];
    bent.enthalpy_j_m3 = enthalpy_j_m3_[cell];
    bent.volume_m3 = volume_m3(cell);
    bent.capacity_j_k = static_cast<double>(capacity_j_k_[cell]);
    bent.most_j_m3 = boils_ ? most_j_m3_[cell] : never_boiled_j_m3;
    if (bent.most_j_m3 > never_boiled_j_m3) {
        const ThermalTable::State hottest = bent.table->after_boiling(bent.most_j_m3, bent.most_j_m3);
        bent.at_most_k = hottest.temperature_k;
        bent.left_j_m3k = hottest.capacity_j_m3k;
    }
    bent.before_k = temperature_k_[cell];
    bent.straight_to_k = boils_ ? straight_to_k_[cell] : std::numeric_limits<float>::max();
    bent.cell = static_cast<std::int32_t>(cell);
    return bent;
}

// Where ice melts and where water boils, temperature does not follow heat in a line.
void Conduction::find_bent(double step_s) {
    flow_.bent.clear();
    flow_.bend = {};
    const auto low = static_cast<float>(smooth_above_k_), high = static_cast<float>(boiling_from_k);
    const bool ice = coldest_k_ <= low;
    const bool boils = boils_ && hottest_k_ > high - 1.5f * static_cast<float>(options_.surface_change_k);
    if (!ice && !boils) return;
    // Cells that may get there in the step, by twice what they did in the one before. One that gets there all
    // the same has its heat right, and only what flows in the rest of the step from a straight line.
    constexpr float least_k = 1;
    const auto pace =
        static_cast<float>(last_step_s_ > 0 ? 2 * std::min(step_s / last_step_s_, most_growth) : 0);
    flow_.bent.resize(std::size_t(grid_->box.count[2]));
    bent_.resize(flow_.bent.size());
    for_planes(*grid_, [&](std::size_t plane) {
        bent_[plane].clear();
        for_cells(*grid_, plane, [&](std::size_t cell) {
            const float now = temperature_k_[cell], reach = least_k + pace * std::abs(warmed_k_[cell]);
            if ((ice && now <= low + reach) || (boils && now >= straight_to_k_[cell] - reach)) {
                flow_.bent[plane].push_back(static_cast<std::int32_t>(cell));
                bent_[plane].push_back(bent_cell(cell));
            }
        });
    });
    flow_.bend = [this, low](std::size_t plane, const float* linear, float* theta) {
        for (const BentCell& bent : bent_[plane]) {
            const float own = *linear++, before = bent.before_k, after_k = before + own;
            const bool straight =
                before > low && before < bent.straight_to_k && after_k > low && after_k < bent.straight_to_k;
            const double after =
                straight ? 0 : bent.temperature_k(static_cast<double>(own) * bent.capacity_j_k);
            theta[bent.cell] = straight ? own : static_cast<float>(after - static_cast<double>(before));
        }
    };
}

void Conduction::find_flow(double step_s) {
    if (boils_) {
        flow_.temperature_k = temperature_k_;
        flow_.unasked_above_k = crust_from_k;
    }
    find_materials(step_s);
    find_conductances();
    find_outside();
    find_hollows();
    stepper_.flows_w(flow_, temperature_k_.data(), flow_.rate_w.data());
    gather_outlets();
    find_bent(step_s);
}

const HeatFlow& Conduction::flow_for(double step_s, std::span<const SurfaceExposure> surface,
                                     std::span<const HollowExposure> hollows) {
    find_exposures(surface, hollows);
    find_flow(step_s);
    return flow_;
}

double Conduction::greatest_surface_change(const HeatStepResult& step) const {
    float most = 0;
    for (const HeatFlow::Outlet& outlet : flow_.outlets)
        most = std::max(most, std::abs((*step.linear_k)[std::size_t(outlet.cell)]));
    return static_cast<double>(most);
}

void Conduction::advance_to(double seconds, std::span<const SurfaceExposure> surface,
                            std::span<const HollowExposure> hollows, const HeatObserver& observer,
                            const std::stop_token& stop) {
    find_exposures(surface, hollows);
    while (time_s_ < seconds) {
        stop_if_asked(stop);
        const double left = seconds - time_s_;
        double step_s = std::min(next_step_s_, options_.longest_step_s);
        if (step_s >= left) {
            step_s = left;
        } else if (step_s > 0.5 * left) {
            step_s = 0.5 * left;
        }
        find_flow(step_s);
        const double stiffness = stepper_.stiffness_1_s(flow_);
        for (;;) {
            stop_if_asked(stop);
            const HeatStepResult result = stepper_.step(flow_, step_s, stiffness);
            stages_ += result.stages;
            const double change = greatest_surface_change(result);
            const double off = std::max(result.error_k / options_.tolerance_k,
                                        result.mean_error_k / options_.mean_tolerance_k);
            const double by_error = safety * std::cbrt(1 / std::max(off, 1e-12));
            const double by_change = options_.surface_change_k / std::max(change, 1e-12);
            const double growth = std::clamp(std::min(by_error, by_change), most_shrinking, most_growth);
            const bool good = off <= 1 && change <= 1.5 * options_.surface_change_k;
            if (good) {
                take(result, step_s);
                const double from = time_s_;
                time_s_ = step_s == left ? seconds : time_s_ + step_s;
                next_step_s_ = std::max(step_s == left ? next_step_s_ : 0.0, step_s * growth);
                last_step_s_ = step_s;
                ++steps_;
                if (observer) observer({from, time_s_, temperature_k_, warmed_k_});
                break;
            }
            // What is far off was begun too suddenly for its order to show.
            step_s *= std::clamp(safety / std::max(off, change / options_.surface_change_k), most_shrinking,
                                 safety);
            next_step_s_ = step_s;
        }
    }
}

void Conduction::take(const HeatStepResult& step, double step_s) {
    const std::vector<float>& linear_k = *step.linear_k;
    struct OfPlane {
        double stored_j = 0;
        float coldest_k = std::numeric_limits<float>::max(), hottest_k = 0;
    };
    std::vector<OfPlane> planes(std::size_t(grid_->box.count[2]));
    for_planes(*grid_, [&](std::size_t plane) {
        OfPlane of;
        for_cells(*grid_, plane, [&](std::size_t cell) {
            const double taken_j =
                static_cast<double>(linear_k[cell]) * static_cast<double>(capacity_j_k_[cell]);
            of.stored_j += taken_j;
            const double volume = volume_m3(cell);
            enthalpy_j_m3_[cell] += taken_j / volume;
            const ThermalTable::State now = state(cell, enthalpy_j_m3_[cell]);
            const auto after_k = static_cast<float>(now.temperature_k);
            if (boils_ && enthalpy_j_m3_[cell] > tables_[grid_->tissue[cell]].boils_from_j_m3() &&
                enthalpy_j_m3_[cell] > most_j_m3_[cell]) {
                most_j_m3_[cell] = enthalpy_j_m3_[cell];
                straight_to_k_[cell] = after_k;
            }
            warmed_k_[cell] = after_k - temperature_k_[cell];
            temperature_k_[cell] = after_k;
            capacity_j_k_[cell] = static_cast<float>(now.capacity_j_m3k * volume);
            of.coldest_k = std::min(of.coldest_k, after_k);
            of.hottest_k = std::max(of.hottest_k, after_k);
        });
        planes[plane] = of;
    });
    coldest_k_ = std::numeric_limits<float>::max();
    hottest_k_ = 0;
    for (const OfPlane& of : planes) {
        ledger_.stored_j += of.stored_j;
        coldest_k_ = std::min(coldest_k_, of.coldest_k);
        hottest_k_ = std::max(hottest_k_, of.hottest_k);
    }
    book(step, step_s);
}

void Conduction::book(const HeatStepResult& step, double step_s) {
    for (std::size_t n = 0; n < spot_flux_.size(); ++n) {
        const SurfaceSpot& spot = grid_->spots[n];
        const SpotFlux& flux = spot_flux_[n];
        const double area = static_cast<double>(spot.area_m2);
        double warmed_ks = step.outlet_ks[n];
        const double water = area * (static_cast<double>(flux.water_kg_m2s) * step_s +
                                     static_cast<double>(flux.water_slope_kg_m2sk) * warmed_ks);
        if (spot.enclosure >= 0) warmed_ks -= step.hollow_ks[std::size_t(spot.enclosure)];
        const double heat = area * (static_cast<double>(flux.heat_w_m2) * step_s -
                                    static_cast<double>(flux.loss_w_m2k) * warmed_ks);
        spot_totals_[n].heat_j += heat;
        spot_totals_[n].water_kg += water;
        ledger_.evaporated_kg += water;
        (spot.enclosure >= 0 ? ledger_.hollows_j : ledger_.outside_j) += heat;
    }
}

}  // namespace evenspit
