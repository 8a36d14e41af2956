// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>
#include <variant>
#include <vector>

#include "analysis/results.h"
#include "load/assembly.h"

namespace evenspit::plan {

// What stands in the way of a load, and what would lift it. By value: put into words where it is told
// (report/plan_words.h).

/// The motor's torque is not enough.
struct MotorLimit {
    double torque_n_m = 0;         ///< needed at the peak
    double rating_needed_n_m = 0;  ///< of a motor that would take it without care
    double excess_kg_m = 0;        ///< what a counterweight would have to take off
};
/// A part of the load strikes the cooker.
struct RoomLimit {
    struct Strike {
        std::size_t surface = 0;
        double depth_m = 0;
    };
    Thing part{};
    std::vector<Strike> strikes{};
    std::optional<double> body_kg{};  ///< of a like body that would just pass; absent for other parts
    bool loose = false;               ///< tying the body tight may do
};
/// The rod is too weak.
struct StrengthLimit {
    double yield_use = 0;
    double width_m = 0;  ///< of a rod that would bear it without care
};
/// An item is not held, or not well enough.
struct HoldLimit {
    enum class Why { no_fork, no_flesh, torque };
    Why why = Why::no_fork;
    std::size_t item = 0;
    double torque_use = 0;    ///< of what its forks hold
    double times_longer = 0;  ///< tines that would hold it without care
};
/// The rod's usable stretch is too short.
struct LengthLimit {
    double usable_m = 0;
    double needed_m = 0;
};
/// One of them, or a finding `stop` that none of them covers.
using PlanLimit = std::variant<MotorLimit, RoomLimit, StrengthLimit, HoldLimit, LengthLimit, Finding>;

/// As topic_of() a finding.
std::string_view topic_of(const PlanLimit& limit);

/// What keeps a load from being fit to go on, and what would lift it.
std::vector<PlanLimit> plan_limits(const Assembly& assembly, const Analysis& analysis);

}  // namespace evenspit::plan
