// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "load/assembly.h"

namespace evenspit {

/// Where in an item a temperature is asked for.
enum class PlaceKind { breast, thigh, wing, core, stuffing, probe };

/// The word for it in load files and results: "breast", "thigh", "wing", "core", "stuffing". \pre no probe,
/// which has a name of its own
std::string_view place_name(PlaceKind kind);

/// The regions of a body that a place is made of, by Body::region_table; of core and stuffing none.
std::vector<bool> regions_of_place(const body::Body& body, PlaceKind kind);

/// What an item has of them, probes left out: core, what its regions are, stuffing if there is any.
std::vector<PlaceKind> places_of(const Item& item);

}  // namespace evenspit
