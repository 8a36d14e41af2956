// SPDX-License-Identifier: MIT
#include "geometry/swept.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>
#include <utility>

#include "geometry/slabs.h"
#include "geometry/sweep_tree.h"

namespace evenspit {

namespace {

using Pieces = std::vector<OutlinePiece>;

constexpr double least_step = 1e-9;  // m; finer stations would fall together

void check_step(double step) {
    if (!(step >= least_step)) throw std::invalid_argument("sweep: the step must be at least 1e-9 m");
}

double radius_on(const OutlinePiece& piece, double x) {
    if (x >= piece.x1) return piece.r1;
    return std::lerp(piece.r0, piece.r1, (x - piece.x0) / (piece.x1 - piece.x0));
}

/// One mesh in slabs, every vertex and edge of it.
Pieces whole_mesh(const SweptMesh& swept, double step) {
    const TriangleMesh& mesh = *swept.mesh;
    std::vector<std::uint8_t> used(mesh.vertices.size(), 0);
    for (const Triangle& triangle : mesh.triangles) {
        for (const std::int32_t v : triangle) used[static_cast<std::size_t>(v)] = 1;
    }
    const SpotView view(swept.pose, swept.scale);
    std::vector<Spot> spots(mesh.vertices.size());
    double first = std::numeric_limits<double>::infinity(), last = -first;
    for (std::size_t v = 0; v < spots.size(); ++v) {
        if (!used[v]) continue;
        spots[v] = view(mesh.vertices[v]);
        first = std::min(first, spots[v].x);
        last = std::max(last, spots[v].x);
    }
    if (first > last) return {};  // no triangles
    Slabs slabs(first, last, step, spots.size());
    for (std::size_t v = 0; v < spots.size(); ++v) {
        if (!used[v]) continue;
        slabs.locate(spots[v]);
        slabs.note(spots[v]);
    }
    // The corners of a clipped triangle are its own and those of its edges on the planes, so edges are all
    // there is to clip.
    for (const Triangle& triangle : mesh.triangles) {
        const Spot& a = spots[static_cast<std::size_t>(triangle[0])];
        const Spot& b = spots[static_cast<std::size_t>(triangle[1])];
        const Spot& c = spots[static_cast<std::size_t>(triangle[2])];
        slabs.cross(a, b);
        slabs.cross(b, c);
        slabs.cross(c, a);
    }
    slabs.raise();
    slabs.lay_chords();
    std::vector<Spot> rising;
    for (std::size_t v = 0; v < spots.size(); ++v) {
        if (used[v] && slabs.rises(spots[v])) rising.push_back(spots[v]);
    }
    return slabs.pieces(rising, swept.part);
}

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
    std::size_t firsts = 0;  // breaks of the first outline
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
        if (s == 0) firsts = breaks.size();
    }
    // Pieces are in order.
    std::inplace_merge(breaks.begin(), breaks.begin() + static_cast<std::ptrdiff_t>(firsts), breaks.end());
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

/// Makes of the first outline the envelope of both. What of it lies before the other or after it stays as it
/// is, so that things in a row are joined in a time that grows as they do.
void join(Pieces& a, const Pieces& b) {
    if (b.empty()) return;
    const auto first = std::partition_point(
        a.begin(), a.end(), [&](const OutlinePiece& piece) { return piece.x1 < b.front().x0; });
    const auto last = std::partition_point(
        first, a.end(), [&](const OutlinePiece& piece) { return piece.x0 <= b.back().x1; });
    const Pieces joined = envelope(Pieces(first, last), b), after(last, a.end());
    a.erase(first, a.end());
    a.insert(a.end(), joined.begin(), joined.end());
    a.insert(a.end(), after.begin(), after.end());
}

}  // namespace

double Outline::radius_at(double x) const {
    return std::max(0.0, greatest_radius(pieces, x));
}

std::vector<OutlinePiece> mesh_outline(const SweptMesh& swept, double step) {
    check_step(step);
    if (!swept.mesh) throw std::invalid_argument("sweep: a mesh is missing");
    return swept.tree ? swept.tree->pieces(swept.pose, swept.scale, step, swept.part)
                      : whole_mesh(swept, step);
}

Outline sweep(const std::vector<SweptMesh>& meshes, const std::vector<SweptCylinder>& cylinders,
              double step) {
    check_step(step);
    Outline outline;
    for (const SweptMesh& swept : meshes) {
        if (swept.outline)
            join(outline.pieces, *swept.outline);
        else
            join(outline.pieces, mesh_outline(swept, step));
    }
    Pieces slim;  // of all cylinders: few, so that the many of a mesh are gone through once
    for (const SweptCylinder& cylinder : cylinders) {
        const bool finite =
            std::isfinite(cylinder.x0) && std::isfinite(cylinder.x1) && std::isfinite(cylinder.radius);
        if (!finite || cylinder.x0 > cylinder.x1 || cylinder.radius < 0) {
            throw std::invalid_argument(
                "sweep: a cylinder runs backwards, has a negative radius or is not finite");
        }
        join(slim, {{cylinder.x0, cylinder.radius, cylinder.x1, cylinder.radius, cylinder.part}});
    }
    join(outline.pieces, slim);
    return outline;
}

}  // namespace evenspit
