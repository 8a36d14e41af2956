// SPDX-License-Identifier: MIT
#include "scan/self_intersections.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <tuple>

#include "scan/stoppable.h"

namespace evenspit::scan {

namespace {

constexpr std::size_t triangles_a_look = 1 << 15;  // some milliseconds

// Sign of the volume of the tetrahedron a b c d; 0 if rounding may have made it. The bound is that of J.
// Shewchuk (Discrete Comput. Geom. 18:305–363, 1997) for the plain formula.
int orientation(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    const Vec3 u = a - d, v = b - d, w = c - d;
    const double volume = u.dot(v.cross(w));
    const Vec3 pu = u.cwiseAbs(), pv = v.cwiseAbs(), pw = w.cwiseAbs();
    const double permanent = pu.x() * (pv.y() * pw.z() + pv.z() * pw.y()) +
                             pu.y() * (pv.z() * pw.x() + pv.x() * pw.z()) +
                             pu.z() * (pv.x() * pw.y() + pv.y() * pw.x());
    constexpr double unit = 0x1p-53;
    if (std::abs(volume) <= (7 + 56 * unit) * unit * permanent) return 0;
    return volume > 0 ? 1 : -1;
}

// Whether the segment p q meets the triangle a b c, touching included.
bool pierces(const Vec3& p, const Vec3& q, const Vec3& a, const Vec3& b, const Vec3& c) {
    const int from = orientation(a, b, c, p), to = orientation(a, b, c, q);
    if (from * to > 0) return false;
    if (from == 0 && to == 0)
        return false;  // in the plane: another edge of the two triangles pierces, or they only touch
    const int ab = orientation(p, q, a, b), bc = orientation(p, q, b, c), ca = orientation(p, q, c, a);
    return (ab >= 0 && bc >= 0 && ca >= 0) || (ab <= 0 && bc <= 0 && ca <= 0);
}

bool cross(const TriangleMesh& mesh, std::int32_t one, std::int32_t other) {
    const Triangle &s = mesh.triangles[std::size_t(one)], &t = mesh.triangles[std::size_t(other)];
    const auto in = [](const Triangle& triangle, std::int32_t v) {
        return triangle[0] == v || triangle[1] == v || triangle[2] == v;
    };
    const int shared = int(in(t, s[0])) + int(in(t, s[1])) + int(in(t, s[2]));
    if (shared >= 2) return false;
    const auto edges_pierce = [&](const Triangle& edges, const Triangle& face) {
        for (std::size_t k = 0; k < 3; ++k) {
            const std::int32_t a = edges[k], b = edges[(k + 1) % 3];
            // An edge from a common corner lies on the other side of it, or pierces where the opposite edge
            // does too.
            if (in(face, a) || in(face, b)) continue;
            if (pierces(mesh.vertices[std::size_t(a)], mesh.vertices[std::size_t(b)], mesh.corner(face, 0),
                        mesh.corner(face, 1), mesh.corner(face, 2)))
                return true;
        }
        return false;
    };
    return edges_pierce(s, t) || edges_pierce(t, s);
}

using Cube = std::array<std::int32_t, 3>;

// Triangles sorted into cubes about as large as they are.
class Cubes {
  public:
    Cubes(const TriangleMesh& mesh, const StopControl& control) : boxes_(mesh.triangles.size()) {
        const std::size_t n = mesh.triangles.size();
        if (n == 0) return;
        EveryNthCheck now_and_then(control, triangles_a_look);
        for (std::size_t t = 0; t < n; ++t) {
            now_and_then.step();
            for (int k = 0; k < 3; ++k) boxes_[t].extend(mesh.corner(mesh.triangles[t], k));
            side_ += boxes_[t].sizes().maxCoeff() / double(n);
        }
        const Box3 all = bounds(mesh);
        least_ = all.min();
        side_ = std::max(1.5 * side_, all.sizes().maxCoeff() / 1000);
        if (!(side_ > 0)) return;
        for (std::size_t t = 0; t < n; ++t) {
            const Cube low = cube_of(boxes_[t].min()), high = cube_of(boxes_[t].max());
            for (std::int32_t z = low[2]; z <= high[2]; ++z) {
                for (std::int32_t y = low[1]; y <= high[1]; ++y) {
                    for (std::int32_t x = low[0]; x <= high[0]; ++x) {
                        now_and_then.step();
                        entries_.push_back({{x, y, z}, std::int32_t(t)});
                    }
                }
            }
        }
        stoppable_sort(control, entries_, [](const Entry& a, const Entry& b) {
            return std::tie(a.cube, a.triangle) < std::tie(b.cube, b.triangle);
        });
        for (std::size_t e = 0; e < entries_.size(); ++e) {
            if (e == 0 || entries_[e].cube != entries_[e - 1].cube) begin_.push_back(e);
        }
        begin_.push_back(entries_.size());
    }

    [[nodiscard]] std::size_t count() const { return begin_.empty() ? 0 : begin_.size() - 1; }

    // Calls meet(a, b) for the pairs of triangles of one cube whose boxes meet, each pair in one cube only.
    template <class Meet>
    void for_each_pair(std::size_t cube, const Meet& meet) const {
        for (std::size_t e = begin_[cube]; e < begin_[cube + 1]; ++e) {
            for (std::size_t f = e + 1; f < begin_[cube + 1]; ++f) {
                const std::int32_t a = entries_[e].triangle, b = entries_[f].triangle;
                const Box3& box = boxes_[std::size_t(a)];
                const Box3& other = boxes_[std::size_t(b)];
                if (!box.intersects(other)) continue;
                // A pair that meets in several cubes is looked at in the one that holds the lowest corner of
                // what their boxes share.
                if (cube_of(box.min().cwiseMax(other.min())) == entries_[e].cube) meet(a, b);
            }
        }
    }

  private:
    struct Entry {
        Cube cube;
        std::int32_t triangle;
    };
    [[nodiscard]] Cube cube_of(const Vec3& p) const {
        Cube cube;
        for (int k = 0; k < 3; ++k)
            cube[std::size_t(k)] = std::int32_t(std::floor((p[k] - least_[k]) / side_));
        return cube;
    }

    std::vector<Box3> boxes_;
    Vec3 least_ = Vec3::Zero();
    double side_ = 0;
    std::vector<Entry> entries_;      // by cube
    std::vector<std::size_t> begin_;  // per cube, where its entries begin; one more at the end
};

}  // namespace

std::vector<std::int32_t> self_intersections(const TriangleMesh& mesh, const StopControl& control) {
    const Cubes cubes(mesh, control);
    std::vector<std::vector<std::int32_t>> found(cubes.count());
    stoppable_for(control, cubes.count(), [&](std::size_t first, std::size_t last) {
        for (std::size_t c = first; c < last; ++c) {
            cubes.for_each_pair(c, [&](std::int32_t a, std::int32_t b) {
                if (!cross(mesh, a, b)) return;
                found[c].push_back(a);
                found[c].push_back(b);
            });
        }
    });
    std::vector<bool> cut(mesh.triangles.size(), false);
    for (const auto& list : found) {
        for (const std::int32_t t : list) cut[std::size_t(t)] = true;
    }
    std::vector<std::int32_t> result;
    for (std::size_t t = 0; t < cut.size(); ++t) {
        if (cut[t]) result.push_back(std::int32_t(t));
    }
    return result;
}

}  // namespace evenspit::scan
