// SPDX-License-Identifier: MIT
#include "roast/thermal_table.h"

#include <array>
#include <cmath>
#include <stdexcept>

namespace evenspit {
namespace {

// Half a kelvin a step in thawed meat, and far less where ice melts or water boils.
constexpr std::size_t table_nodes = 2049;
// Beyond, a capacity that changes is that of boiling water: there heat changes the temperature so little that
// nothing runs ahead of itself.
constexpr double no_ice_k = 330;
// A capacity that changes by more than this from one step to the next is that of melting ice.
constexpr double smooth_change = 0.05;

}  // namespace

ThermalTable::ThermalTable(std::span<const ThermalPoint> points) {
    if (points.size() < 2) throw std::invalid_argument("a thermal table needs two points");
    for (std::size_t i = 0; i < points.size(); ++i) {
        const ThermalPoint& p = points[i];
        const bool rises = i == 0 || (p.temperature_k > points[i - 1].temperature_k &&
                                      p.enthalpy_j_m3 > points[i - 1].enthalpy_j_m3);
        if (!rises || !(p.conductivity_w_mk > 0))
            throw std::invalid_argument("temperature and enthalpy must rise, and conductivity be positive");
    }
    first_j_m3_ = points.front().enthalpy_j_m3;
    step_j_m3_ = (points.back().enthalpy_j_m3 - first_j_m3_) / static_cast<double>(table_nodes - 1);
    per_step_m3_j_ = 1 / step_j_m3_;
    nodes_.reserve(table_nodes);
    std::size_t next = 1;
    for (std::size_t n = 0; n < table_nodes; ++n) {
        const double enthalpy = first_j_m3_ + static_cast<double>(n) * step_j_m3_;
        while (next + 1 < points.size() && points[next].enthalpy_j_m3 < enthalpy) ++next;
        const ThermalPoint& a = points[next - 1];
        const ThermalPoint& b = points[next];
        const double share = (enthalpy - a.enthalpy_j_m3) / (b.enthalpy_j_m3 - a.enthalpy_j_m3);
        nodes_.push_back({a.temperature_k + share * (b.temperature_k - a.temperature_k),
                          a.conductivity_w_mk + share * (b.conductivity_w_mk - a.conductivity_w_mk), 0});
    }
    for (std::size_t n = 0; n + 1 < nodes_.size(); ++n)
        nodes_[n].capacity_j_m3k = step_j_m3_ / (nodes_[n + 1].temperature_k - nodes_[n].temperature_k);
    for (std::size_t n = 1; n + 1 < nodes_.size(); ++n) {
        const double before = nodes_[n].temperature_k - nodes_[n - 1].temperature_k;
        const double after = nodes_[n + 1].temperature_k - nodes_[n].temperature_k;
        const bool changes = std::abs(after - before) > smooth_change * after;
        if (changes && nodes_[n].temperature_k < no_ice_k) smooth_above_k_ = nodes_[n + 1].temperature_k;
    }
    find_boiling();
}

void ThermalTable::find_boiling() {
    constexpr double sudden = 10;
    for (std::size_t n = 1; n + 1 < nodes_.size(); ++n) {
        const double before = nodes_[n - 1].capacity_j_m3k, after = nodes_[n].capacity_j_m3k;
        const double here = first_j_m3_ + static_cast<double>(n) * step_j_m3_;
        if (!boils() && nodes_[n].temperature_k > no_ice_k && after > sudden * before) {
            boils_from_j_m3_ = here;
            boils_to_j_m3_ = first_j_m3_ + static_cast<double>(nodes_.size() - 1) * step_j_m3_;
            // One step further back: the corner may lie within the last.
            wet_j_m3k_ = dry_j_m3k_ = nodes_[n > 1 ? n - 2 : 0].capacity_j_m3k;
        } else if (boils() && before > sudden * after) {
            boils_to_j_m3_ = here;
            dry_j_m3k_ = nodes_[n + 1].capacity_j_m3k > 0 ? nodes_[n + 1].capacity_j_m3k : after;
            return;
        }
    }
}

ThermalTable::State ThermalTable::after_boiling(double most_j_m3, double enthalpy_j_m3) const {
    const State hottest = at(most_j_m3);
    const double boiled =
        std::clamp((most_j_m3 - boils_from_j_m3_) / (boils_to_j_m3_ - boils_from_j_m3_), 0.0, 1.0);
    const double capacity = wet_j_m3k_ + boiled * (dry_j_m3k_ - wet_j_m3k_);
    return {hottest.temperature_k - (most_j_m3 - enthalpy_j_m3) / capacity, hottest.conductivity_w_mk,
            capacity};
}

double ThermalTable::enthalpy_j_m3(double temperature_k) const {
    const auto above = std::upper_bound(nodes_.begin() + 1, nodes_.end() - 1, temperature_k,
                                        [](double t, const Node& node) { return t < node.temperature_k; });
    const Node& b = *above;
    const Node& a = *(above - 1);
    const double share = (temperature_k - a.temperature_k) / (b.temperature_k - a.temperature_k);
    return first_j_m3_ + step_j_m3_ * (static_cast<double>(above - 1 - nodes_.begin()) + share);
}

ThermalTable ThermalTable::scaled(double conductivity, double capacity) const {
    ThermalTable other = *this;
    other.first_j_m3_ *= capacity;
    other.step_j_m3_ *= capacity;
    other.per_step_m3_j_ /= capacity;
    other.boils_from_j_m3_ *= capacity;
    other.boils_to_j_m3_ *= capacity;
    other.wet_j_m3k_ *= capacity;
    other.dry_j_m3k_ *= capacity;
    for (Node& node : other.nodes_) {
        node.conductivity_w_mk *= conductivity;
        node.capacity_j_m3k *= capacity;
    }
    return other;
}

ThermalTable constant_matter(double conductivity_w_mk, double capacity_j_m3k) {
    constexpr double hot_k = 1000;
    const std::array<ThermalPoint, 2> points{
        {{0, 0, conductivity_w_mk}, {hot_k, hot_k * capacity_j_m3k, conductivity_w_mk}}};
    return ThermalTable(points);
}

}  // namespace evenspit
