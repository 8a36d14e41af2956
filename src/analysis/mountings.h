// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "analysis/input.h"
#include "load/assembly.h"

namespace evenspit {

/// A load as hands may have set it up: every input that a person sets is off by a draw from its spread
/// (Assembly::spread), normal and independent.
///
/// Draw k is always the same for one load, however many are asked for and on whatever machine: points of
/// Sobol's sequence (I. M. Sobol, USSR Comput. Math. Math. Phys. 7(4):86–112, 1967; directions of S. Joe and
/// F. Y. Kuo, SIAM J. Sci. Comput. 30(5):2635–2654, 2008, as Boost has them), shifted digit by digit from a
/// fixed seed and put through the inverse of the normal distribution. What would turn negative is cut at 0.
class Mountings {
  public:
    /// \param count how many are drawn
    Mountings(const Assembly& assembly, std::size_t count);

    [[nodiscard]] std::size_t count() const { return count_; }
    /// What is drawn; inputs without spread are left out.
    [[nodiscard]] const std::vector<Input>& inputs() const { return inputs_; }

    /// The load in mounting k. \pre k < count()
    [[nodiscard]] Assembly mounting(std::size_t k) const;
    /// The same, put into `work`, a copy of the load that may hold another mounting: quick.
    void mount(Assembly& work, std::size_t k) const;
    /// The load with everything off by these standard normal deviates. \pre as many as width()
    void mount_by(Assembly& work, std::span<const double> deviates) const;
    /// With only one input off. \pre input < inputs().size()
    void mount_only(Assembly& work, std::size_t k, std::size_t input) const;
    /// How many deviates a mounting takes, and which of them is an input's first.
    [[nodiscard]] std::size_t width() const { return width_; }
    [[nodiscard]] std::size_t first_deviate(std::size_t input) const { return first_[input]; }
    /// The deviates of mounting k: whoever knows more of the load than its spread may change them.
    /// \pre k < count()
    [[nodiscard]] std::span<double> deviates(std::size_t k) {
        return {deviates_.data() + k * width_, width_};
    }
    /// As if no scan had left anything open: the centres of mass are off only by what no shape knows.
    void see_all_round(Assembly& work, std::size_t k) const;

  private:
    void restore(Assembly& work) const;
    void apply(Assembly& work, std::span<const double> deviates, std::size_t input) const;
    void settle(Assembly& work) const;
    [[nodiscard]] std::span<const double> row(std::size_t k) const {
        return {deviates_.data() + k * width_, width_};
    }

    const Assembly& written_;
    std::size_t count_ = 0;
    std::vector<Input> inputs_;
    std::vector<std::size_t> first_;  // of each input's deviates
    std::size_t width_ = 0;           // deviates a mounting
    std::vector<double> deviates_;    // by mounting; standard normal
    std::vector<Mat3> centre_roots_;  // by item: deviates → error of the centre, item frame
    std::vector<Pose> rests_;         // by item: what its pose has beside what its seat says
    std::vector<int> fork_items_;     // by fork: the item it goes with, −1 for none
};

/// The item that a fork goes with: the one with which its tines share the longest stretch; −1 for none.
int item_of_fork(const Assembly& assembly, const Fork& fork);

}  // namespace evenspit
