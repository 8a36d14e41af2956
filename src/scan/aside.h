// SPDX-License-Identifier: MIT
#pragma once

#include <functional>

#include "units/stop_control.h"

namespace evenspit::scan {

/// Does work that cannot be stopped on a thread of its own and looks at the control meanwhile. Work that is
/// no longer wanted goes on behind the back of the one who stopped it, and the program's end waits for it.
///
/// \param work must own all that it uses
/// \throws what the work throws, or what the control does
void do_aside(std::function<void()> work, const StopControl& control);

/// Waits for work that nobody wants any more.
void await_abandoned();

}  // namespace evenspit::scan
