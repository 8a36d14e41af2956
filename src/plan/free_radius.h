// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <vector>

#include "body/body.h"
#include "rig/rig.h"

namespace evenspit::plan {

/// How far from the rod's axis things may reach at each station, so that every surface of the cooker keeps
/// its distance.
///
/// The swept solid is a stack of discs, and its gap to a surface is the least of theirs: where no disc
/// reaches past this radius, no gap is short. Tabulated every 10 mm, in a line between.
class FreeRadius {
  public:
    /// \param sag downward displacement of the axis at a station, m
    FreeRadius(const Cooker& cooker, double from_m, double to_m, const std::function<double(double)>& sag);

    /// m; 0 where there is no room at all, a large radius where nothing is near. Beyond the table as at its
    /// ends.
    [[nodiscard]] double at(double x) const;
    /// The least over a stretch of the rod.
    [[nodiscard]] double least(double from, double to) const;

  private:
    double from_m_, step_m_;
    std::vector<double> radius_m_;
};

/// In which order corners are looked at. Those that were tight move to the front, so that of many poses that
/// are much alike most are refused after a few.
using CornerOrder = std::vector<std::size_t>;

/// The corners of a body that can reach furthest from any rod near its axis: the outermost vertices, in 24
/// directions, of each centimetre along x. Swung limbs included. Reaches short of the true outline by at most
/// a hundredth of the radius.
class Silhouette {
  public:
    explicit Silhouette(const body::Body& body);

    /// How far the body reaches from the item's x axis, m.
    [[nodiscard]] double reach() const { return reach_m_; }
    /// Where it begins and ends along that axis, m.
    [[nodiscard]] const std::array<double, 2>& ends() const { return ends_m_; }
    /// Where the body begins and ends along the rod, m.
    [[nodiscard]] std::array<double, 2> extent(const Pose& pose) const;
    /// Radius left at the tightest place, m; negative: some surface comes nearer than it should, by about so
    /// much.
    ///
    [[nodiscard]] double room(const Pose& pose, const FreeRadius& free) const;
    /// The same, looking no further once it is known to be less than `enough`; the answer is then some such
    /// value.
    ///
    /// \param order of one search; empty at first
    [[nodiscard]] double room(const Pose& pose, const FreeRadius& free, double enough,
                              CornerOrder& order) const;

  private:
    std::vector<Vec3> points_;  // item frame
    double reach_m_ = 0;
    std::array<double, 2> ends_m_{0, 0};
};

}  // namespace evenspit::plan
