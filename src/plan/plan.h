// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string_view>
#include <vector>

#include "analysis/chance.h"
#include "load/arrangement.h"
#include "load/load_change.h"
#include "plan/by_hand.h"
#include "plan/corridor.h"
#include "plan/plan_limits.h"

namespace evenspit::plan {

/// How far an answer goes beyond the load as it stands.
enum class PlanKind {
    as_it_stands,
    turned,         ///< items turned against each other
    line,           ///< a new rod line, forks where they are
    line_forks,     ///< a new line, turn, station, and new places for the forks
    counterweight,  ///< the line as it is, with counterweights
    everything,     ///< line_forks with counterweights
    tied,           ///< loose limbs tied, and all set up as is best then
    other_rod,      ///< another rod, and all set up as is best on it
    fewer,          ///< one item less on the rod, and the others set up as is best
};

/// One way to set up the load, with what it comes to.
struct PlanAnswer {
    PlanKind kind = PlanKind::as_it_stands;
    Arrangement arrangement;
    Analysis analysis;                    ///< of the load so set up, by analyse()
    double gravity_torque_worst_n_m = 0;  ///< peak, at the worse end of the cook
    int stops = 0, cares = 0;             ///< findings of those levels
    double effort = 0;                    ///< what there is to do; 0: nothing. About one for each thing moved
    bool worth_its_effort = false;        ///< no answer takes less effort and less torque
    std::optional<RodLimit> line_held_by{};  ///< what keeps the rod from the centre of mass, if anything does
    std::vector<LoadChange> changes{};       ///< what is done beyond moving things
    /// The load with these changes, as `arrangement` finds it; null: the load that was planned.
    std::shared_ptr<const Assembly> changed{};
};

/// The load that an answer sets up, as it stands before that.
inline const Assembly& load_of(const PlanAnswer& answer, const Assembly& planned) {
    return answer.changed ? *answer.changed : planned;
}

/// What an answer's chance would be if hands took more care of one thing.
struct MoreCare {
    /// Of an input of that kind, half its spread.
    Input::Kind kind = Input::Kind::line_from;
    double ready = 0;  ///< chance
};

struct Plan {
    /// The load as it stands first, then by what there is to do.
    std::vector<PlanAnswer> answers;
    std::size_t recommended = 0;
    /// What stands in the way of the recommended answer; empty if it has no finding `stop`.
    std::vector<PlanLimit> limits;
    /// What helps the recommended answer most, where it has a chance and that is under limits::worthy_chance;
    /// the most first.
    std::vector<MoreCare> more_care{};
};

/// What a plan may propose beyond moving things, where that alone leaves a load that is not ready.
struct MayChange {
    /// To choose from; asked for where another rod would help. Not empty where load is not.
    std::function<std::vector<RodModel>()> rods{};
    /// The load with such changes; empty: nothing may be changed. May throw InputError where there is none.
    std::function<Assembly(const std::vector<LoadChange>& changes)> load{};
};

/// How a plan is made.
struct PlanWish {
    /// In what steps hands can set it up; absent: as drawn, in whole millimetres and degrees.
    std::optional<HandSteps> steps = HandSteps{};
    MayMove may{};
    MayChange change{};
    /// Mountings that the load as it stands and the recommended answer are judged by, as check does; the
    /// others by at most answer_mountings. 0: all as written.
    int mountings = usual_mountings;
    /// An answer that is wanted, whichever is recommended: judged as well as that one.
    std::optional<std::size_t> wanted{};
};

/// Mountings by which answers are compared: the same for all of them, so that few tell them apart.
inline constexpr int answer_mountings = 64;

/// Where rod, forks and counterweights should go.
///
/// Unbalance is minimised at the worse end of the cook (raw or cooked; see matter_ends()), within what a rod
/// can really take (Corridor), what forks can hold (find_forks()), and what the cooker leaves free
/// (FreeRadius). Each answer is then set up in steps that hands can do, and sought further there for what
/// holds best when hands are off (by_hand()). Every answer is judged on exactly the values that would be
/// written to a load file, as written and in mountings of it (judge()).
///
/// Recommended is the answer with the best verdict; of those the one with the fewest stops as written, then
/// the one that is clearly less often a stop, then clearly more often ready (by 2 and 5 of 100, and by 3 more
/// for each counterweight more), then that with the fewest findings that ask for care. Among equals that are
/// ready, or leave little enough torque (under a tenth of the motor's rating; as drawn, under friction and a
/// twelfth of what it was), the one with the least to do, else the one with the least torque. A load that is
/// `ready`, pulls less than a tenth of the motor's rating, and is ready as often as any answer, is left
/// alone.
///
/// Where none of these is ready, changes to the load itself are tried, one upon the other while they help:
/// loose limbs tied, a stouter or longer rod, one item less. Each is planned anew, and told where it is the
/// best so far.
///
/// \param stage told by name what is sought, as it begins, and how much is done, 0 … 1. May throw to stop the
/// work. Empty: nobody listens
/// \param stop looked at all the while
/// \throws Stopped (units/stopped.h) once it is asked to stop
Plan make_plan(const Assembly& assembly,
               const std::function<void(double share, std::string_view what)>& stage = {},
               const std::stop_token& stop = {}, const PlanWish& wish = {});

}  // namespace evenspit::plan
