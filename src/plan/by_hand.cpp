// SPDX-License-Identifier: MIT
#include "plan/by_hand.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <utility>

#include "analysis/chance.h"
#include "analysis/limits.h"
#include "analysis/normal_share.h"
#include "plan/line_places.h"
#include "plan/weight_room.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

/// Mountings that an arrangement is weighed by: the same for all.
constexpr int looked_at = 16;
/// Lines that are weighed in a round, of the sixteen a step away.
constexpr std::size_t lines_a_round = 4;

double on_step(double value, double step) {
    return std::round(value / step) * step;
}

/// As a load file holds it with one digit behind the millimetre.
double tenth_mm(double length_m) {
    return static_cast<double>(std::lround(length_m * 1e4)) / 10.0 * 1e-3;
}

RodLine written(RodLine line) {
    for (Eigen::Index k = 0; k < 2; ++k) {
        line.from[k] = tenth_mm(line.from[k]);
        line.to[k] = tenth_mm(line.to[k]);
    }
    return line;
}

/// Offsets of a line where hands measure it, in steps from the middle there.
using LineSteps = std::array<Vec2, 2>;

class LineGrid {
  public:
    LineGrid(const PlanItem& item, double step_m)
        : body_(*item.item->body), places_(line_places(*item.item)), step_m_(step_m) {}

    [[nodiscard]] LineSteps steps(const RodLine& line) const {
        LineSteps steps;
        for (std::size_t end = 0; end < 2; ++end)
            steps[end] = (crossing(body_, line, places_.x_m[end]) - places_.middle) / step_m_;
        return steps;
    }
    [[nodiscard]] RodLine line(const LineSteps& steps) const {
        return written(line_through(body_, places_.x_m, places_.middle + step_m_ * steps[0],
                                    places_.middle + step_m_ * steps[1]));
    }

  private:
    const PreparedBody& body_;
    LinePlaces places_;
    double step_m_;
};

/// A line through an item and what it comes to.
struct LineTried {
    RodLine line;
    double torque_n_m = 0;
    bool passes = false;
};

LineTried tried(const PlanProblem& problem, Arrangement arrangement, std::size_t i, const RodLine& line) {
    arrangement.seats[i].line = line;
    constexpr double enough_m = 0;
    return {line, worst_torque_n_m(problem, arrangement),
            problem.items[i].corridor->passage(line, {.enough_m = enough_m}).slack_m >= 0};
}

/// Lines that a rod can take first, then by torque.
bool before(const LineTried& a, const LineTried& b) {
    if (a.passes != b.passes) return a.passes;
    return a.torque_n_m < b.torque_n_m;
}

/// The best of the sixteen lines that have every offset rounded up or down.
RodLine rounded_line(const PlanProblem& problem, const Arrangement& arrangement, std::size_t i,
                     double step_m) {
    const LineGrid grid(problem.items[i], step_m);
    const LineSteps exact = grid.steps(arrangement.seats[i].line);
    std::optional<LineTried> best;
    for (unsigned up = 0; up < 16; ++up) {
        LineSteps steps;
        for (std::size_t end = 0; end < 2; ++end) {
            for (Eigen::Index k = 0; k < 2; ++k) {
                constexpr double hair = 1e-6;
                const bool raised = (up >> (2 * end + static_cast<std::size_t>(k)) & 1U) != 0;
                steps[end][k] = raised ? std::ceil(exact[end][k] - hair) : std::floor(exact[end][k] + hair);
            }
        }
        const LineTried one = tried(problem, arrangement, i, grid.line(steps));
        if (!best || before(one, *best)) best = one;
    }
    return best->line;
}

double clock_on_step(double wanted_rad, double before_rad, double step_rad) {
    return before_rad + on_step(std::remainder(wanted_rad - before_rad, 2 * std::numbers::pi), step_rad);
}

double fork_step(const PlanProblem& problem, const Fork& fork, const HandSteps& steps) {
    return holds_by_shape(fork, problem.assembly.rod) ? fork_clock_step(fork, problem.assembly.rod)
                                                      : steps.angle_rad;
}

/// The radius nearest to a wanted one at which a weight's arm can hold it.
double within_arm(const PlanProblem& problem, const Counterweight& weight, double radius_m) {
    for (const StockWeight& stock : weights_at_hand(problem.assembly)) {
        if (stock.mass_kg == weight.mass_kg && stock.diameter_m == weight.diameter_m)
            return std::clamp(radius_m, stock.radius_min_m, stock.radius_max_m);
    }
    return std::max(radius_m, weight.diameter_m / 2);
}

// --- weighing ---

/// How far from harm an arrangement is; the greater the better.
struct Weighed {
    int stops = 0, cares = 0;  ///< as written
    double margin = 0;         ///< Σ log Φ

    [[nodiscard]] bool better_than(const Weighed& other) const {
        constexpr double told_apart = 1e-6;
        if (stops != other.stops) return stops < other.stops;
        if (cares != other.cares) return cares < other.cares;
        return margin > other.margin + told_apart;
    }
    /// Nothing is within three standard deviations of asking for care.
    [[nodiscard]] bool beyond_doubt() const { return stops + cares == 0 && margin > -0.01; }
};

/// What goes wrong together: the worst of each counts.
enum class Group : std::size_t { turning, rod, hold, other };

struct CareLimit {
    Group group = Group::other;
    double limit = 0;
    bool at_least = false;  ///< the figure must not be less; else not more
};

/// From where a figure asks for care; nothing where none does.
std::optional<CareLimit> care_limit(const FigureId& figure, const Assembly& assembly) {
    using enum FigureId::Kind;
    switch (figure.kind) {
        case motor_use:
            return CareLimit{Group::turning, limits::motor_care};
        case pull:
            return CareLimit{Group::turning, limits::pull_care * assembly.motor.rated_torque_n_m};
        case knock:
            return CareLimit{Group::turning, limits::knock_care * assembly.motor.rated_torque_n_m};
        case irregularity:
            return CareLimit{Group::turning, limits::uneven_care};
        case sag:
            return CareLimit{Group::rod, limits::sag_care_m};
        case yield_use:
            return CareLimit{Group::rod, limits::yield_care};
        case grip_torque_use:
        case hold_use:
        case slide_use:
        case clamp_use:
            return CareLimit{Group::hold, limits::grip_care};
        case gap:
            return CareLimit{Group::other, assembly.cooker.surfaces[figure.index].keep_m, true};
        default:
            return std::nullopt;
    }
}

/// log Φ, of what is far off no more than it is of 8.
double log_share_below(double deviations) {
    return std::log(normal_share(std::max(-8.0, deviations)));
}

Weighed weighed(const PlanProblem& problem, const Arrangement& arrangement) {
    stop_if_asked(problem.stop);
    const Assembly load = with_arrangement(problem.assembly, arrangement);
    Analysis analysis = analyse(load, problem.stop);
    Weighed result;
    for (const Finding& finding : analysis.findings) {
        result.stops += finding.level == Level::stop ? 1 : 0;
        result.cares += finding.level == Level::care ? 1 : 0;
    }
    add_mountings(analysis, load, looked_at, problem.stop);
    std::array<double, 3> worst{};
    for (const FigureSpread& spread : analysis.mounted->spread) {
        const std::optional<CareLimit> limit = care_limit(spread.figure, load);
        if (!limit) continue;
        constexpr double deviations_5_to_95 = 2 * 1.6449;
        constexpr double least_share = 1e-6;  // of the limit, so that what has no spread counts as sure
        const double sigma =
            std::max((spread.p95 - spread.p5) / deviations_5_to_95, least_share * std::abs(limit->limit));
        const double room = limit->at_least ? spread.p50 - limit->limit : limit->limit - spread.p50;
        const double log_share = log_share_below(room / sigma);
        if (limit->group == Group::other) {
            result.margin += log_share;
        } else {
            double& least = worst[static_cast<std::size_t>(limit->group)];
            least = std::min(least, log_share);
        }
    }
    for (const double group : worst) result.margin += group;
    return result;
}

// --- searching ---

class Search {
  public:
    Search(const PlanProblem& problem, const Arrangement& wanted, const HandSteps& steps, const MayMove& may,
           int looks)
        : problem_(problem),
          steps_(steps),
          may_(may),
          looks_(looks),
          best_(on_steps(problem, wanted, steps)) {}

    Arrangement run() {
        weight_ = weighed(problem_, best_);
        bool gained = true;
        while (gained && looks_ > 0 && !weight_.beyond_doubt()) {
            gained = false;
            for (std::size_t i = 0; i < best_.seats.size(); ++i) {
                gained = move_line(i) || gained;
                gained = slide_item(i) || gained;
            }
            for (std::size_t f = 0; f < best_.forks.size(); ++f) gained = move_fork(f) || gained;
            for (std::size_t c = 0; c < best_.counterweights.size(); ++c)
                gained = move_counterweight(c) || gained;
        }
        return best_;
    }

  private:
    /// \returns whether it is taken
    bool take(Arrangement arrangement) {
        if (looks_ <= 0 || weight_.beyond_doubt()) return false;
        --looks_;
        const Weighed there = weighed(problem_, arrangement);
        if (!there.better_than(weight_)) return false;
        weight_ = there;
        best_ = std::move(arrangement);
        return true;
    }

    bool move_line(std::size_t i) {
        if (!may_.line || best_.seats[i].line == problem_.before.seats[i].line) return false;
        const LineGrid grid(problem_.items[i], steps_.length_m);
        const LineSteps here = grid.steps(best_.seats[i].line);
        const bool passes = tried(problem_, best_, i, best_.seats[i].line).passes;
        std::vector<LineTried> around;
        for (const Vec2& way : {Vec2(1, 0), Vec2(-1, 0), Vec2(0, 1), Vec2(0, -1)}) {
            for (const auto& [first, second] :
                 {std::pair(1, 0), std::pair(0, 1), std::pair(1, 1), std::pair(1, -1)}) {
                LineSteps steps = here;
                steps[0] = (here[0] + first * way).array().round();
                steps[1] = (here[1] + second * way).array().round();
                LineTried one = tried(problem_, best_, i, grid.line(steps));
                if (one.passes || !passes) around.push_back(std::move(one));
            }
        }
        std::stable_sort(around.begin(), around.end(), before);
        if (around.size() > lines_a_round) around.resize(lines_a_round);
        for (const LineTried& one : around) {
            Arrangement there = best_;
            there.seats[i].line = one.line;
            if (take(std::move(there))) return true;
        }
        return false;
    }

    bool slide_item(std::size_t i) {
        if (!may_.stations) return false;
        for (const double by : {steps_.length_m, -steps_.length_m}) {
            Arrangement there = best_;
            there.seats[i].at_m = settled_place(there.seats[i].at_m + by, problem_.before.seats[i].at_m);
            for (const std::size_t f : problem_.forks_of[i])
                there.forks[f].at_m = settled_place(there.forks[f].at_m + by, problem_.before.forks[f].at_m);
            if (take(std::move(there))) return true;
        }
        return false;
    }

    bool move_fork(std::size_t f) {
        if (!may_.forks) return false;
        for (const double by : {steps_.length_m, -steps_.length_m}) {
            Arrangement there = best_;
            there.forks[f].at_m = settled_place(on_step(there.forks[f].at_m + by, steps_.length_m),
                                                problem_.before.forks[f].at_m);
            if (take(std::move(there))) return true;
        }
        // Turning a fork mends what its tines meet; it hardly does anything else.
        if (weight_.stops + weight_.cares == 0) return false;
        const double step = fork_step(problem_, best_.forks[f], steps_);
        for (const double by : {step, -step}) {
            Arrangement there = best_;
            there.forks[f] = turned(there.forks[f], by);
            if (take(std::move(there))) return true;
        }
        return false;
    }

    bool move_counterweight(std::size_t c) {
        if (!may_.counterweights || has(problem_.before, best_.counterweights[c])) return false;
        std::vector<std::pair<double, Arrangement>> around;
        const auto add = [&](const std::function<void(Counterweight&)>& move) {
            Arrangement there = best_;
            move(there.counterweights[c]);
            const double torque = worst_torque_n_m(problem_, there);
            around.emplace_back(torque, std::move(there));
        };
        for (const double way : {1.0, -1.0}) {
            add([&](Counterweight& w) { w.clock_rad = whole_degrees(w.clock_rad + way * steps_.angle_rad); });
            add([&](Counterweight& w) {
                w.radius_m = within_arm(problem_, w, whole_mm(w.radius_m + way * steps_.length_m));
            });
        }
        std::stable_sort(around.begin(), around.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        const double torque = worst_torque_n_m(problem_, best_);
        for (auto& [less_torque, there] : around) {
            if (less_torque < torque && take(std::move(there))) return true;
        }
        return false;
    }

    const PlanProblem& problem_;
    HandSteps steps_;
    MayMove may_;
    int looks_;
    Arrangement best_;
    Weighed weight_;
};

}  // namespace

Arrangement on_steps(const PlanProblem& problem, const Arrangement& wanted, const HandSteps& steps) {
    Arrangement out = wanted;
    const Arrangement& was = problem.before;
    for (std::size_t i = 0; i < out.seats.size(); ++i) {
        Seat& seat = out.seats[i];
        const double slide = on_step(seat.at_m - was.seats[i].at_m, steps.length_m);
        const double slid_more = slide - (seat.at_m - was.seats[i].at_m);
        seat.at_m = settled_place(was.seats[i].at_m + slide, was.seats[i].at_m);
        const double turned_rad = seat.turn_rad;
        if (seat.turn_rad != was.seats[i].turn_rad)
            seat.turn_rad =
                whole_degrees(clock_on_step(seat.turn_rad, was.seats[i].turn_rad, steps.angle_rad));
        const double turned_more = std::remainder(seat.turn_rad - turned_rad, 2 * std::numbers::pi);
        for (const std::size_t f : problem.forks_of[i]) {
            Fork& fork = out.forks[f];
            if (fork.at_m != was.forks[f].at_m) {
                // Away from the meat: a hub in it is worse than a tine a little less deep.
                const double place = (fork.at_m + slid_more) / steps.length_m;
                constexpr double hair = 1e-6;
                fork.at_m = settled_place(
                    (fork.points == Facing::point ? std::floor(place + hair) : std::ceil(place - hair)) *
                        steps.length_m,
                    was.forks[f].at_m);
            }
            const double wanted_clock = fork.clock_rad + turned_more;
            if (fork.clock_rad != was.forks[f].clock_rad) {
                const double step = fork_step(problem, fork, steps);
                fork.clock_rad = whole_degrees(clock_on_step(wanted_clock, was.forks[f].clock_rad, step));
            }
        }
    }
    for (Counterweight& weight : out.counterweights) {
        if (has(was, weight)) continue;
        weight.at_m = whole_mm(on_step(weight.at_m, steps.length_m));
        weight.radius_m = within_arm(problem, weight, whole_mm(on_step(weight.radius_m, steps.length_m)));
        weight.clock_rad = whole_degrees(on_step(weight.clock_rad, steps.angle_rad));
    }
    for (std::size_t i = 0; i < out.seats.size(); ++i) {
        if (out.seats[i].line != was.seats[i].line)
            out.seats[i].line = rounded_line(problem, out, i, steps.length_m);
    }
    return out;
}

Arrangement by_hand(const PlanProblem& problem, const Arrangement& wanted, const HandSteps& steps,
                    const MayMove& may, int looks) {
    return Search(problem, wanted, steps, may, looks).run();
}

}  // namespace evenspit
