// SPDX-License-Identifier: MIT
#pragma once

#include <memory>

#include "app/cli/surroundings.h"
#include "files/kept_files.h"

namespace evenspit {

/// Where shapes are kept from run to run: the folder that EVENSPIT_CACHE names, else "evenspit" in that of
/// XDG_CACHE_HOME, else in the home's .cache, as the XDG base directories have it. Null, and nothing is kept,
/// where EVENSPIT_CACHE is "none", or no home is known.
std::unique_ptr<const KeptFiles> kept_shapes(const Surroundings& around);

}  // namespace evenspit
