// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "load/assembly.h"
#include "roast/fire_place.h"
#include "roast/fire_skin.h"

namespace evenspit {

/// How the fire of a cook is run.
struct FireSettings {
    FuelKind fuel = FuelKind::lump_charcoal;
    std::optional<double> laid_kg{};  ///< absent: a full bed, and the cook adds what burns
    CoalPlace coals = CoalPlace::as_drawn;
    double ambient_k = 293.15;
    double held_k = 0;                    ///< that the thermometer shows with the load in
    std::optional<double> preheated_k{};  ///< before; absent: held_k
    /// Vents stay as they were when the load went in; else the cook keeps it at held_k as far as fire
    /// and slots allow.
    bool vents_left = false;
    Basting basting{};
    double open_pace = 1;  ///< how fast a fire in the open burns, over what its fuel does as a rule
};

/// As the load file has it; nothing where that does not tell how hot the cooker is held. A fire in the open
/// holds nothing: it burns as its fuel does in a full bed, or in what was laid.
///
/// Basting that is told without when it begins begins half way through the cook; one whose length is not told
/// is taken to last three hours.
std::optional<FireSettings> fire_settings(const Assembly& assembly);

/// Everything that heats the load, but for the state it is in: what does not change in a cook.
struct FireCourse {
    Assembly assembly;  ///< with its coals where they are laid
    FireSettings settings;
    CookerShell shell;
    SkinViews views;
    TurnViews mean;
};

/// Casts the rays, once for a cook.
///
/// \throws std::invalid_argument as skin_views()
FireCourse fire_course(Assembly assembly, const FireSettings& settings, const ViewOptions& options = {});

/// The same course with the turn's time spent otherwise, as its load's balance changes; cheap.
void spend_turn(FireCourse& course, std::span<const double> time_share);

/// The cooker as the load goes in, time 0: preheated_cooker().
CookerState load_goes_in(const FireCourse& course);

/// The cooker `seconds` later; its lid is opened as the settings have it.
///
/// \param item_skin_k mean temperature of each item's skin over that time
CookerState later(const FireCourse& course, const CookerState& state, const std::vector<double>& item_skin_k,
                  double seconds);

/// What heats each item's skin at a moment: what a solver of conduction needs at its surface.
std::vector<SkinHeating> heating(const FireCourse& course, const CookerState& state,
                                 const std::vector<double>& item_skin_k);

}  // namespace evenspit
