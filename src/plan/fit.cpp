// SPDX-License-Identifier: MIT
#include "plan/fit.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <utility>

#include "units/error.h"

namespace evenspit::plan {
namespace {

constexpr int steps_to_double = 4;
constexpr int furthest = 3 * steps_to_double;  // an eighth, and eight times
/// How near each other two masses are between which a limit lies. Scales and mountings tell no more.
constexpr double close_enough = 1.03, close_enough_as_drawn = 1.01;
/// So many masses between a limit and the next one tried above it are tried too.
constexpr int looks_above = 3;
/// So many steps in a row that cannot turn end the way up.
constexpr int enough_failures = 2;

/// A load that was tried, and how it is best set up.
struct Tried {
    FitRow row;
    std::optional<Arrangement> arrangement;  ///< absent where there is no such body
    int stops = 0;                           ///< findings of that level
};

bool is(const Tried& tried, Level at_worst) {
    return tried.row.verdict && *tried.row.verdict <= at_worst;
}

bool can_turn(const Tried& tried) {
    return is(tried, Level::care);
}

/// What keeps an answer from turning, else from being ready.
FitStop stop_of(const Plan& plan) {
    if (!plan.limits.empty()) return plan.limits.front();
    const Analysis& analysis = plan.answers[plan.recommended].analysis;
    if (analysis.findings.empty() || analysis.findings.front().level == Level::ready) return {};
    return PlanLimit(analysis.findings.front());
}

double factor_at(int k) {
    return std::exp2(static_cast<double>(k) / steps_to_double);
}

class FitSearch {
  public:
    FitSearch(const std::function<Assembly(double)>& load_at, double mass_kg, int mountings)
        : load_at_(load_at), mass_kg_(mass_kg), mountings_(mountings) {}

    Fit run() {
        try_range();
        Fit fit;
        if (std::optional<std::size_t> low = last_that_is(Level::care)) {
            low = climb(*low, Level::care);
            try_again_below(*low);
            fit.largest_kg = tried_[*low].row.mass_kg;
            if (*low + 1 < tried_.size()) fit.stopped_by = tried_[*low + 1].row.stopped_by;
        } else {
            fit.stopped_by = most_nearly().row.stopped_by;
        }
        if (std::optional<std::size_t> low = last_that_is(Level::ready)) {
            low = climb(*low, Level::ready);
            fit.largest_ready_kg = tried_[*low].row.mass_kg;
            if (*low + 1 < tried_.size()) fit.not_ready_by = tried_[*low + 1].row.stopped_by;
        } else {
            const auto lightest = std::find_if(tried_.begin(), tried_.end(), can_turn);
            if (lightest != tried_.end()) fit.not_ready_by = lightest->row.stopped_by;
        }
        for (Tried& tried : tried_) fit.rows.push_back(std::move(tried.row));
        return fit;
    }

  private:
    // --- one mass ---

    /// Tries a mass; returns where it stands among those tried.
    std::size_t try_at(double factor) {
        const auto after = std::upper_bound(tried_.begin(), tried_.end(), factor,
                                            [](double f, const Tried& t) { return f < t.row.mass_factor; });
        const auto at = static_cast<std::size_t>(after - tried_.begin());
        Tried tried;
        tried.row.mass_factor = factor;
        tried.row.mass_kg = factor * mass_kg_;
        try {
            const Assembly load = load_at_(factor);
            plan_from(load, tried);
            // A plan begins where things stand, and may miss what a like load has shown it could have.
            for (const std::size_t neighbour : turning_neighbours(at)) {
                if (can_turn(tried)) break;
                plan_from(with_arrangement(load, *tried_[neighbour].arrangement), tried);
            }
        } catch (const InputError& error) {
            tried.row.stopped_by = error.complaints().front();
        }
        tried_.insert(tried_.begin() + static_cast<std::ptrdiff_t>(at), std::move(tried));
        return at;
    }

    /// Plans the load as it stands; keeps the answer if none was found yet or this one has fewer stops.
    void plan_from(const Assembly& load, Tried& tried) const {
        PlanWish wish{.mountings = mountings_};
        if (mountings_ == 0) wish.steps.reset();
        const Plan plan = make_plan(load, {}, {}, wish);
        const PlanAnswer& answer = plan.answers[plan.recommended];
        if (tried.arrangement && answer.stops >= tried.stops) return;
        const Analysis& best = answer.analysis;
        tried.arrangement = answer.arrangement;
        tried.stops = answer.stops;
        tried.row.verdict = best.verdict;
        if (best.mounted) tried.row.chance = best.mounted->chance;
        tried.row.motor_use = best.balance.motor_use;
        tried.row.grip_torque_use = best.grip.torque_use;
        tried.row.yield_use = best.rod.yield_use;
        tried.row.gap_min_m = best.clearance.gap_min_m;
        tried.row.stopped_by = stop_of(plan);
    }

    /// The nearest that can turn below and above a place among those tried.
    [[nodiscard]] std::vector<std::size_t> turning_neighbours(std::size_t at) const {
        std::vector<std::size_t> found;
        for (std::size_t i = at; i-- > 0;) {
            if (!can_turn(tried_[i])) continue;
            found.push_back(i);
            break;
        }
        for (std::size_t i = at; i < tried_.size(); ++i) {
            if (!can_turn(tried_[i])) continue;
            found.push_back(i);
            break;
        }
        return found;
    }

    // --- many ---

    /// From half to twice the mass, and on where that does not show the limit.
    void try_range() {
        for (int k = -steps_to_double; k <= steps_to_double; ++k) try_at(factor_at(k));
        int failures = can_turn(tried_.back()) ? 0 : enough_failures;
        for (int k = steps_to_double + 1; k <= furthest && failures < enough_failures; ++k)
            failures = can_turn(tried_[try_at(factor_at(k))]) ? 0 : failures + 1;
        for (int k = -steps_to_double - 1; k >= -furthest && !last_that_is(Level::care); --k)
            try_at(factor_at(k));
    }

    [[nodiscard]] std::optional<std::size_t> last_that_is(Level at_worst) const {
        const auto last = std::find_if(tried_.rbegin(), tried_.rend(),
                                       [at_worst](const Tried& tried) { return is(tried, at_worst); });
        if (last == tried_.rend()) return std::nullopt;
        return static_cast<std::size_t>(std::distance(last, tried_.rend())) - 1;
    }

    /// From the heaviest that is as good as that up to the limit below the next one tried.
    ///
    /// Halving finds a place where turning ends, which need not be the last: a few above it are looked at,
    /// and where one turns it goes on from there.
    std::size_t climb(std::size_t low, Level at_worst) {
        if (low + 1 == tried_.size()) return low;
        const double ceiling = tried_[low + 1].row.mass_factor;
        for (;;) {
            low = halve(low, at_worst);
            const double limit = tried_[low + 1].row.mass_factor;
            const double step = std::pow(ceiling / limit, 1.0 / (looks_above + 1));
            if (step < close_enough_) return low;
            for (int k = looks_above; k >= 1; --k) {
                const std::size_t at = try_at(limit * std::pow(step, k));
                if (!is(tried_[at], at_worst)) continue;
                low = at;
                break;
            }
            if (tried_[low].row.mass_factor < limit) return low;
        }
    }

    /// What fails below the limit may turn as the next heavier one does, which was tried after it.
    void try_again_below(std::size_t limit) {
        for (std::size_t i = limit; i-- > 0;) {
            if (!tried_[i].arrangement || can_turn(tried_[i]) || !can_turn(tried_[i + 1])) continue;
            plan_from(with_arrangement(load_at_(tried_[i].row.mass_factor), *tried_[i + 1].arrangement),
                      tried_[i]);
        }
    }

    /// Halves (by ratio) between one that is as good as that and the next, which is not, until they are
    /// close.
    std::size_t halve(std::size_t low, Level at_worst) {
        for (;;) {
            const double below = tried_[low].row.mass_factor, above = tried_[low + 1].row.mass_factor;
            if (above <= close_enough_ * below) return low;
            const std::size_t middle = try_at(std::sqrt(below * above));
            if (is(tried_[middle], at_worst)) low = middle;
        }
    }

    /// Where none turns: the one with the least in its way, the nearest to the load as it stands.
    [[nodiscard]] const Tried& most_nearly() const {
        const auto distance = [](const Tried& t) {
            const int stops = t.arrangement ? t.stops : std::numeric_limits<int>::max();
            return std::pair(stops, std::abs(std::log(t.row.mass_factor)));
        };
        return *std::min_element(tried_.begin(), tried_.end(),
                                 [&](const Tried& a, const Tried& b) { return distance(a) < distance(b); });
    }

    const std::function<Assembly(double)>& load_at_;
    double mass_kg_;
    int mountings_;
    double close_enough_ = mountings_ > 0 ? close_enough : close_enough_as_drawn;
    std::vector<Tried> tried_;  // by mass
};

}  // namespace

Fit find_fit(const std::function<Assembly(double factor)>& load_at, double mass_kg, int mountings) {
    return FitSearch(load_at, mass_kg, mountings).run();
}

}  // namespace evenspit::plan
