// SPDX-License-Identifier: MIT
#pragma once

namespace evenspit::test {

/// How many of its random sets a sweep takes: all, or a share of them in a build that is slow (the
/// sanitizers' build sets EVENSPIT_SWEEP_DIVISOR).
constexpr int sweep_sets(int all) {
#ifdef EVENSPIT_SWEEP_DIVISOR
    return all / EVENSPIT_SWEEP_DIVISOR;
#else
    return all;
#endif
}

}  // namespace evenspit::test
