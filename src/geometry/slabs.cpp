// SPDX-License-Identifier: MIT
#include "geometry/slabs.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <stdexcept>

namespace evenspit {

namespace {

constexpr double hair = 1e-12;             // m, or a share; below it a bulge is rounding
constexpr double most_slabs = 10'000'000;  // a mesh this long against the step has a wrong unit
constexpr double out_of_doubt = 1e-9;      // m; more than rounding makes of any radius or station

struct Point {
    double x, r;
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
    const Point top = *std::max_element(kept.begin(), kept.end(), [&](const Point& a, const Point& b) {
        // Of those that bulge alike the last, at one station the furthest, in whatever order they come.
        if (bulge(a) != bulge(b)) return bulge(a) < bulge(b);
        return a.x != b.x ? a.x < b.x : a.r < b.r;
    });
    const auto before = std::partition(kept.begin(), kept.end(), [&](const Point& p) { return p.x < top.x; });
    const auto after = std::partition(before, kept.end(), [&](const Point& p) { return p.x > top.x; });
    append_majorant({kept.begin(), before}, from, top, curve);
    append_majorant({before, after}, top, to, curve);
}

/// Planes across a mesh, at least one; see Slabs.
std::vector<double> stations(double first, double last, double step) {
    const double extent = last - first;
    // An extent that is a whole number of steps but for rounding gets that number of slabs.
    const double slabs = std::ceil(extent / step * (1 - 1e-12));
    if (!(slabs <= most_slabs)) throw std::invalid_argument("sweep: the step is too fine for the mesh");
    const auto n = static_cast<std::size_t>(slabs);
    std::vector<double> stations(n + 1);
    for (std::size_t k = 0; k < n; ++k)
        stations[k] = first + extent * (static_cast<double>(k) / static_cast<double>(n));
    stations[n] = last;
    return stations;
}

}  // namespace

void SpotView::throw_not_finite() {
    throw std::invalid_argument("sweep: a coordinate of a mesh is not finite");
}

Slabs::Slabs(double first, double last, double step, std::size_t vertices)
    : Slabs(first, stations(first, last, step), vertices) {}

Slabs::Slabs(double first, const std::vector<double>& stations, std::size_t vertices)
    : first_(first), planes_(stations.size()), crests_(stations, vertices) {
    const std::size_t n = stations.size() - 1;
    for (std::size_t k = 0; k <= n; ++k) planes_[k].x = stations[k];
    planes_per_metre_ = n > 0 ? static_cast<double>(n) / (stations[n] - first) : 0;
}

void Slabs::cross(const Spot& p, const Spot& q) {
    const bool ordered = p.x <= q.x;
    const Spot& a = ordered ? p : q;
    const Spot& b = ordered ? q : p;
    if (a.x == b.x) return;  // in one plane or within one slab
    Plane& start = planes_[static_cast<std::size_t>(a.slab)];
    if (start.x == a.x && start.right < a.square) {
        start.right = a.square;
        crests_.grow(static_cast<std::size_t>(a.slab));
    }
    if (a.slab == b.slab) return;
    const double reach = std::max(a.square, b.square);  // no point between is further out: convex
    for (auto k = static_cast<std::size_t>(a.slab) + 1; k <= static_cast<std::size_t>(b.slab); ++k) {
        Plane& plane = planes_[k];
        const double held = std::min(plane.left, plane.right);
        // But for rounding, so that the order in which edges come makes no difference at all.
        if (reach <= held * (1 - hair)) continue;
        // Nor further than the squares' own straight line, likewise.
        if (a.square * (b.x - plane.x) + b.square * (plane.x - a.x) <= held * (b.x - a.x) * (1 - hair))
            continue;
        const double t = (plane.x - a.x) / (b.x - a.x);
        const double y = std::lerp(a.y, b.y, t), z = std::lerp(a.z, b.z, t);
        const bool ends_here = plane.x == b.x;
        const double square = ends_here ? b.square : y * y + z * z;
        plane.left = std::max(plane.left, square);
        if (!ends_here) plane.right = std::max(plane.right, square);
        crests_.grow(k);
    }
}

void Slabs::raise() {
    for (std::size_t k = 0; k + 1 < planes_.size(); ++k) {
        if (crests_.has_grown(k)) crests_.raise(k, planes_[k].right, planes_[k + 1].left);
    }
}

bool Slabs::hides(const Reach& reach) const {
    const std::size_t n = planes_.size() - 1;
    if (n == 0) return false;
    const auto is_within = [&](std::size_t slab, double x) {
        const double out = std::min(reach.furthest, reach.radius + reach.rise * (x - reach.at));
        return crests_.level(slab, x) > std::max(0.0, out + out_of_doubt);
    };
    // Within a slab a crest bends down, and both bounds of the reach are straight: what lies within where it
    // begins, where it ends and where one bound takes over from the other does so between. A plane is the end
    // of one slab and the beginning of the next.
    const double from = std::max(planes_[0].x, reach.x0 - out_of_doubt);
    const double to = std::min(planes_[n].x, reach.x1 + out_of_doubt);
    const double turn = reach.at + (reach.furthest - reach.radius) / reach.rise;
    for (std::size_t k = std::min(n - 1, slab_of(from));; ++k) {
        const double first = std::max(from, planes_[k].x), last = std::min(to, planes_[k + 1].x);
        if (!is_within(k, first) || !is_within(k, last)) return false;
        if (turn > first && turn < last && !is_within(k, turn)) return false;
        if (to <= planes_[k + 1].x) return true;
    }
}

std::vector<Hiding> Slabs::hiding(double longest) const {
    // Squares are convex along an edge: below the line from one of its ends to the other. Where the squares
    // that planes hold bend down, so is that line below them if both ends are. Where they bend up by so much,
    // it may lie over them in between, by no more than a quarter of the edge times that; so much further in
    // its ends must lie.
    const std::size_t n = planes_.size() - 1;
    std::vector<Hiding> hiding(n + 1);
    if (n == 0) return hiding;
    const double width = (planes_[n].x - first_) / static_cast<double>(n);
    std::vector<double> bend(n + 1, 0);
    for (std::size_t k = 1; k < n; ++k) {
        const bool known = held(k - 1) >= 0 && held(k) >= 0 && held(k + 1) >= 0;
        bend[k] = known ? std::max(0.0, (held(k - 1) - 2 * held(k) + held(k + 1)) / width)
                        : std::numeric_limits<double>::infinity();
    }
    // So many planes an edge can cross at most.
    const double crossed = longest / width + 1;
    const std::size_t most = crossed < static_cast<double>(n) ? static_cast<std::size_t>(crossed) : n;
    for (std::size_t k = 0; k < n; ++k) {
        const double start = held(k), end = held(k + 1);
        if (!(start > 0 && end > 0)) continue;
        double before = 0, after = 0;
        for (std::size_t i = 0; i < most; ++i) {
            if (i <= k) before += bend[k - i];
            if (k + 1 + i <= n) after += bend[k + 1 + i];
        }
        const double from = std::sqrt(start), to = std::sqrt(end);
        const double deeper = longest / 4 * std::max(before, after) / std::min(from, to);
        hiding[k] = {planes_[k].x, from - deeper - out_of_doubt, (to - from) / width};
    }
    return hiding;
}

void Slabs::lay_chords() {
    chords_.assign(planes_.size() - 1, {});
    for (std::size_t k = 0; k < chords_.size(); ++k) {
        const Plane& a = planes_[k];
        const Plane& b = planes_[k + 1];
        if (a.right < 0 || b.left < 0) continue;
        chords_[k] = {std::sqrt(a.right), (std::sqrt(b.left) - std::sqrt(a.right)) / (b.x - a.x)};
    }
}

bool Slabs::rises(const Spot& spot) const {
    const auto k = static_cast<std::size_t>(spot.slab);
    if (planes_[k].x == spot.x || holds(spot)) return false;
    const double chord = chords_[k].r + chords_[k].slope * (spot.x - planes_[k].x);
    return chord < 0 || spot.square > chord * chord;
}

std::vector<OutlinePiece> Slabs::pieces(const std::vector<Spot>& rising, int part) const {
    // Sorted into slabs; filling moves each start one slab on, to where it belongs.
    std::vector<std::ptrdiff_t> start(planes_.size() + 1, 0);
    for (const Spot& spot : rising) ++start[static_cast<std::size_t>(spot.slab) + 2];
    for (std::size_t k = 2; k < start.size(); ++k) start[k] += start[k - 1];
    std::vector<Point> inner(rising.size());
    for (const Spot& spot : rising) {
        auto& place = start[static_cast<std::size_t>(spot.slab) + 1];
        inner[static_cast<std::size_t>(place++)] = {spot.x, std::sqrt(spot.square)};
    }

    std::vector<OutlinePiece> result;
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
        if (planes_[k + 1].left >= 0) points.push_back({planes_[k + 1].x, std::sqrt(planes_[k + 1].left)});
        points.insert(points.end(), inner.begin() + start[k], inner.begin() + start[k + 1]);
        if (points.empty()) continue;
        // Of points at the same station the outermost is the corner.
        const Point from = *std::min_element(
            points.begin(), points.end(),
            [](const Point& a, const Point& b) { return a.x != b.x ? a.x < b.x : a.r > b.r; });
        const Point to = *std::max_element(points.begin(), points.end(), [](const Point& a, const Point& b) {
            return a.x != b.x ? a.x < b.x : a.r < b.r;
        });
        curve.assign(1, from);
        if (to.x > from.x) append_majorant(points, from, to, curve);
        if (curve.size() == 1) result.push_back({from.x, from.r, from.x, from.r, part});
        for (std::size_t i = 1; i < curve.size(); ++i) {
            result.push_back({curve[i - 1].x, curve[i - 1].r, curve[i].x, curve[i].r, part});
        }
    }
    return result;
}

}  // namespace evenspit
