// SPDX-License-Identifier: MIT
#include "plan/fit.h"

#include <algorithm>
#include <cmath>

#include "units/error.h"

namespace evenspit {
namespace {

constexpr int steps_to_double = 4;
constexpr int furthest = 3 * steps_to_double;  // an eighth, and eight times
constexpr double close_enough = 1.01;

bool can_turn(const FitRow& row) {
    return row.verdict && *row.verdict != Level::stop;
}

FitRow row_at(const std::function<Assembly(double)>& load_at, double factor, double mass_kg) {
    FitRow row;
    row.mass_factor = factor;
    row.mass_kg = factor * mass_kg;
    Assembly load;
    try {
        load = load_at(factor);
    } catch (const InputError& error) {
        const Complaint& complaint = error.complaints().front();
        row.stopped_by = complaint.expected.empty()
                             ? "There is no such body."
                             : "There is no such body: expected " + complaint.expected + ".";
        return row;
    }
    const Plan plan = make_plan(load);
    const Analysis& best = plan.answers[plan.recommended].analysis;
    row.verdict = best.verdict;
    row.motor_use = best.balance.motor_use;
    row.grip_torque_use = best.grip.torque_use;
    row.yield_use = best.rod.yield_use;
    row.gap_min_m = best.clearance.gap_min_m;
    if (!plan.limits.empty()) row.stopped_by = plan.limits.front().message;
    return row;
}

}  // namespace

Fit find_fit(const std::function<Assembly(double factor)>& load_at, double mass_kg) {
    Fit fit;
    const auto row = [&](int k) {
        return row_at(load_at, std::exp2(static_cast<double>(k) / steps_to_double), mass_kg);
    };
    for (int k = -steps_to_double; k <= steps_to_double; ++k) fit.rows.push_back(row(k));
    for (int k = steps_to_double + 1; k <= furthest && can_turn(fit.rows.back()); ++k)
        fit.rows.push_back(row(k));
    for (int k = -steps_to_double - 1;
         k >= -furthest && std::none_of(fit.rows.begin(), fit.rows.end(), can_turn); --k)
        fit.rows.insert(fit.rows.begin(), row(k));
    // From below: a heavier one may turn again where a lighter is too short for its forks.
    const auto last = std::find_if(fit.rows.rbegin(), fit.rows.rend(), can_turn);
    if (last == fit.rows.rend()) {
        fit.stopped_by = fit.rows.front().stopped_by;
        return fit;
    }
    FitRow low = *last;
    if (last != fit.rows.rbegin()) {
        FitRow high = *(last - 1);
        while (high.mass_factor > close_enough * low.mass_factor) {
            const FitRow middle = row_at(load_at, std::sqrt(low.mass_factor * high.mass_factor), mass_kg);
            fit.rows.push_back(middle);
            (can_turn(middle) ? low : high) = middle;
        }
        fit.stopped_by = high.stopped_by;
    }
    std::sort(fit.rows.begin(), fit.rows.end(),
              [](const FitRow& a, const FitRow& b) { return a.mass_factor < b.mass_factor; });
    fit.largest_kg = low.mass_kg;
    return fit;
}

}  // namespace evenspit
