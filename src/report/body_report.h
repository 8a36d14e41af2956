// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "body/body.h"
#include "report/report.h"

namespace evenspit {

/// A body as a cook reads it: weight, size, centre of mass, parts, contents.
std::string body_text(const body::Body& body, const TextOptions& options);

/// The same as one JSON object, SI, keys with their units.
std::string body_json(const body::Body& body);

}  // namespace evenspit
