// SPDX-License-Identifier: MIT
#pragma once

#include "load/assembly.h"

namespace evenspit {

/// Static unbalance of all that was on the rod in a roll test, as it goes on the rod (raw), [y, z] in the rod
/// frame, kg m. The weight that was hung on is not counted.
Vec2 rolled_unbalance(const Assembly& load, const RollTest& test);

/// Friction torque of the rod on the two supports of a roll test, N m, by the load file's friction: in the
/// motor only the far bearing slides, here both do. A whole torque of the load file, which is that of the far
/// bearing, grows with the load on both.
///
/// Rollers: a tenth of it (common practice, no source: rolling takes a small part of sliding).
///
/// \param hung whether the weight was on that was hung for the test
double stand_friction_n_m(const Assembly& load, const RollTest& test, bool hung);

/// How far to either side of the bottom a heavy side can rest, rad: asin(T / (g |U|)), and π, anywhere, where
/// friction holds it at every angle.
double rest_band_rad(double friction_n_m, double gravity_n_m);

/// How likely it is to read the bottom's clock that far from the heavy side's, per rad: it rests anywhere
/// within the band alike, and is read with a normal error. One reading in a thousand million is taken as
/// meaning nothing, so that no reading is out of the question.
///
/// \param off_rad any angle
double rest_density(double off_rad, double band_rad, double read_rad);

}  // namespace evenspit
