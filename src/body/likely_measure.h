// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "body/refuse.h"

namespace evenspit::body {

/// Refuses a measure that is further from the usual one of such a body than by a factor: tape and scale do
/// not speak of the same thing then, and no fit needs to be tried.
///
/// \param usual_m what a body of natural proportions and of that weight measures
/// \param furthest > 1
/// \throws InputError with that key, telling the usual measure and the range
inline void require_likely_measure(const char* key, double wanted_m, double usual_m, double furthest,
                                   const std::string& kind, double mass_kg) {
    const double least = usual_m / furthest, greatest = usual_m * furthest;
    if (wanted_m > least && wanted_m < greatest) return;
    refuse(key, metric_length(wanted_m),
           "about " + metric_length(usual_m) + " (" + metric_length(least) + " to " +
               metric_length(greatest) + ") for a " + kind + " of " + kilograms(mass_kg),
           "check the tape and the scale; for a body unlike others give a scan");
}

// Common practice, no source.

/// Joints: they are only stretched.
inline constexpr double furthest_joint_measure = 1.45;
/// Birds: wide of what fit_bird() can take, which judges the measures together.
inline constexpr double furthest_bird_measure = 1.7;
/// Legs hang apart, or are pressed together, more than anything else of a bird changes.
inline constexpr double furthest_leg_splay = 3;

}  // namespace evenspit::body
