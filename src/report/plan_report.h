// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "plan/compare.h"
#include "plan/fit.h"
#include "plan/plan.h"
#include "report/report.h"

namespace evenspit {

/// A plan for a cook: what is recommended and how it is done, all answers side by side with what each takes
/// and brings, and what stands in the way if nothing will do. The load is the one as it stands.
std::string plan_text(const Assembly& assembly, const plan::Plan& plan, const TextOptions& options);

/// The plan as one JSON object, SI: `plan` holds the answers in their order, `recommended` the place of one.
std::string plan_json(const Assembly& assembly, const plan::Plan& plan);

/// Loads side by side, the better figure of each row marked with "*"; rows that are all alike are told last.
std::string comparison_text(const std::vector<plan::ComparedLoad>& loads, const TextOptions& options);
std::string comparison_json(const std::vector<plan::ComparedLoad>& loads);
/// One row a load, SI.
std::string comparison_csv(const std::vector<plan::ComparedLoad>& loads);

/// A sweep's loads, one row a value. \pre as many loads as the sweep has values
std::string sweep_text(const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads,
                       const TextOptions& options);
std::string sweep_json(const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads);
std::string sweep_csv(const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads);
/// The same as a picture: a curve for each figure that changes, over the values; an SVG document.
std::string sweep_svg(const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads,
                      UnitSystem units = UnitSystem::metric);

/// The masses that were tried, the largest that can turn, and what stops the next.
std::string fit_text(const Assembly& assembly, const plan::Fit& fit, const TextOptions& options);
std::string fit_json(const Assembly& assembly, const plan::Fit& fit);

}  // namespace evenspit
