// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "app/cli/verb.h"

namespace evenspit {

/// The manual page (section 1) in roff's man macros: verbs, options, exit status, environment, and where to
/// read on.
std::string manual_page(const std::vector<Verb>& verbs);

}  // namespace evenspit
