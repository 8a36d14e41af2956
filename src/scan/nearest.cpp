// SPDX-License-Identifier: MIT
#include "scan/nearest.h"

#include <cmath>
#include <cstdint>
#include <limits>
#include <nanoflann.hpp>
#include <utility>

namespace evenspit::scan {

namespace {

constexpr double beyond_all = std::numeric_limits<double>::infinity();

// The nearest so far; what is just as near still comes in, so that the first of them can be told.
struct NearestSoFar {
    using DistanceType = double;
    using IndexType = std::uint32_t;

    double square;  // of the distance within which to look
    std::ptrdiff_t index = -1;

    bool addPoint(double distance, std::uint32_t i) {
        if (distance < square || (distance == square && (index < 0 || std::ptrdiff_t(i) < index))) {
            square = distance;
            index = std::ptrdiff_t(i);
        }
        return true;
    }
    [[nodiscard]] double worstDist() const { return std::nextafter(square, beyond_all); }
    [[nodiscard]] bool full() const { return true; }
    [[nodiscard]] std::size_t size() const { return index < 0 ? 0 : 1; }
};

}  // namespace

struct NearestPoints::Tree {
    // As nanoflann asks for them; the names are its own.
    struct Points {
        std::vector<Vec3> points;

        [[nodiscard]] std::size_t kdtree_get_point_count() const { return points.size(); }
        [[nodiscard]] double kdtree_get_pt(std::size_t i, std::size_t axis) const {
            return points[i][Eigen::Index(axis)];
        }
        template <class Box>
        bool kdtree_get_bbox(Box& /*box*/) const {
            return false;
        }
    };
    using Index = nanoflann::KDTreeSingleIndexAdaptor<nanoflann::L2_Simple_Adaptor<double, Points, double>,
                                                      Points, 3, std::uint32_t>;
    explicit Tree(std::vector<Vec3> points) : own{std::move(points)}, index(3, own) {}

    Points own;
    Index index;
};

NearestPoints::NearestPoints(std::vector<Vec3> points, const StopControl& control) {
    control.check();
    // It builds none of no points.
    if (!points.empty()) tree_ = std::make_unique<const Tree>(std::move(points));
    control.check();
}

NearestPoints::~NearestPoints() = default;

std::ptrdiff_t NearestPoints::within(const Vec3& place, double radius) const {
    if (!tree_) return -1;
    NearestSoFar nearest{radius * radius};
    tree_->index.findNeighbors(nearest, place.data(), nanoflann::SearchParams());
    return nearest.index;
}

}  // namespace evenspit::scan
