// SPDX-License-Identifier: MIT
#pragma once

#include "app/cli/surroundings.h"
#include "app/cli/verb.h"

namespace evenspit {

/// Refuses a request whose result would be written over a file that it comes from: one that the command line
/// names, or one that such a load names (files_of_load()).
///
/// \throws UsageError naming the option and the file
void refuse_writing_over_input(const Request& request, const Surroundings& around);

/// Refuses a request that would write two things into one file.
///
/// \throws UsageError naming both options and the file
void refuse_one_output_twice(const Request& request);

}  // namespace evenspit
