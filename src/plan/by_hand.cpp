// SPDX-License-Identifier: MIT
#include "plan/by_hand.h"

#include <algorithm>
#include <array>
#include <functional>
#include <numbers>
#include <utility>
#include <vector>

#include "plan/margin.h"
#include "units/parallel.h"

namespace evenspit::plan {
namespace {

/// A search of fewer rounds does not look further off.
constexpr int least_rounds_far = 4;

/// One change to an arrangement.
struct Move {
    int what = 0;  ///< moves of one thing share a number
    std::function<void(Arrangement&)> apply;
};

/// All that is a step or two away from an arrangement.
class Around {
  public:
    /// \param widely look for rod lines further away too
    Around(const PlanProblem& problem, const HandSteps& steps, const MayMove& may, const Arrangement& here,
           bool widely)
        : problem_(problem), steps_(steps), may_(may), here_(here) {
        for (std::size_t i = 0; i < here_.seats.size(); ++i) {
            lines(i, widely);
            slides(i);
        }
        for (std::size_t f = 0; f < here_.forks.size(); ++f) {
            hubs(f);
            clocks(f);
        }
        for (std::size_t c = 0; c < here_.counterweights.size(); ++c) counterweight(c);
    }

    [[nodiscard]] const std::vector<Move>& moves() const { return moves_; }

  private:
    void add(std::function<void(Arrangement&)> move) { moves_.push_back({what_, std::move(move)}); }

    void lines(std::size_t i, bool widely) {
        ++what_;
        if (!may_.line || lies_in_basket(problem_, i) || here_.seats[i].line == problem_.before.seats[i].line)
            return;
        const LineGrid grid(problem_.items[i], steps_.length_m);
        const LineSteps here = grid.steps(here_.seats[i].line);
        const bool passes = rod_passes(problem_, i, here_.seats[i].line);
        const auto line_at = [&](const Vec2& first, const Vec2& second) {
            return grid.line({(here[0] + first).array().round(), (here[1] + second).array().round()});
        };
        const auto set = [i](const RodLine& line) {
            return [i, line](Arrangement& there) { there.seats[i].line = line; };
        };
        for (const Vec2& way : {Vec2(1, 0), Vec2(-1, 0), Vec2(0, 1), Vec2(0, -1)}) {
            for (const auto& [first, second] :
                 {std::pair(1, 0), std::pair(0, 1), std::pair(1, 1), std::pair(1, -1)}) {
                const RodLine line = line_at(first * way, second * way);
                if (!passes || rod_passes(problem_, i, line)) add(set(line));
            }
        }
        if (!widely) return;
        constexpr int most = 24;
        int added = 0;
        for (const auto& [torque, line] :
             lines_about(problem_, here_, i, steps_.length_m, {-4, -2, 0, 2, 4})) {
            if (added == most) break;
            if (!rod_passes(problem_, i, line)) continue;
            add(set(line));
            ++added;
        }
    }

    void slides(std::size_t i) {
        ++what_;
        if (!may_.stations) return;
        for (const int by : {1, -1, 2, -2, 4, -4}) {
            add([this, i, m = by * steps_.length_m](Arrangement& there) {
                const Arrangement& was = problem_.before;
                there.seats[i].at_m = settled_place(there.seats[i].at_m + m, was.seats[i].at_m);
                for (const std::size_t f : problem_.forks_of[i])
                    there.forks[f].at_m = settled_place(there.forks[f].at_m + m, was.forks[f].at_m);
            });
            if (!may_.forks || lies_in_basket(problem_, i)) continue;
            add([this, i, m = by * steps_.length_m](Arrangement& there) {
                there.seats[i].at_m = settled_place(there.seats[i].at_m + m, problem_.before.seats[i].at_m);
            });
        }
    }

    void hubs(std::size_t f) {
        ++what_;
        if (!may_.forks || here_.forks[f].kind != ForkKind::fork) return;
        for (const int by : {1, -1, 2, -2}) {
            add([this, f, by](Arrangement& there) {
                const double wanted = on_step(there.forks[f].at_m + by * steps_.length_m, steps_.length_m);
                there.forks[f].at_m = settled_place(wanted, problem_.before.forks[f].at_m);
            });
        }
    }

    void clocks(std::size_t f) {
        ++what_;
        if (!may_.forks || here_.forks[f].kind != ForkKind::fork) return;
        const double step = fork_step(problem_, here_.forks[f], steps_);
        for (const int by : {1, -1, 2, -2, 3, -3, 6}) {
            if (by * step > std::numbers::pi + 1e-9 || by * step < -std::numbers::pi + 1e-9) continue;
            add([f, angle = by * step](Arrangement& there) {
                there.forks[f] = turned(there.forks[f], angle);
            });
        }
    }

    void counterweight(std::size_t c) {
        ++what_;
        if (!may_.counterweights || has(problem_.before, here_.counterweights[c])) return;
        for (const int by : {1, -1, 2, -2}) {
            add([c, angle = by * steps_.angle_rad](Arrangement& there) {
                double& clock_rad = there.counterweights[c].clock_rad;
                clock_rad = whole_degrees(clock_rad + angle);
            });
            add([this, c, m = by * steps_.length_m](Arrangement& there) {
                Counterweight& weight = there.counterweights[c];
                weight.radius_m = within_arm(problem_, weight, whole_mm(weight.radius_m + m));
            });
            add([c, m = by * steps_.length_m](Arrangement& there) {
                there.counterweights[c].at_m = whole_mm(there.counterweights[c].at_m + m);
            });
        }
    }

    const PlanProblem& problem_;
    const HandSteps& steps_;
    const MayMove& may_;
    const Arrangement& here_;
    int what_ = 0;
    std::vector<Move> moves_;
};

/// A move and what it promises.
struct Promise {
    Margin margin;
    const Move* move = nullptr;
};

/// What each move promises on its own, the most first.
std::vector<Promise> promises(const PlanProblem& problem, const Arrangement& here, const Weighed& weight,
                              const std::vector<Move>& moves) {
    std::vector<Promise> found(moves.size());
    parallel_for(
        moves.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t k = first; k < last; ++k) {
                Arrangement there = here;
                moves[k].apply(there);
                found[k] = {expected_margin(problem, there, weight.figures), &moves[k]};
            }
        },
        1);
    std::stable_sort(found.begin(), found.end(),
                     [](const Promise& a, const Promise& b) { return a.margin.better_than(b.margin); });
    return found;
}

/// The best move of each thing, one upon the other as long as that promises more.
Arrangement all_together(const PlanProblem& problem, const Arrangement& here, const Weighed& weight,
                         const std::vector<Promise>& promised) {
    Arrangement there = here;
    Margin margin = weight.margin;
    std::vector<int> moved;
    for (const Promise& promise : promised) {
        if (!promise.margin.better_than(weight.margin)) break;
        if (std::find(moved.begin(), moved.end(), promise.move->what) != moved.end()) continue;
        moved.push_back(promise.move->what);
        Arrangement further = there;
        promise.move->apply(further);
        const Margin expected = expected_margin(problem, further, weight.figures);
        if (!expected.better_than(margin)) continue;
        there = std::move(further);
        margin = expected;
    }
    return there;
}

/// Round after round to where nothing near holds better.
class Climb {
  public:
    Climb(const PlanProblem& problem, const HandSteps& steps, const MayMove& may, Arrangement from)
        : problem_(problem),
          steps_(steps),
          may_(may),
          best_(std::move(from)),
          weight_(weighed(problem, best_)) {}

    /// \param widely whether to begin by looking at lines further off; else only where nothing near gains
    void run(int rounds, bool widely) {
        for (int round = 0; round < rounds && !weight_.margin.beyond_doubt(); ++round) {
            const bool gained = step(widely);
            if (!gained && widely) return;
            widely = !gained;
        }
    }

    [[nodiscard]] const Margin& margin() const { return weight_.margin; }
    [[nodiscard]] Arrangement best() && { return std::move(best_); }

  private:
    bool step(bool widely) {
        const Arrangement here = best_;
        const Around around(problem_, steps_, may_, here, widely);
        const std::vector<Promise> promised = promises(problem_, here, weight_, around.moves());
        if (take(all_together(problem_, here, weight_, promised))) return true;
        constexpr std::size_t weighed_alone = 2;
        for (std::size_t k = 0; k < std::min(weighed_alone, promised.size()); ++k) {
            Arrangement there = here;
            promised[k].move->apply(there);
            if (take(std::move(there))) return true;
        }
        return false;
    }

    bool take(Arrangement arrangement) {
        Weighed there = weighed(problem_, arrangement);
        if (!there.margin.better_than(weight_.margin)) return false;
        best_ = std::move(arrangement);
        weight_ = std::move(there);
        return true;
    }

    const PlanProblem& problem_;
    const HandSteps& steps_;
    const MayMove& may_;
    Arrangement best_;
    Weighed weight_;
};

}  // namespace

Arrangement by_hand(const PlanProblem& problem, const Arrangement& wanted, const HandSteps& steps,
                    const MayMove& may, int rounds) {
    Climb near(problem, steps, may, on_steps(problem, wanted, steps));
    Climb far = near;
    near.run(rounds, false);
    if (near.margin().worthy() || rounds < least_rounds_far) return std::move(near).best();
    // Further off there may be more to gain, which no way from here leads to by steps that all gain.
    far.run(rounds, true);
    return far.margin().better_than(near.margin()) ? std::move(far).best() : std::move(near).best();
}

}  // namespace evenspit::plan
