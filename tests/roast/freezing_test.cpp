// SPDX-License-Identifier: MIT
// Water that freezes and thaws at one temperature, against what is known of its front.
#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <span>
#include <vector>

#include <gtest/gtest.h>

#include "roast/conduction.h"
#include "roast/heat_cases.h"

namespace evenspit {
namespace {

constexpr double melt_k = 271.15, latent_j_m3 = 2.2e8;
// Ice melts within so little; a sharp point cannot be told from it here.
constexpr double melts_within_k = 0.02;

struct Phase {
    double conductivity_w_mk = 0, capacity_j_m3k = 0;
    [[nodiscard]] double diffusivity() const { return conductivity_w_mk / capacity_j_m3k; }
};

ThermalTable matter(const Phase& ice, const Phase& wet) {
    constexpr double reach_k = 60;
    const double last_ice_k = melt_k - melts_within_k;
    return ThermalTable(std::vector<ThermalPoint>{
        {last_ice_k - reach_k, -reach_k * ice.capacity_j_m3k, ice.conductivity_w_mk},
        {last_ice_k, 0, ice.conductivity_w_mk},
        {melt_k, latent_j_m3, wet.conductivity_w_mk},
        {melt_k + reach_k, latent_j_m3 + reach_k * wet.capacity_j_m3k, wet.conductivity_w_mk}});
}

constexpr double side_m = 0.0085;

// A rod along x, cooled or heated at its end at x = 0.
struct Rod {
    explicit Rod(double length_m)
        : body(test::lump(test::box_mesh(Vec3(0, 0, 0), Vec3(length_m, side_m, side_m)))) {}
    [[nodiscard]] std::vector<SurfaceExposure> meets(double air_k, double coefficient_w_m2k) const {
        return test::convection(body->body.parts[0].mesh, air_k, coefficient_w_m2k,
                                [](const Vec3&, const Vec3& n) { return n.x() < -0.5; });
    }
    std::shared_ptr<const body::PreparedBody> body;
};

// Both phases change their temperature, each with properties of its own: F. Neumann, in Carslaw and Jaeger,
// Conduction of Heat in Solids, 2nd ed. (1959), §11.2, eq. (14), from memory. The front is at 2 λ √(α_ice t).
class Neumann {
  public:
    Neumann(const Phase& ice, const Phase& wet, double face_k, double start_k)
        : ice_(ice), wet_(wet), face_k_(face_k), start_k_(start_k) {
        double low = 1e-6, high = 3;
        for (int i = 0; i < 100; ++i) {
            lambda_ = 0.5 * (low + high);
            (excess(lambda_) > 0 ? low : high) = lambda_;
        }
    }
    [[nodiscard]] double front_m(double seconds) const {
        return 2 * lambda_ * std::sqrt(ice_.diffusivity() * seconds);
    }
    [[nodiscard]] double temperature_k(double x, double seconds) const {
        if (x < front_m(seconds)) {
            const double along = x / (2 * std::sqrt(ice_.diffusivity() * seconds));
            return face_k_ + (melt_k - face_k_) * std::erf(along) / std::erf(lambda_);
        }
        const double along = x / (2 * std::sqrt(wet_.diffusivity() * seconds));
        return start_k_ - (start_k_ - melt_k) * std::erfc(along) / std::erfc(lambda_ * ratio());
    }
    // Taken out through the face until then, J/m2.
    [[nodiscard]] double taken_j_m2(double seconds) const {
        return 2 * ice_.conductivity_w_mk * (melt_k - face_k_) / std::erf(lambda_) *
               std::sqrt(seconds / (std::numbers::pi * ice_.diffusivity()));
    }

  private:
    [[nodiscard]] double ratio() const { return std::sqrt(ice_.diffusivity() / wet_.diffusivity()); }
    // Heat out of the front through ice, less what comes from the wet side and what freezing gives off.
    [[nodiscard]] double excess(double x) const {
        const double out = std::exp(-x * x) / std::erf(x);
        const double in = wet_.conductivity_w_mk / ice_.conductivity_w_mk * ratio() * (start_k_ - melt_k) /
                          (melt_k - face_k_) * std::exp(-x * x * ratio() * ratio()) / std::erfc(x * ratio());
        const double freezing =
            x * std::sqrt(std::numbers::pi) * latent_j_m3 / (ice_.capacity_j_m3k * (melt_k - face_k_));
        return out - in - freezing;
    }

    Phase ice_, wet_;
    double face_k_, start_k_, lambda_ = 0;
};

// Meat at 7 °C whose face is held at −30 °C.
TEST(Freezing, OfTwoPhasesGoesAsNeumannSays) {
    constexpr Phase ice{1.5, 1.9e6}, wet{0.5, 3.6e6};
    constexpr double face_k = 243.15, start_k = 280.15, seconds = 3600;
    const Neumann exact(ice, wet, face_k, start_k);
    const Rod rod(0.15);
    const auto meets = rod.meets(face_k, 1e5);
    std::vector<double> mean, heat_off;
    for (const double spacing : {0.004, 0.002, 0.001}) {
        Conduction heat(test::grid_of(*rod.body, spacing), {matter(ice, wet)}, start_k);
        heat.advance_to(seconds, meets);
        double squares = 0;
        int count = 0;
        for (double x = 0.005; x < 0.1; x += 0.0005, ++count) {
            const double off =
                heat.temperature_at_k({x, side_m / 2, side_m / 2}) - exact.temperature_k(x, seconds);
            squares += off * off;
        }
        mean.push_back(std::sqrt(squares / count));
        heat_off.push_back(
            std::abs(-heat.ledger().stored_j / (side_m * side_m) / exact.taken_j_m2(seconds) - 1));
        EXPECT_LT(heat.ledger().imbalance(), 1e-4);
    }
    EXPECT_LT(mean[1], 0.5);
    EXPECT_LT(mean[2], 0.25);
    EXPECT_LT(mean[2], mean[0] / 2);
    // Half of the front's cell conducts as if half wet: about a third of a spacing of ice too much.
    EXPECT_LT(heat_off[1], 0.02);
    EXPECT_LT(heat_off[1], heat_off[0] / 1.8);
    EXPECT_LT(heat_off[2], heat_off[1] / 1.8);
}

// A slab at its freezing point in cold air: R. Plank (1913), t = L/(T_freeze − T_air)·(X/h + X²/2k) for a
// front at X, from memory as in Q. T. Pham's reviews of freezing times. It holds where ice's own heat is
// nothing beside that of freezing: here 1 %, and a third of that is how far it can be off (J. Stefan's
// series).
TEST(Freezing, OfASlabGoesAsPlankSays) {
    constexpr Phase ice{1.5, 1e5}, wet{0.5, 1e5};
    constexpr double air_k = 243.15, coefficient = 60, length_m = 0.04;
    const Rod rod(length_m);
    const auto meets = rod.meets(air_k, coefficient);
    const auto seconds_to = [&](double front_m) {
        return latent_j_m3 / (melt_k - air_k) *
               (front_m / coefficient + front_m * front_m / (2 * ice.conductivity_w_mk));
    };
    std::vector<double> worst;
    for (const double spacing : {0.008, 0.004, 0.002}) {
        Conduction heat(test::grid_of(*rod.body, spacing), {matter(ice, wet)}, melt_k + 1e-3,
                        ConductionOptions{.tolerance_k = 2});
        worst.push_back(0);
        for (double front = 0.005; front < 0.036; front += 0.001) {
            heat.advance_to(seconds_to(front), meets);
            const double frozen_m = -heat.ledger().stored_j / (side_m * side_m) / latent_j_m3;
            worst.back() = std::max(worst.back(), std::abs(frozen_m - front));
        }
        // A front within a cell counts as at its middle.
        EXPECT_LT(worst.back(), spacing / 4);
    }
    EXPECT_LT(worst[2], worst[0] / 3);
}

// Half thawed all through, so that no cell's heat tells how fast a warmer one is: the heat goes in all the
// same.
TEST(Freezing, ThawsWhatIsAtItsMeltingPoint) {
    constexpr Phase ice{1.5, 1.9e6}, wet{0.5, 3.6e6};
    const Rod rod(0.05);
    const auto meets = rod.meets(melt_k + 40, 30);
    Conduction heat(test::grid_of(*rod.body, 0.002), {matter(ice, wet)}, melt_k - melts_within_k / 2);
    for (double seconds = 600; seconds < 6 * 3600; seconds += 600) {
        heat.advance_to(seconds, meets);
        const std::span<const float> now = heat.temperature_k();
        for (std::size_t c = 0; c < now.size(); ++c) {
            if (!heat.grid().carries(c)) continue;
            ASSERT_GT(double(now[c]), melt_k - 0.1) << seconds;
            ASSERT_LT(double(now[c]), melt_k + 40) << seconds;
        }
    }
    EXPECT_LT(heat.ledger().imbalance(), 1e-4);
}

}  // namespace
}  // namespace evenspit
