// SPDX-License-Identifier: MIT
#include "plan/station_search.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "analysis/limits.h"

namespace evenspit::plan {
namespace {

// Prices in metres of what is wrong; each weighs far more than the next.
constexpr double overflow_weight = 1000;
constexpr double room_weight = 10;
constexpr double fire_weight = 0.02;
constexpr double move_weight = 0.002;

double outside(double from, double to, const std::array<double, 2>& stretch) {
    return std::max(0.0, stretch[0] - from) + std::max(0.0, to - stretch[1]);
}

class StationSearch {
  public:
    StationSearch(const std::vector<RodBlock>& blocks, const RodStretch& stretch)
        : blocks_(blocks), stretch_(stretch) {}

    StationsFound run() {
        std::vector<std::vector<double>> choices;
        for (const RodBlock& block : blocks_) {
            std::vector<double> at =
                grid(stretch_.usable_m[0] - block.from_m, stretch_.usable_m[1] - block.to_m, 0.005);
            at.push_back(block.at_m);
            choices.push_back(std::move(at));
        }
        std::vector<double> best = cheapest(choices);
        for (std::size_t i = 0; i < blocks_.size(); ++i) {
            const double now = best[i];
            choices[i] = grid(now - 0.005, now + 0.005, 0.001);
            choices[i].push_back(now);
            if (std::abs(now - blocks_[i].at_m) <= 0.005) choices[i].push_back(blocks_[i].at_m);
        }
        best = cheapest(choices);

        StationsFound found{.at_m = best, .room_m = std::numeric_limits<double>::infinity()};
        for (std::size_t i = 0; i < blocks_.size(); ++i) {
            found.overflow_m += overflow(blocks_[i], best[i]);
            if (i > 0) found.overflow_m += overlap(i, best[i - 1], best[i]);
            found.room_m = std::min(found.room_m, blocks_[i].room_m(best[i]));
        }
        return found;
    }

  private:
    /// Whole millimetres from `low` to `high`, or the one between them nearest to both if there is no such.
    static std::vector<double> grid(double low, double high, double step) {
        std::vector<double> at;
        const double first = std::ceil(low * 1000 - 1e-6) / 1000;
        for (double x = first; x <= high + 1e-9; x += step) at.push_back(std::round(x * 1000) / 1000);
        const double last = std::floor(high * 1000 + 1e-6) / 1000;
        at.push_back(last < first ? std::round((low + high) / 2 * 1000) / 1000 : last);
        return at;
    }

    [[nodiscard]] double overflow(const RodBlock& block, double at) const {
        double sum = outside(at + block.from_m, at + block.to_m, stretch_.usable_m);
        for (const auto& taken : stretch_.taken_m) {
            sum += std::max(0.0, std::min(at + block.to_m, taken[1]) - std::max(at + block.from_m, taken[0]) +
                                     limits::items_apart_m);
        }
        return sum;
    }
    [[nodiscard]] double overlap(std::size_t block, double before, double at) const {
        return std::max(
            0.0, before + blocks_[block - 1].to_m + limits::items_apart_m - (at + blocks_[block].from_m));
    }

    [[nodiscard]] double price(const RodBlock& block, double at) const {
        double sum = overflow_weight * overflow(block, at) + room_weight * std::max(0.0, -block.room_m(at)) +
                     move_weight * std::abs(at - block.at_m);
        if (stretch_.fire_m[0] < stretch_.fire_m[1]) {
            sum += fire_weight * outside(at + block.from_m, at + block.to_m, stretch_.fire_m);
        }
        return sum;
    }

    /// One of each block's choices, so that all together are cheapest.
    [[nodiscard]] std::vector<double> cheapest(const std::vector<std::vector<double>>& choices) const {
        struct Step {
            double price;
            std::size_t before;
        };
        std::vector<std::vector<Step>> table(blocks_.size());
        for (std::size_t i = 0; i < blocks_.size(); ++i) {
            for (const double at : choices[i]) {
                Step step{0, 0};
                if (i > 0) {
                    step.price = std::numeric_limits<double>::infinity();
                    for (std::size_t j = 0; j < choices[i - 1].size(); ++j) {
                        const double here =
                            table[i - 1][j].price + overflow_weight * overlap(i, choices[i - 1][j], at);
                        if (here < step.price) step = {here, j};
                    }
                }
                step.price += price(blocks_[i], at);
                table[i].push_back(step);
            }
        }
        std::vector<double> best(blocks_.size());
        std::size_t choice = 0;
        for (std::size_t i = blocks_.size(); i-- > 0;) {
            if (i + 1 == blocks_.size()) {
                const auto it =
                    std::min_element(table[i].begin(), table[i].end(),
                                     [](const Step& a, const Step& b) { return a.price < b.price; });
                choice = static_cast<std::size_t>(it - table[i].begin());
            }
            best[i] = choices[i][choice];
            choice = table[i][choice].before;
        }
        return best;
    }

    const std::vector<RodBlock>& blocks_;
    const RodStretch& stretch_;
};

}  // namespace

StationsFound find_stations(const std::vector<RodBlock>& blocks, const RodStretch& stretch) {
    if (blocks.empty()) return {};
    return StationSearch(blocks, stretch).run();
}

}  // namespace evenspit::plan
