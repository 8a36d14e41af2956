// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "geometry/types.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// Points that loops take between two looks at whether they are to stop: some milliseconds.
inline constexpr std::size_t points_a_look = 1 << 14;

/// Points of a scan, each perhaps with the direction it faces.
struct PointSet {
    std::vector<Vec3> positions;        ///< m, or the scan's own unit before that is known
    std::vector<Vec3> normals;          ///< unit, outward; empty if unknown, else one per position
    std::vector<std::uint32_t> counts;  ///< how many points of the scan each stands for; empty: one each

    [[nodiscard]] std::size_t size() const { return positions.size(); }
    [[nodiscard]] bool empty() const { return positions.empty(); }
    [[nodiscard]] double count(std::size_t i) const { return counts.empty() ? 1.0 : double(counts[i]); }
    [[nodiscard]] double total_count() const;
};

/// One point for each cube of side `cell` that holds any: the mean of what lies in it (normals too), and
/// their number.
PointSet thinned(const PointSet& points, double cell, const StopControl& control = {});

/// The chosen ones, in the order of `indices`.
PointSet selected(const PointSet& points, const std::vector<std::size_t>& indices);

/// Diagonal of the box that is left when on each axis the outermost 2 % of points at either end are cut away:
/// a measure of size that lone far points do not spoil.
double robust_diagonal(const PointSet& points, const StopControl& control = {});

/// A plane through a cloud of points.
struct PlaneFit {
    Vec3 middle = Vec3::Zero();   ///< weighted mean
    Vec3 normal = Vec3::UnitZ();  ///< unit; sign arbitrary
    double weight = 0;            ///< sum of weights
    double thickness = 0;         ///< root of the mean square distance from the plane
    double width = 0;             ///< the same along the narrower direction in the plane
};

/// Gathers weighted points for a plane of least squares.
class PlaneSum {
  public:
    /// \param origin a place near the points, so that nothing is lost to rounding
    explicit PlaneSum(const Vec3& origin) : origin_(origin) {}
    void add(const Vec3& point, double weight) {
        const Vec3 p = point - origin_;
        weight_ += weight;
        first_ += weight * p;
        second_ += weight * p * p.transpose();
    }
    [[nodiscard]] double weight() const { return weight_; }
    /// \pre weight() > 0
    [[nodiscard]] PlaneFit fit() const;

  private:
    Vec3 origin_;
    double weight_ = 0;
    Vec3 first_ = Vec3::Zero();
    Mat3 second_ = Mat3::Zero();
};

/// How dense and how noisy a scanned surface is.
struct SurfaceSurvey {
    double spacing = 0;  ///< √(area per point), same unit as the points
    double noise = 0;    ///< σ of the distance from a smooth surface
};

/// Measures density and noise on some hundreds of patches spread over the points; the middle value of each.
///
/// The noise is the scatter about a quadric (six coefficients) fitted over each patch. Patches start with
/// radius `radius` and grow until they hold 24 points.
///
/// \param radius m, > 0: small against what is scanned, large against the noise
SurfaceSurvey survey(const PointSet& points, double radius, const StopControl& control = {});

}  // namespace evenspit::scan
