// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "plan/plan_problem.h"

namespace evenspit::plan {

/// How far from harm an arrangement is; told apart by score().
struct Margin {
    int stops = 0, cares = 0;  ///< findings that hands see, as written
    /// log of the chance that nothing asks for care, and that nothing is a stop: Σ log Φ over what goes wrong
    /// on its own (what turns the load, the rod, the hold, each surface of the cooker), of each the worst
    /// figure's standard deviations from its limit.
    double log_ready = 0, log_no_stop = 0;
    double torque_use = 0;  ///< of the motor's rating, at the worse end of the cook

    /// The greater the better.
    [[nodiscard]] double score() const;
    [[nodiscard]] bool better_than(const Margin& other) const;
    /// Nothing is seen to mend, and it is ready as often as a load should be (limits::worthy_chance).
    [[nodiscard]] bool worthy() const;
    /// As good as never asks for care: what would be left to gain is less than chances are told apart by.
    [[nodiscard]] bool beyond_doubt() const { return stops + cares == 0 && log_ready > -0.03; }
};

/// A figure that has a limit, as mountings spread it.
struct LimitedFigure {
    FigureId figure;
    double shift = 0;  ///< of the middle mounting's from that as written
    double sigma = 0;
};

/// An arrangement weighed, with what tells how others near it will fare.
struct Weighed {
    Margin margin;
    std::vector<LimitedFigure> figures;
};

/// By a few mountings (analysis/chance.h), the same for all arrangements.
///
/// \throws Stopped once `problem.stop` is asked to
Weighed weighed(const PlanProblem& problem, const Arrangement& arrangement);

/// By its figures as written and how mountings spread those of an arrangement near it: some twenty times as
/// quick.
///
/// \throws Stopped once `problem.stop` is asked to
Margin expected_margin(const PlanProblem& problem, const Arrangement& arrangement,
                       const std::vector<LimitedFigure>& near);

}  // namespace evenspit::plan
