// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <optional>
#include <stop_token>
#include <vector>

#include "analysis/clearance.h"
#include "analysis/figure.h"
#include "analysis/results.h"
#include "load/assembly.h"

namespace evenspit {

/// What sweeps: swept_load(), or something quicker that gives the same outline.
using Sweeper = std::function<SweptLoad(const Assembly&)>;

/// How closely figures are worked out.
enum class Detail {
    trial,  ///< without curves, gaps to a hundredth of a millimetre, never too great
    full
};

/// All figures of a load and what they ask for: balance, turning, rod, grip, clearance and their findings.
/// Left out: where things sit, and assumptions. With a cook, each figure is that of the worse end.
///
/// \param memory null: nothing is known before, and nothing kept
/// \throws Stopped once `stop` is asked to
Analysis figures(const Assembly& assembly, const Sweeper& sweeper, Detail detail,
                 const std::stop_token& stop = {}, AnalysisMemory* memory = nullptr);

/// analyse() of a load whose sweep is known.
///
/// \param memory null: nothing is known before, and nothing kept
/// \throws Stopped once `stop` is asked to
Analysis analysed(const Assembly& assembly, const Sweeper& sweeper, const std::stop_token& stop = {},
                  AnalysisMemory* memory = nullptr);

/// The figures that a load has, in the order in which they are told.
std::vector<FigureId> figures_of(const Assembly& assembly);

/// One of them; nothing where it could not be computed.
std::optional<double> value_of(const FigureId& figure, const Analysis& analysis);

}  // namespace evenspit
