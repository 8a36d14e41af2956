// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "scan/board.h"
#include "scan/scan_settings.h"
#include "scan/skin.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// How large a body is inside its skin, as the scale has it: σ.
struct WeighedVolume {
    double volume_m3 = 0, sigma_m3 = 0;
};

/// The weight over the density of flesh; on top, as far as the body is a bird, a bird's usual hollow.
///
/// \param kind as it was told \param scale_sigma of the scan's lengths, share: what is too large all over is
/// not to be made smaller beneath for it
WeighedVolume weighed_volume(double mass_kg, const LookedForBird& looked, double guess_error_m,
                             RoastKind kind, double scale_sigma);

/// Lets the weight tell how far a body reaches where a guess was followed: the guess's ground moves, and less
/// of it is left unknown, as a linear update has it (R. E. Kalman, J. Basic Eng. 82:35–45, 1960). What else
/// may be off takes its part of what the weight and the volume are apart, and stays.
///
/// \param volume_sigma_m3 of the skin, all in all \param board that nothing is moved under; absent: none
/// \return false where the scan knows that ground so much better that the weight tells little, or where the
/// two are too far apart to be of one body: then the skin stays as it was
bool weigh(Skin& skin, double volume_sigma_m3, const WeighedVolume& weighed,
           const std::optional<Board>& board, const StopControl& control = {});

}  // namespace evenspit::scan
