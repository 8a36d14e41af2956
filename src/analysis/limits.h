// SPDX-License-Identifier: MIT
#pragma once

#include "units/fahrenheit.h"

namespace evenspit::limits {

// Where a figure begins to ask for care or for a stop, each with its reason. "Common practice" has no
// published source.

// --- motor ---

/// Use of the motor's rating that asks for care. Common practice: gear motors are chosen with two thirds in
/// reserve of what they must start against, and their ratings are loose.
inline constexpr double motor_care = 0.6;
/// Use that asks for a stop: the rating itself.
inline constexpr double motor_stop = 1;
/// Unevenness of speed worth a hint, (max − min) / mean. Common practice.
inline constexpr double uneven_hint = 0.2;

/// Unevenness that asks for care: the side that stays below longest browns visibly more. Common practice.
inline constexpr double uneven_care = 0.4;
/// How hard the load may pull the gears, of the motor's rating, before it asks for care: a load on a real rod
/// nearly always overruns a little, and only a strong pull wears the gears. Common practice.
inline constexpr double pull_care = 0.25;
/// A knock in the drive's play of the motor's rating and more asks for care: teeth see more than they are
/// built to give. Common practice.
inline constexpr double knock_care = 1;

// --- how often it goes wrong ---

/// Shares of all mountings that have a condition of the level stop, from which the load is a stop, and from
/// which it asks for care. Common practice: one in twenty is too often for a fire, one in a hundred worth a
/// look.
inline constexpr double stop_chance = 0.05;
inline constexpr double stop_chance_care = 0.01;
/// Share that is not ready, from which the load asks for care. Common practice.
inline constexpr double care_chance = 0.20;

/// A plan's answer that is ready less often is told what would make it so. As care_chance.
inline constexpr double worthy_chance = 1 - care_chance;

// --- rod ---

/// Use of the hot yield strength that asks for care: half of it, the usual reserve against yield in hand
/// tools and light rigs. Common practice.
inline constexpr double yield_care = 0.5;
/// Use that asks for a stop: the rod stays bent.
inline constexpr double yield_stop = 1;
/// Sag that asks for care, m: a rod that hangs through by more is seen to wobble, and its seat works loose.
/// Common practice.
inline constexpr double sag_care_m = 0.005;

// --- grip ---

/// Use of the forks' torque capacity that asks for care, and for a stop. Half, as for the rod: bearing
/// strengths of meat scatter by as much. Common practice.
inline constexpr double grip_care = 0.5;
inline constexpr double grip_stop = 1;
/// A tine, or a rod in a joint, with less flesh over it tears the skin, m. Tines set just under the skin are
/// common practice and keep it from tearing; less than this is skin alone.
inline constexpr double cover_care_m = 0.003;
/// Less bone than that along a tine is grazed, not pierced, m. Common practice.
inline constexpr double bone_care_m = 1e-4;
/// A bracket's leg stands out of the back by at least this, m: a plate, a washer and a nut of an 8 mm thread
/// (6.8 mm high, ISO 4032, from memory) go on it. Common practice.
inline constexpr double leg_out_m = 0.015;
/// A piece that the rod's edges alone may hold weighs no more than this, kg: what is heavier works its hole
/// wide in a long cook. Common practice: pieces on skewers weigh up to about a kilogram.
inline constexpr double rod_alone_kg = 1.25;
/// What lies in a basket and can move in it by more flops at every turn, m. Common practice.
inline constexpr double basket_play_m = 0.010;
/// Share of a drum's room up to which loose pieces still tumble; a flat basket that is closed on them may be
/// full. Common practice: half full turns over best, above two thirds the middle of the heap stays where it
/// is.
inline constexpr double drum_fill = 2.0 / 3;
/// The flesh to leave over the rod, m: what a rod turns in without working through the skin, and more than
/// cover_care_m by what hands are off when they push it through. Common practice.
inline constexpr double rod_cover_m = 0.008;
/// The stretch behind the point where a tine or a rod enters in which cover is not judged, m: the skin is
/// pierced there, so it is near by necessity; half of a tine's embedded length, or a quarter of a rod's way
/// through, if that is less. Common practice.
inline constexpr double entry_stretch_m = 0.020;

// --- clearance ---

/// A gap below that is a stop, m: meat gives and a rod whips by as much in a turn. Common practice.
inline constexpr double gap_stop_m = 0.005;

// --- places ---

/// How far meat gives way before a hub pressed against it counts as sitting inside, m. Common practice.
inline constexpr double meat_gives_m = 0.005;
/// How deep a hub may sit inside before it is a stop, m: pressed that far it still turns with the meat.
/// Common practice.
inline constexpr double hub_stop_m = 0.010;
/// Half the stretch of rod that a fork's hub or a counterweight's clamp takes up, m. Common practice.
inline constexpr double half_hub_m = 0.005;
/// A rod that meets less bone than that passes beside it, m. Common practice.
inline constexpr double rod_grazes_bone_m = 1e-3;
/// Share of a tine's radius that lies along a bird's up for it to count as above or below. Common practice.
inline constexpr double upright_share = 0.8;

// --- what a plan keeps to spare, so that its answer does not sit on a limit ---

/// Of the motor's rating: a load that is in order and pulls less is left alone. Common practice.
inline constexpr double leave_alone_use = 0.1;
/// Flesh over a tine beyond cover_care_m, m: as far as hands are off when they set rod and fork. Common
/// practice.
inline constexpr double cover_to_spare_m = 0.004;
/// How far a tine's side stays from bone, m: likewise. Common practice.
inline constexpr double bone_to_spare_m = 0.004;
/// A tine with less of it in flesh does not hold for long, m. Common practice.
inline constexpr double least_bite_m = 0.020;
/// How deep a hub may be pressed into the meat, m: a little under meat_gives_m.
inline constexpr double hub_in_meat_m = 0.004;
/// Uses to stay under: a fifth under grip_care, and under yield_care by what the rod's own weight and torsion
/// add, which the search for forks leaves out.
inline constexpr double wanted_grip_use = 0.4;
inline constexpr double wanted_rod_use = 0.47;
/// How far things stay from one another along the rod, m: items and forks, and counterweights from what is
/// beside them. Common practice.
inline constexpr double items_apart_m = 0.001;
inline constexpr double weights_apart_m = 0.002;

// --- food ---

/// The coldest that flesh can be without ice, whatever it is of, K: poultry begins to freeze there, other
/// meat about 1 K above. ASHRAE Handbook, Refrigeration, table of initial freezing points (from memory).
inline constexpr double freezes_k = 270.35;

/// How long the coldest point may be on its way between these temperatures, s. Common practice: the USDA's
/// "danger zone", in which bacteria multiply fastest; it gives 2 hours to food that stands about, and none
/// to food that is being cooked.
inline constexpr double lukewarm_care_s = 4 * 3600;
inline constexpr double lukewarm_from_k = fahrenheit_to_k(40), lukewarm_to_k = fahrenheit_to_k(140);
/// And between these. USDA FSIS, "Cooking Guideline for Meat and Poultry Products (Revised Appendix A)".
inline constexpr double come_up_care_s = 6 * 3600;
inline constexpr double come_up_from_k = fahrenheit_to_k(50), come_up_to_k = fahrenheit_to_k(130);

/// A cooker that is cooler keeps food lukewarm too long, K. USDA FSIS, "Smoking Meat and Poultry": 225 to
/// 300 °F throughout.
inline constexpr double cooker_care_k = fahrenheit_to_k(225);

/// Cooked food that waits longer must be kept hot, s, and this hot, K. USDA FSIS, "Danger Zone (40 °F –
/// 140 °F)".
inline constexpr double wait_care_s = 2 * 3600;
inline constexpr double kept_hot_k = fahrenheit_to_k(140);

// --- fire ---

/// Shares of what is enough, by which the fuel may be more or less. Common practice: fuel differs by that
/// much from bag to bag. A little too much burns on; too little goes out before the end.
inline constexpr double fuel_over_care = 0.25;
inline constexpr double fuel_short_care = 0.1;
/// How much hotter than wanted a cooker may stay with its vents shut, K. Common practice: a cook sees no
/// less on a cooker's thermometer.
inline constexpr double too_hot_care_k = 10;

}  // namespace evenspit::limits
