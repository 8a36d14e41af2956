// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <stop_token>
#include <vector>

#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

class AnalysisMemory;

/// What each tine meets on its way, how well each fork holds, and who carries what.
///
/// Tines are taken as straight pins along the rod from the hub to the tip; stretches in flesh, bone and
/// cavity are exact intervals between the meshes. Cover is the least thickness of flesh beside the pin's
/// surface, at right angles to it, from the end of the entry stretch to the tip, and ahead of the tip; a tine
/// that comes out again has none. Torque capacity of a fork is Σ radius · bearing strength · diameter ·
/// length in flesh; at the worst of the
/// cook, of what holds (TineGrip::holds_m). On a rod without forks an item is held by the rod's shape, as far
/// as that does (rod_hold_m2()), where the rod runs through its flesh.
///
/// A bracket's legs are pins across the rod, out through the back: what presses on one at right angles to it
/// has the lever of its distance s from where it passes the axis, so that its capacity is bearing strength ·
/// diameter · ∫ s ds over its flesh (mean_lever_m()). They have no cover, and the bone between them, which
/// keeps the spine from sliding off, counts for nothing: the safe side.
///
/// \param memory null: nothing is known before, and nothing kept
/// \throws Stopped once `stop` is asked to
Grip grip(const Assembly& assembly, const std::vector<ItemOnRod>& items, const std::stop_token& stop = {},
          AnalysisMemory* memory = nullptr);

/// Whether bone lies between a bracket's legs, on the middle line from the rod out; nothing where the item's
/// bones are not known, or the bracket has a single leg.
std::optional<bool> bone_between_legs(const Item& item, const Fork& bracket);

}  // namespace evenspit
