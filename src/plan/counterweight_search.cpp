// SPDX-License-Identifier: MIT
#include "plan/counterweight_search.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

namespace evenspit::plan {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double station_step_m = 0.005;
/// A pair is tried over all arms in these steps.
constexpr double arm_step_m = 0.001;
/// An ideal weight: no longer an arm than is handy, of steel, and as long as it is wide. Common practice, no
/// source; density of steel EN 1993-1-1.
constexpr double handy_arm_m = 0.10;
constexpr double least_arm_m = 0.03;
constexpr double steel_kg_m3 = 7850;

double clock_of(const Vec2& v) {
    return std::atan2(v.y(), v.x());
}
double down_to_mm(double m) {
    return std::floor(m * 1000 + 1e-6) / 1000;
}
double up_to_mm(double m) {
    return std::ceil(m * 1000 - 1e-6) / 1000;
}

class CounterweightSearch {
  public:
    explicit CounterweightSearch(const CounterweightGoal& goal) : goal_(goal) {
        wanted_ = -(goal.unbalance[0] + goal.unbalance[1]) / 2;
        stock_ = goal.stock.empty() ? ideal_stock() : goal.stock;
        std::stable_sort(stock_.begin(), stock_.end(),
                         [](const StockWeight& a, const StockWeight& b) { return a.mass_kg < b.mass_kg; });
    }

    CounterweightsFound run() {
        CounterweightsFound best{{}, worst_size(goal_.unbalance)};
        if (best.unbalance_kg_m <= goal_.enough_kg_m) return best;
        for (const StockWeight& weight : stock_) {
            const std::optional<CounterweightsFound> one = single(weight);
            if (!one) continue;
            if (one->unbalance_kg_m <= goal_.enough_kg_m) return *one;
            take_if_worth(best, *one);
        }
        if (goal_.stock.empty()) return best;
        for (const auto& [a, b] : pairs()) {
            const std::optional<CounterweightsFound> two = pair(stock_[a], stock_[b]);
            if (!two) continue;
            if (two->unbalance_kg_m <= goal_.enough_kg_m) return *two;
            take_if_worth(best, *two);
        }
        return best;
    }

  private:
    /// One more thing on the rod has to bring something: a tenth less.
    static void take_if_worth(CounterweightsFound& best, const CounterweightsFound& found) {
        const double needed = found.weights.size() > best.weights.size() ? 0.9 : 1;
        if (found.unbalance_kg_m < needed * best.unbalance_kg_m) best = found;
    }

    /// Steps of 5 g up to a kilogram, as one would file a weight to size.
    [[nodiscard]] std::vector<StockWeight> ideal_stock() const {
        std::vector<StockWeight> weights;
        const double needed_kg = wanted_.norm() / handy_arm_m;
        for (int grams = 50; grams <= 2000; grams += grams < 500 ? 10 : 50) {
            const double kg = grams / 1000.0;
            if (kg < 0.5 * needed_kg) continue;
            const double size = std::cbrt(4 * kg / (std::numbers::pi * steel_kg_m3));
            weights.push_back({kg, least_arm_m, handy_arm_m, up_to_mm(size)});
        }
        return weights;
    }

    [[nodiscard]] std::vector<std::pair<std::size_t, std::size_t>> pairs() const {
        std::vector<std::pair<std::size_t, std::size_t>> list;
        for (std::size_t a = 0; a < stock_.size(); ++a) {
            for (std::size_t b = a + 1; b < stock_.size(); ++b) list.emplace_back(a, b);
        }
        std::stable_sort(list.begin(), list.end(), [&](const auto& p, const auto& q) {
            return stock_[p.first].mass_kg + stock_[p.second].mass_kg <
                   stock_[q.first].mass_kg + stock_[q.second].mass_kg;
        });
        return list;
    }

    /// Stations from the ends of the usable stretch inward, where a weight's clamp and body have a place.
    [[nodiscard]] std::vector<double> stations(const StockWeight& weight) const {
        std::vector<double> list;
        const double half = weight.diameter_m / 2;
        const double first = up_to_mm(goal_.usable_m[0] + half), last = down_to_mm(goal_.usable_m[1] - half);
        for (double x = first; x <= last + 1e-9; x += station_step_m)
            list.push_back(std::round(x * 1000) / 1000);
        if (!list.empty() && list.back() < last) list.push_back(last);
        return list;
    }

    /// The longest arm that clears everything at a station; less than the least one if none does.
    [[nodiscard]] double longest_arm(const StockWeight& weight, double at) const {
        if (goal_.free == nullptr) return weight.radius_max_m;
        const double half = weight.diameter_m / 2;
        return std::min(weight.radius_max_m, down_to_mm(goal_.free->least(at - half, at + half) - half));
    }

    /// One weight where it leaves least.
    [[nodiscard]] std::optional<CounterweightsFound> single(const StockWeight& weight) const {
        std::optional<CounterweightsFound> best;
        double best_near = -1;
        for (const double at : stations(weight)) {
            const double longest = longest_arm(weight, at);
            if (longest < weight.radius_min_m) continue;
            const double ideal = std::round(wanted_.norm() / weight.mass_kg * 1000) / 1000;
            const double near = std::clamp(ideal, weight.radius_min_m, longest);
            if (near == best_near) continue;  // no other answer than at the station before
            const double before = best ? best->unbalance_kg_m : std::numeric_limits<double>::infinity();
            for (double arm : {near, near - arm_step_m, near + arm_step_m}) {
                arm = std::clamp(arm, weight.radius_min_m, longest);
                for (const double clock : clocks()) consider(best, {placed(weight, at, arm, clock)});
            }
            if (best && best->unbalance_kg_m < before) best_near = near;
        }
        return best;
    }

    /// Between the clocks opposite to the unbalances of the two ends of the cook; where an arm falls short
    /// the best lies off their middle.
    [[nodiscard]] std::vector<double> clocks() const {
        const double middle = std::round(clock_of(wanted_) / degree);
        double low = -2, high = 2;
        for (const Vec2& u : goal_.unbalance) {
            if (u.norm() == 0) continue;
            const double off = std::remainder(clock_of(-u) / degree - middle, 360);
            low = std::min(low, std::floor(off));
            high = std::max(high, std::ceil(off));
        }
        std::vector<double> list;
        for (double off = low; off <= high; ++off) list.push_back((middle + off) * degree);
        return list;
    }

    [[nodiscard]] static Counterweight placed(const StockWeight& weight, double at, double arm,
                                              double clock) {
        return {.at_m = whole_mm(at),
                .mass_kg = weight.mass_kg,
                .radius_m = on_arm(weight, arm),
                .clock_rad = whole_degrees(clock),
                .diameter_m = weight.diameter_m};
    }
    /// Whole millimetres but for the ends of the arm.
    [[nodiscard]] static double on_arm(const StockWeight& weight, double arm) {
        if (arm <= weight.radius_min_m) return weight.radius_min_m;
        if (arm >= weight.radius_max_m) return weight.radius_max_m;
        return std::clamp(whole_mm(arm), weight.radius_min_m, weight.radius_max_m);
    }

    void consider(std::optional<CounterweightsFound>& best, std::vector<Counterweight> weights) const {
        const double left = worst_size(goal_.unbalance + counterweight_unbalance(weights));
        if (best && left >= best->unbalance_kg_m * (1 - 1e-9)) return;
        for (const Counterweight& weight : weights) {
            if (goal_.blocked && goal_.blocked(weight)) return;
        }
        best = CounterweightsFound{std::move(weights), left};
    }

    /// Two weights: at the free stations that reach furthest, spread in clock.
    [[nodiscard]] std::optional<CounterweightsFound> pair(const StockWeight& a, const StockWeight& b) const {
        std::optional<CounterweightsFound> best;
        const std::vector<double> near_a = good_stations(a), near_b = good_stations(b);
        // To either side of the load first: there each can take its own share.
        for (const bool astride : {true, false}) {
            for (const double at_a : near_a) {
                for (const double at_b : near_b) {
                    const bool is_astride = (at_a - goal_.centre_m) * (at_b - goal_.centre_m) < 0;
                    const double apart = std::abs(at_a - at_b);
                    if (is_astride != astride || apart < (a.diameter_m + b.diameter_m) / 2 + arm_step_m)
                        continue;
                    spread_pair(best, a, at_a, b, at_b);
                    if (best && best->unbalance_kg_m <= goal_.enough_kg_m) return best;
                }
            }
        }
        return best;
    }

    /// First and last station with the longest arm that is to be had, and those of the ends.
    [[nodiscard]] std::vector<double> good_stations(const StockWeight& weight) const {
        struct Place {
            double at, arm;
        };
        std::vector<Place> places;
        for (const double at : stations(weight)) {
            const double arm = longest_arm(weight, at);
            if (arm < weight.radius_min_m) continue;
            const double tried = on_arm(weight, std::min(arm, wanted_.norm() / weight.mass_kg));
            if (goal_.blocked && goal_.blocked(placed(weight, at, tried, clock_of(wanted_)))) continue;
            places.push_back({at, arm});
        }
        if (places.empty()) return {};
        const auto longest = std::max_element(places.begin(), places.end(),
                                              [](const Place& p, const Place& q) { return p.arm < q.arm; });
        std::vector<double> good{places.front().at, places.back().at};
        for (const Place& place : places) {
            // Neighbours of the ends too, so that two can stand side by side.
            const bool beside =
                std::min(place.at - places.front().at, places.back().at - place.at) < 2 * weight.diameter_m;
            if (beside || place.arm >= longest->arm - 1e-9) good.push_back(place.at);
        }
        std::sort(good.begin(), good.end());
        good.erase(std::unique(good.begin(), good.end()), good.end());
        return good;
    }

    void spread_pair(std::optional<CounterweightsFound>& best, const StockWeight& a, double at_a,
                     const StockWeight& b, double at_b) const {
        const double long_a = longest_arm(a, at_a), long_b = longest_arm(b, at_b);
        const double size = wanted_.norm();
        // Where each takes its share of the couple too, the rod is not twisted from one to the other.
        const auto [plane_a, plane_b] = two_plane_correction({{goal_.centre_m, -wanted_}}, at_a, at_b);
        const double even_a = std::round(plane_a.norm() / a.mass_kg * 1000) / 1000;
        const double even_b = std::round(plane_b.norm() / b.mass_kg * 1000) / 1000;
        if (even_a >= a.radius_min_m && even_a <= long_a && even_b >= b.radius_min_m && even_b <= long_b) {
            consider(best, {placed(a, at_a, even_a, clock_of(plane_a)),
                            placed(b, at_b, even_b, clock_of(plane_b))});
        }
        // Arms in proportion from the longest down; where even the shortest give too much, they stand apart.
        const double full = a.mass_kg * long_a + b.mass_kg * long_b;
        const double share = std::min(1.0, size / full);
        const double arm_a = std::clamp(std::round(share * long_a * 1000) / 1000, a.radius_min_m, long_a);
        const double rest = std::max(0.0, size - a.mass_kg * arm_a);
        const double arm_b = std::clamp(std::round(rest / b.mass_kg * 1000) / 1000, b.radius_min_m, long_b);
        try_spread(best, a, at_a, arm_a, b, at_b, arm_b);
        // Too much even so: the weaker one on a longer arm comes nearer to holding the other.
        const double lack = a.mass_kg * arm_a - b.mass_kg * arm_b;
        if (std::abs(lack) <= size) return;
        const double longer_a = std::ceil((b.mass_kg * arm_b - size / 2) / a.mass_kg * 1000) / 1000;
        const double longer_b = std::ceil((a.mass_kg * arm_a - size / 2) / b.mass_kg * 1000) / 1000;
        if (lack < 0 && longer_a <= long_a) try_spread(best, a, at_a, longer_a, b, at_b, arm_b);
        if (lack > 0 && longer_b <= long_b) try_spread(best, a, at_a, arm_a, b, at_b, longer_b);
    }

    void try_spread(std::optional<CounterweightsFound>& best, const StockWeight& a, double at_a, double arm_a,
                    const StockWeight& b, double at_b, double arm_b) const {
        const double size = wanted_.norm(), main = clock_of(wanted_);
        const double ua = a.mass_kg * arm_a, ub = b.mass_kg * arm_b;
        // Law of cosines: two vectors of these sizes that make the wanted one, if they can.
        double off_a = 0, off_b = 0;
        if (ua + ub > size && size > 0) {
            const double cos_a = (size * size + ua * ua - ub * ub) / (2 * size * ua);
            const double cos_b = (size * size + ub * ub - ua * ua) / (2 * size * ub);
            if (std::abs(cos_a) <= 1 && std::abs(cos_b) <= 1) {
                off_a = std::acos(cos_a);
                off_b = -std::acos(cos_b);
            } else {
                (ua > ub ? off_b : off_a) = std::numbers::pi;  // one against the other
            }
        }
        for (int da = -1; da <= 1; ++da) {
            for (int db = -1; db <= 1; ++db) {
                consider(best, {placed(a, at_a, arm_a, main + off_a + da * degree),
                                placed(b, at_b, arm_b, main + off_b + db * degree)});
            }
        }
    }

    const CounterweightGoal& goal_;
    Vec2 wanted_ = Vec2::Zero();
    std::vector<StockWeight> stock_;
};

}  // namespace

CounterweightsFound find_counterweights(const CounterweightGoal& goal) {
    return CounterweightSearch(goal).run();
}

}  // namespace evenspit::plan
