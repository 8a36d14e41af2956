// SPDX-License-Identifier: MIT
#include "body/joint.h"

#include "body/grown_body.h"
#include "body/joint_models.h"
#include "body/refuse.h"
#include "units/quantity.h"

namespace evenspit::body {
namespace {

const JointKind& find_kind(const JointOptions& options) {
    std::string names;
    for (const JointKind& kind : joint_table()) {
        names += (names.empty() ? "" : ", ") + std::string(kind.name);
        if (kind.name != options.kind) continue;
        if (options.mass_kg >= kind.least_kg && options.mass_kg <= kind.greatest_kg) return kind;
        refuse("mass", kilograms(options.mass_kg),
               "a " + options.kind + " of " + kilograms(kind.least_kg) + " to " + kilograms(kind.greatest_kg),
               "for anything else give a scan of it");
    }
    refuse("shape", "'" + options.kind + "'", "one of: " + names, "");
}

}  // namespace

std::vector<std::string> joint_kinds() {
    std::vector<std::string> names;
    for (const JointKind& kind : joint_table()) names.emplace_back(kind.name);
    return names;
}

Body make_joint(const JointOptions& options) {
    const JointKind& kind = find_kind(options);
    BodyModel model = kind.model(options.trussing);
    model.name = options.kind;
    kind.weigh(model);
    Growth growth{.mass_kg = options.mass_kg,
                  .spacing_m = options.spacing_m.value_or(kind.spacing_m),
                  .stuffing_kg = options.stuffing_kg,
                  .stuffing_density_kg_m3 = options.stuffing_density_kg_m3};
    growth.size = {.length = options.length, .width = options.width, .depth = options.depth};
    Body body = grown_body(model, growth);
    body.meat = kind.meat;
    if (kind.has_legs) body.trussing = options.trussing;
    if (!body.swung.empty())
        body.remarks.emplace_back("legs are free: they count as folded, and sweep their whole swing");
    return body;
}

}  // namespace evenspit::body
