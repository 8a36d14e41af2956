// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "load/assembly.h"
#include "load/reading.h"

namespace evenspit {

/// What results call each [[item]]: its name; without one, what it is, with a number where there are several
/// of them: "chicken 1", "chicken 2".
std::vector<std::string> item_names(const std::vector<TableReader>& items);

/// Reads one [[item]] and makes its body: a parametric one by its name, or one from a scan.
///
/// The body stays null where the item's keys have complaints; those are enough to tell.
///
/// \param name what results call it
Item read_item(TableReader& given, std::string name, Reading& reading);

}  // namespace evenspit
