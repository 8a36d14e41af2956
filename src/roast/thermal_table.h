// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

namespace evenspit {

/// What a matter is like at one temperature.
struct ThermalPoint {
    double temperature_k = 0;
    double enthalpy_j_m3 = 0;  ///< per volume as it lies in the body, from any zero
    double conductivity_w_mk = 0;
};

/// Temperature and conductivity of a matter against its enthalpy, laid down evenly in enthalpy.
///
/// Enthalpy is what is conserved: with it as the variable, water that freezes or thaws is a place where
/// temperature hardly rises, not a spike to be hit. All three run in straight lines between the table's
/// places, so that temperature and enthalpy are exact inverses of each other. Beyond its ends temperature
/// goes on in a line and conductivity stays.
class ThermalTable {
  public:
    struct State {
        double temperature_k = 0;
        double conductivity_w_mk = 0;
        double capacity_j_m3k = 0;  ///< dH/dT
    };

    /// \param points at least two, temperature and enthalpy both strictly increasing, conductivity positive
    /// \throws std::invalid_argument otherwise
    explicit ThermalTable(std::span<const ThermalPoint> points);

    [[nodiscard]] State at(double enthalpy_j_m3) const {
        const Place p = place(enthalpy_j_m3);
        const Node& a = nodes_[p.index];
        const Node& b = nodes_[p.index + 1];
        const double within = std::clamp(p.share, 0.0, 1.0);
        return {a.temperature_k + p.share * (b.temperature_k - a.temperature_k),
                a.conductivity_w_mk + within * (b.conductivity_w_mk - a.conductivity_w_mk), a.capacity_j_m3k};
    }
    [[nodiscard]] double temperature_k(double enthalpy_j_m3) const {
        const Place p = place(enthalpy_j_m3);
        const Node& a = nodes_[p.index];
        return a.temperature_k + p.share * (nodes_[p.index + 1].temperature_k - a.temperature_k);
    }
    [[nodiscard]] double enthalpy_j_m3(double temperature_k) const;

    /// The same for matter that had `most_j_m3` at its hottest, where some or all of its water boiled: steam
    /// has left, and its heat does not come back. What is left cools, and warms again up to there, with the
    /// heat capacity of wet and dry matter by how much of each there is.
    /// \param most_j_m3 at least boils_from_j_m3() and `enthalpy_j_m3`
    [[nodiscard]] State after_boiling(double most_j_m3, double enthalpy_j_m3) const;
    /// Where boiling begins; infinite for what does not boil.
    [[nodiscard]] double boils_from_j_m3() const { return boils_from_j_m3_; }

    /// The same matter with conductivity and heat capacity that many times as great.
    [[nodiscard]] ThermalTable scaled(double conductivity, double capacity) const;

    /// Above this the capacity changes little from place to place: no more ice.
    [[nodiscard]] double smooth_above_k() const { return smooth_above_k_; }

    /// Whether it takes up heat that hardly warms it far above melting: its water boils.
    [[nodiscard]] bool boils() const { return boils_from_j_m3_ < std::numeric_limits<double>::infinity(); }

  private:
    struct Node {
        double temperature_k = 0;
        double conductivity_w_mk = 0;
        double capacity_j_m3k = 0;  // up to the next
    };
    void find_boiling();
    struct Place {
        std::size_t index = 0;  // of the node before
        double share = 0;       // of the way to the next; outside [0, 1] beyond the ends
    };
    [[nodiscard]] Place place(double enthalpy_j_m3) const {
        const double along = (enthalpy_j_m3 - first_j_m3_) * per_step_m3_j_;
        const double last = static_cast<double>(nodes_.size() - 2);
        const auto index = static_cast<std::int32_t>(std::clamp(along, 0.0, last));
        return {std::size_t(index), along - static_cast<double>(index)};
    }

    std::vector<Node> nodes_;
    double first_j_m3_ = 0, step_j_m3_ = 0, per_step_m3_j_ = 0;
    double smooth_above_k_ = 0;
    double boils_from_j_m3_ = std::numeric_limits<double>::infinity(), boils_to_j_m3_ = boils_from_j_m3_;
    double wet_j_m3k_ = 0, dry_j_m3k_ = 0;  // heat capacities just before and just after boiling
};

/// A matter whose properties do not change.
ThermalTable constant_matter(double conductivity_w_mk, double capacity_j_m3k);

}  // namespace evenspit
