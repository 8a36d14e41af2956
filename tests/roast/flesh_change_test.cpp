// SPDX-License-Identifier: MIT
#include "roast/flesh_change.h"

#include <cmath>

#include <gtest/gtest.h>

#include "body/bird.h"
#include "heat_cases.h"
#include "roast/flesh_laws.h"
#include "scenes.h"

namespace evenspit {
namespace {

/// All cells at one temperature from a time to another.
class Bath {
  public:
    explicit Bath(const Item& item) : grid_(test::grid_of(*item.body, 0.006)), change_(item, grid_) {
        settle();
    }
    void hold(double kelvin, double seconds) {
        temperature_k_.assign(grid_->box.size(), static_cast<float>(kelvin));
        warmed_k_.assign(grid_->box.size(), 0.0f);
        constexpr double step_s = 60;
        for (double left = seconds; left > 0; left -= step_s) {
            const double from_s = now_s_;
            now_s_ += std::min(step_s, left);
            change_.pass({from_s, now_s_, temperature_k_, warmed_k_});
        }
        settle();
    }
    [[nodiscard]] const FleshChange& change() const { return change_; }

  private:
    void settle() { change_.settle(std::vector<double>(std::size_t(grid_->triangle_count), 0.0)); }
    std::shared_ptr<const HeatGrid> grid_;
    FleshChange change_;
    std::vector<float> temperature_k_, warmed_k_;
    double now_s_ = 0;
};

// Lean pork held at 70 °C for a day loses what it cannot hold: (0.745 − 0.486) / 0.745 of its water.
TEST(FleshChange, LosesWhatItCannotHold) {
    const Item item = test::meat_at(test::ball(0.06), 0.3);
    Bath bath(item);
    EXPECT_NEAR(bath.change().matter().mass_kg, item.body->mass.amount, 1e-9);
    bath.hold(343.15, juice_lag_s);
    const double early = bath.change().juice_kg();
    bath.hold(343.15, 24 * 3600);
    const double all = bath.change().juice_kg();
    EXPECT_NEAR(early / all, 1 - std::exp(-1), 0.01);
    const double water_kg = all * 0.745 / (0.745 - 0.486);
    EXPECT_GT(water_kg / item.body->mass.amount, 0.6);
    EXPECT_LT(water_kg / item.body->mass.amount, 0.8);
    // Cooling brings nothing back.
    bath.hold(280, 3600);
    EXPECT_NEAR(bath.change().juice_kg(), all, 1e-9);
}

// An even loss leaves the centre where it is, and the skin moves in by what was lost over the area: for a
// ball of radius r that lost a share v of its volume, r·v/3.
TEST(FleshChange, ShrinksByWhatItLost) {
    const Item item = test::meat_at(test::ball(0.06), 0.3);
    Bath bath(item);
    bath.hold(353.15, 24 * 3600);
    const body::Matter matter = bath.change().matter();
    EXPECT_LT((matter.centre - item.body->mass.centre).norm(), 1e-4);
    const double lost_m3 = (item.body->mass.amount - matter.mass_kg) / 1000;
    EXPECT_NEAR(std::pow(matter.size, 3), 1 - lost_m3 / item.body->volume_m3, 1e-6);
    const double share = lost_m3 / item.body->volume_m3;
    EXPECT_NEAR(matter.flesh->at(Vec3(0.05, 0, 0)).retreat_m, 0.06 * share / 3, 0.02 * 0.06 * share / 3);
    EXPECT_NEAR(matter.flesh->at(Vec3::Zero()).strength, 1, 1e-3) << "alike everywhere";
}

// Hot for long it is softer than just done; what the load file fixes stays.
TEST(FleshChange, SoftensUnlessItsStrengthIsFixed) {
    Item item = test::meat_at(test::ball(0.06), 0.3);
    Bath just(item), longer(item);
    just.hold(353.15, 60);
    longer.hold(358.15, 3 * 3600);
    const double raw = bearing_strength(item.body->body.meat).raw_pa;
    EXPECT_LT(just.change().matter().bearing_strength_pa, 0.7 * raw);
    EXPECT_LT(longer.change().matter().bearing_strength_pa,
              0.75 * just.change().matter().bearing_strength_pa);
    item.bearing_strength_pa = 120e3;
    Bath fixed(item);
    fixed.hold(358.15, 3 * 3600);
    EXPECT_NEAR(fixed.change().matter().bearing_strength_pa, 120e3, 1);
}

// Water that dries where juice comes is that juice: lost once.
TEST(FleshChange, JuiceThatDriesIsLostOnce) {
    const Item item = test::meat_at(test::ball(0.06), 0.3);
    const auto grid = test::grid_of(*item.body, 0.006);
    FleshChange change(item, grid);
    std::vector<double> dried(std::size_t(grid->triangle_count), 0.0);
    change.settle(dried);
    const std::vector<float> warm(grid->box.size(), 348.15f), still(grid->box.size(), 0.0f);
    for (int n = 0; n < 60; ++n) change.pass({60.0 * n, 60.0 * (n + 1), warm, still});
    change.settle(dried);
    const double wet_kg = change.matter().mass_kg, juice_kg = change.juice_kg();
    FleshChange other(item, grid);
    other.settle(dried);
    for (int n = 0; n < 60; ++n) other.pass({60.0 * n, 60.0 * (n + 1), warm, still});
    dried.assign(dried.size(), juice_kg / 2 / static_cast<double>(dried.size()));
    other.settle(dried);
    EXPECT_NEAR(other.matter().mass_kg, wet_kg, 1e-9);
    // What dries beyond it is lost on top.
    dried.assign(dried.size(), 2 * juice_kg / static_cast<double>(dried.size()));
    other.settle(dried);
    EXPECT_LT(other.matter().mass_kg, wet_kg - 0.9 * juice_kg);
}

}  // namespace
}  // namespace evenspit
