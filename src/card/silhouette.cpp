// SPDX-License-Identifier: MIT
#include "card/silhouette.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <utility>

namespace evenspit::card {
namespace {

/// Cells that are covered or not, with an empty rim.
class Cells {
  public:
    Cells(const Eigen::AlignedBox2d& around, double cell_m) : cell_m_(cell_m) {
        from_ = around.min() - 2 * cell_m * Vec2::Ones();
        const Vec2 size = around.max() - from_;
        columns_ = static_cast<int>(std::ceil(size.x() / cell_m)) + 2;
        rows_ = static_cast<int>(std::ceil(size.y() / cell_m)) + 2;
        covered_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), 0);
    }

    /// Marks the cells whose middles lie in a triangle.
    void cover(const std::array<Vec2, 3>& corners) {
        std::array<Vec2, 3> c;
        for (std::size_t k = 0; k < 3; ++k) c[k] = (corners[k] - from_) / cell_m_ - 0.5 * Vec2::Ones();
        const double low = std::min({c[0].y(), c[1].y(), c[2].y()}),
                     high = std::max({c[0].y(), c[1].y(), c[2].y()});
        const int first = std::max(0, static_cast<int>(std::ceil(low))),
                  last = std::min(rows_ - 1, static_cast<int>(std::floor(high)));
        for (int row = first; row <= last; ++row) {
            double left = columns_, right = -1;
            for (std::size_t k = 0; k < 3; ++k) {
                const Vec2 &a = c[k], &b = c[(k + 1) % 3];
                if ((a.y() > row) == (b.y() > row)) continue;
                const double x = a.x() + (row - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
                left = std::min(left, x);
                right = std::max(right, x);
            }
            const int from = std::max(0, static_cast<int>(std::ceil(left))),
                      to = std::min(columns_ - 1, static_cast<int>(std::floor(right)));
            for (int column = from; column <= to; ++column) covered_[at(column, row)] = 1;
        }
    }

    [[nodiscard]] std::vector<std::vector<Vec2>> rings() const {
        // Sides of cells with a covered cell on their left, by where they begin.
        using Corner = std::pair<int, int>;
        std::multimap<Corner, Corner> sides;
        for (int row = 1; row + 1 < rows_; ++row) {
            for (int column = 1; column + 1 < columns_; ++column) {
                if (!is(column, row)) continue;
                if (!is(column, row - 1)) sides.insert({{column, row}, {column + 1, row}});
                if (!is(column + 1, row)) sides.insert({{column + 1, row}, {column + 1, row + 1}});
                if (!is(column, row + 1)) sides.insert({{column + 1, row + 1}, {column, row + 1}});
                if (!is(column - 1, row)) sides.insert({{column, row + 1}, {column, row}});
            }
        }
        std::vector<std::vector<Vec2>> rings;
        while (!sides.empty()) {
            std::vector<Vec2> ring;
            auto side = sides.begin();
            while (side != sides.end()) {
                const auto [a, b] = *side;
                sides.erase(side);
                // The middles of the sides lie nearer to the true line than their ends.
                ring.emplace_back(from_ +
                                  cell_m_ * Vec2((a.first + b.first) / 2.0, (a.second + b.second) / 2.0));
                side = sides.find(b);
            }
            rings.push_back(std::move(ring));
        }
        return rings;
    }

  private:
    [[nodiscard]] std::size_t at(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
               static_cast<std::size_t>(column);
    }
    [[nodiscard]] bool is(int column, int row) const { return covered_[at(column, row)] != 0; }

    double cell_m_;
    Vec2 from_;
    int columns_ = 0, rows_ = 0;
    std::vector<std::uint8_t> covered_;
};

double area(const std::vector<Vec2>& ring) {
    double twice = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        twice += a.x() * b.y() - a.y() * b.x();
    }
    return std::abs(twice) / 2;
}

/// Leaves out what lies within `near_m` of a straight line (Douglas and Peucker).
void thin(const std::vector<Vec2>& line, std::size_t from, std::size_t to, double near_m,
          std::vector<Vec2>& kept) {
    const Vec2 along = line[to] - line[from];
    const double length = along.norm();
    double most = -1;
    std::size_t at = from;
    for (std::size_t i = from + 1; i < to; ++i) {
        const Vec2 off = line[i] - line[from];
        const double far =
            length > 0 ? std::abs(along.x() * off.y() - along.y() * off.x()) / length : off.norm();
        if (far > most) {
            most = far;
            at = i;
        }
    }
    if (most <= near_m) {
        kept.push_back(line[to]);
        return;
    }
    thin(line, from, at, near_m, kept);
    thin(line, at, to, near_m, kept);
}

std::vector<Vec2> smoothed(const std::vector<Vec2>& ring) {
    // A ring's mean with its neighbours takes the steps of the cells off.
    std::vector<Vec2> smooth = ring;
    const std::size_t n = ring.size();
    for (std::size_t i = 0; i < n; ++i)
        smooth[i] = 0.25 * ring[(i + n - 1) % n] + 0.5 * ring[i] + 0.25 * ring[(i + 1) % n];
    return smooth;
}

}  // namespace

Vec2 seen(const Vec3& place, LookedAt from) {
    return from == LookedAt::from_front ? Vec2(place.x(), place.z()) : Vec2(place.y(), place.z());
}

std::vector<std::vector<Vec2>> silhouette(const std::vector<TriangleMesh>& meshes, LookedAt from,
                                          double cell_m) {
    Eigen::AlignedBox2d around;
    for (const TriangleMesh& mesh : meshes) {
        for (const Vec3& vertex : mesh.vertices) around.extend(seen(vertex, from));
    }
    if (around.isEmpty()) return {};
    Cells cells(around, cell_m);
    for (const TriangleMesh& mesh : meshes) {
        for (const Triangle& t : mesh.triangles)
            cells.cover({seen(mesh.corner(t, 0), from), seen(mesh.corner(t, 1), from),
                         seen(mesh.corner(t, 2), from)});
    }
    constexpr double least_cells = 12, near_cells = 0.3;
    std::vector<std::vector<Vec2>> rings;
    for (const std::vector<Vec2>& rough : cells.rings()) {
        if (area(rough) < least_cells * cell_m * cell_m) continue;
        const std::vector<Vec2> ring = smoothed(rough);
        std::vector<Vec2> kept{ring.front()};
        thin(ring, 0, ring.size() / 2, near_cells * cell_m, kept);
        thin(ring, ring.size() / 2, ring.size() - 1, near_cells * cell_m, kept);
        rings.push_back(std::move(kept));
    }
    return rings;
}

}  // namespace evenspit::card
