// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "load/assembly.h"
#include "roast/conduction.h"
#include "roast/cook_ends.h"

namespace evenspit {

/// What an item's flesh lost and how it softened, cell by cell, as its temperatures go by.
///
/// Water leaves where the flesh holds less of it (water_held(), juice_lag_s), fat where skin got hot
/// (fat_rendered()); neither comes back. Juice comes to the surface where flesh lies bare, and some of it
/// through skin (juice_through_skin), and dries there; only what dries beyond that is lost on top. The rest
/// drips.
class FleshChange {
  public:
    FleshChange(const Item& item, std::shared_ptr<const HeatGrid> grid);

    /// One step of the heat that went by.
    void pass(const HeatMoment& moment);

    /// Takes stock.
    ///
    /// \param dried_kg water that evaporated since the start, by triangle, as Conduction::water_kg()
    void settle(std::span<const double> dried_kg);

    /// The item as it is; temperature left out. As of the last settle().
    [[nodiscard]] body::Matter matter() const;
    [[nodiscard]] double juice_kg() const;
    [[nodiscard]] double dried_kg() const { return dried_kg_; }
    [[nodiscard]] double fat_kg() const;

    /// Where no region is known, one stands for the whole.
    [[nodiscard]] std::size_t regions() const { return of_region_.size(); }
    [[nodiscard]] std::size_t region_of_triangle(std::size_t triangle) const {
        return region_of_triangle_[triangle];
    }
    /// Water that reaches a region's outside, kg/m2·s: what its outermost tissue lets through
    /// (water_reaching_surface_kg_m2s()), and juice where flesh lies bare, as it came between the last two
    /// settle().
    ///
    /// \param since_s it began to dry
    [[nodiscard]] double water_at_surface_kg_m2s(std::size_t region, double since_s) const;

  private:
    struct Lost {
        double kg = 0;
        Vec3 moment = Vec3::Zero();

        void add(double more_kg, const Vec3& at) {
            kg += more_kg;
            moment += more_kg * at;
        }
    };
    struct OfRegion {
        double outside_m2 = 0;
        bool has_skin = false;
        double water_kg_m3 = 0;  // in the outermost tissue, raw
        Lost juice, fat, dried;
        double dried_beyond_kg = 0;  // what its juice does not account for
        double juice_rate_kg_s = 0;
    };
    struct TissueLaw {
        bool holds_water = false, holds_fat = false;
        double water_kg_m3 = 0, fat_kg_m3 = 0;
        std::size_t region = 0;
    };
    void find_regions();
    void lay_cubes();
    void find_laws();
    [[nodiscard]] double raw_m3(std::size_t cell) const;
    [[nodiscard]] double retreat_m(std::size_t region) const;
    [[nodiscard]] std::shared_ptr<const body::FleshField> field(double& mean_strength) const;

    std::shared_ptr<const body::PreparedBody> body_;
    std::shared_ptr<const HeatGrid> grid_;
    BearingStrength strength_;
    bool strength_fixed_ = false;
    std::vector<TissueLaw> laws_;             // by tissue
    std::vector<float> water_left_;           // by cell, share of its raw water
    std::vector<float> hottest_k_;            // by cell
    std::vector<float> above_80_c_s_;         // by cell
    std::vector<std::int32_t> cells_;         // those with flesh
    std::vector<std::int32_t> cube_of_cell_;  // as cells_
    body::FleshField cubes_;                  // without values
    std::vector<std::size_t> region_of_triangle_;
    std::vector<Vec3> centre_of_triangle_;
    std::vector<OfRegion> of_region_;
    double scale_ = 1;  // the item's mass over that of its cells
    double dried_kg_ = 0;
    double settled_s_ = 0, now_s_ = 0;
};

}  // namespace evenspit
