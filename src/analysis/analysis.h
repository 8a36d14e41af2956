// SPDX-License-Identifier: MIT
#pragma once

#include <stop_token>

#include "analysis/results.h"
#include "load/assembly.h"

namespace evenspit {

class AnalysisMemory;

/// Everything about a load as it is written: balance, turning, rod, grip, clearance, places, findings and the
/// verdict. What hands make of it: judge() (analysis/chance.h).
///
/// A load with a cook is judged at both ends of it, raw and cooked, and each figure is that of the worse end.
///
/// \param stop looked at before each question and within the long ones
/// \throws Stopped (units/stopped.h) once it is asked to stop
Analysis analyse(const Assembly& assembly, const std::stop_token& stop = {});

/// The same to the last bit, quicker where the load differs little from those that the memory was used for
/// before.
Analysis analyse(const Assembly& assembly, AnalysisMemory& memory, const std::stop_token& stop = {});

/// Sorts findings by level, a rod that passes beside the meat before all else of its level; others stay in
/// order.
void worst_first(std::vector<Finding>& findings);

}  // namespace evenspit
