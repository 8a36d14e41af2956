// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <stop_token>
#include <vector>

#include "plan/line_search.h"

namespace evenspit::plan {

/// A fork as it holds an item: the hub's station from the item's origin, which way its tines look, and its
/// clock as a turn from how the fork came.
struct ForkPlace {
    double from_item_m = 0;
    Facing points = Facing::point;
    double turned_rad = 0;
};

/// What forks are sought for.
struct ForkGoal {
    Seat seat;                              ///< the item's place; its turn is free if `may_turn`
    std::vector<Fork> forks;                ///< those that hold the item, as they stand
    bool may_turn = true;                   ///< whether the item may be clocked anew
    std::vector<double> clock_steps_rad{};  ///< one per fork: in what steps it can be turned on the rod
    /// Share of the rod's yield strength at a hub's station while the fork there looks this way (toward the
    /// load); empty: not asked.
    std::function<double(double station_m, Facing points)> rod_use = {};
    const FreeRadius* free = nullptr;  ///< not owned; null: nothing to clear
    double torque_n_m = 0;             ///< that the item's forks must hold
    double weight_n = 0;               ///< that its tines and the rod must bear
    double rod_width_m = 0;
    std::stop_token stop{};
};

struct ForksFound {
    double turn_rad = 0;            ///< of the item
    std::vector<ForkPlace> places;  ///< one per fork
    double price = 0;               ///< of what is wrong with them; below 1: nothing to speak of
};

/// Where the hubs of an item's forks go and how item and forks are clocked.
///
/// With two forks or more the first is set at the end that looks to the drive and the last at the other,
/// tines into the meat; one alone keeps its end. A hub sits where the rod leaves the meat, up to 4 mm in it
/// or as far off as the tines still reach. Sought: no tine in bone, at least limits::cover_care_m of flesh
/// over every tine and 2 mm to spare, every tine with 20 mm or more in flesh, capacity for more than twice
/// the torque in the cooked state, the rod under half of its strength, flesh on tines and rod for more than
/// twice the weight, tines clear of the cooker and of one another, and little moving. Tines are looked at
/// every 10° round the rod (every 2° round the best, if something is wrong with that) and every few
/// millimetres along it, exactly; covers are taken in space, so that they never come out larger than `grip`
/// finds them.
///
/// \throws Stopped once `goal.stop` is asked to
ForksFound find_forks(const PlanItem& item, const ForkGoal& goal);

/// The stations, from the item's origin, between which the rod is in the meat (or in its cavity).
std::array<double, 2> meat_on_axis(const PlanItem& item, const Seat& seat);

}  // namespace evenspit::plan
