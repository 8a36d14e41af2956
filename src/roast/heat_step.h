// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "roast/heat_grid.h"

namespace evenspit {

/// The flow of heat through a grid while conductances stand still, about its state at one moment. With θ what
/// the cells have warmed since, in K:
///
///     dU/dt = rate + A θ,   U = ∫ of the heat taken up, J,
///
/// where A holds the conductances between cells, from cells to what is outside, and within enclosures. All
/// arrays by cell run over the whole box and are 0 where no cell carries a temperature.
struct HeatFlow {
    std::array<std::vector<float>, 3> conductance_w_k;  ///< by axis, to the next cell
    std::vector<float> warming_k_j;                     ///< θ per heat taken up, from the capacities now
    std::vector<float> rate_w;                          ///< of each cell at θ = 0

    /// A cell that loses heat to something outside the grid as it or the cell under it warms.
    struct Outlet {
        std::int32_t cell = 0;     ///< that loses it
        std::int32_t under = 0;    ///< perhaps the same
        float loss_w_k = 0;        ///< for each K of what follows
        std::int32_t hollow = -1;  ///< of `hollows`, whose inside it loses to; −1: to what does not warm
        float by_under = 1;        ///< share of the θ of `under` in that
        float by_cell = 0;         ///< and of the cell's own

        [[nodiscard]] float follows(const float* theta) const {
            return by_under * theta[under] + by_cell * theta[cell];
        }
    };
    std::vector<Outlet> outlets;              ///< by cell
    std::vector<std::size_t> outlets_before;  ///< by plane across z, how many lie before it; then all

    /// Walls that exchange heat with the hollow between them, whose temperature keeps their sum 0 or balances
    /// a leak. Each is one of the outlets as well.
    struct Hollow {
        std::vector<Outlet> walls;
        double leak_w_k = 0;  ///< to what does not warm
        double sum_w_k = 0;   ///< of walls and leak
    };
    std::vector<Hollow> hollows;

    /// By cell, and above what it is not asked how far a step is off: crust that has dried changes as fast as
    /// its heat does, and follows what is under it. Empty: everywhere.
    std::span<const float> temperature_k{};
    float unasked_above_k = 0;

    /// By plane across z: cells whose θ is not U·warming, as where ice melts or water boils; empty: nowhere.
    std::vector<std::vector<std::int32_t>> bent;
    /// θ of a plane's such cells, into an array of all cells, for their U·warming. Called on several threads.
    std::function<void(std::size_t plane, const float* linear, float* theta)> bend;
};

/// What a step did.
struct HeatStepResult {
    const std::vector<float>* linear_k = nullptr;  ///< U·warming by cell, of the step's end
    std::vector<double> outlet_ks;                 ///< by outlet: ∫ of the θ it follows, K·s
    std::vector<double> hollow_ks;                 ///< by hollow: the same of its inside
    double error_k = 0;                            ///< greatest estimated error of θ in any cell inside
    double mean_error_k = 0;                       ///< root of its mean square by volume
    int stages = 0;
};

/// Steps of any length by the stabilised explicit scheme RKL2: C. D. Meyer, D. S. Balsara, T. D. Aslam, J.
/// Comput. Phys. 257:594–626 (2014), second order in time. As many stages as the stiffest cell asks for,
/// about the square root of what plain explicit steps take. Sums over cells keep to the fluxes between them,
/// so heat is conserved; each cell's result is the same on any number of threads.
class HeatStepper {
  public:
    explicit HeatStepper(const HeatGrid& grid);

    /// The most that any cell's own change slows itself, 1/s, times two: no eigenvalue of the flow is
    /// greater.
    [[nodiscard]] double stiffness_1_s(const HeatFlow& flow) const;

    /// \param stiffness_1_s of the flow
    HeatStepResult step(const HeatFlow& flow, double seconds, double stiffness_1_s);

    /// What flows into each cell from those beside it at such temperatures, W.
    void flows_w(const HeatFlow& flow, const float* temperature_k, float* into_w) const;

    /// How many stages a step takes.
    static int stages(double seconds, double stiffness_1_s);

  private:
    struct Weights {
        float mu = 0, nu = 0;  // of the last two stages
        float flow_s = 0;      // of A θ
        float rate_s = 0;      // of the rate at θ = 0
    };
    using ByPlane = std::vector<std::vector<float>>;
    struct Stage {
        Weights w{};
        const float* theta = nullptr;     // of the last stage
        float* before = nullptr;          // of the stage before, and then the result
        const ByPlane* last = nullptr;    // U·warming of the bent cells in the last stage
        ByPlane* bent_before = nullptr;   // and in the stage before, and then in the result
        bool bends = false;               // whether the result is θ, or U·warming
        const double* last_ks = nullptr;  // by outlet, ∫ θ dt to the last stage; null to leave that out
        double* before_ks = nullptr;      // and to the stage before, and then the result
        std::vector<double> inside{};     // by hollow, θ in the last stage
    };
    static std::vector<Weights> weights(int stages, double seconds);
    void sweep(const HeatFlow& flow, const Stage& stage) const;
    void sweep_plane(const HeatFlow& flow, const Stage& stage, std::size_t plane) const;
    void lay_bent(const HeatFlow& flow);
    void estimate_error(const HeatFlow& flow, HeatStepResult& result) const;
    static std::vector<double> hollow_temperatures(const HeatFlow& flow, const float* theta);

    const HeatGrid& grid_;
    std::vector<float> one_, other_;  // θ of the last two stages
    ByPlane bent_one_, bent_other_;   // U·warming of the bent cells in them
};

}  // namespace evenspit
