// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "app/cli/surroundings.h"

namespace evenspit {

/// What the process ends with.
enum ExitStatus : int {
    computed = 0,          ///< the verdict is ready or care, or there is none to give
    computed_stop = 1,     ///< the verdict is stop
    bad_input = 2,         ///< bad input or bad usage
    fault_of_program = 3,  ///< anything else
    stopped = 130,         ///< by Ctrl-C, as shells tell it
    output_closed = 141,   ///< what read the output ended first, as shells tell it
};

/// The whole program: understands the words behind its name, does what they ask, prints, and returns the exit
/// status.
///
/// Never throws. The result is written only when it is whole: on bad_input, fault_of_program and stopped
/// nothing has been written to `out` (unless writing itself failed), and no file was made or changed, but for
/// shapes that are kept for later runs.
int run(const std::vector<std::string>& arguments, const Surroundings& around);

}  // namespace evenspit
