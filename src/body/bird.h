// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "body/body.h"

namespace evenspit {

/// How the limbs are held.
enum class Trussing {
    tight,      ///< legs and wings tied
    legs_tied,  ///< wings free
    loose,      ///< legs and wings free
};

/// What a parametric bird is made from.
struct BirdOptions {
    std::string species = "turkey";
    double mass_kg = 0;  ///< scale weight, giblets out, stuffing not counted; > 0
    Trussing trussing = Trussing::tight;
    double stuffing_kg = 0;  ///< 0: empty cavity
    /// Edge of the mesher's lattice on a reference-sized bird, m; a smaller bird gets a lattice as much
    /// finer.
    double spacing_m = 0.011;
};

/// Names that make_bird() knows.
std::vector<std::string> bird_species();

/// A whole bird in the item frame: x from vent to neck, z from back to breast, origin midway between the
/// centres of the two openings; the bird's own left is −y.
///
/// Flesh, bones and cavity as nested closed parts; sizes follow the mass by the species' proportions; the
/// whole weighs what the scale said plus the stuffing. Body::shares tells what each part weighs. A free limb
/// stays folded for the mass and fills its swing in Body::swung.
///
/// \throws InputError (key "shape", "mass" or "stuffing") for an unknown species, a mass outside the species'
/// range (told with the
///         range), or more stuffing than the cavity holds
Body make_bird(const BirdOptions& options);

}  // namespace evenspit
