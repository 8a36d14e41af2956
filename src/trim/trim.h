// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <stop_token>
#include <vector>

#include "analysis/chance.h"
#include "analysis/roll_belief.h"
#include "plan/counterweight_search.h"

namespace evenspit {

/// How far an input lies from what is written, once the roll tests are known.
struct InputShift {
    Input input{};
    double deviations = 0;  ///< size of its mean, in standard deviations
};

/// A load that was rolled, and how it is trimmed.
struct Trim {
    std::vector<RollFound> found{};       ///< one for each test that counts
    std::vector<InputShift> shifts{};     ///< the greatest first; none that is nothing
    Assembly believed{};                  ///< the load with every input where the tests say it is
    std::vector<Counterweight> added{};   ///< beside what is on the rod; none where none is needed or helps
    bool from_stock = true;               ///< false: nothing lies ready, the weight is made up
    bool needed = true;                   ///< false: friction holds what is left
    std::optional<HungWeight> to_hang{};  ///< what to try next, where no test had a weight on
    Assembly trimmed{};
    Analysis before{}, after{};  ///< judge() of the load as it was rolled, and trimmed
};

/// What the load's roll tests say, and the counterweights that trim it: from its stock but for what is on the
/// rod already, as find_counterweights() has them, beside the counterweights that are there. With a cook they
/// trim the middle between raw and cooked.
///
/// \param rolled with at least one test that counts
/// \throws Stopped once `stop` is asked to
Trim trim(const Assembly& rolled, int mountings = usual_mountings, const std::stop_token& stop = {});

/// What counterweights are sought for, but for where they have room.
///
/// \param believed the rolled load as its tests say it is
/// \param friction_n_m torque in the motor: no less than a part of it matters
plan::CounterweightGoal trim_goal(const Assembly& rolled, const Assembly& believed, double friction_n_m);

/// The weights of the stock that are not on the rod.
std::vector<StockWeight> left_in_stock(const Assembly& assembly);

}  // namespace evenspit
