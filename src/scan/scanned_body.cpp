// SPDX-License-Identifier: MIT
#include "scan/scanned_body.h"

#include <utility>

#include "body/solid_body.h"
#include "geometry/moments.h"

namespace evenspit::scan {

body::Body to_body(const ScannedBody& scanned, const std::string& name, std::optional<double> mass_kg) {
    body::SolidBodyOptions options;
    options.name = name;
    options.mass_kg = scanned.bird ? std::nullopt : mass_kg;
    options.centre_covariance_m2 = scanned.report.centre_covariance_m2;
    body::Body body = body::solid_body(scanned.mesh, options);
    body.hollow_known = true;
    if (!scanned.bird) return body;
    body.remarks.clear();
    body.pointed_ends_known = true;
    body.meat = body::Meat::poultry;
    body.region_table = scanned.region_table;
    body.parts[0].regions = scanned.regions;
    body.parts[0].density_kg_m3 = scanned.density_kg_m3;
    if (scanned.cavity) {
        body.parts.push_back(
            {.name = "cavity", .kind = body::PartKind::cavity, .mesh = *scanned.cavity, .parent = 0});
        body.remarks.emplace_back(
            "The cavity is inferred, not scanned: it lies where the parametric bird has it.");
        // The hollow weighs nothing, so that what is off in the skin counts for more.
        const double share = volume_moments(scanned.mesh).amount / body::matter_volume(body);
        if (body.centre_covariance_m2) *body.centre_covariance_m2 *= share * share;
    }
    body.remarks.emplace_back("Flesh and bone are taken as one density throughout.");
    return mass_kg ? body::with_scale_weight(std::move(body), *mass_kg) : body;
}

}  // namespace evenspit::scan
