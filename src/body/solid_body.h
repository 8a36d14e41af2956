// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "body/body.h"

namespace evenspit::body {

/// How a body is made from one closed mesh.
struct SolidBodyOptions {
    std::string name{};
    std::optional<double> mass_kg{};  ///< scale weight; wins over density
    /// Default: lean meat with some fat, 1052 kg/m3; see solid_body.cpp for the source.
    std::optional<double> density_kg_m3{};
    /// How far the mesh's centre of volume may be off, in the mesh's axes; absent: not known.
    std::optional<Mat3> centre_covariance_m2{};
    std::optional<double> scale_sigma{};   ///< as in Body
    bool align_to_principal_axes = false;  ///< `frame = "auto"`
};

/// The rigid move of a closed mesh into its own principal axes, as SolidBodyOptions::align_to_principal_axes
/// makes it.
Pose principal_pose(const TriangleMesh& mesh);

/// A body of one density from a mesh in metres.
///
/// With align_to_principal_axes the mesh is moved so that its volume's centre is the origin, its longest
/// principal axis (least moment) is x, its flattest (greatest moment) is z; signs follow the third moments
/// (the thin end looks to +x), so that the same body always lands the same way, however the file had it.
///
/// \throws InputError (without a spot; the caller knows the file) naming the first gate that check_solid()
/// closed.
Body solid_body(TriangleMesh mesh, const SolidBodyOptions& options);

}  // namespace evenspit::body
