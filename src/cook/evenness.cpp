// SPDX-License-Identifier: MIT
#include "cook/evenness.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <tuple>

namespace evenspit::cook {
namespace {

constexpr std::size_t sectors = 24;
constexpr double patch_m = 0.03;

struct Sum {
    double area = 0, heat = 0, squares = 0;
    Vec3 moment = Vec3::Zero();

    void add(double area_m2, double j_m2, const Vec3& at) {
        area += area_m2;
        heat += area_m2 * j_m2;
        squares += area_m2 * j_m2 * j_m2;
        moment += area_m2 * at;
    }
    [[nodiscard]] double mean() const { return area > 0 ? heat / area : 0; }
    [[nodiscard]] double deviation() const {
        const double m = mean();
        return area > 0 ? std::sqrt(std::max(0.0, squares / area - m * m)) : 0;
    }
};

}  // namespace

Evenness evenness(const Item& item, const SkinHeat& heat) {
    Evenness result;
    const TriangleMesh& mesh = item.body->body.parts.front().mesh;
    double from = std::numeric_limits<double>::infinity(), to = -from;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        for (int c = 0; c < 3; ++c) {
            const double x = (item.pose * mesh.corner(mesh.triangles[t], c)).x();
            from = std::min(from, x);
            to = std::max(to, x);
        }
    }
    Sum all;
    std::vector<Sum> round(sectors), along(sectors);
    std::map<std::tuple<int, int, int>, Sum> patches;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const double j_m2 = heat.j_m2[t];
        if (!std::isfinite(j_m2)) continue;
        const Triangle& triangle = mesh.triangles[t];
        const Vec3 a = mesh.corner(triangle, 0), b = mesh.corner(triangle, 1), c = mesh.corner(triangle, 2);
        const double area = (b - a).cross(c - a).norm() / 2;
        const Vec3 own = (a + b + c) / 3, at = item.pose * own;
        all.add(area, j_m2, own);
        const double turn = std::atan2(at.z(), at.y()) / (2 * std::numbers::pi);
        const auto sector = static_cast<std::size_t>((turn - std::floor(turn)) * sectors);
        round[std::min(sector, sectors - 1)].add(area, j_m2, own);
        const auto stretch = static_cast<std::size_t>((at.x() - from) / (to - from) * sectors);
        along[std::min(stretch, sectors - 1)].add(area, j_m2, own);
        const Vec3 cube = (own / patch_m).array().floor();
        patches[{int(cube.x()), int(cube.y()), int(cube.z())}].add(area, j_m2, own);
    }
    if (!(all.area > 0) || !(all.mean() > 0)) return result;
    result.index = 1 - all.deviation() / all.mean();
    result.index_even_turn = result.index;
    for (const Sum& sum : round) result.round_j_m2.push_back(sum.mean());
    for (const Sum& sum : along) result.along_j_m2.push_back(sum.mean());
    result.along_from_m = from;
    result.along_to_m = to;
    // Slivers of a patch at the edge of a cube tell nothing.
    constexpr double least_share = 0.3;
    double hottest = 0;
    for (const auto& [cube, sum] : patches) {
        if (sum.area < least_share * patch_m * patch_m || sum.mean() <= hottest) continue;
        hottest = sum.mean();
        result.hottest = sum.moment / sum.area;
    }
    if (hottest > 0) result.hottest_over_mean = hottest / all.mean();
    return result;
}

}  // namespace evenspit::cook
