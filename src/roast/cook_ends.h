// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>

#include "load/assembly.h"

namespace evenspit {

/// The two ends of a cook.
enum class Doneness : std::size_t { raw, cooked };
inline constexpr std::size_t cook_ends = 2;

/// What flesh bears under a tine or the rod before it is cut, Pa.
struct BearingStrength {
    double raw_pa = 0, cooked_pa = 0;
};

/// The lowest that was published of a kind of meat: the stress at which a blade cuts it along its fibres,
/// which is less than across them: Kim et al., Food Sci. Preserv. 32(2):246–259 (2025), table 5. Pork: loin
/// 322 kPa raw, butt 140 kPa roasted. Beef: loin 245 and 180 kPa. Of poultry no value while hot was found,
/// and of other meat none at all: the lowest of that table stands in.
///
/// A tine that works through meat cuts it. To press a pin in takes more in cooked meat than in raw (same
/// paper, table 1), so this is the lower bound.
BearingStrength bearing_strength(body::Meat meat);

/// What of a body's part is left of its mass when it is cooked.
///
/// For poultry by part, from raw and roasted weights of whole turkeys: USDA National Nutrient Database for
/// Standard Reference, release 26, foods 05219/20 (breast), 05215/16 (back), 05738–41 (thigh and drumstick,
/// taken together, as the joint was cut at another place in the two), 05227/28 (wing). Neck and tail as the
/// back. Other parts, and bodies whose parts are not known: 0.76, the middle of bone-in roasts of the USDA
/// Table of Cooking Yields for Meat and Poultry, release 2 (2014).
double cooking_yield(body::RegionKind part);

/// A body raw and cooked, by Doneness.
///
/// Parts lose mass where they are; shrinking toward the bone is left out. Stuffing keeps its weight.
///
/// As every part loses mass in a line, the unbalance runs in a straight line from one end to the other, and
/// its size, a convex function, is greatest at an end: no moment in between can be worse.
///
/// \param fixed_strength_pa what its flesh bears all the while, if that is known; else by its kind of meat
std::array<body::Matter, cook_ends> matter_ends(const body::PreparedBody& body,
                                                std::optional<double> fixed_strength_pa = {});

/// The same of an item, with what its cook was computed to make of it, if that is known.
std::array<body::Matter, cook_ends> matter_ends(const Item& item);

/// An item at an end of the cook; as its own Matter says, if it has one.
body::Matter matter_at(const Item& item, Doneness end);

/// An item as it goes on the rod, or as its own Matter says.
inline body::Matter matter_of(const Item& item) {
    return matter_at(item, Doneness::raw);
}

/// An item where its flesh bears least, raw or cooked.
body::Matter softest_matter(const Item& item);

/// What its flesh bears then, mean, Pa.
double least_bearing_strength_pa(const Item& item);

/// How an item's bearing strength scatters, as a share of it (one standard deviation): what the load file
/// fixes is taken as measured and scatters by 10 % (common practice); what comes from tables by 13 %, as the
/// three tender cuts of bearing_strength()'s table do, roasted (140, 154 and 180 kPa), about their mean.
double bearing_strength_scatter(const Item& item);

}  // namespace evenspit
