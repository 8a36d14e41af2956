// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <stop_token>
#include <vector>

#include "roast/heat_grid.h"
#include "roast/heat_step.h"
#include "roast/surface_heat.h"
#include "roast/thermal_table.h"

namespace evenspit {

struct ConductionOptions {
    double tolerance_k = 0.3;       ///< of what one step may be off in any cell, as estimated
    double mean_tolerance_k = 0.3;  ///< and of the root of its mean square by volume
    double surface_change_k =
        15;  ///< that cells at the surface may warm in one step: what they meet is a line in it
    double first_step_s = 2;
    double longest_step_s = 600;
};

/// What the inside of a hollow meets besides its walls, one for each of HeatGrid::enclosures.
struct HollowExposure {
    double leak_w_k = 0;    ///< through its openings
    double air_k = 293.15;  ///< outside them
};

/// Heat and water that passed, all since the start.
struct HeatLedger {
    double outside_j = 0;  ///< taken up through surfaces that face the outside
    double hollows_j = 0;  ///< and from hollows, which is what leaks into them
    double stored_j = 0;   ///< that the body holds more than at the start
    double evaporated_kg = 0;

    /// What the books do not close by, as a share of the greater side.
    [[nodiscard]] double imbalance() const;
};

/// One step that was taken.
struct HeatMoment {
    double from_s = 0, to_s = 0;
    std::span<const float> temperature_k;  ///< by cell, at the end
    std::span<const float> warmed_k;       ///< by cell, in the step
};
using HeatObserver = std::function<void(const HeatMoment&)>;

/// The flow of heat in a body over time.
///
/// Enthalpy by cell is carried from step to step; conductivity is taken at the step's middle, and what the
/// surface meets as a line through its state at the step's start. Conductance between two cells is the
/// harmonic mean of theirs. Fat that melts and water that moves within the body carry no heat of their own;
/// volume stays. Water that boils off is gone: what it took up does not come back as the rest cools, see
/// ThermalTable::after_boiling(). Where some tissue boils, steps are as long as the error of what is colder
/// than 90 °C allows: crust follows what is under it.
class Conduction {
  public:
    /// \param tables one per HeatGrid::tissues \param temperature_k of all cells at the start
    /// \throws std::invalid_argument if there are not as many tables as tissues
    Conduction(std::shared_ptr<const HeatGrid> grid, std::vector<ThermalTable> tables, double temperature_k,
               const ConductionOptions& options = {});

    /// Goes on until `seconds` have passed in all.
    ///
    /// What the surface meets stays the same in the call; taken from the middle of the time it stands for,
    /// the whole is second order in that.
    ///
    /// \param surface one for each triangle of all surfaces, the skin's first; those of hollows are not used
    /// \param hollows one for each enclosure, or none: no leak
    /// \param observer called after each step; what it was given lives until it returns
    /// \throws Stopped if asked to; the state is then that of the last whole step
    void advance_to(double seconds, std::span<const SurfaceExposure> surface,
                    std::span<const HollowExposure> hollows = {}, const HeatObserver& observer = {},
                    const std::stop_token& stop = {});

    [[nodiscard]] const HeatGrid& grid() const { return *grid_; }
    [[nodiscard]] double time_s() const { return time_s_; }
    /// By cell of the box; without meaning where the grid carries none.
    [[nodiscard]] std::span<const float> temperature_k() const { return temperature_k_; }
    /// At a place in the body: between the centres of the eight cells round it, as far as they carry one.
    /// \return NaN outside the body
    [[nodiscard]] double temperature_at_k(const Vec3& place) const;
    /// By triangle: temperature of the surface itself at the last step's start; heat taken up, J, and water
    /// evaporated, kg, since the start. Where several triangles share a cell they share what it has by area.
    [[nodiscard]] std::vector<double> surface_temperatures_k() const;
    [[nodiscard]] double outside_k()
        const;  ///< mean over the surface that faces the outside; NaN if none does
    [[nodiscard]] std::vector<double> heat_j() const;
    [[nodiscard]] std::vector<double> water_kg() const;
    [[nodiscard]] const HeatLedger& ledger() const { return ledger_; }
    [[nodiscard]] int steps() const { return steps_; }
    [[nodiscard]] int stages() const { return stages_; }  ///< of all steps, those thrown away as well

    /// The flow as it stands for a step of some length: for looking at the scheme, and for other solvers to
    /// be measured against it.
    const HeatFlow& flow_for(double step_s, std::span<const SurfaceExposure> surface,
                             std::span<const HollowExposure> hollows = {});

  private:
    // What a spot takes up while what it follows is θ warmer than at the step's start: per m2, −loss·θ in
    // heat.
    struct SpotFlux {
        float surface_k = 0;
        float heat_w_m2 = 0, loss_w_m2k = 0;
        float water_kg_m2s = 0, water_slope_kg_m2sk = 0;
    };
    // What the temperature of a cell hangs on while a step lasts in which its water melts or boils.
    struct BentCell {
        const ThermalTable* table = nullptr;
        double enthalpy_j_m3 = 0, volume_m3 = 0, capacity_j_k = 0;  // at the step's start
        double most_j_m3 = 0;   // below this it cools and warms with what steam left behind …
        double at_most_k = 0;   // … from this temperature,
        double left_j_m3k = 1;  // by this heat capacity
        float before_k = 0, straight_to_k = 0;
        std::int32_t cell = 0;

        [[nodiscard]] double temperature_k(double taken_j) const {
            const double enthalpy = enthalpy_j_m3 + taken_j / volume_m3;
            return enthalpy < most_j_m3 ? at_most_k - (most_j_m3 - enthalpy) / left_j_m3k
                                        : table->temperature_k(enthalpy);
        }
    };
    [[nodiscard]] BentCell bent_cell(std::size_t cell) const;
    struct SpotTotals {
        double heat_j = 0, water_kg = 0;
    };
    void find_exposures(std::span<const SurfaceExposure> surface, std::span<const HollowExposure> hollows);
    void find_flow(double step_s);
    void find_materials(double step_s);
    void find_conductances();
    void find_outside();
    void find_hollows();
    void gather_outlets();
    void share_pace(HeatFlow::Outlet& outlet, float loss_of_cell_w_k) const;
    void gather_hollow_walls();
    void find_bent(double step_s);
    [[nodiscard]] double volume_m3(std::size_t cell) const;
    [[nodiscard]] ThermalTable::State state(std::size_t cell, double enthalpy_j_m3) const;
    template <class OfSpot>
    [[nodiscard]] std::vector<double> by_triangle(const OfSpot& of_spot) const;
    [[nodiscard]] double greatest_surface_change(const HeatStepResult& step) const;
    void take(const HeatStepResult& step, double step_s);
    void book(const HeatStepResult& step, double step_s);

    std::shared_ptr<const HeatGrid> grid_;
    std::vector<ThermalTable> tables_;
    ConductionOptions options_;
    HeatStepper stepper_;
    HeatFlow flow_;
    std::vector<double> enthalpy_j_m3_;
    std::vector<double>
        most_j_m3_;  // of cells some of whose water boiled, the most they had; empty: none boils
    std::vector<float> straight_to_k_;  // by cell, up to where temperature follows heat in a line
    std::vector<float> temperature_k_, warmed_k_;
    std::vector<float> capacity_j_k_;  // of each cell at the step's start
    std::vector<float> conductivity_w_mk_;
    std::vector<std::size_t> patches_before_;  // by spot, how many patches lie before its own; then all
    std::vector<SurfaceExposure> exposures_;   // by spot
    std::vector<HollowExposure> hollow_exposures_;
    std::vector<SpotFlux> spot_flux_;
    std::vector<SpotTotals> spot_totals_;
    std::vector<std::vector<BentCell>> bent_;  // by plane, as HeatFlow::bent
    std::vector<double> hollow_k_;             // temperature inside, at the step's start
    HeatLedger ledger_;
    double time_s_ = 0, next_step_s_ = 0, last_step_s_ = 0;
    float coldest_k_ = 0, hottest_k_ = 0;  // of all cells
    double smooth_above_k_ = 0;            // of the tissue that melts last
    bool boils_ = false;                   // some tissue does
    int steps_ = 0, stages_ = 0;
};

}  // namespace evenspit
