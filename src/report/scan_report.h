// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "scan/scan_report.h"
#include "units/quantity.h"

namespace evenspit {

/// What became of a scan, for people.
std::string scan_report_text(const scan::ScanReport& report, UnitSystem units);

/// The same as one JSON object, SI, the unit in each key; numbers that do not apply are absent.
std::string scan_report_json(const scan::ScanReport& report);

}  // namespace evenspit
