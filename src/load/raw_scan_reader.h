// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "body/body.h"
#include "load/reading.h"

namespace evenspit {

/// Reads an item with `clean = true`: its raw scan, or a list of several, becomes a body (scan::make_body(),
/// to_body()).
///
/// Keys: scan, scan_unit, scale, rests_on, kind, beside, mass, density (only without mass), frame ("auto"
/// unless told), axis, up. What the scan leaves in doubt goes to the remarks, after the item's name. A cavity
/// is put into what is found to be a bird: as large as weight and volume tell, or as usual without a weight.
///
/// \return nothing where there are complaints
std::optional<body::Body> read_raw_scan(TableReader& given, const std::string& name, Reading& reading);

}  // namespace evenspit
