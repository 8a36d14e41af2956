// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "roast/cooker_air.h"

namespace evenspit {

/// What is to be cooked, as far as fuel goes.
struct FuelNeed {
    FuelKind fuel = FuelKind::lump_charcoal;
    double held_k = 0;                      ///< that the thermometer shows while the load is in
    double preheated_k = 0;                 ///< before; at least held_k, else that is meant
    double cook_s = 0;                      ///< the load's time in it
    double to_load_j = 0;                   ///< heat that the load takes up in that time, drying included
    double load_from_m = 0, load_to_m = 0;  ///< stations that it covers
    std::optional<double> given_kg{};       ///< what the cook means to lay
    /// In the open: of what the fire sets free, what the load takes up. Not used for a cooker with walls.
    double taken_share = 0;
};

/// How much fuel, when to light it, and where to lay it.
struct FuelPlan {
    double laid_kg = 0;   ///< so that it is fading when the load is done; 0 for gas, see burnt_kg
    double burnt_kg = 0;  ///< till then, lighting included
    double released_j = 0;
    double lit_before_s = 0;                ///< before the load goes in
    double preheat_s = 0;                   ///< of that, with all of it burning in the cooker
    double bank_from_m = 0, bank_to_m = 0;  ///< stations: as far as the load reaches, or as the fuel does
    double bank_width_m = 0;                ///< across the rod, at the usual depth of a pile
    double need_w = 0;                      ///< mean power while the load is in
    double through_wall_w = 0, with_gas_w = 0, by_openings_w = 0, to_load_w = 0;  ///< of that
    double least_w = 0;      ///< what slots that cannot be shut keep burning
    bool enough_bed = true;  ///< the cooker's fire surfaces hold such a pile
    /// Of given_kg, what is more than laid_kg; negative where it is too little.
    double too_much_kg = 0;
    /// How much hotter than held_k the cooker stays over the cook, in the mean, if given_kg burns as the
    /// slots let it, vents shut; 0 where the cook can hold it down.
    double cannot_hold_by_k = 0;
};

/// Runs the cooker from the match to the end of the cook, the load as an even draw of heat, and lays as much
/// as leaves the fire just able to give what is needed at the end: with vents open it is fading then. A fire
/// in the open burns as it likes from the time it is lit through; it is as large as gives the load its heat
/// in the time there is.
///
/// \throws std::invalid_argument for an oven, if a time or temperature is not positive, or a fire in the open
/// has no share of its heat taken up
FuelPlan plan_fuel(const CookerShell& shell, const FuelNeed& need);

}  // namespace evenspit
