// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include <Eigen/Core>

#include "analysis/mountings.h"
#include "load/assembly.h"

namespace evenspit {

/// What one roll test says of the load, with all that was believed before.
struct RollFound {
    std::size_t test = 0;  ///< which of Assembly::roll_tests
    /// Of all that was on the rod but the weight hung on, raw: mean and standard deviation, rod frame, [y,
    /// z].
    Vec2 unbalance_kg_m = Vec2::Zero(), unbalance_sd_kg_m = Vec2::Zero();
    double size_kg_m = 0, size_sd_kg_m = 0;
    double heavy_side_rad = 0, heavy_side_sd_rad = 0;  ///< clock, 0 ≤ a < 2π
    double friction_n_m = 0, friction_sd_n_m = 0;      ///< on the supports of the test
    /// How often one would find what was found, or anything less likely, if what was believed before is true.
    double contradiction = 1;
    bool folded = true;  ///< false: nothing that is believed possible goes with it; it changes nothing
};

/// Below that a test contradicts what was believed: a thing that is so once in a thousand times is sooner a
/// mistake. Common practice.
inline constexpr double roll_contradiction = 1e-3;

/// What is believed of a load once its roll tests are known: Bayes' rule for all inputs of its mountings.
///
/// A test is about the unbalance U and the friction torque T on its supports alone. Prior: U and the deviate
/// of the friction are normal, with the mean and covariance that the load's linearised mountings give.
/// Likelihood:
///
/// - `down`: the heavy side rests anywhere within ± asin(T / g|U|) of the bottom alike, anywhere at all where
///   T ≥ g|U|, and is read with an error (rest_density());
/// - "none": g|U| ≤ T;
/// - with a hung weight w that holds it: g|U + w| ≤ T, w being off as counterweights are.
///
/// The posterior of (U, T) is drawn exactly, by importance sampling from a mixture of the prior, a wider one
/// and what the test leaves open (A. Owen, Y. Zhou, J. Amer. Statist. Assoc. 95:135–143, 2000). It is carried
/// to all inputs by Matheron's rule, x' = x + C_xv C_vv⁻¹ (v' − v(x)) (A. Journel, C. Huijbregts, Mining
/// Geostatistics, 1978, from memory), repeated until the load's own unbalance is v'. Several tests: one after
/// the other.
///
/// A friction that is given holds for bushings and journals alike; of rollers nothing is learnt of it.
///
/// The same to the last bit every time.
class RollBelief {
  public:
    /// Folds in the tests that count. \pre assembly outlives it
    explicit RollBelief(const Assembly& assembly);

    /// One for each test that counts, in order; none: nothing is believed but what is written.
    [[nodiscard]] const std::vector<RollFound>& found() const { return found_; }
    /// Mean of the deviates, as Mountings::inputs() has them.
    [[nodiscard]] const Eigen::VectorXd& mean() const { return mean_; }
    [[nodiscard]] const Mountings& inputs() const { return inputs_; }

    /// Makes mountings of this load ones that the tests leave. \pre made from the same assembly
    void condition(Mountings& mountings) const;
    /// The load with every input at its mean.
    [[nodiscard]] Assembly load() const;

  private:
    struct Step {
        const RollTest* test = nullptr;
        Eigen::MatrixX3d gain;    ///< deviates by unbalance [y, z] and friction's deviate
        std::vector<Vec3> draws;  ///< of these three, after the test
        int friction = -1;        ///< which deviate is the friction's; −1: none
    };

    void fold(std::size_t index);
    [[nodiscard]] Vec3 observed(Assembly& work, const Eigen::VectorXd& deviates, const Step& step) const;

    const Assembly& assembly_;
    Mountings inputs_;
    Eigen::VectorXd mean_;
    Eigen::MatrixXd covariance_;
    std::vector<Step> steps_;
    std::vector<RollFound> found_;
};

/// Mountings of a load as its roll tests leave them; the usual ones where none counts.
Mountings believed_mountings(const Assembly& assembly, std::size_t count);

}  // namespace evenspit
