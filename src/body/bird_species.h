// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>
#include <vector>

#include "body/bird_shape.h"
#include "body/composition.h"
#include "body/tissues.h"

namespace evenspit::body {

/// What the parts of a species are made of; see RegionMatter.
struct BirdMatter {
    struct Shares {
        double bone = 0, skin_and_fat = 0;
    };
    Shares breast, back, neck, tail, thigh, drumstick, wing;
    Composition light, dark, skin;  ///< lean of breast and wing, lean of the rest, skin with fat
};

/// What is known of a species.
struct BirdSpecies {
    std::string_view name;
    std::string_view about;                ///< in a few words
    double least_kg = 0, greatest_kg = 0;  ///< dressed weights
    double reference_kg = 0;               ///< the weight for which `form` holds as it stands
    BirdMatter parts;
    BirdForm form;

    /// The form at a weight: heavier birds are deeper in the breast and shorter in the limbs.
    [[nodiscard]] BirdForm form_at(double mass_kg) const;
    /// Of a bird out of the refrigerator, by BirdRegion.
    [[nodiscard]] std::vector<RegionMatter> matter() const;
};

const std::vector<BirdSpecies>& bird_species_table();

}  // namespace evenspit::body
