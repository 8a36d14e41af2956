// SPDX-License-Identifier: MIT
#include "body/bird.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

#include "body/bird_fit.h"
#include "body/bird_model.h"
#include "body/bird_shape.h"
#include "body/bird_species.h"
#include "body/grown_body.h"
#include "body/refuse.h"
#include "units/parallel.h"

namespace evenspit::body {
namespace {

std::string listed(const std::vector<std::string>& names) {
    std::string list;
    for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
    return list;
}

const BirdSpecies& find_species(const BirdOptions& options) {
    for (const BirdSpecies& species : bird_species_table()) {
        if (species.name != options.species) continue;
        if (options.mass_kg >= species.least_kg && options.mass_kg <= species.greatest_kg) return species;
        refuse("mass", kilograms(options.mass_kg),
               "a " + options.species + " of " + kilograms(species.least_kg) + " to " +
                   kilograms(species.greatest_kg),
               "for anything else give a scan of it");
    }
    refuse("shape", "'" + options.species + "'", "one of: " + listed(bird_species()), "");
}

struct Limb {
    const char* name;
    bool wing, thigh, drumstick;
};
constexpr Limb all_limbs[] = {
    {"wing", true, false, false}, {"leg", false, true, true}, {"drumstick", false, false, true}};

// Shares of a whole bird's weight; only for the size of a bird that lacks them.
constexpr double wing_share = 0.057;
constexpr double thigh_share = 0.075;
constexpr double drumstick_share = 0.065;

struct WhatIsThere {
    Limbs limbs;
    double share = 1;  // of a whole bird's weight
};
WhatIsThere take_away(const std::vector<std::string>& missing) {
    WhatIsThere there;
    for (const std::string& name : missing) {
        bool known = false;
        for (const Side side : {Side::right, Side::left}) {
            for (const Limb& limb : all_limbs) {
                if (name != std::string(side == Side::right ? "right " : "left ") + limb.name) continue;
                const auto s = static_cast<std::size_t>(side);
                if (limb.wing) there.limbs.wing[s] = false;
                if (limb.thigh) there.limbs.thigh[s] = false;
                if (limb.drumstick) there.limbs.drumstick[s] = false;
                known = true;
            }
        }
        if (!known) refuse("missing", "'" + name + "'", "one of: " + listed(bird_limbs()), "");
    }
    for (const Side side : {Side::right, Side::left}) {
        const auto s = static_cast<std::size_t>(side);
        if (!there.limbs.wing[s]) there.share -= wing_share;
        if (!there.limbs.thigh[s]) there.share -= thigh_share;
        if (!there.limbs.drumstick[s]) there.share -= drumstick_share;
    }
    return there;
}

// What a model is meshed from and, beside it, each limb's swing, with those that are free or with those that
// a tie holds.
BodyModel model_with_swings(const std::string& name, const std::shared_ptr<const BirdShape>& shape,
                            const std::vector<RegionMatter>& matter, Trussing trussing) {
    BodyModel model;
    BirdShape::SwungPair legs, wings;
    const auto make = [&](std::size_t which, std::size_t) {
        if (which == 0) legs = shape->swung_legs();
        if (which == 1) model = bird_model(name, shape, matter);
        if (which == 2) wings = shape->swung_wings();
    };
    parallel_for(3, make, 1);
    std::vector<SwungLimb>& of_legs = trussing == Trussing::loose ? model.swung : model.if_undone;
    std::vector<SwungLimb>& of_wings = trussing == Trussing::tight ? model.if_undone : model.swung;
    for (const Side side : {Side::right, Side::left}) {
        const auto s = static_cast<std::size_t>(side);
        const std::string own = side == Side::right ? "right " : "left ";
        if (legs[s]) of_legs.push_back({own + "leg", std::move(*legs[s])});
        if (wings[s]) of_wings.push_back({own + "wing", std::move(*wings[s])});
    }
    return model;
}

}  // namespace

std::vector<std::string> bird_species() {
    std::vector<std::string> names;
    for (const BirdSpecies& species : bird_species_table()) names.emplace_back(species.name);
    return names;
}

std::vector<std::string> bird_limbs() {
    std::vector<std::string> names;
    for (const char* side : {"left ", "right "}) {
        for (const Limb& limb : all_limbs) names.push_back(std::string(side) + limb.name);
    }
    return names;
}

Body make_bird(const BirdOptions& options) {
    const BirdSpecies& species = find_species(options);
    const WhatIsThere there = take_away(options.missing);
    const double whole_kg = options.mass_kg / there.share;
    BirdForm form = species.form_at(whole_kg);
    const std::vector<RegionMatter> matter = species.matter();

    Growth growth{.mass_kg = options.mass_kg,
                  .spacing_m = options.spacing_m,
                  .stuffing_kg = options.stuffing_kg,
                  .stuffing_density_kg_m3 = options.stuffing_density_kg_m3,
                  .giblets_kg = options.giblets_kg};
    if (!options.tape.empty()) {
        // What its flesh weighs hardly depends on the form.
        const Body usual = grown_body(
            bird_model(options.species, std::make_shared<const BirdShape>(form, there.limbs), matter),
            {.mass_kg = options.mass_kg, .spacing_m = 0.02});
        const BirdFit fit = fit_bird(form, there.limbs, options.tape,
                                     {options.species, options.mass_kg, usual.parts.front().density_kg_m3});
        form = fit.form;
        growth.factor = fit.factor;
    }
    const auto shape = std::make_shared<const BirdShape>(form, there.limbs);
    const BodyModel model = model_with_swings(options.species, shape, matter, options.trussing);

    Body body = grown_body(model, growth);
    body.pointed_ends_known = true;
    body.meat = Meat::poultry;
    body.trussing = options.trussing;
    if (!options.missing.empty())
        body.remarks.push_back("without " + listed(options.missing) + ", and weighed without it");
    if (options.trussing == Trussing::loose) {
        body.remarks.emplace_back(
            "legs and wings are free: they count as folded, and sweep their whole swing");
    }
    if (options.trussing == Trussing::legs_tied)
        body.remarks.emplace_back("wings are free: they count as folded, and sweep their whole swing");
    return body;
}

}  // namespace evenspit::body
