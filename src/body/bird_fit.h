// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "body/bird.h"
#include "body/bird_shape.h"

namespace evenspit::body {

/// A form and an enlargement that measure what a tape does.
struct BirdFit {
    BirdForm form;
    double factor = 1;
};

/// The bird that is measured.
struct MeasuredBird {
    std::string species;
    double mass_kg = 0;
    double flesh_density = 0;  ///< natural, kg/m3
};

/// Fits trunk length, width, depth, breast, splay of the legs and the enlargement by damped Gauss–Newton.
/// Residuals: each measure (0.3 %), the weight at natural density (3 %), and the proportions' distance from
/// `prior` (8 %, splay 40 %).
///
/// \throws InputError for the measure that is missed by most, if it is missed by more than 4 %, or if the
/// density that weight and
///         tape imply is not one of meat
BirdFit fit_bird(const BirdForm& prior, const Limbs& limbs, const BirdTape& tape, const MeasuredBird& bird);

}  // namespace evenspit::body
