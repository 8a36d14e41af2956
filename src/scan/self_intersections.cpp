// SPDX-License-Identifier: MIT
#include "scan/self_intersections.h"

#include <algorithm>
#include <array>
#include <cstddef>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Intersections_3/Segment_3_Triangle_3.h>
#include <CGAL/Intersections_3/Triangle_3_Triangle_3.h>
#include <CGAL/box_intersection_d.h>

namespace evenspit::scan {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Box = CGAL::Box_intersection_d::Box_with_info_d<double, 3, std::int32_t>;

constexpr std::size_t pairs_a_look = 1 << 14;  // some milliseconds

// Whether triangles cut each other, by exact predicates.
class Cuts {
  public:
    explicit Cuts(const TriangleMesh& mesh) : mesh_(mesh) {
        corners_.reserve(mesh.vertices.size());
        for (const Vec3& v : mesh.vertices) corners_.emplace_back(v.x(), v.y(), v.z());
    }

    [[nodiscard]] Kernel::Triangle_3 triangle(std::int32_t t) const {
        const Triangle& corners = mesh_.triangles[std::size_t(t)];
        return {at(corners[0]), at(corners[1]), at(corners[2])};
    }

    [[nodiscard]] bool between(std::int32_t one, std::int32_t other) const {
        Triangle s = mesh_.triangles[std::size_t(one)], t = mesh_.triangles[std::size_t(other)];
        std::size_t shared = 0, of_s = 0, of_t = 0;
        for (std::size_t i = 0; i < 3; ++i) {
            for (std::size_t j = 0; j < 3; ++j) {
                if (s[i] != t[j]) continue;
                ++shared;
                of_s = i;
                of_t = j;
            }
        }
        if (shared > 1) return false;
        if (shared == 0) return CGAL::do_intersect(triangle(one), triangle(other));
        std::rotate(s.begin(), s.begin() + std::ptrdiff_t(of_s), s.end());
        std::rotate(t.begin(), t.begin() + std::ptrdiff_t(of_t), t.end());
        // Beyond the corner they share, the edge that faces it comes through the other, or the other's does.
        return CGAL::do_intersect(triangle(other), Kernel::Segment_3(at(s[1]), at(s[2]))) ||
               CGAL::do_intersect(triangle(one), Kernel::Segment_3(at(t[1]), at(t[2])));
    }

  private:
    [[nodiscard]] const Kernel::Point_3& at(std::int32_t v) const { return corners_[std::size_t(v)]; }

    const TriangleMesh& mesh_;
    std::vector<Kernel::Point_3> corners_;
};

}  // namespace

std::vector<std::int32_t> self_intersections(const TriangleMesh& mesh, const StopControl& control) {
    EveryNthCheck now_and_then(control, pairs_a_look);
    const Cuts cuts(mesh);
    std::vector<Box> boxes;
    boxes.reserve(mesh.triangles.size());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        now_and_then.step();
        const Kernel::Triangle_3 triangle = cuts.triangle(std::int32_t(t));
        // What has no area cuts nothing that its neighbours do not.
        if (!triangle.is_degenerate()) boxes.emplace_back(triangle.bbox(), std::int32_t(t));
    }
    std::vector<bool> cut(mesh.triangles.size(), false);
    CGAL::box_self_intersection_d(boxes.begin(), boxes.end(), [&](const Box& a, const Box& b) {
        now_and_then.step();
        if (!cuts.between(a.info(), b.info())) return;
        cut[std::size_t(a.info())] = cut[std::size_t(b.info())] = true;
    });
    std::vector<std::int32_t> result;
    for (std::size_t t = 0; t < cut.size(); ++t) {
        if (cut[t]) result.push_back(std::int32_t(t));
    }
    return result;
}

}  // namespace evenspit::scan
