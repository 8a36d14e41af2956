// SPDX-License-Identifier: MIT
#include "plan/turn_search.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenspit::plan {
namespace {

constexpr double quarter = std::numbers::pi / 2;
/// A half turn of everything makes an unbalance count so much more.
constexpr double turning_weight = 0.001;

/// Between −π and π.
double short_way(double angle) {
    return std::remainder(angle, 2 * std::numbers::pi);
}

class TurnSearch {
  public:
    TurnSearch(const std::vector<Unbalances>& things, const Unbalances& rest, double step_rad)
        : things_(things), rest_(rest), step_rad_(step_rad) {
        for (const Unbalances& u : things) all_kg_m_ += worst_size(u);
    }

    TurnsFound run() {
        const std::size_t n = things_.size();
        // The first need not be spread: turning all together changes nothing but against the rest.
        constexpr std::size_t most_spread = 5;
        const std::size_t spread = std::min(n, most_spread);
        std::vector<double> best(n, 0.0);
        double least = price(best);
        for (std::size_t code = 0; code < std::size_t{1} << (2 * spread); ++code) {
            std::vector<double> turns(n, 0.0);
            for (std::size_t i = 0; i < spread; ++i) {
                turns[i] = on_step(short_way(static_cast<double>(code >> (2 * i) & 3U) * quarter));
            }
            const double found = descend(turns);
            if (found < least) {
                least = found;
                best = turns;
            }
        }
        descend_by_pairs(best);
        return {best, worst_size(sum(best))};
    }

  private:
    [[nodiscard]] double on_step(double angle) const { return std::round(angle / step_rad_) * step_rad_; }

    [[nodiscard]] Unbalances sum(const std::vector<double>& turns) const {
        Unbalances all = rest_;
        for (std::size_t i = 0; i < turns.size(); ++i) all = all + rotated(things_[i], turns[i]);
        return all;
    }

    [[nodiscard]] double price(const std::vector<double>& turns) const {
        double turning = 0;
        for (const double turn : turns) turning += std::abs(short_way(turn));
        turning /= std::numbers::pi * static_cast<double>(turns.size());
        // A part of what there is to cancel, so that the wish counts even where all of it cancels.
        return worst_size(sum(turns)) + turning_weight * all_kg_m_ * turning;
    }

    double descend(std::vector<double>& turns) const {
        const auto steps = std::lround(2 * std::numbers::pi / step_rad_);
        double least = price(turns);
        for (bool better = true; better;) {
            better = false;
            for (double& turn : turns) {
                const double before = turn;
                double best = turn;
                for (long k = 0; k < steps; ++k) {
                    turn = short_way(before + static_cast<double>(k) * step_rad_);
                    if (const double here = price(turns); here < least - 1e-12 * all_kg_m_) {
                        least = here;
                        best = turn;
                        better = true;
                    }
                }
                turn = best;
            }
        }
        return least;
    }

    /// Two at a time, all turns of both: what one alone cannot better, two often can.
    void descend_by_pairs(std::vector<double>& turns) const {
        double least = price(turns);
        for (bool better = true; better;) {
            better = false;
            for (std::size_t i = 0; i < turns.size(); ++i) {
                for (std::size_t j = i + 1; j < turns.size(); ++j) {
                    better = best_pair(turns, i, j, least) || better;
                }
            }
        }
    }

    bool best_pair(std::vector<double>& turns, std::size_t i, std::size_t j, double& least) const {
        const auto steps = std::lround(2 * std::numbers::pi / step_rad_);
        const std::vector<double> before = turns;
        std::vector<double> best = turns;
        for (long a = 0; a < steps; ++a) {
            turns[i] = short_way(before[i] + static_cast<double>(a) * step_rad_);
            for (long b = 0; b < steps; ++b) {
                turns[j] = short_way(before[j] + static_cast<double>(b) * step_rad_);
                if (const double here = price(turns); here < least - 1e-12 * all_kg_m_) {
                    least = here;
                    best = turns;
                }
            }
        }
        turns = best;
        return best != before;
    }

    const std::vector<Unbalances>& things_;
    const Unbalances& rest_;
    double step_rad_;
    double all_kg_m_ = 0;
};

}  // namespace

TurnsFound find_turns(const std::vector<Unbalances>& things, const Unbalances& rest, double step_rad) {
    if (things.empty()) return {{}, worst_size(rest)};
    return TurnSearch(things, rest, step_rad).run();
}

}  // namespace evenspit::plan
