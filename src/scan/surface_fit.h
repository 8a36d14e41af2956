// SPDX-License-Identifier: MIT
#pragma once

#include "scan/neighbours.h"
#include "scan/points.h"
#include "scan/sheet.h"

namespace evenspit::scan {

/// The surface that points show near a place: moving least squares of second order.
///
/// Over the tangent plane a quadric is fitted to the points nearby that face the same way, their weights
/// falling with distance and with their residual (Tukey's biweight), its slopes and curvatures held by a
/// small weight so that few points cannot swing it.
class SurfaceFit {
  public:
    /// \param points with normals; counts are weights
    SurfaceFit(PointSet points, const ScanScale& scale, const StopControl& control = {});

    struct Result {
        double height = 0;           ///< of the surface over the place, along its normal, m
        double trust = 0;            ///< 0: nothing there … 1: as many points as usual, all round
        Vec3 normal = Vec3::Zero();  ///< of the surface there; zero if trust is
        double scatter = 0;          ///< root mean square distance of the points from it, m
    };
    /// \param normal unit, about that of the surface sought
    [[nodiscard]] Result at(const Vec3& place, const Vec3& normal) const;

  private:
    PointSet points_;
    double radius_, band_, noise_, spacing_;
    NeighbourGrid grid_;
    double usual_ = 0;  // sum of weights at a place in the midst of a surface
};

}  // namespace evenspit::scan
