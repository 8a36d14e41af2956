// SPDX-License-Identifier: MIT
#pragma once

#include "load/assembly.h"
#include "roast/view_factors.h"

namespace evenspit {

// Nusselt numbers h D / k. Rayleigh and Reynolds numbers with the diameter; properties of the fluid at the
// film temperature, the mean of surface and fluid.

/// Natural convection on a horizontal cylinder, Ra ≤ 1e12: S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass
/// Transfer 18:1049–1053 (1975).
double nusselt_of_still_cylinder(double rayleigh, double prandtl);

/// Natural convection on a sphere: S. W. Churchill, "Free convection around immersed bodies", Heat Exchanger
/// Design Handbook (1983).
double nusselt_of_still_sphere(double rayleigh, double prandtl);

/// Flow across a cylinder, Re Pr ≥ 0.2: S. W. Churchill, M. Bernstein, J. Heat Transfer 99:300–306 (1977).
double nusselt_of_cylinder_in_flow(double reynolds, double prandtl);

/// Flow past a sphere: S. Whitaker, AIChE J. 18:361–371 (1972), with the properties of the film throughout.
double nusselt_of_sphere_in_flow(double reynolds, double prandtl);

/// A cylinder that turns in still air, Re with the speed of its surface: J. T. Anderson, O. A. Saunders,
/// Proc. R. Soc. A 217:555–562 (1953), from memory. At a spit's speed it is far below what buoyancy does.
double nusselt_of_turning_cylinder(double reynolds);

/// Several causes at once, none along another: the fourth root of the sum of fourth powers, as for flow
/// across cylinders and spheres (Incropera, "Fundamentals of Heat and Mass Transfer", section 9.9).
double mixed_nusselt(double first, double second, double third = 0);

/// An item as convection sees it.
struct ConvectionSize {
    double length_m = 0;    ///< along the rod
    double diameter_m = 0;  ///< area of its skin over π times its length: exact for a sphere
};

/// \pre the item has skin
ConvectionSize convection_size(const Assembly& assembly, const SkinPatches& skin, std::size_t item);

/// The air about an item.
struct AirFlow {
    double air_k = 0;
    double speed_m_s = 0;      ///< of the air past the item
    double turning_rad_s = 0;  ///< of the item
};

/// The mean coefficient between an item's skin and the air, W/(m² K): a sphere's where it is as long as it is
/// thick, a cylinder's from twice as long on, in a straight line between.
double convection_coefficient_w_m2_k(const ConvectionSize& size, double skin_k, const AirFlow& flow);

/// The hole of a bird, as the air sees it.
struct Hollow {
    double wall_m2 = 0;
    double opening_m2 = 0;  ///< of all openings together
};

/// What a cavity opens by: the shares of what its wall sees of the world outside it, times the wall's area,
/// are the area of the opening as it is seen from inside (reciprocity), exact for flat openings.
Hollow hollow_of(const SkinPatches& skin, const TurnViews& views, std::size_t item);

/// The coefficient between a cavity's wall and the air outside, W/(m² K): from the wall to the air inside,
/// and from there by what goes in and out through the opening on its own,
/// ρ c (C/3) A √(g H ΔT/T), C = 0.6 (W. G. Brown, K. R. Solvason, Int. J. Heat Mass Transfer 5:859–868
/// (1962), from memory), H the opening's diameter. 0 for a closed cavity.
double cavity_coefficient_w_m2_k(const Hollow& hollow, double skin_k, double air_k);

/// What moves the same conductance in and out of an upright opening, W/K; of that area and height.
double opening_exchange_w_k(double area_m2, double height_m, double inside_k, double outside_k);

/// What rises over a fire.
struct Plume {
    double speed_m_s = 0;
    double hotter_by_k = 0;  ///< than the air round it
};

/// The plume over a fire in the open: half of what is on its axis, the mean across it.
///
/// On the axis its speed is 3.4 (g Q / (c ρ T (z − z₀)))^⅓, and it is hotter by
/// 9.1 (T Q² / (g c² ρ² (z − z₀)⁵))^⅓, with z₀ = 0.083 Q^⅖ − 1.02 D (kW, m): G. Heskestad, Fire Safety J.
/// 7:25–32 (1984), from memory. In a closed cooker the speed is the most that can be.
///
/// \param convected_w what the gases carry off, ≥ 0 \param height_m above the fire \param width_m of it
Plume plume_over(double convected_w, double height_m, double width_m, double air_k);

/// Speed of the air in a closed cooker where the fire does not lie under the item. Air in baking ovens moves
/// at 0.02 to 0.44 m/s: Baik et al., J. Food Sci. 64:688 (1999); this is the middle.
inline constexpr double usual_air_speed_m_s = 0.2;

}  // namespace evenspit
