// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <stop_token>
#include <vector>

#include "roast/conduction.h"
#include "roast/flesh_change.h"
#include "roast/roast_course.h"

namespace evenspit {

/// What all of an item's skin meets beside its own heat: air with its vapour.
struct RoastAir {
    double vapour_pa = 0;
    /// Conductance from a hollow to the air, W/m2·K of its wall.
    double hollow_w_m2k = 0;
};

/// How far off the steps of a cook may be.
ConductionOptions cooking_steps();

/// One item in the fire: its heat and what that does to it.
class ItemRoast {
  public:
    /// \param places all of the load's; those of this item are watched
    ItemRoast(const Item& item, std::size_t index, std::span<const RoastPlace> places, double start_k,
              const RoastOptions& options);

    /// Goes on to `seconds` after the start, heated like that all the while.
    void advance(double seconds, const SkinHeating& heating, const RoastAir& air,
                 const std::stop_token& stop);

    /// As it is now.
    [[nodiscard]] ItemMoment moment() const;
    /// From now on places_k() tells of a point that is about the coldest now, as a thermometer does that is
    /// left in.
    void leave_thermometers();
    /// The coldest points of its places, in the order of all places that are its own.
    [[nodiscard]] std::vector<double> places_k() const;
    /// Where these are now, item frame; nothing for probes.
    [[nodiscard]] std::vector<std::optional<Vec3>> coldest_at() const;
    /// Of all points of a place, what the one was at its hottest that had the least of it.
    [[nodiscard]] std::vector<double> least_peaks_k() const;
    /// Mean over its outside, hollows left out.
    [[nodiscard]] double skin_k() const;
    /// Water that it gave off in the last advance(), kg/s.
    [[nodiscard]] double drying_kg_s() const { return drying_kg_s_; }
    /// See SkinHeat.
    [[nodiscard]] SkinHeat skin_heat() const;
    [[nodiscard]] RoastCut cut(bool lengthwise) const;
    [[nodiscard]] HeatCells heat_cells() const;
    /// Heat taken up, that of drying included, J.
    [[nodiscard]] double taken_j() const;
    [[nodiscard]] double imbalance() const { return heat_->ledger().imbalance(); }
    [[nodiscard]] std::size_t cells() const { return grid_->active_cells(); }

  private:
    [[nodiscard]] std::vector<SurfaceExposure> exposures(const SkinHeating& heating, const RoastAir& air,
                                                         double middle_s) const;
    [[nodiscard]] double ice_share() const;

    const Item& item_;
    std::size_t index_ = 0;
    RoastOptions options_;
    std::shared_ptr<const HeatGrid> grid_;
    std::unique_ptr<Conduction> heat_;
    std::unique_ptr<FleshChange> change_;
    struct Watched {
        std::vector<std::int32_t> cells;
        std::vector<float> depths_m;  // as cells
        std::vector<float> peaks_k;   // as cells; of a point one
        std::optional<Vec3> point{};
        std::optional<std::int32_t> left_in{};
    };
    [[nodiscard]] float coldest_k(const Watched& watched) const;
    [[nodiscard]] std::optional<std::int32_t> coldest_cell(const Watched& watched) const;
    [[nodiscard]] Watched watched(const RoastPlace& place, const std::vector<float>& depths_m) const;
    void note_peaks();
    std::vector<Watched> watched_;
    std::vector<double> area_m2_;   // by triangle of all surfaces
    std::vector<bool> is_outside_;  // by triangle: not along a hollow
    double drying_kg_s_ = 0;
    std::vector<double> dried_kg_;
};

}  // namespace evenspit
