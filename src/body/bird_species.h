// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>
#include <vector>

#include "body/bird_shape.h"

namespace evenspit {

/// What is known of a species.
struct BirdSpecies {
    std::string_view name;
    std::string_view about;                ///< in a few words
    double least_kg = 0, greatest_kg = 0;  ///< dressed weights
    double reference_kg = 0;               ///< the weight for which `form` holds as it stands
    std::string_view flesh;                ///< number of its raw_food()
    BirdForm form;

    /// The form at a weight: heavier birds are deeper in the breast and shorter in the limbs.
    [[nodiscard]] BirdForm form_at(double mass_kg) const;
    /// Of flesh with skin, out of the refrigerator, by composition, kg/m3.
    [[nodiscard]] double flesh_density() const;
};

const std::vector<BirdSpecies>& bird_species_table();

}  // namespace evenspit
