// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "geometry/mesh.h"
#include "scan/points.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// What the program that made a closed mesh closed by itself, where no camera looked.
struct AppClosing {
    Vec3 up = Vec3::UnitZ();  ///< unit: away from it, where the cameras were
    double share = 0;         ///< of the surface
    /// Height of straight walls on a flat floor, which then is what the body lay on; 0: it ends nobody knows
    /// where.
    double walls_m = 0;
    bool rim = false;  ///< cameras saw the body down to a level rim, and nothing under it
    /// up · x, m, of that floor, or that rim; of neither, of a cut.
    double floor = 0;
    PointSet seen;  ///< places on the rest
};

/// Looks for it in a closed mesh: one place, looking one way, that is flat, or much smoother than the rest.
/// What was seen is rough, for noise is never averaged out; a reconstruction carries on smoothly, and a cut
/// is flat.
///
/// The roughness at places all over is what is left of a quadric fitted to the surface round them; rough and
/// smooth are told apart where that divides best (N. Otsu, IEEE Trans. Syst. Man Cybern. 9(1):62–66, 1979).
/// A rim is the plane that divides the two best in the same sense.
///
/// \param points places spread evenly over the mesh (sampled()), m
/// \return nothing if all of it may have been seen, as of a mesh that is smooth all over
std::optional<AppClosing> find_app_closing(const TriangleMesh& mesh, const PointSet& points,
                                           const StopControl& control = {});

}  // namespace evenspit::scan
