// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "plan/plan_problem.h"

namespace evenspit::plan {

/// Where counterweights have no place beside the items and forks of a arrangement.
class WeightRoom {
  public:
    /// \pre problem outlives it
    WeightRoom(const PlanProblem& problem, const Arrangement& arrangement);

    /// Whether a weight, or the arm that carries it, would sit in something or touch it.
    [[nodiscard]] bool blocked(const Counterweight& weight) const;

  private:
    /// Where an item sits.
    struct Obstacle {
        const SolidQueries* flesh = nullptr;
        std::array<double, 2> body_m{}, meat_m{};  // stations: of all of it, of the rod in the meat
        Pose to_item = Pose::Identity();
    };

    std::vector<Fork> forks_;
    std::vector<Obstacle> items_;
};

/// The weights that lie ready: the stock, and those that are on the rod with the arm they have.
std::vector<StockWeight> weights_at_hand(const Assembly& assembly);

}  // namespace evenspit::plan
