// SPDX-License-Identifier: MIT
#pragma once

#include <span>

#include "analysis/clearance.h"
#include "cook/cook_course.h"

namespace evenspit::cook {

/// How much of a turn's time a load spends at each of so many steps of it, by its motor's law; nothing where
/// it stalls.
std::vector<double> time_shares(const Assembly& load, std::size_t angles);

/// All questions at one moment.
///
/// \param swept the load as it was swept at the start: what shrinks leaves more room, which is not counted
/// \param pushed_m by fork: how far it was pushed in since the start; empty: not at all
Along along_at(const Assembly& assembly, const RoastMoment& moment, const SweptLoad& swept,
               std::span<const double> pushed_m, const std::stop_token& stop = {});

/// How far the skin has moved in where a fork enters, m; 0 for one that enters nothing.
double retreat_at_fork(const Assembly& load, std::size_t fork);

/// When to push forks in: whenever the skin has moved in by 5 mm since at one of them; those where it has by
/// 3 mm go with it, as the motor stands still anyway (both common practice). Not in the last quarter of an
/// hour.
std::vector<Retighten> retightening(const Assembly& assembly, const RoastCourse& course);

}  // namespace evenspit::cook
