// SPDX-License-Identifier: MIT
#pragma once

#include <limits>

namespace evenspit {

/// Pressure of water vapour over water, Pa: W. Wagner and A. Pruss, J. Phys. Chem. Ref. Data 22:783–787
/// (1993), from memory. Held at its ends outside 250 to 600 K.
double saturation_pa(double temperature_k);

/// Heat that a kilogram of water takes up as it evaporates, J/kg: 2.501e6 − 2361·t, t in °C (common practice;
/// within 0.4 % of steam tables from 0 to 120 °C).
double evaporation_j_kg(double temperature_k);

/// What a triangle of a surface meets.
struct SurfaceExposure {
    double air_k = 293.15;        ///< temperature of the air that passes
    double convection_w_m2k = 0;  ///< coefficient to that air, ≥ 0
    double irradiation_w_m2 = 0;  ///< thermal radiation that falls on it, ≥ 0
    double emissivity = 0.9;      ///< and share of the radiation that it takes up
    double vapour_pa = 0;         ///< pressure of the water vapour in the air
    double wetness = 0;           ///< share of the surface that is wet, in [0, 1]
    double most_water_kg_m2s =
        std::numeric_limits<double>::infinity();  ///< that can evaporate: what reaches it
};

/// Adds up what several pieces of a surface meet to what they meet together.
class MeanExposure {
  public:
    void add(const SurfaceExposure& exposure, double area_m2);
    [[nodiscard]] SurfaceExposure mean() const;

  private:
    SurfaceExposure sum_{.air_k = 0, .emissivity = 0, .most_water_kg_m2s = 0};
    double area_ = 0, convected_ = 0, wetted_ = 0, air_ = 0;
};

/// What a surface takes up, and how that changes with its temperature.
struct SurfaceFlux {
    double heat_w_m2 = 0;         ///< into the body
    double heat_slope_w_m2k = 0;  ///< ≤ 0
    double water_kg_m2s = 0;      ///< that evaporates; < 0 where the air's vapour condenses
    double water_slope_kg_m2sk = 0;
};

/// Heat and water at a surface of a given temperature: convection, radiation falling on it less what it
/// emits, and the heat of the water that evaporates.
///
/// Vapour follows heat by the analogy of Chilton and Colburn with a Lewis number of 0.87 (air at 60 °C, from
/// memory), with Stefan's logarithm for the drift of the vapour itself, so that water that does not run short
/// keeps the surface under 100 °C.
SurfaceFlux surface_flux(const SurfaceExposure& exposure, double surface_k);

struct SurfaceState {
    double surface_k = 0;
    SurfaceFlux flux;
};

/// The state of a surface that takes from outside what it hands on to a place `inner_k` under it, through
/// `inward_w_m2k`, to a few millikelvin. \param guess_k where to look first \pre inward_w_m2k > 0
SurfaceState balanced_surface(const SurfaceExposure& exposure, double inner_k, double inward_w_m2k,
                              double guess_k);

/// How many W/m2·K the walls of a hollow exchange with its inside at a temperature: free convection in it, 3
/// W/m2·K (from memory, a Nusselt number of about 10 over a decimetre), radiation between grey walls of
/// emissivity 0.9 that enclose each other, and in a closed one water that evaporates from warmer walls and
/// condenses on colder ones.
double hollow_exchange_w_m2k(double temperature_k, bool closed);

}  // namespace evenspit
