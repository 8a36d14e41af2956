// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "rig/rig.h"
#include "roast/fire.h"

namespace evenspit {

/// A wall through and through, and how it shines outside.
struct CookerWall {
    double thickness_m = 0;
    double conductivity_w_m_k = 0;
    double density_kg_m3 = 0;
    double specific_heat_j_kg_k = 0;
    double emissivity = 0;
};

CookerWall cooker_wall(WallKind kind);

/// A cooker as its air knows it.
struct CookerShell {
    double area_m2 = 0;  ///< of its walls, lid included; 0: a fire in the open
    CookerWall wall{};
    double lid_opening_m2 = 0;  ///< the hole that the lid leaves
    bool has_lid = true;        ///< without one that hole is always open
    double slots_m2 = 0;        ///< what stands open all the time: the rod's two slots, the seam
    double slot_height_m = 0;   ///< how high such a slot is
    double fire_m2 =
        0;  ///< of the fire's surfaces, seen from above; of boxes the largest side, as burners may stand
    std::optional<double> glows_k{};  ///< what its fire is known to glow at
    double ambient_k = 293.15;
};

/// Which of a cooker's surfaces are its lid, by name: those called "lid".
std::vector<bool> lid_surfaces(const Cooker& cooker);

/// The shell that a cooker's heat_holders() make, each wall counted on one side. The lid's hole is as wide as
/// the widest wall. A fire that is an endless plane counts as 1 m2.
CookerShell shell_of(const Cooker& cooker, double ambient_k);

/// Whether nothing burns in it that the cooker's file knows of: something else keeps all of it, air and
/// walls, as hot as it is to be. So it is too where nothing is told of the cooker.
inline bool is_oven(const CookerShell& shell) {
    return !(shell.fire_m2 > 0);
}

/// All skin in the cooker, for the heat that it takes up.
struct LoadSkin {
    double area_m2 = 0;
    double temperature_k = 0;   ///< mean
    double convection_w_k = 0;  ///< coefficient × area
    double drawn_w = 0;         ///< from the air, whatever the temperatures are: an even draw of known size
    double plume_w = 0;  ///< over a fire in the open: from gases hotter than the air, beyond what that gives
    double emissivity = 0.9;  ///< of skin, as of foods
    double sees_fire = 0;     ///< mean view factors; the rest is the load itself
    double sees_wall = 0;
    double sees_open = 0;
};

/// Heat that went each way since the start, J. released = to_load + through_wall + with_gas + by_openings +
/// what walls and air hold more.
struct CookerHeat {
    double released_j = 0;
    double to_load_j = 0;
    double through_wall_j = 0;
    double with_gas_j = 0;     ///< burnt air that leaves
    double by_openings_j = 0;  ///< slots and open lid, radiation through them included
};

/// A cooker at one moment.
struct CookerState {
    double time_s = 0;
    double air_k = 0;
    double inside_k = 0;   ///< of the walls' inner face
    double wall_k = 0;     ///< mean through the wall
    double outside_k = 0;  ///< of the outer face
    double shown_k = 0;    ///< thermometer_k()
    Fire fire{};
    BedHeat bed{};  ///< of the last step
    double burnt_kg_s = 0;
    double to_load_w = 0;
    CookerHeat heat{};
};

/// A cold cooker with a fire laid.
CookerState cold_cooker(const CookerShell& shell, const Fire& fire);

/// What a cooker's thermometer shows: a rod in the air that also sees the walls and so, where these are
/// cooler, shows less than the air has.
///
/// 6 mm thick (common practice), black with smoke: emissivity 0.8, as oxidised steel.
/// \param about_k what it showed just before, where the answer is sought from; absent: from the air's
double thermometer_k(double air_k, double walls_k, std::optional<double> about_k = {});

/// How the cook sets the vents. Neither: wide open.
struct Draught {
    std::optional<double> hold_k{};  ///< so that the thermometer shows this, as far as fire and slots allow
    std::optional<double> burnt_kg_s{};  ///< left as they were when the fire burnt this
    double pace = 1;                     ///< of a fire in the open, over what its fuel burns as a rule
};

/// What slots that cannot be shut feed at the least, kg/s: the air that goes in and out through them by
/// itself, all of it past the coals, but no more than the fire can burn.
double least_burnt_kg_s(const CookerShell& shell, const CookerState& state);

/// The cooker some time later.
///
/// The walls are one heap of heat between the halves of their own resistance; air stores what it holds. Heat
/// moves by convection at the walls' both faces (correlations of convection.h), by radiation between bed,
/// walls, load and openings, with gas and through slots. Implicit in steps of 30 s at most (5 s with the lid
/// open), coefficients as of the step's start: what is told closes the balance to rounding. An
/// oven is what Draught::hold_k says, at once, and sets free what its load takes up.
///
/// \param load absent: an empty cooker
CookerState later(const CookerShell& shell, CookerState state, const std::optional<LoadSkin>& load,
                  const Draught& draught, bool lid_open, double seconds);

/// A cooker that is ready for the load.
struct PreheatedCooker {
    CookerState state;
    double preheat_s = 0;  ///< from the time all its fuel burns
    bool reached = false;  ///< it got there and stayed for half an hour
};

/// Lights a fire outside, in a chimney or with the lid off, and holds it at what its thermometer is to show
/// until it has for half an hour, so that walls warm a way in too; gives up after three hours. Common
/// practice, no source. A fire in the open is ready when it is lit.
PreheatedCooker preheated_cooker(const CookerShell& shell, const Fire& laid, double shown_k);

/// Whether the weather looks in: the lid is off, there is none, or no walls. Never into an oven.
inline bool stands_open(const CookerShell& shell, bool lid_open) {
    return !is_oven(shell) && (lid_open || !shell.has_lid || !(shell.area_m2 > 0));
}

/// What walls and air hold above ambient, J.
double held_j(const CookerShell& shell, const CookerState& state);

/// When the lid is opened.
struct Basting {
    double first_s = 0;  ///< after the load goes in
    double every_s = 0;  ///< 0: never
    double open_s = 0;   ///< each time
};

/// Every 20 minutes from half way, half a minute each time. Common practice, no source.
Basting usual_basting(double cook_s);

bool lid_is_open(const Basting& basting, double since_in_s);

}  // namespace evenspit
