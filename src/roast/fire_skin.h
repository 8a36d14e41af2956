// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "load/assembly.h"
#include "roast/convection.h"
#include "roast/cooker_air.h"
#include "roast/view_factors.h"

namespace evenspit {

/// What each thing that skin sees radiates, W/m2.
struct Radiators {
    std::vector<double> surfaces_w_m2;  ///< in the cooker's order
    double open_w_m2 = 0;               ///< what comes in where nothing is
    std::vector<double> items_w_m2;
};

/// Fires radiate as their bed does (fire_radiosity_w_m2); walls as black, at the inner face's temperature or
/// the one that the cooker's file fixes: a small load in a large sooty cooker sees all its walls so. A lid
/// that is off leaves the weather, at ambient. In a closed cooker what lies open is joints in its drawing and
/// counts as wall; the rod's slots are too small a share of what skin sees. Items as black at their own.
///
/// \param item_skin_k mean temperature of each item's skin
Radiators radiators(const Cooker& cooker, const CookerShell& shell, const CookerState& state,
                    const std::vector<double>& item_skin_k, bool lid_open);

/// How an item exchanges heat with the air.
struct SkinConvection {
    double air_k = 0;  ///< round the item
    double outer_w_m2_k = 0;
    double cavity_w_m2_k = 0;  ///< from the wall of its cavity to the air outside
};

/// By the correlations of convection.h, or what the load file fixes for all skin.
///
/// \param air past the item, see item_air()
SkinConvection skin_convection(const Assembly& assembly, const SkinViews& views, const TurnViews& mean,
                               std::size_t item, double skin_k, const AirFlow& air);

/// The air past an item: the cooker's at usual_air_speed_m_s, and the plume's for the share of the item that
/// hangs over fire. In a closed cooker only its speed counts: what it carries heats the air of the whole.
AirFlow item_air(const Assembly& assembly, const ConvectionSize& size, std::size_t item,
                 const CookerState& state);

/// What heats an item's skin at one moment.
///
/// Into the skin go, for each m2, coefficient × (air − skin) + emissivity × (incident − σ skin⁴). Where a
/// patch sees its own item, `incident` holds what that radiates at its mean temperature.
struct SkinHeating {
    double air_k = 0;
    double emissivity = 0;
    /// By part, then triangle; empty for parts that are not skin.
    std::vector<std::vector<double>> coefficient_w_m2_k;
    std::vector<std::vector<double>> incident_w_m2;
};

/// Foods: 0.9.
inline constexpr double skin_emissivity = 0.9;

/// \param radiation false: by convection alone; emissivity and incident radiation are 0
SkinHeating skin_heating(const SkinViews& views, const TurnViews& mean, std::size_t item,
                         const Radiators& from, const SkinConvection& convection, bool radiation);

/// All items' skin as the cooker's balance needs it; one SkinConvection for each item. What is wall and what
/// is open as for radiators().
LoadSkin load_skin(const Assembly& assembly, const CookerShell& shell, const SkinViews& views,
                   const TurnViews& mean, const std::vector<SkinConvection>& convection,
                   const std::vector<double>& item_skin_k, bool lid_open, bool radiation);

}  // namespace evenspit
