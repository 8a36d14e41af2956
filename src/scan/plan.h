// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <cstddef>
#include <vector>

#include "geometry/types.h"
#include "scan/sheet.h"

namespace evenspit::scan {

/// A board seen from above, in squares, with room round what lies on it.
class Plan {
  public:
    Plan(const Sheet& discs, double side) : side_(side) {
        Box3 box;
        for (const Vec3& p : discs.positions) box.extend(p);
        least_ = box.min().head<2>() - Vec2::Constant(4 * side);
        width_ = int((box.max().x() - least_.x()) / side) + 5;
        height_ = int((box.max().y() - least_.y()) / side) + 5;
    }
    [[nodiscard]] int width() const { return width_; }
    [[nodiscard]] int height() const { return height_; }
    [[nodiscard]] double side() const { return side_; }
    [[nodiscard]] std::size_t size() const { return std::size_t(width_) * std::size_t(height_); }
    [[nodiscard]] std::size_t at(int i, int j) const {
        return std::size_t(j) * std::size_t(width_) + std::size_t(i);
    }
    [[nodiscard]] bool holds(int i, int j) const { return i >= 0 && j >= 0 && i < width_ && j < height_; }
    [[nodiscard]] int column(double x) const { return int(std::floor((x - least_.x()) / side_)); }
    [[nodiscard]] int row(double y) const { return int(std::floor((y - least_.y()) / side_)); }
    [[nodiscard]] Vec2 middle(int i, int j) const { return least_ + side_ * Vec2(i + 0.5, j + 0.5); }

  private:
    double side_;
    Vec2 least_;
    int width_, height_;
};

/// Marks what lies within one square of a marked one, or unmarks what lies within one of an unmarked one.
std::vector<bool> spread(const Plan& plan, const std::vector<bool>& marked, bool grow);

/// The squares from which the outside can be reached without crossing marked ones are left; openings in
/// between are marked unless the board shows through them.
void fill_openings(const Plan& plan, std::vector<bool>& marked, const std::vector<bool>& board_seen);

}  // namespace evenspit::scan
