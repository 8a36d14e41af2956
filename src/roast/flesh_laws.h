// SPDX-License-Identifier: MIT
#pragma once

#include "body/body.h"

namespace evenspit {

/// How much of its raw water lean meat can hold at a temperature once that has had its time: 1 while it is
/// raw.
///
/// c_eq = 0.745 − 0.345/(1 + 30·exp(−0.25·(t − 52))), t in °C: R. G. M. van der Sman, Meat Science
/// 76:730–738 (2007), over what that gives for raw meat. It is taken per kilogram of raw meat: read as a
/// share of the cooked piece it would cost half of the weight at 72 °C, which no water bath does.
double water_held(double temperature_k);

/// How fast water that is no longer held leaves: the time in which what is left to leave falls to 1/e, s.
///
/// Losses of meat in a water bath follow a first-order law, take hours in pieces as thick as a roast, and end
/// where temperature alone says: S. Oillic et al., Meat Science (2011). The figure is from memory of such
/// curves; with it whole turkeys from 8 to 24 lb, chickens, pork and lamb lose what is published of them.
inline constexpr double juice_lag_s = 7200;

/// The share of the juice under skin that comes through it and dries there; the rest drips. From memory:
/// somewhat more than half of what a roasting bird loses goes off as vapour.
inline constexpr double juice_through_skin = 0.5;

/// The share of the fat in skin and in the layer under it that has run out once it was so hot at the hottest.
///
/// None before it melts (fat of poultry at 30 to 34 °C), all that ever does at 80 °C, when the collagen that
/// holds it has turned to gelatine (70 to 80 °C: Encyclopedia of Meat Sciences), straight between. What ever
/// does is 0.6: of the fat of whole ducks 57 % and of geese 62 % are gone when they are roasted (USDA SR26
/// 05139/40, 05146/47).
double fat_rendered(double hottest_k);

/// What flesh bears after it was so hot at the hottest, as a share of what it bears raw.
///
/// Raw up to 53 °C; then less, in a line, to the roasted figure at 80 °C: myosin sets at 54 to 58 °C,
/// collagen shrinks from 53 to 65 and turns to gelatine from 70 to 80, actin sets at 80 to 83 (Encyclopedia
/// of Meat Sciences). Beyond it goes on toward what roasted meat bears across its fibres, 25 kPa (P. P.
/// Purslow, Meat Science 12 (1985)), as the collagen of legs and shoulders dissolves: with a time constant of
/// three hours above 80 °C, from memory.
///
/// \param raw_pa, cooked_pa what is known of the meat raw and roasted
/// \param above_80_c_s how long it was hotter than 80 °C
double strength_left(double raw_pa, double cooked_pa, double hottest_k, double above_80_c_s);

/// How much water can reach a surface from the flesh under it, kg/m2·s, some time after it began to dry:
/// ρ c √(D/(π t)), diffusion into a half-space whose face is dry (Carslaw and Jaeger §2.5) with D = 4e-10
/// m2/s, the order of what is published for meat near 60 °C (from memory).
///
/// \param water_kg_m3 of the raw flesh
double water_reaching_surface_kg_m2s(double water_kg_m3, double since_s);

}  // namespace evenspit
