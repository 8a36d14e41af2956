// SPDX-License-Identifier: MIT
#pragma once

#include "load/assembly.h"
#include "load/reading.h"

namespace evenspit {

/// Reads one [[roll_test]] of a load whose rod, motor and counterweights are read already.
///
/// Complains about a `down` that is neither a clock nor "none", a weight without its radius or clock,
/// counterweights that there are not or that are named twice, a reading as wide as a quarter turn, and a rod
/// that locks.
RollTest read_roll_test(TableReader& given, const Assembly& assembly);

/// Tells tests that count no more, because something was moved after them; each gets a remark.
void void_moved_tests(Assembly& assembly, Reading& reading);

}  // namespace evenspit
