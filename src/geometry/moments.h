// SPDX-License-Identifier: MIT
#pragma once

#include "geometry/mesh.h"
#include "geometry/types.h"

namespace evenspit {

/// Amount, centre and second moments of something spread through space: of volume (m3) or of mass (kg).
///
/// `second` is the central second moment ∫ (x−c)(x−c)ᵀ dm about `centre`, in the frame's axes. Amounts may be
/// negative: a cavity is taken away by adding its negative.
struct Moments {
    double amount = 0;           ///< m3 or kg
    Vec3 centre = Vec3::Zero();  ///< m
    Mat3 second = Mat3::Zero();  ///< m5 or kg m2

    /// Inertia tensor about the centre, tr(second)·1 − second, products with a minus sign off the diagonal.
    [[nodiscard]] Mat3 inertia() const { return second.trace() * Mat3::Identity() - second; }
    /// amount · centre.
    [[nodiscard]] Vec3 first() const { return amount * centre; }
};

/// Exact moments of the solid that a closed mesh bounds, density 1.
///
/// Sums signed tetrahedra from the middle of the mesh's box to each triangle, with compensated (Neumaier)
/// summation, so that neither distance from the origin nor the number of triangles costs digits. Volume is
/// signed: an inside-out mesh gives a negative amount. Formula: F. Tonon, J. Math. Stat. 1(1):8–11 (2005),
/// doi 10.3844/jmssp.2005.8.11, in covariance form.
///
/// \pre the mesh is closed (check_solid()); an open mesh gives numbers that mean nothing.
Moments volume_moments(const TriangleMesh& mesh);

/// The moments of both together (parallel-axis theorem). Two amounts that cancel exactly give centre and
/// second moment 0.
Moments operator+(const Moments& a, const Moments& b);

/// The same shape with `factor` times the amount: density, or −1 to take away.
Moments operator*(double factor, const Moments& moments);

/// The moments after a rigid move.
Moments transformed(const Moments& moments, const Pose& pose);

}  // namespace evenspit
