// SPDX-License-Identifier: MIT
#include "geometry/swept.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <span>
#include <stdexcept>
#include <utility>

namespace evenspit {

namespace {

using Pieces = std::vector<OutlinePiece>;

constexpr double hair = 1e-12;             // m; below it a bulge is rounding
constexpr double least_step = 1e-9;        // m; finer stations would fall together
constexpr double most_slabs = 10'000'000;  // a mesh this long against the step has a wrong unit

struct Point {
    double x, r;
};

double radius_on(const OutlinePiece& piece, double x) {
    if (x >= piece.x1) return piece.r1;
    return std::lerp(piece.r0, piece.r1, (x - piece.x0) / (piece.x1 - piece.x0));
}

/// A vertex in the rod frame.
struct Spot {
    double x, y, z;
    double square;      // of the distance from the axis
    std::int32_t slab;  // the last plane at or before x
};

/// What reaches a plane between two slabs: squared radii, −1 for nothing. A slab sees only what enters it, so
/// that an end face that falls on the plane leaves no slope in the slab beyond.
struct Plane {
    double x = 0;
    double left = -1;   // of what comes from the slab before
    double right = -1;  // of what goes on into the slab after
    double face = -1;   // of vertices in the plane
};

/// Appends the least concave curve from `from` to `to` over the points between, `to` included, `from` not.
/// `points` is reordered.
void append_majorant(std::span<Point> points, const Point& from, const Point& to, std::vector<Point>& curve) {
    const double slope = (to.r - from.r) / (to.x - from.x);
    const auto bulge = [&](const Point& p) { return p.r - (from.r + slope * (p.x - from.x)); };
    // Only what lies above the chord matters; the furthest of it lies on the curve.
    const auto above =
        std::partition(points.begin(), points.end(), [&](const Point& p) { return bulge(p) > hair; });
    const std::span<Point> kept(points.begin(), above);
    if (kept.empty()) {
        curve.push_back(to);
        return;
    }
    const Point top = *std::max_element(kept.begin(), kept.end(),
                                        [&](const Point& a, const Point& b) { return bulge(a) < bulge(b); });
    const auto before = std::partition(kept.begin(), kept.end(), [&](const Point& p) { return p.x < top.x; });
    const auto after = std::partition(before, kept.end(), [&](const Point& p) { return p.x > top.x; });
    append_majorant({kept.begin(), before}, from, top, curve);
    append_majorant({before, after}, top, to, curve);
}

/// One mesh in slabs.
class MeshSweep {
  public:
    MeshSweep(const SweptMesh& swept, double step) : mesh_(*swept.mesh) {
        place(swept.pose, swept.scale);
        if (first_ > last_) return;  // no triangles
        lay_planes(step);
        cross_planes();
        fill_slabs();
    }

    [[nodiscard]] Pieces pieces(int part) const {
        Pieces result;
        std::vector<Point> points, curve;
        for (std::size_t k = 0; k < planes_.size(); ++k) {
            const Plane& plane = planes_[k];
            const double beside = std::max(plane.left, plane.right);
            if (plane.face >= 0 && (beside < 0 || std::sqrt(plane.face) > std::sqrt(beside) + hair)) {
                result.push_back({plane.x, std::sqrt(plane.face), plane.x, std::sqrt(plane.face), part});
            }
            if (k + 1 == planes_.size()) break;
            points.clear();
            if (plane.right >= 0) points.push_back({plane.x, std::sqrt(plane.right)});
            if (planes_[k + 1].left >= 0)
                points.push_back({planes_[k + 1].x, std::sqrt(planes_[k + 1].left)});
            points.insert(points.end(), inner_.begin() + slab_start_[k], inner_.begin() + slab_start_[k + 1]);
            if (points.empty()) continue;
            // Of points at the same station the outermost is the corner.
            const Point from = *std::min_element(
                points.begin(), points.end(),
                [](const Point& a, const Point& b) { return a.x != b.x ? a.x < b.x : a.r > b.r; });
            const Point to = *std::max_element(
                points.begin(), points.end(),
                [](const Point& a, const Point& b) { return a.x != b.x ? a.x < b.x : a.r < b.r; });
            curve.assign(1, from);
            if (to.x > from.x) append_majorant(points, from, to, curve);
            if (curve.size() == 1) result.push_back({from.x, from.r, from.x, from.r, part});
            for (std::size_t i = 1; i < curve.size(); ++i) {
                result.push_back({curve[i - 1].x, curve[i - 1].r, curve[i].x, curve[i].r, part});
            }
        }
        return result;
    }

  private:
    /// Moves the vertices that triangles use into the rod frame and finds the mesh's first and last station.
    void place(const Pose& pose, double scale) {
        used_.assign(mesh_.vertices.size(), 0);
        for (const Triangle& triangle : mesh_.triangles) {
            for (const std::int32_t v : triangle) used_[static_cast<std::size_t>(v)] = 1;
        }
        spots_.resize(mesh_.vertices.size());
        for (std::size_t v = 0; v < spots_.size(); ++v) {
            if (!used_[v]) continue;
            const Vec3 p = pose * (scale * mesh_.vertices[v]);
            if (!p.allFinite()) throw std::invalid_argument("sweep: a coordinate of a mesh is not finite");
            spots_[v] = {p.x(), p.y(), p.z(), p.y() * p.y() + p.z() * p.z(), 0};
            first_ = std::min(first_, p.x());
            last_ = std::max(last_, p.x());
        }
    }

    void lay_planes(double step) {
        const double extent = last_ - first_;
        // An extent that is a whole number of steps but for rounding gets that number of slabs.
        const double slabs = std::ceil(extent / step * (1 - 1e-12));
        if (!(slabs <= most_slabs)) throw std::invalid_argument("sweep: the step is too fine for the mesh");
        const auto n = static_cast<std::size_t>(slabs);
        planes_.resize(n + 1);
        for (std::size_t k = 0; k < n; ++k) {
            planes_[k].x = first_ + extent * (static_cast<double>(k) / static_cast<double>(n));
        }
        planes_[n].x = last_;
        const double planes_per_metre = n > 0 ? static_cast<double>(n) / extent : 0;
        for (std::size_t v = 0; v < spots_.size(); ++v) {
            if (!used_[v]) continue;
            Spot& spot = spots_[v];
            std::size_t k = std::min(n, static_cast<std::size_t>((spot.x - first_) * planes_per_metre));
            while (planes_[k].x > spot.x) --k;
            while (k < n && planes_[k + 1].x <= spot.x) ++k;
            spot.slab = static_cast<std::int32_t>(k);
            if (planes_[k].x == spot.x) planes_[k].face = std::max(planes_[k].face, spot.square);
        }
    }

    /// Lets every edge leave its radius on the planes it meets. The corners of a clipped triangle are its own
    /// and those of its edges on the planes, so edges are all there is to clip.
    void cross_planes() {
        for (const Triangle& triangle : mesh_.triangles) {
            const Spot& a = spots_[static_cast<std::size_t>(triangle[0])];
            const Spot& b = spots_[static_cast<std::size_t>(triangle[1])];
            const Spot& c = spots_[static_cast<std::size_t>(triangle[2])];
            cross_planes(a, b);
            cross_planes(b, c);
            cross_planes(c, a);
        }
    }

    void cross_planes(const Spot& p, const Spot& q) {
        const bool ordered = p.x <= q.x;
        const Spot& a = ordered ? p : q;
        const Spot& b = ordered ? q : p;
        if (a.x == b.x) return;  // in one plane or within one slab
        Plane& start = planes_[static_cast<std::size_t>(a.slab)];
        if (start.x == a.x) start.right = std::max(start.right, a.square);
        if (a.slab == b.slab) return;
        const double reach = std::max(a.square, b.square);  // no point between is further out: convex
        for (auto k = static_cast<std::size_t>(a.slab) + 1; k <= static_cast<std::size_t>(b.slab); ++k) {
            Plane& plane = planes_[k];
            if (reach <= plane.left && reach <= plane.right) continue;
            const double t = (plane.x - a.x) / (b.x - a.x);
            const double y = std::lerp(a.y, b.y, t), z = std::lerp(a.z, b.z, t);
            const bool ends_here = plane.x == b.x;
            const double square = ends_here ? b.square : y * y + z * z;
            plane.left = std::max(plane.left, square);
            if (!ends_here) plane.right = std::max(plane.right, square);
        }
    }

    /// Sorts into slabs the vertices that lie between planes and rise above the chord from plane to plane.
    void fill_slabs() {
        const std::size_t n = planes_.size() - 1;
        struct Chord {
            double r = -1, slope = 0;
        };
        std::vector<Chord> chords(n);
        for (std::size_t k = 0; k < n; ++k) {
            const Plane& a = planes_[k];
            const Plane& b = planes_[k + 1];
            if (a.right < 0 || b.left < 0) continue;
            chords[k] = {std::sqrt(a.right), (std::sqrt(b.left) - std::sqrt(a.right)) / (b.x - a.x)};
        }
        const auto rises = [&](std::size_t v) {
            const Spot& spot = spots_[v];
            const auto k = static_cast<std::size_t>(spot.slab);
            if (!used_[v] || planes_[k].x == spot.x) return false;
            const double chord = chords[k].r + chords[k].slope * (spot.x - planes_[k].x);
            return chord < 0 || spot.square > chord * chord;
        };
        slab_start_.assign(n + 2, 0);
        std::vector<std::int32_t> rising;
        for (std::size_t v = 0; v < spots_.size(); ++v) {
            if (!rises(v)) continue;
            rising.push_back(static_cast<std::int32_t>(v));
            ++slab_start_[static_cast<std::size_t>(spots_[v].slab) + 2];
        }
        for (std::size_t k = 2; k < slab_start_.size(); ++k) slab_start_[k] += slab_start_[k - 1];
        inner_.resize(rising.size());
        // Filling moves each start one slab on, to where it belongs.
        for (const std::int32_t v : rising) {
            const Spot& spot = spots_[static_cast<std::size_t>(v)];
            auto& place = slab_start_[static_cast<std::size_t>(spot.slab) + 1];
            inner_[static_cast<std::size_t>(place++)] = {spot.x, std::sqrt(spot.square)};
        }
    }

    const TriangleMesh& mesh_;
    std::vector<std::uint8_t> used_;  // by vertex
    std::vector<Spot> spots_;         // by vertex
    double first_ = std::numeric_limits<double>::infinity();
    double last_ = -std::numeric_limits<double>::infinity();
    std::vector<Plane> planes_;               // one more than slabs
    std::vector<Point> inner_;                // by slab
    std::vector<std::ptrdiff_t> slab_start_;  // first of a slab in inner_
};

bool is_disc(const OutlinePiece& piece) {
    return piece.x0 == piece.x1;
}

/// Collects the pieces of an envelope, joining what continues a piece of the same source.
class EnvelopeBuilder {
  public:
    void add(const OutlinePiece& source, double from, double to) {
        if (source_ == &source && pieces_.back().x1 == from) {
            pieces_.back().x1 = to;
            pieces_.back().r1 = radius_on(source, to);
            return;
        }
        pieces_.push_back({from, radius_on(source, from), to, radius_on(source, to), source.part});
        source_ = &source;
    }
    Pieces take() { return std::move(pieces_); }

  private:
    Pieces pieces_;
    const OutlinePiece* source_ = nullptr;
};

double greatest_radius(const Pieces& pieces, double x) {
    // Pieces in order do not overlap, so that both their ends are in order.
    auto it =
        std::partition_point(pieces.begin(), pieces.end(), [x](const OutlinePiece& p) { return p.x1 < x; });
    double r = -1;
    for (; it != pieces.end() && it->x0 <= x; ++it) r = std::max(r, radius_on(*it, x));
    return r;
}

/// Puts discs back among pieces that have a length, those that stand out.
Pieces with_discs(Pieces pieces, Pieces discs) {
    std::stable_sort(discs.begin(), discs.end(), [](const OutlinePiece& a, const OutlinePiece& b) {
        return a.x0 != b.x0 ? a.x0 < b.x0 : a.r0 > b.r0;
    });
    discs.erase(std::unique(discs.begin(), discs.end(),
                            [](const OutlinePiece& a, const OutlinePiece& b) { return a.x0 == b.x0; }),
                discs.end());
    Pieces result;
    std::size_t next = 0;
    const auto add_disc = [&](const OutlinePiece& disc) {
        if (disc.r0 > greatest_radius(pieces, disc.x0)) result.push_back(disc);
    };
    for (const OutlinePiece& piece : pieces) {
        while (next < discs.size() && discs[next].x0 <= piece.x0) add_disc(discs[next++]);
        // A disc inside a piece cuts it in two.
        OutlinePiece rest = piece;
        for (; next < discs.size() && discs[next].x0 < piece.x1; ++next) {
            const OutlinePiece& disc = discs[next];
            const double r = radius_on(piece, disc.x0);
            if (disc.r0 <= r) continue;
            result.push_back({rest.x0, rest.r0, disc.x0, r, piece.part});
            result.push_back(disc);
            rest.x0 = disc.x0;
            rest.r0 = r;
        }
        result.push_back(rest);
    }
    while (next < discs.size()) add_disc(discs[next++]);
    return result;
}

/// The greater radius of two outlines everywhere, the first one's where they are equal.
Pieces envelope(const Pieces& a, const Pieces& b) {
    Pieces solid[2], discs;
    std::vector<double> breaks;
    const Pieces* const given[2] = {&a, &b};
    for (std::size_t s = 0; s < 2; ++s) {
        for (const OutlinePiece& piece : *given[s]) {
            if (is_disc(piece)) {
                discs.push_back(piece);
                continue;
            }
            solid[s].push_back(piece);
            breaks.push_back(piece.x0);
            breaks.push_back(piece.x1);
        }
    }
    std::sort(breaks.begin(), breaks.end());
    breaks.erase(std::unique(breaks.begin(), breaks.end()), breaks.end());

    EnvelopeBuilder builder;
    std::size_t next[2] = {0, 0};
    for (std::size_t i = 1; i < breaks.size(); ++i) {
        const double from = breaks[i - 1], to = breaks[i];
        const OutlinePiece* over[2] = {nullptr, nullptr};
        for (std::size_t s = 0; s < 2; ++s) {
            while (next[s] < solid[s].size() && solid[s][next[s]].x1 <= from) ++next[s];
            if (next[s] < solid[s].size() && solid[s][next[s]].x0 <= from) over[s] = &solid[s][next[s]];
        }
        if (!over[0] && !over[1]) continue;
        if (!over[0] || !over[1]) {
            builder.add(over[0] ? *over[0] : *over[1], from, to);
            continue;
        }
        const double lead_from = radius_on(*over[0], from) - radius_on(*over[1], from);
        const double lead_to = radius_on(*over[0], to) - radius_on(*over[1], to);
        const double cut = from + (to - from) * (lead_from / (lead_from - lead_to));
        if (lead_from * lead_to < 0 && from < cut && cut < to) {
            builder.add(lead_from > 0 ? *over[0] : *over[1], from, cut);
            builder.add(lead_to > 0 ? *over[0] : *over[1], cut, to);
        } else {
            builder.add(lead_from + lead_to >= 0 ? *over[0] : *over[1], from, to);
        }
    }
    return with_discs(builder.take(), std::move(discs));
}

}  // namespace

double Outline::radius_at(double x) const {
    return std::max(0.0, greatest_radius(pieces, x));
}

Outline sweep(const std::vector<SweptMesh>& meshes, const std::vector<SweptCylinder>& cylinders,
              double step) {
    if (!(step >= least_step)) throw std::invalid_argument("sweep: the step must be at least 1e-9 m");
    Outline outline;
    for (const SweptMesh& swept : meshes) {
        if (!swept.mesh) throw std::invalid_argument("sweep: a mesh is missing");
        outline.pieces = envelope(outline.pieces, MeshSweep(swept, step).pieces(swept.part));
    }
    for (const SweptCylinder& cylinder : cylinders) {
        const bool finite =
            std::isfinite(cylinder.x0) && std::isfinite(cylinder.x1) && std::isfinite(cylinder.radius);
        if (!finite || cylinder.x0 > cylinder.x1 || cylinder.radius < 0) {
            throw std::invalid_argument(
                "sweep: a cylinder runs backwards, has a negative radius or is not finite");
        }
        outline.pieces = envelope(
            outline.pieces, {{cylinder.x0, cylinder.radius, cylinder.x1, cylinder.radius, cylinder.part}});
    }
    return outline;
}

}  // namespace evenspit
