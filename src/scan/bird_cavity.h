// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "geometry/bvh.h"
#include "scan/bird_overlay.h"
#include "scan/scan_note.h"

namespace evenspit::scan {

/// The hollow supposed inside a scanned bird.
struct InferredCavity {
    std::optional<TriangleMesh> mesh;  ///< item frame, m; absent: none, or no room for one
    std::optional<double> volume_m3;   ///< that was wanted; absent: no room
    bool from_mass = false;            ///< from the weight; else from the anatomy alone
    std::vector<ScanNote> notes;
};

/// The cavity of the fitted bird, made as large as the weight tells and kept off the skin. A hollow that no
/// bird has is not believed: it stays as large as the fitted bird's, and the density is told.
///
/// \param skin of the bird, item frame \param volume_m3 inside the skin
/// \param volume_sigma_m3 one standard deviation of it \param mass_kg on the scale; absent: the cavity is as
/// large as the parametric bird's
InferredCavity infer_cavity(const BirdOverlay& bird, const SolidQueries& skin, double volume_m3,
                            double volume_sigma_m3, std::optional<double> mass_kg);

}  // namespace evenspit::scan
