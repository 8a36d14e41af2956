// SPDX-License-Identifier: MIT
#include "scan/scanned_body.h"

namespace evenspit::scan {

body::ScannedSkin skin_of(const ScannedBody& scanned) {
    body::ScannedSkin skin{scanned.mesh, scanned.regions, scanned.region_table,
                           scanned.bird ? scanned.report.kind : std::string(body::no_bird)};
    if (scanned.cavity) add_hollow(skin, *scanned.cavity);
    return skin;
}

body::Body to_body(const ScannedBody& scanned, const std::string& name, std::optional<double> mass_kg,
                   std::optional<double> density_kg_m3) {
    body::SolidBodyOptions options;
    options.name = name;
    options.mass_kg = mass_kg;
    options.density_kg_m3 = density_kg_m3;
    options.centre_covariance_m2 = scanned.report.centre_covariance_m2;
    options.scale_sigma = scanned.report.scale_sigma;
    return body_of(skin_of(scanned), options);
}

}  // namespace evenspit::scan
