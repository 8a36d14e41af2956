// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <map>
#include <numbers>
#include <utility>

#include <Eigen/Cholesky>

#include "scan/beside_fit.h"

namespace evenspit::scan {

namespace {

constexpr double level = 0.96;   // cosine, 16°, of a top's normal and the board's
constexpr double upright = 0.2;  // sine, 12°, of a wall's normal
constexpr double least_slimness = 0.12, greatest_slimness = 8;  // height in the shorter side of the top
constexpr double least_filled = 0.55;                           // of the top, in cells
constexpr double least_on_it = 0.85;  // of what stands on its ground: a top and walls, and nothing else
constexpr double most_over = 0.05;    // share of its points that may lie over its top: nothing stands on it
constexpr int least_ends = 3;         // sides at which a top ends: the body may stand close to the fourth
constexpr std::size_t cells_across = 6, least_in_cell = 3, ring_sectors = 16, least_ring = 5;
// As in can_fit.cpp, for the cells of a top and the sectors of the ground round it.
constexpr double shared_by_cells = 5, shared_by_sectors = 3;

// A rectangle that things are told inside of.
struct Rectangle {
    Vec2 middle = Vec2::Zero(), along = Vec2::UnitX(), half = Vec2::Zero();

    [[nodiscard]] Vec2 across() const { return {-along.y(), along.x()}; }
    [[nodiscard]] Vec2 within(const Vec3& p) const {
        const Vec2 off = p.head<2>() - middle;
        return {along.dot(off), across().dot(off)};
    }
    // How far a place is outside; negative within.
    [[nodiscard]] double outside(const Vec3& p) const { return (within(p).cwiseAbs() - half).maxCoeff(); }
};

double value_at(std::vector<double>& values, double share) {
    const auto at = std::size_t(share * double(values.size() - 1));
    std::nth_element(values.begin(), values.begin() + std::ptrdiff_t(at), values.end());
    return values[at];
}

// The smallest rectangle round nearly all of some points, turned by steps of 2°.
Rectangle round_of(const std::vector<Vec3>& points) {
    Rectangle best;
    double least = -1;
    for (int k = 0; k < 45; ++k) {
        Rectangle tried;
        const double angle = k * std::numbers::pi / 90;
        tried.along = {std::cos(angle), std::sin(angle)};
        std::array<std::vector<double>, 2> along;
        for (const Vec3& p : points) {
            const Vec2 w = tried.within(p);
            along[0].push_back(w.x());
            along[1].push_back(w.y());
        }
        Vec2 low, high;
        for (Eigen::Index i = 0; i < 2; ++i) {
            low[i] = value_at(along[std::size_t(i)], 0.02);
            high[i] = value_at(along[std::size_t(i)], 0.98);
        }
        const Vec2 size = high - low;
        if (least >= 0 && size.prod() >= least) continue;
        least = size.prod();
        const Vec2 off = (high + low) / 2;
        tried.middle = off.x() * tried.along + off.y() * tried.across();
        tried.half = size / 2;
        best = tried;
    }
    return best;
}

// Takes the sides of a top from the walls under it. Returns how many there are.
int take_walls(Rectangle& top, double height, double reach, const std::vector<FoundShape>& shapes,
               const std::vector<Vec3>& places) {
    std::array<bool, 4> seen{};
    Vec2 low = -top.half, high = top.half;
    for (const FoundShape& wall : shapes) {
        if (wall.cylinder || std::abs(wall.direction.z()) > upright) continue;
        const Vec2 normal = wall.direction.head<2>().normalized();
        const double along = normal.dot(top.along), across = normal.dot(top.across());
        const Eigen::Index axis = std::abs(along) > std::abs(across) ? 0 : 1;
        if (std::max(std::abs(along), std::abs(across)) < 0.97) continue;
        std::vector<double> heights, places_along;
        for (const std::int32_t i : wall.points) {
            const Vec3& p = places[std::size_t(i)];
            if (top.outside(p) > 2 * reach || p.z() > height + reach) continue;
            heights.push_back(p.z());
            places_along.push_back(top.within(p)[axis]);
        }
        if (heights.size() < 12 || 2 * heights.size() < wall.points.size()) continue;
        if (value_at(heights, 0.9) < 0.6 * height || value_at(heights, 0.1) > 0.6 * height) continue;
        const double at = value_at(places_along, 0.5);
        const bool is_low = at < 0;
        double& side = is_low ? low[axis] : high[axis];
        if (std::abs(at - side) > 2 * reach) continue;
        side = at;
        seen[std::size_t(axis) * 2 + (is_low ? 0 : 1)] = true;
    }
    const Vec2 off = (low + high) / 2;
    top.middle += off.x() * top.along + off.y() * top.across();
    top.half = (high - low) / 2;
    return int(std::count(seen.begin(), seen.end(), true));
}

// A height at a place and its σ, from the heights of patches round it, as a plane.
struct Level {
    double height = 0, sigma = 0;
};

std::optional<Level> level_at(const std::vector<Vec3>& patches, const Vec2& place, double shared) {
    if (patches.size() < 4) return std::nullopt;
    Mat3 matrix = Mat3::Zero();
    Vec3 right = Vec3::Zero();
    for (const Vec3& p : patches) {
        const Vec3 row(1, p.x() - place.x(), p.y() - place.y());
        matrix += row * row.transpose();
        right += p.z() * row;
    }
    const Eigen::LDLT<Mat3> solver(matrix);
    const Vec3 plane = solver.solve(right);
    double squares = 0;
    for (const Vec3& p : patches) {
        const double miss = p.z() - plane.dot(Vec3(1, p.x() - place.x(), p.y() - place.y()));
        squares += miss * miss;
    }
    const double scatter = squares / double(patches.size() - 3) * shared;
    const double spread = solver.solve(Vec3::UnitX()).x();
    if (!std::isfinite(plane.x()) || !(spread > 0)) return std::nullopt;
    return Level{plane.x(), std::sqrt(scatter * spread)};
}

struct Patch {
    Vec3 sum = Vec3::Zero();
    double n = 0;
};

template <class Key>
std::vector<Vec3> means_of(const std::map<Key, Patch>& patches) {
    std::vector<Vec3> means;
    for (const auto& [key, patch] : patches) {
        if (patch.n >= double(least_in_cell)) means.emplace_back(patch.sum / patch.n);
    }
    return means;
}

std::optional<Level> top_level(const Rectangle& top, double height, const OnFlatBoard& scene) {
    const double inset = std::min(3 * scene.noise + scene.spacing, 0.3 * top.half.minCoeff());
    std::map<std::pair<int, int>, Patch> cells;
    for (const Vec3& p : scene.standing) {
        if (top.outside(p) > -inset || std::abs(p.z() - height) > 4 * scene.noise) continue;
        const Vec2 w = top.within(p).cwiseQuotient(top.half) * (0.5 * double(cells_across));
        Patch& cell = cells[{int(std::floor(w.x())), int(std::floor(w.y()))}];
        cell.sum += p;
        cell.n += 1;
    }
    return level_at(means_of(cells), top.middle, shared_by_cells);
}

std::optional<Level> ground_level(const Rectangle& top, const OnFlatBoard& scene) {
    const double from = 3 * scene.noise + scene.spacing, to = from + 1.2 * top.half.maxCoeff();
    std::map<int, Patch> ring;
    for (const Vec3& p : scene.ground) {
        const double outside = top.outside(p);
        if (outside < from || outside > to || std::abs(p.z()) > scene.cut) continue;
        const Vec2 off = p.head<2>() - top.middle;
        Patch& sector =
            ring[int((std::atan2(off.y(), off.x()) / std::numbers::pi + 1) * double(ring_sectors) / 2)];
        sector.sum += p;
        sector.n += 1;
    }
    const std::vector<Vec3> means = means_of(ring);
    if (means.size() < least_ring) return std::nullopt;
    return level_at(means, top.middle, shared_by_sectors);
}

// Share of the top's squares that hold a point.
double filled(const Rectangle& top, const std::vector<Vec3>& points) {
    std::map<std::pair<int, int>, bool> cells;
    for (const Vec3& p : points) {
        if (top.outside(p) > 0) continue;
        const Vec2 w = top.within(p).cwiseQuotient(top.half) * (0.5 * double(cells_across));
        cells[{int(std::floor(w.x())), int(std::floor(w.y()))}] = true;
    }
    return double(cells.size()) / double(cells_across * cells_across);
}

// How many sides of a top it ends at: beyond them nearly nothing is as high. A flat place of a body goes on.
int ends_at(const Rectangle& top, double height, double reach, const OnFlatBoard& scene) {
    std::array<double, 4> within{}, beyond{};
    const double strip = std::max(reach, 0.25 * top.half.minCoeff());
    for (const Vec3& p : scene.standing) {
        if (p.z() < 0.6 * height || top.outside(p) > reach + strip) continue;
        const Vec2 w = top.within(p);
        for (Eigen::Index axis = 0; axis < 2; ++axis) {
            if (std::abs(w[1 - axis]) > top.half[1 - axis]) continue;
            const std::size_t side = std::size_t(axis) * 2 + (w[axis] < 0 ? 0 : 1);
            const double out = std::abs(w[axis]) - top.half[axis];
            within[side] += out < 0 && out > -strip;
            beyond[side] += out > reach;
        }
    }
    int ends = 0;
    for (std::size_t side = 0; side < within.size(); ++side) ends += beyond[side] < 0.2 * within[side];
    return ends;
}

// Whether what stands there is a top and walls, and nothing else.
BesideTrial alone(const Rectangle& top, double height, const OnFlatBoard& scene) {
    const double reach = 4 * scene.noise + scene.spacing;
    double all = 0, on_it = 0, over = 0;
    for (const Vec3& p : scene.standing) {
        const double outside = top.outside(p);
        if (outside > reach) continue;
        all += 1;
        over += p.z() > height + reach && outside < 0;
        on_it += (std::abs(p.z() - height) < reach || std::abs(outside) < reach) && p.z() < height + reach;
    }
    if (over > most_over * all) return {std::nullopt, "a flat top with something on it"};
    if (on_it < least_on_it * all) return {};
    FoundBeside found;
    found.points = std::size_t(on_it);
    return {found, {}};
}

}  // namespace

BesideTrial try_block(const FoundShape& shape, const std::vector<FoundShape>& shapes,
                      const std::vector<Vec3>& shape_points, const OnFlatBoard& scene) {
    if (shape.cylinder || std::abs(shape.direction.z()) < level) return {};
    std::vector<Vec3> points;
    std::vector<double> heights;
    for (const std::int32_t i : shape.points) {
        points.push_back(shape_points[std::size_t(i)]);
        heights.push_back(points.back().z());
    }
    const double height = value_at(heights, 0.5);
    if (height < 2 * scene.cut) return {};
    Rectangle top = round_of(points);
    const double shorter = 2 * top.half.minCoeff();
    if (height < least_slimness * shorter || height > greatest_slimness * shorter ||
        shorter < 6 * scene.noise || filled(top, points) < least_filled)
        return {};
    const double reach = 3 * scene.noise + 2 * scene.spacing;
    if (take_walls(top, height, reach, shapes, shape_points) == 0)
        return {std::nullopt, "a flat top without an upright wall"};
    if (ends_at(top, height, reach, scene) < least_ends) return {};
    BesideTrial trial = alone(top, height, scene);
    if (!trial.found) return trial;
    const auto over = top_level(top, height, scene), under = ground_level(top, scene);
    if (!over || !under) return {std::nullopt, "a block round whose foot too little of the board was seen"};
    FoundBeside& found = *trial.found;
    found.thing.kind = BesideThing::Kind::block;
    found.size = over->height - under->height;
    if (!(found.size > scene.cut)) return {};
    found.fit_sigma = std::hypot(over->sigma, under->sigma) / found.size;
    found.middle = top.middle;
    found.along = top.along;
    found.half = top.half;
    found.top = over->height;
    return trial;
}

}  // namespace evenspit::scan
