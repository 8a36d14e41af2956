// SPDX-License-Identifier: MIT
#pragma once

#include <functional>

#include "geometry/mesh.h"
#include "scan/sheet.h"

namespace evenspit::scan {

/// How two scans of one body were brought together.
struct Registration {
    Pose move = Pose::Identity();  ///< frame of the second scan → frame of the first
    double error = 0;    ///< root mean square distance of the one from the other where both saw the same, m
    double overlap = 0;  ///< share of the discs of the second that the first saw too
    /// Of the discs of the second that lie on the first's surface, or over or under it, the share that lie on
    /// it.
    double agreement = 0;
    double rival =
        0;  ///< how good the next best way to lie is that is really another: 0 hopeless … 1 as good
};

/// Brings a second scan of the same body, lying otherwise, onto the first.
///
/// Coarse: closed bodies (rough is enough) are laid on each other in turns spread evenly over all turns, each
/// improved by least squares of the distances of either's surface from the other, held on a grid; then the
/// few best are refined by iterated closest points (point to plane: Y. Chen, G. Medioni, Image Vis. Comput.
/// 10(3):145–155, 1992; by Open3D) of the seen discs alone, with weights that fade as the fit sharpens. The
/// one that fits closest over enough overlap wins; of several that fit as well, as bodies do that are much
/// the same from several sides, the one that shares least, as the body was turned over to show what it had
/// hidden.
///
/// \param first_body, second_body closed meshes of both, m
/// \param noise σ of the points, m \param possible whether the second scan may lie so: ways in which it may
/// not are taken only if there are no others. Empty: it may lie in any way
Registration register_scans(const Sheet& first, const TriangleMesh& first_body, const Sheet& second,
                            const TriangleMesh& second_body, double noise,
                            const std::function<bool(const Pose& move)>& possible = {},
                            const StopControl& control = {});

}  // namespace evenspit::scan
