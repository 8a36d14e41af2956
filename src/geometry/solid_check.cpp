// SPDX-License-Identifier: MIT
#include "geometry/solid_check.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <utility>

#include <Eigen/Eigenvalues>
#include <fmt/format.h>

#include "geometry/disjoint_sets.h"
#include "geometry/moments.h"

namespace evenspit {

namespace {

// The largest triangle of a surface that has no area to speak of, against the square of the box's diagonal:
// the rounding of a cross product, with a margin.
constexpr double area_tolerance = 1e-14;

// The volume of something flat, against the cube of the box's diagonal. A sheet whose two sides coincide but
// for rounding in single precision stays below; a wire a tenth of a millimetre thick and a metre long stays
// above.
constexpr double volume_tolerance = 1e-9;

// How far, against the largest principal inertia, A + B may fall short of C: a thin plate has A + B = C, and
// the sums round.
constexpr double inertia_tolerance = 1e-9;

std::string place(const Vec3& point) {
    return fmt::format("({:.6g}, {:.6g}, {:.6g}) m", point.x(), point.y(), point.z());
}

std::string counted(std::size_t n, const char* one, const char* many) {
    return fmt::format("{} {}", n, n == 1 ? one : many);
}

// One side of a triangle, filed under its smaller vertex.
struct Side {
    std::int32_t other;  // the larger vertex
    std::int32_t triangle;
    bool forward;  // runs from the smaller to the larger vertex
};

// All sides of a mesh, those of the same edge next to each other.
class Edges {
  public:
    explicit Edges(const TriangleMesh& mesh) : begin_(mesh.vertices.size() + 1, 0) {
        const auto each_side = [&](auto&& visit) {
            for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
                const Triangle& tri = mesh.triangles[t];
                // A triangle that names a vertex twice is a line to and fro: it closes on itself and joins
                // nothing.
                if (tri[0] == tri[1] || tri[1] == tri[2] || tri[2] == tri[0]) continue;
                for (std::size_t k = 0; k < 3; ++k) {
                    const std::int32_t from = tri[k], to = tri[(k + 1) % 3];
                    visit(std::min(from, to), Side{std::max(from, to), std::int32_t(t), from < to});
                }
            }
        };
        // Counting sort by the smaller vertex, then the handful of sides at each vertex by the larger.
        each_side([&](std::int32_t low, const Side&) { ++begin_[std::size_t(low) + 1]; });
        std::partial_sum(begin_.begin(), begin_.end(), begin_.begin());
        sides_.resize(begin_.back());
        std::vector<std::size_t> next(begin_.begin(), begin_.end() - 1);
        each_side([&](std::int32_t low, const Side& side) { sides_[next[std::size_t(low)]++] = side; });
        for (std::size_t v = 0; v + 1 < begin_.size(); ++v) {
            std::sort(sides_.begin() + std::ptrdiff_t(begin_[v]),
                      sides_.begin() + std::ptrdiff_t(begin_[v + 1]), [](const Side& a, const Side& b) {
                          return std::pair(a.other, a.triangle) < std::pair(b.other, b.triangle);
                      });
        }
    }

    // Calls visit(smaller vertex, first side, past the last side) for each edge, in order of its vertices.
    template <class Visit>
    void for_each(Visit&& visit) const {
        for (std::size_t v = 0; v + 1 < begin_.size(); ++v) {
            const Side* const end = sides_.data() + begin_[v + 1];
            for (const Side* first = sides_.data() + begin_[v]; first != end;) {
                const Side* last = first;
                while (last != end && last->other == first->other) ++last;
                visit(std::int32_t(v), first, last);
                first = last;
            }
        }
    }

  private:
    std::vector<std::size_t> begin_;
    std::vector<Side> sides_;
};

// The first edge of a faulty kind and how many there are.
struct EdgeFault {
    std::size_t count = 0;
    std::int32_t a = 0, b = 0;
    std::int32_t triangle = 0, neighbour = 0;

    void note(std::int32_t low, const Side* first, const Side* last) {
        if (count++ == 0) *this = {1, low, first->other, first->triangle, (last - 1)->triangle};
    }
    [[nodiscard]] std::string middle(const TriangleMesh& mesh) const {
        return place((mesh.vertices[std::size_t(a)] + mesh.vertices[std::size_t(b)]) / 2);
    }
};

SolidReport faulty(SolidReport report, SolidFault fault, std::string found, std::string mend) {
    report.fault = fault;
    report.found = std::move(found);
    report.mend = std::move(mend);
    return report;
}

/// Numbers that no mesh may hold: coordinates that are nowhere, corners without a vertex.
std::optional<SolidReport> check_numbers(const TriangleMesh& mesh) {
    for (std::size_t v = 0; v < mesh.vertices.size(); ++v) {
        if (mesh.vertices[v].allFinite()) continue;
        return faulty({}, SolidFault::not_finite, fmt::format("vertex {} at {}", v, place(mesh.vertices[v])),
                      "save the mesh again with plain numbers for coordinates");
    }

    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        for (const std::int32_t v : mesh.triangles[t]) {
            if (v >= 0 && std::size_t(v) < mesh.vertices.size()) continue;
            return faulty(
                {}, SolidFault::bad_index,
                fmt::format("triangle {} names vertex {} where there are {}", t, v, mesh.vertices.size()),
                "save the mesh again: the file is damaged");
        }
    }
    return std::nullopt;
}

}  // namespace

SolidReport check_solid(const TriangleMesh& mesh) {
    SolidReport report;
    const auto fail = [&report](SolidFault fault, std::string found, std::string mend) {
        return faulty(report, fault, std::move(found), std::move(mend));
    };

    if (mesh.triangles.empty()) {
        return fail(SolidFault::empty, "no triangles", "give a surface made of triangles, not points alone");
    }

    if (std::optional<SolidReport> fault = check_numbers(mesh)) return *std::move(fault);

    EdgeFault turned, open, crowded;
    DisjointSets pieces(mesh.triangles.size());
    Edges(mesh).for_each([&](std::int32_t low, const Side* first, const Side* last) {
        for (const Side* side = first + 1; side < last; ++side) pieces.join(first->triangle, side->triangle);
        if (last - first == 1) open.note(low, first, last);
        if (last - first == 2 && first->forward == first[1].forward) turned.note(low, first, last);
        if (last - first > 2) crowded.note(low, first, last);
    });
    report.boundary_edges = int(open.count);
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Triangle& tri = mesh.triangles[t];
        const bool line = tri[0] == tri[1] || tri[1] == tri[2] || tri[2] == tri[0];
        report.components += !line && pieces.is_root(std::int32_t(t));
    }

    if (turned.count > 0) {
        return fail(SolidFault::orientation,
                    fmt::format("{}, the first between triangles {} and {} at {}",
                                counted(turned.count, "edge whose two triangles face opposite ways",
                                        "edges whose two triangles face opposite ways"),
                                turned.triangle, turned.neighbour, turned.middle(mesh)),
                    "orient all triangles alike in a mesh tool");
    }

    const double diagonal = bounds(mesh).diagonal().norm();
    double largest_area = 0;
    for (const Triangle& tri : mesh.triangles) {
        const Vec3& a = mesh.corner(tri, 0);
        largest_area =
            std::max(largest_area, (mesh.corner(tri, 1) - a).cross(mesh.corner(tri, 2) - a).norm() / 2);
    }
    if (!(largest_area > area_tolerance * diagonal * diagonal)) {
        return fail(SolidFault::zero_area,
                    fmt::format("no area: the largest of {} has {:.3g} m2",
                                counted(mesh.triangles.size(), "triangle", "triangles"), largest_area),
                    "give a surface that encloses something");
    }

    if (open.count > 0) {
        return fail(SolidFault::boundary,
                    fmt::format("{}, the first of triangle {} at {}",
                                counted(open.count, "boundary edge", "boundary edges"), open.triangle,
                                open.middle(mesh)),
                    "close the holes in a mesh tool");
    }
    if (crowded.count > 0) {
        return fail(SolidFault::non_manifold,
                    fmt::format("{}, the first of triangles {} and {} at {}",
                                counted(crowded.count, "edge with more than two triangles",
                                        "edges with more than two triangles"),
                                crowded.triangle, crowded.neighbour, crowded.middle(mesh)),
                    "take the inner walls out, or the touching parts apart, in a mesh tool");
    }

    const Moments moments = volume_moments(mesh);
    const double least_volume = volume_tolerance * diagonal * diagonal * diagonal;
    if (moments.amount < -least_volume) {
        return fail(SolidFault::negative_volume,
                    fmt::format("a volume of {:.6g} m3: inside out", moments.amount),
                    "turn all triangles over");
    }
    if (!(moments.amount > least_volume)) {
        return fail(
            SolidFault::zero_volume,
            fmt::format("a volume of {:.3g} m3 in a box of {:.3g} m across", moments.amount, diagonal),
            "give a body, not a sheet");
    }

    const Vec3 principal =
        Eigen::SelfAdjointEigenSolver<Mat3>(moments.inertia(), Eigen::EigenvaluesOnly).eigenvalues();
    const bool positive = principal[0] > 0;
    if (!positive || principal[0] + principal[1] < (1 - inertia_tolerance) * principal[2]) {
        return fail(
            SolidFault::inertia,
            fmt::format("principal inertias of {:.6g}, {:.6g} and {:.6g} m5, {}", principal[0], principal[1],
                        principal[2],
                        positive ? "the largest more than the other two together" : "not all positive"),
            "look for parts that are inside out or overlap, and mend them in a mesh tool");
    }
    return report;
}

}  // namespace evenspit
