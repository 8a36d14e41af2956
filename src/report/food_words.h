// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "analysis/finding.h"
#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// What a finding of food, fire and time says: what is wrong and what to do about it. \pre a code of topic
/// "food" or "fire" that the cook over time gives
std::string food_finding_text(const Finding& finding, const Assembly& assembly, UnitSystem units);

/// A place of an item after "its": "breast", "coldest point", "probe at the wing".
std::string place_words(std::string_view place);

/// "charcoal", "briquettes", "wood", "gas".
std::string_view fuel_word(FuelKind fuel);

/// Who decides.
std::string_view thermometer_text();

/// What hold times make of a place's temperatures, and what that is worth.
///
/// \param logs PlaceCourse::salmonella_logs
std::string lethality_text(double logs);

/// How long thawing takes: long enough, in halves of a day from two days on, in five minutes below.
std::string thaw_time_text(double seconds);

}  // namespace evenspit
