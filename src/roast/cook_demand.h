// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>

#include "load/assembly.h"

namespace evenspit {

/// \throws InputError if the load file does not tell enough to cook by: !can_roast()
void demand_a_cook(const Assembly& assembly, const std::filesystem::path& load);

}  // namespace evenspit
