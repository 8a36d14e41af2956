// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "units/error.h"

namespace evenspit {

/// Complaints as they are told: the first twenty with a line each, and a line that counts the rest. Who mends
/// those sees the others next.
std::vector<std::string> told_complaints(const std::vector<Complaint>& complaints);

}  // namespace evenspit
