// SPDX-License-Identifier: MIT
#pragma once

#include <stop_token>
#include <vector>

#include "analysis/analysis.h"
#include "load/assembly.h"

namespace evenspit::plan {

/// The counterweights to add to a load as it sits: those that take the most of the unbalance away and clear
/// cooker, items, forks and what is on the rod already. From the stock that is not on the rod; made up where
/// there is no stock. None where none helps or none has a place.
///
/// \param now the load's analysis
/// \throws Stopped once `stop` is asked to
std::vector<Counterweight> fitting_weights(const Assembly& load, const Analysis& now,
                                           const std::stop_token& stop = {});

}  // namespace evenspit::plan
