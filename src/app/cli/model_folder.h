// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>

#include "app/cli/surroundings.h"

namespace evenspit {

/// Where the models are: the folder that EVENSPIT_MODELS names; else that of the installed prefix, as seen
/// from the program; else "models" beside the program, as in a build tree.
///
/// Whether it is there is not asked of a folder that was named, and if none of the others is, the first of
/// them is returned: who needs a model complains about a folder that he can find.
std::filesystem::path model_folder(const Surroundings& around);

}  // namespace evenspit
