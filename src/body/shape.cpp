// SPDX-License-Identifier: MIT
#include "body/shape.h"

#include <algorithm>
#include <utility>

#include "body/bird_species.h"
#include "body/joint.h"
#include "body/joint_models.h"
#include "body/refuse.h"

namespace evenspit::body {

std::vector<ShapeKind> shape_kinds() {
    std::vector<ShapeKind> kinds;
    const auto add = [&kinds](const auto& table) {
        for (const auto& entry : table) {
            kinds.push_back(
                {std::string(entry.name), std::string(entry.about), entry.least_kg, entry.greatest_kg});
        }
    };
    add(bird_species_table());
    add(joint_table());
    return kinds;
}

std::vector<std::string> shape_names() {
    std::vector<std::string> names;
    for (ShapeKind& kind : shape_kinds()) names.push_back(std::move(kind.name));
    return names;
}

bool is_bird(const std::string& name) {
    const std::vector<std::string> birds = bird_species();
    return std::find(birds.begin(), birds.end(), name) != birds.end();
}

std::vector<Trussing> trussings(const std::string& name) {
    using enum Trussing;
    if (is_bird(name)) return {tight, legs_tied, loose};
    for (const JointKind& kind : joint_table()) {
        if (kind.name == name && kind.has_legs) return {folded, stretched, loose};
    }
    return {};
}

Body make_shape(const ShapeOptions& options) {
    const std::vector<std::string> joints = joint_kinds();
    if (std::find(joints.begin(), joints.end(), options.species) == joints.end()) {
        if (is_bird(options.species)) return make_bird(options);
        std::string names;
        for (const std::string& name : shape_names()) names += (names.empty() ? "" : ", ") + name;
        refuse("shape", "'" + options.species + "'", "one of: " + names, "");
    }
    const auto only_birds = [&](bool given, const char* key) {
        if (given) {
            refuse(key, std::string(key) + " of a " + options.species, "nothing: only a bird has that",
                   "leave it out");
        }
    };
    only_birds(!options.missing.empty(), "missing");
    only_birds(options.giblets_kg > 0, "giblets");
    only_birds(options.tape.breast_width.has_value(), "breast_width");
    only_birds(options.tape.girth.has_value(), "girth");
    only_birds(options.tape.leg_splay.has_value(), "leg_splay");
    return make_joint(
        {.kind = options.species,
         .mass_kg = options.mass_kg,
         .stuffing_kg = options.stuffing_kg,
         .stuffing_density_kg_m3 = options.stuffing_density_kg_m3,
         .length = options.tape.length,
         .width = options.tape.width,
         .depth = options.tape.depth,
         .trussing = options.trussing == Trussing::tight ? JointOptions{}.trussing : options.trussing});
}

}  // namespace evenspit::body
