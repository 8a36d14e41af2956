// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <optional>
#include <variant>
#include <vector>

#include "plan/plan.h"
#include "units/error.h"

namespace evenspit::plan {

/// What stops a load: nothing, what binds it, or why there is no such body.
using FitStop = std::variant<std::monostate, PlanLimit, Complaint>;

/// The load with its bodies so many times as heavy, set up as well as it can be.
struct FitRow {
    double mass_factor = 1;
    double mass_kg = 0;            ///< of all items
    std::optional<Level> verdict;  ///< absent where there is no such body
    std::optional<Chance> chance;  ///< as hands mount it; absent where it is judged as drawn
    std::optional<double> motor_use, grip_torque_use, yield_use, gap_min_m;
    FitStop stopped_by;  ///< what keeps it from turning, else from being ready; nothing where it is ready
};

struct Fit {
    std::vector<FitRow> rows;  ///< by mass
    /// The heaviest that is ready, kg of all items, and what keeps the next heavier one from it; where none
    /// is ready, what keeps the lightest that can turn.
    std::optional<double> largest_ready_kg;
    FitStop not_ready_by;
    /// The heaviest that can turn (no finding `stop`), kg of all items; absent if none tried can.
    std::optional<double> largest_kg;
    /// What stops the next heavier one, nothing if none tried was stopped; where none can turn, what stops
    /// the one with the least in its way.
    FitStop stopped_by;
};

/// How large a body rod, motor and cooker can take: make_plan() on the load with its bodies lighter and
/// heavier.
///
/// From half to twice the mass in steps of a fourth root of two, each judged as make_plan() recommends to set
/// it up; on to eight times until two in a row cannot turn, or down to an eighth as long as none can; then
/// between the heaviest that is ready and the next, and between the heaviest that can turn and the next, to
/// three parts in a hundred (one as drawn). A few more above that tell whether it is the limit or a gap below
/// it. Where make_plan() finds no way, it begins again from how the
/// nearest lighter and heavier loads that turn are set up.
///
/// \param load_at the load with bodies `factor` times as heavy, grown in all directions alike; may throw
///        InputError where there is no such body
/// \param mass_kg of all items at factor 1
/// \param mountings by which each is judged, in steps that hands can set; 0: as drawn, whole millimetres
Fit find_fit(const std::function<Assembly(double factor)>& load_at, double mass_kg,
             int mountings = answer_mountings);

}  // namespace evenspit::plan
