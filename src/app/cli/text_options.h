// SPDX-License-Identifier: MIT
#pragma once

#include "app/cli/surroundings.h"
#include "app/cli/verb.h"
#include "report/report.h"

namespace evenspit {

/// How a text is laid out: as wide as the terminal, within reason, and in colour only where the result goes
/// to one that shows it.
TextOptions text_options(const Request& request, const Surroundings& around);

}  // namespace evenspit
