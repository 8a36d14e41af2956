// SPDX-License-Identifier: MIT
#pragma once

#include <span>

#include "roast/lethality.h"
#include "roast/roast_course.h"

namespace evenspit {

/// What a place went through.
///
/// \param in whose kinetics count for it
/// \param times_s, coldest_k, least_peaks_k as many of each, at least one, times in order; as RoastMoment has
/// them
PlaceCourse place_course(const RoastPlace& place, SalmonellaIn in, std::span<const double> times_s,
                         std::span<const double> coldest_k, std::span<const double> least_peaks_k);

}  // namespace evenspit
