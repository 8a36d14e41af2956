// SPDX-License-Identifier: MIT
#pragma once

#include <stop_token>

#include "plan/corridor.h"
#include "plan/free_radius.h"
#include "plan/unbalance.h"

namespace evenspit::plan {

/// An item made ready for searching: everything that does not depend on where it sits.
struct PlanItem {
    const Item* item = nullptr;  ///< not owned, not null
    std::array<body::Matter, cook_ends> masses;
    std::shared_ptr<const body::JoinedParts> parts;
    std::shared_ptr<const Corridor> corridor;
    std::shared_ptr<const Silhouette> silhouette;
};

/// \param rod_radius_m of the circle the rod's section turns in
PlanItem plan_item(const Item& item, double rod_radius_m);

/// What a line is sought for.
struct LineGoal {
    Seat seat;        ///< where the item sits now: station, facing, turn, and the line to start from
    Unbalances rest;  ///< of everything else on the rod, rod frame
    const FreeRadius* free = nullptr;  ///< not owned; null: nothing to clear
    /// Torques below it are all the same, N m: less than what arrangement by the millimetre can make out.
    double torque_floor_n_m = 0;
    /// Torque that one metre of missing clearance counts as, N m/m; and the same where no line has the room.
    double torque_per_room_n_m_m = 0, torque_per_missing_room_n_m_m = 0;
    std::stop_token stop{};
};

struct LineFound {
    RodLine line;           ///< whole millimetres where it differs from the start
    double torque_n_m = 0;  ///< peak gravity torque of everything, at the worse end of the cook
    LinePassage passage;    ///< slack < 0: nothing can be taken, this comes nearest
    double room_m = 0;  ///< as Silhouette::room(), or less if there is plenty; infinite without free radius
};

/// The rod line through one item that leaves the least peak gravity torque at the worse end of the cook.
///
/// On a lattice of whole millimetres of the four offsets; the unbalance is exact at every point. Starts: the
/// present line, the corridor's middle, the line through the centres of mass, and the best four of a coarse
/// grid round that. From each the best of the 625 lattice points two steps to either side is taken again and
/// again, with steps of 8, 4, 2 and 1 mm; the best is turned about its place in the plane of the centre of
/// mass, and challenged by lines through places that would balance better. Lines outside the corridor are
/// never preferred to one inside. Of torques that differ by less than one part in a hundred the roomier,
/// straighter and nearer line is taken. A load and its mirror image get mirrored answers.
///
/// \throws Stopped once `goal.stop` is asked to
LineFound find_line(const PlanItem& item, const LineGoal& goal);

}  // namespace evenspit::plan
