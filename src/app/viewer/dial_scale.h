// SPDX-License-Identifier: MIT
#pragma once

namespace evenspit::viewer {

/// The round figure (1, 2 or 5 times a power of ten of the unit) that is the least not under a value: what
/// the rim of a dial stands for on which the value is shown. The unit itself for a value that is 0.
double rim_of(double value, double unit);

}  // namespace evenspit::viewer
