// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "body/body.h"

namespace evenspit {

/// How the limbs are held.
enum class Trussing { tight, loose };

/// What a parametric bird is made from.
struct BirdOptions {
    std::string species = "turkey";
    double mass_kg = 0;  ///< scale weight, giblets out, stuffing not counted; > 0
    Trussing trussing = Trussing::tight;
    double stuffing_kg = 0;  ///< 0: empty cavity
};

/// Names that make_bird() knows.
std::vector<std::string> bird_species();

/// A whole bird in the item frame: x from vent to neck, z from back to breast, origin midway between the two
/// openings.
///
/// Flesh, bones and cavity as nested closed parts; sizes follow the mass by the species' proportions; the
/// whole weighs what the scale said plus the stuffing.
///
/// \throws InputError (key "shape" or "mass") for an unknown species, or a mass outside the species' range
/// (told with the range).
Body make_bird(const BirdOptions& options);

}  // namespace evenspit
