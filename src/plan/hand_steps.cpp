// SPDX-License-Identifier: MIT
#include "plan/hand_steps.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "plan/weight_room.h"

namespace evenspit::plan {
namespace {

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

/// A line through an item and what it comes to.
struct LineTried {
    RodLine line;
    double torque_n_m = 0;
    bool passes = false;
};

LineTried tried(const PlanProblem& problem, Arrangement arrangement, std::size_t i, const RodLine& line) {
    arrangement.seats[i].line = line;
    return {line, worst_torque_n_m(problem, arrangement), rod_passes(problem, i, line)};
}

/// Lines that a rod can take first, then by torque.
bool before(const LineTried& a, const LineTried& b) {
    if (a.passes != b.passes) return a.passes;
    return a.torque_n_m < b.torque_n_m;
}

/// Of lines on steps near one, the one with the least torque that a rod can take; nothing if there is none
/// within two steps at each end. Between bones there may be room for a rod, but not on the nearest steps.
std::optional<RodLine> line_that_passes(const PlanProblem& problem, const Arrangement& arrangement,
                                        std::size_t i, double step_m) {
    for (const auto& [torque, line] : lines_about(problem, arrangement, i, step_m, {-2, -1, 0, 1, 2})) {
        if (rod_passes(problem, i, line)) return line;
    }
    return std::nullopt;
}

/// The best of the sixteen lines that have every offset rounded up or down. If a rod can take none of them,
/// the best one near that it can; if there is none, and it can take the line as it is, that.
RodLine rounded_line(const PlanProblem& problem, const Arrangement& arrangement, std::size_t i,
                     double step_m) {
    const LineGrid grid(problem.items[i], step_m);
    const RodLine wanted = arrangement.seats[i].line;
    const LineSteps exact = grid.steps(wanted);
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
    if (best->passes || !rod_passes(problem, i, wanted)) return best->line;
    return line_that_passes(problem, arrangement, i, step_m).value_or(wanted);
}

double clock_on_step(double wanted_rad, double before_rad, double step_rad) {
    return before_rad + on_step(std::remainder(wanted_rad - before_rad, 2 * std::numbers::pi), step_rad);
}

}  // namespace

double on_step(double value, double step) {
    return std::round(value / step) * step;
}

LineSteps LineGrid::steps(const RodLine& line) const {
    LineSteps steps;
    for (std::size_t end = 0; end < 2; ++end)
        steps[end] = (crossing(body_, line, places_.x_m[end]) - places_.middle) / step_m_;
    return steps;
}

RodLine LineGrid::line(const LineSteps& steps) const {
    return written(line_through(body_, places_.x_m, places_.middle + step_m_ * steps[0],
                                places_.middle + step_m_ * steps[1]));
}

std::vector<std::pair<double, RodLine>> lines_about(const PlanProblem& problem, Arrangement arrangement,
                                                    std::size_t item, double step_m,
                                                    const std::array<int, 5>& off) {
    const LineGrid grid(problem.items[item], step_m);
    RodLine& line = arrangement.seats[item].line;
    const LineSteps middle = grid.steps(line);
    std::vector<std::pair<double, RodLine>> lines;
    for (const int a : off) {
        for (const int b : off) {
            for (const int c : off) {
                for (const int d : off) {
                    line = grid.line(
                        {(middle[0] + Vec2(a, b)).array().round(), (middle[1] + Vec2(c, d)).array().round()});
                    lines.emplace_back(worst_torque_n_m(problem, arrangement), line);
                }
            }
        }
    }
    std::stable_sort(lines.begin(), lines.end(),
                     [](const auto& one, const auto& other) { return one.first < other.first; });
    return lines;
}

bool rod_passes(const PlanProblem& problem, std::size_t item, const RodLine& line) {
    return problem.items[item].corridor->passage(line, {.enough_m = 0}).slack_m >= 0;
}

double fork_step(const PlanProblem& problem, const Fork& fork, const HandSteps& steps) {
    return holds_by_shape(fork, problem.assembly.rod) ? fork_clock_step(fork, problem.assembly.rod)
                                                      : steps.angle_rad;
}

double within_arm(const PlanProblem& problem, const Counterweight& weight, double radius_m) {
    for (const StockWeight& stock : weights_at_hand(problem.assembly)) {
        if (stock.mass_kg == weight.mass_kg && stock.diameter_m == weight.diameter_m)
            return std::clamp(radius_m, stock.radius_min_m, stock.radius_max_m);
    }
    return std::max(radius_m, weight.diameter_m / 2);
}

Arrangement on_steps(const PlanProblem& problem, const Arrangement& wanted, const HandSteps& steps) {
    Arrangement out = wanted;
    const Arrangement& was = problem.before;
    for (std::size_t i = 0; i < out.seats.size(); ++i) {
        Seat& seat = out.seats[i];
        const double slide = on_step(seat.at_m - was.seats[i].at_m, steps.length_m);
        const double slid_more = slide - (seat.at_m - was.seats[i].at_m);
        seat.at_m = settled_place(was.seats[i].at_m + slide, was.seats[i].at_m);
        const double turned_rad = seat.turn_rad;
        if (seat.turn_rad != was.seats[i].turn_rad) {
            seat.turn_rad =
                whole_degrees(clock_on_step(seat.turn_rad, was.seats[i].turn_rad, steps.angle_rad));
        }
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

}  // namespace evenspit::plan
