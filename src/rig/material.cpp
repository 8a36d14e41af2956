// SPDX-License-Identifier: MIT
#include "rig/material.h"

#include <algorithm>

namespace evenspit {
namespace {

double factor_at(const std::vector<HotFactor>& rows, double temperature_k, double HotFactor::*which) {
    if (rows.empty()) return 1;
    const auto above = std::upper_bound(rows.begin(), rows.end(), temperature_k,
                                        [](double t, const HotFactor& row) { return t < row.temperature_k; });
    if (above == rows.begin()) return rows.front().*which;
    if (above == rows.end()) return rows.back().*which;
    const HotFactor& low = *(above - 1);
    const double t = (temperature_k - low.temperature_k) / (above->temperature_k - low.temperature_k);
    return low.*which + t * ((*above).*which - low.*which);
}

}  // namespace

double Material::modulus_at(double temperature_k) const {
    return youngs_modulus_pa * factor_at(hot, temperature_k, &HotFactor::modulus);
}

double Material::yield_at(double temperature_k) const {
    return yield_strength_pa * factor_at(hot, temperature_k, &HotFactor::strength);
}

}  // namespace evenspit
