// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "body/body.h"
#include "body/trussing.h"

namespace evenspit::body {

/// What a tape measure says of a bird, m. Any of them may be left out.
struct BirdTape {
    std::optional<double> length{};        ///< over all, from the drumsticks' ends to the cut of the neck
    std::optional<double> width{};         ///< over all, limbs as they lie
    std::optional<double> depth{};         ///< over all, from back to breast
    std::optional<double> breast_width{};  ///< across the breast alone
    std::optional<double> girth{};         ///< round trunk and limbs where that is most
    std::optional<double> leg_splay{};     ///< between the middles of the drumsticks' ends

    [[nodiscard]] bool empty() const {
        return !length && !width && !depth && !breast_width && !girth && !leg_splay;
    }
};

/// What a parametric bird is made from.
struct BirdOptions {
    std::string species = "turkey";
    double mass_kg = 0;                   ///< scale weight, giblets out, stuffing not counted; > 0
    Trussing trussing = Trussing::tight;  ///< tight, legs_tied or loose
    double stuffing_kg = 0;               ///< 0: empty cavity
    /// As it lies in the cavity, from least_stuffing_density to greatest_stuffing_density; without it bread
    /// stuffing, spooned in and pressed where it must be.
    std::optional<double> stuffing_density_kg_m3{};
    double giblets_kg = 0;  ///< left in the cavity, on top of mass_kg
    std::vector<std::string>
        missing{};    ///< "left wing", "right leg", "left drumstick" …; the scale weight is without them
    BirdTape tape{};  ///< overrides the species' proportions
    double spacing_m =
        0.0115;  ///< of the mesher on a turkey of 5.9 kg; other birds get the same number of triangles
};

/// Names that make_bird() knows.
std::vector<std::string> bird_species();

/// Names of limbs that can be missing.
std::vector<std::string> bird_limbs();

/// A whole bird in the item frame: x from vent to neck, z from back to breast, origin midway between the
/// centres of the two openings; the bird's own left is −y.
///
/// Flesh, bones and cavity as nested closed parts. Sizes follow the mass by the species' proportions at the
/// natural densities of flesh and bone; the whole weighs what the scale said, and the contents on top of it.
/// Body::shares tells what each part weighs. A free limb stays folded for the mass and fills its swing in
/// Body::swung, a tied one in Body::if_undone. A missing limb is left out of skin, bones and shares.
///
/// With a tape the form is fitted (least squares, the species' proportions as the prior) until it measures
/// what the tape does; the scale weight stays, so the density tells whether both agree.
///
/// \pre the trussing is one that a bird has
/// \throws InputError: key "shape" for an unknown species; "mass" for a mass outside the species' range;
/// "missing" for an unknown
///         limb; "stuffing", "giblets" for more than the cavity holds; "stuffing_density" for one that no
///         stuffing has; "length", "girth" … for a measure that no bird of this weight has. Each tells what
///         would fit.
Body make_bird(const BirdOptions& options);

}  // namespace evenspit::body
