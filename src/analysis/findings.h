// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/analysis.h"

namespace evenspit {

/// A tine with less flesh over it tears the skin; less bone than the other is grazed, not pierced. Common
/// practice, no source.
inline constexpr double cover_care_m = 0.008;
inline constexpr double bone_care_m = 1e-4;

/// What motor, turning, rod, grip, clearance and bodies have to say, each with the figure, the limit, and
/// what to do. One finding of level `ready` stands for each question that is in order, so that its margin can
/// be read too.
///
/// Limits: motor use 0.6 care, 1 stop, overrun care; gap below keep care, below 0 stop; yield use 0.5 care, 1
/// stop, sag over 5 mm care; grip torque use 0.5 care, 1 stop, a tine in bone or under 8 mm of cover care.
/// Common practice, no source.
std::vector<Finding> figure_findings(const Assembly& assembly, const Analysis& analysis);

/// Remarks of reading and of the bodies, as findings of level `ready`.
std::vector<Finding> remark_findings(const Assembly& assembly);

}  // namespace evenspit
