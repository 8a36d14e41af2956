// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <numbers>
#include <utility>
#include <vector>

#include "plan/line_places.h"
#include "plan/plan_problem.h"

namespace evenspit::plan {

/// In what steps hands set up a load: a tape is read to 5 mm against meat that gives, a dial held to a bird
/// to half an hour. Common practice.
struct HandSteps {
    double length_m = 0.005;
    double angle_rad = 15 * std::numbers::pi / 180;
};

/// The nearest multiple of a step.
double on_step(double value, double step);

/// Offsets of a rod line at the two places where hands measure it, in steps from the middle there.
using LineSteps = std::array<Vec2, 2>;

/// The rod lines through an item that hands can set.
class LineGrid {
  public:
    LineGrid(const PlanItem& item, double step_m)
        : body_(*item.item->body), places_(line_places(*item.item)), step_m_(step_m) {}

    [[nodiscard]] LineSteps steps(const RodLine& line) const;
    /// The line as a load file holds it, to a tenth of a millimetre.
    [[nodiscard]] RodLine line(const LineSteps& steps) const;

  private:
    const body::PreparedBody& body_;
    LinePlaces places_;
    double step_m_;
};

/// Lines on steps about one, off by each of so many steps at each end and either way, and what torque they
/// leave: the least first.
///
/// \param arrangement with the line in the middle
std::vector<std::pair<double, RodLine>> lines_about(const PlanProblem& problem, Arrangement arrangement,
                                                    std::size_t item, double step_m,
                                                    const std::array<int, 5>& off);

/// Whether a rod can take that line through an item: clear of bone, with meat over it.
bool rod_passes(const PlanProblem& problem, std::size_t item, const RodLine& line);

/// In what steps hands turn a fork on the rod: those of its bore, where that has the rod's shape.
double fork_step(const PlanProblem& problem, const Fork& fork, const HandSteps& steps);

/// The radius nearest to a wanted one at which a weight's arm can hold it.
double within_arm(const PlanProblem& problem, const Counterweight& weight, double radius_m);

/// An arrangement in such steps wherever it differs from how the load stands: rod lines where they are
/// measured (line_places()), an item's way along and about the rod, hubs and counterweights from the rod's
/// drive end, clocks. Forks keep to the steps of their bores. A rod line is rounded to the least torque that
/// a rod can take.
Arrangement on_steps(const PlanProblem& problem, const Arrangement& wanted, const HandSteps& steps);

}  // namespace evenspit::plan
