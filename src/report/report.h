// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "analysis/analysis.h"
#include "units/quantity.h"

namespace evenspit {

struct TextOptions {
    UnitSystem units = UnitSystem::metric;
    bool colour = false;  ///< ANSI colours
    int width = 80;       ///< columns to wrap at
};

/// How a level is marked: "STOP", "CARE" or "READY".
std::string_view level_mark(Level level);
/// What a verdict means, in one sentence.
std::string_view verdict_sentence(Level verdict);

/// What a cook reads: the verdict, then each finding with what to do, then the figures.
std::string text_report(const Assembly& assembly, const Analysis& analysis, const TextOptions& options);

/// The result as one JSON object, SI, keys with their units; numbers that could not be computed are left out.
std::string json_report(const Assembly& assembly, const Analysis& analysis);

/// The curves as CSV with a header line each: torque over a turn, sag and radius along the rod; one table
/// after the other, told apart by the first column.
std::string csv_report(const Analysis& analysis);

}  // namespace evenspit
