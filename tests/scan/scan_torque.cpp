// SPDX-License-Identifier: MIT
#include "scan_torque.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "analysis/balance.h"
#include "analysis/loads.h"
#include "analysis/mountings.h"
#include "body/solid_body.h"

namespace evenspit::test {

namespace {

constexpr double station_m = 0.34, mass_kg = 4;

Assembly load_of(TriangleMesh mesh, const std::optional<Mat3>& covariance,
                 std::optional<double> scale_sigma) {
    body::SolidBodyOptions options;
    options.name = "roast";
    options.mass_kg = mass_kg;
    options.centre_covariance_m2 = covariance;
    options.scale_sigma = scale_sigma;
    Assembly load = good_load();
    load.rod = weightless_rod();
    load.forks.clear();
    load.items.clear();
    load.items.push_back(item("roast", body::solid_body(std::move(mesh), options), station_m));
    return load;
}

// Of the mountings of a load, sorted, N m.
std::vector<double> torques(const Assembly& load, std::size_t count) {
    const Mountings mountings(load, count);
    std::vector<double> all;
    all.reserve(count);
    Assembly work = load;
    for (std::size_t k = 0; k < count; ++k) {
        mountings.mount(work, k);
        all.push_back(standard_gravity * unbalance_of(work, Doneness::raw).norm());
    }
    std::sort(all.begin(), all.end());
    return all;
}

}  // namespace

double share_over_told(const ScanCase& given, const scan::ScannedBody& made, std::size_t mountings) {
    // The true body's own x lies along the rod, which goes through the centre that the scan tells.
    Pose to_rod = given.body_pose.inverse();
    const Vec3 told_centre = to_rod * volume_moments(made.mesh).centre;
    to_rod.pretranslate(-told_centre);
    std::optional<Mat3> covariance = made.report.centre_covariance_m2;
    if (covariance) *covariance = turned(*covariance, to_rod);
    const std::vector<double> told =
        torques(load_of(transformed(made.mesh, to_rod), covariance, made.report.scale_sigma), mountings);
    const std::vector<double> truth =
        torques(load_of(transformed(given.body.skin, to_rod * given.body_pose), std::nullopt, std::nullopt),
                mountings);
    const double p95 = told[std::size_t(0.95 * double(told.size() - 1))];
    return double(truth.end() - std::upper_bound(truth.begin(), truth.end(), p95)) / double(truth.size());
}

}  // namespace evenspit::test
