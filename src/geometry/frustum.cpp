// SPDX-License-Identifier: MIT
#include "geometry/frustum.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <span>
#include <stdexcept>

namespace evenspit {

namespace {

constexpr int most_cuts = 24;  // halvings of one piece; ends the cutting where the sag is not smooth

double fraction(const Frustum& f, double x) {
    return f.x1 > f.x0 ? (x - f.x0) / (f.x1 - f.x0) : 0;
}

bool holds(double height, double radius, const Vec3& q) {
    return q.y() * q.y() + (q.z() - height) * (q.z() - height) <= radius * radius;
}

double height_of(const std::function<double(double)>& sag, double x) {
    const double value = sag(x);
    if (!std::isfinite(value)) throw std::invalid_argument("nearest_gap: the sag is not finite");
    return -value;
}

void append_lowered(const Frustum& f, const std::function<double(double)>& sag, double bend_m, int cuts_left,
                    std::vector<Frustum>& out) {
    const double middle = 0.5 * (f.x0 + f.x1);
    const double height = height_of(sag, middle);
    const auto bend = [&](double x) { return std::abs(height_of(sag, x) - f.height_at(x)); };
    const bool straight = std::abs(height - f.height_at(middle)) <= bend_m &&
                          bend(std::lerp(f.x0, f.x1, 0.25)) <= bend_m &&
                          bend(std::lerp(f.x0, f.x1, 0.75)) <= bend_m;
    if (straight || cuts_left == 0) {
        out.push_back(f);
        return;
    }
    Frustum half = f;
    half.x1 = middle;
    half.z1 = height;
    half.r1 = f.radius_at(middle);
    append_lowered(half, sag, bend_m, cuts_left - 1, out);
    half = {half.x1, half.z1, half.r1, f.x1, f.z1, f.r1, f.part};
    append_lowered(half, sag, bend_m, cuts_left - 1, out);
}

/// A frustum that holds several in a row, and how far it stands off at most.
struct Hull {
    Frustum frustum;
    double slack = 0;
};

Hull hull_of(std::span<const Frustum> frusta) {
    // From the first disc to the last, widened by what bulges; or level, with the greatest radius: what is
    // slimmer.
    const Frustum& first = frusta.front();
    const Frustum& last = frusta.back();
    Frustum taper{first.x0, first.z0, first.r0, last.x1, last.z1, last.r1, -1};
    Frustum level = taper;
    level.r0 = level.r1 = 0;
    if (taper.x0 == taper.x1) taper.r0 = taper.r1 = std::max(taper.r0, taper.r1);
    double bulge = 0, dent = 0, greatest = 0, least = std::numeric_limits<double>::infinity();
    for (const Frustum& f : frusta) {
        for (const auto& [x, z, r] : {std::array{f.x0, f.z0, f.r0}, std::array{f.x1, f.z1, f.r1}}) {
            const double off = std::abs(z - level.height_at(x));
            bulge = std::max(bulge, r + off - taper.radius_at(x));
            dent = std::max(dent, taper.radius_at(x) - r);
            greatest = std::max(greatest, r + off);
            least = std::min(least, r);
        }
    }
    taper.r0 += bulge;
    taper.r1 += bulge;
    level.r0 = level.r1 = greatest;
    if (taper.r0 + taper.r1 < level.r0 + level.r1) return {taper, bulge + dent};
    return {level, greatest - least};
}

}  // namespace

double Frustum::radius_at(double x) const {
    return std::lerp(r0, r1, fraction(*this, x));
}

double Frustum::height_at(double x) const {
    return std::lerp(z0, z1, fraction(*this, x));
}

Vec3 nearest_point(const Frustum& f, const Vec3& q) {
    if (q.x() <= f.x0 && holds(f.z0, f.r0, q)) return {f.x0, q.y(), q.z()};
    if (q.x() >= f.x1 && holds(f.z1, f.r1, q)) return {f.x1, q.y(), q.z()};
    if (f.x0 < q.x() && q.x() < f.x1 && holds(f.height_at(q.x()), f.radius_at(q.x()), q)) return q;

    // On the mantle, by turns: the direction from the axis to q at a station, then the station where the
    // straight line of the mantle in that direction comes nearest. Without sag the second turn repeats the
    // first; a sag's slope s leaves a share s² of the error each turn.
    double x = std::clamp(q.x(), f.x0, f.x1);
    Vec3 p;
    for (int turn = 0; turn < 50; ++turn) {
        const double y = q.y(), z = q.z() - f.height_at(x);
        const double length = Vec2(y, z).norm();
        const double uy = length > 0 ? y / length : 0, uz = length > 0 ? z / length : -1;
        const Vec3 a(f.x0, f.r0 * uy, f.z0 + f.r0 * uz), b(f.x1, f.r1 * uy, f.z1 + f.r1 * uz);
        const Vec3 along = b - a;
        const double square = along.squaredNorm();
        const double t = square > 0 ? std::clamp((q - a).dot(along) / square, 0.0, 1.0) : 0.0;
        p = a + t * along;
        const double before = x;
        x = std::lerp(f.x0, f.x1, t);
        if (f.z0 == f.z1 || std::abs(x - before) < 1e-12) break;
    }
    return p;
}

double reach(const Frustum& f, const Vec3& direction) {
    const double across = direction.tail<2>().norm();
    return std::max(direction.x() * f.x0 + direction.z() * f.z0 + across * f.r0,
                    direction.x() * f.x1 + direction.z() * f.z1 + across * f.r1);
}

std::vector<Frustum> lowered(const Outline& outline, const std::function<double(double)>& sag, double bend_m,
                             double most_curved_1_m) {
    std::vector<Frustum> result;
    result.reserve(outline.pieces.size());
    double x = std::numeric_limits<double>::quiet_NaN(), z = 0;  // where the last piece ended
    for (const OutlinePiece& piece : outline.pieces) {
        const double z0 = piece.x0 == x ? z : height_of(sag, piece.x0);
        if (piece.x0 == piece.x1) {
            const double r = std::max(piece.r0, piece.r1);
            result.push_back({piece.x0, z0, r, piece.x1, z0, r, piece.part});
            continue;
        }
        x = piece.x1;
        z = height_of(sag, x);
        const Frustum whole{piece.x0, z0, piece.r0, x, z, piece.r1, piece.part};
        const double length = piece.x1 - piece.x0;
        if (length * length * most_curved_1_m <= 8 * bend_m) {
            result.push_back(whole);  // an arc rises no further over its chord
        } else {
            append_lowered(whole, sag, bend_m, most_cuts, result);
        }
    }
    return result;
}

FrustumTree::FrustumTree(const std::vector<Frustum>& frusta) {
    nodes_.reserve(2 * frusta.size());
    build(frusta, 0, frusta.size());
}

void FrustumTree::build(const std::vector<Frustum>& frusta, std::size_t first, std::size_t last) {
    const std::size_t node = nodes_.size();
    if (last - first == 1) {
        nodes_.push_back({frusta[first], 0, -1});
        return;
    }
    const Hull hull = hull_of({frusta.begin() + static_cast<std::ptrdiff_t>(first), last - first});
    nodes_.push_back({hull.frustum, hull.slack, -1});
    const std::size_t middle = first + (last - first) / 2;
    build(frusta, first, middle);
    nodes_[node].right = static_cast<std::int32_t>(nodes_.size());
    build(frusta, middle, last);
}

}  // namespace evenspit
