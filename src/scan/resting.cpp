// SPDX-License-Identifier: MIT
#include "scan/resting.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>

namespace evenspit::scan {

namespace {

constexpr std::size_t resting_ways = 24;  // round the body's middle
constexpr double strays = 0.02;           // of what is seen one way: lower are strays
constexpr double half_of_ways = 0.5;
constexpr double well_inside = 0.75, near_middle = 0.35;  // of the way out to the body's edge
constexpr std::size_t least_seen = 4;                     // places, one way
constexpr double flank_from = 0.05, flank_to = 0.35;      // of the body's height

std::size_t way_of(const Vec2& off) {
    const double turns = std::atan2(off.y(), off.x()) / (2 * std::numbers::pi) + 0.5;
    return std::min(resting_ways - 1, std::size_t(turns * double(resting_ways)));
}

double value_of_share(std::vector<double>& values, double share) {
    const auto at = values.begin() + std::ptrdiff_t(share * double(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

double least_width(const std::vector<Vec3>& body) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t way = 0; way < resting_ways / 2; ++way) {
        const double angle = 2 * std::numbers::pi * double(way) / double(resting_ways);
        const Vec2 along(std::cos(angle), std::sin(angle));
        double low = std::numeric_limits<double>::infinity(), high = -low;
        for (const Vec3& p : body) {
            low = std::min(low, along.dot(p.head<2>()));
            high = std::max(high, along.dot(p.head<2>()));
        }
        least = std::min(least, high - low);
    }
    return least;
}

// The mean over all ways, so that a flank that was seen better counts no more.
double low_flanks(const std::vector<Vec3>& body, const std::vector<Vec3>& normals, const Vec2& middle,
                  double top) {
    std::array<double, resting_ways> sum{}, count{};
    for (std::size_t k = 0; k < body.size(); ++k) {
        if (body[k].z() < flank_from * top || body[k].z() > flank_to * top) continue;
        const std::size_t way = way_of(body[k].head<2>() - middle);
        sum[way] += normals[k].z();
        count[way] += 1;
    }
    double all = 0, ways = 0;
    for (std::size_t way = 0; way < resting_ways; ++way) {
        if (count[way] < double(least_seen)) continue;
        all += sum[way] / count[way];
        ++ways;
    }
    return ways > 0 ? all / ways : -1;
}

}  // namespace

Resting how_it_rests(const std::vector<Vec3>& body, const std::vector<Vec3>& normals,
                     const std::vector<Vec3>& board) {
    Resting resting;
    if (body.empty()) return resting;
    Box3 box;
    for (const Vec3& p : body) box.extend(p);
    const Vec2 middle = box.center().head<2>();
    std::array<std::vector<double>, resting_ways> heights;
    std::array<double, resting_ways> reach{};
    for (const Vec3& p : body) {
        const Vec2 off = p.head<2>() - middle;
        heights[way_of(off)].push_back(p.z());
        reach[way_of(off)] = std::max(reach[way_of(off)], off.norm());
    }
    const double top = std::max(1e-9, box.max().z());
    resting.height_to_width = top / std::max(1e-9, least_width(body));
    resting.low_flanks = low_flanks(body, normals, middle, top);
    std::vector<double> lowest;
    for (std::vector<double>& way : heights) {
        if (!way.empty()) lowest.push_back(value_of_share(way, strays));
    }
    resting.hidden_below_m = std::max(0.0, value_of_share(lowest, half_of_ways));
    resting.hidden_share = std::min(1.0, resting.hidden_below_m / top);
    std::array<std::size_t, resting_ways> inside{}, in_middle{};
    for (const Vec3& p : board) {
        const Vec2 off = p.head<2>() - middle;
        const std::size_t way = way_of(off);
        inside[way] += off.norm() < well_inside * reach[way];
        in_middle[way] += off.norm() < near_middle * reach[way];
    }
    const auto share = [](const std::array<std::size_t, resting_ways>& seen) {
        return double(
                   std::count_if(seen.begin(), seen.end(), [](std::size_t n) { return n >= least_seen; })) /
               double(resting_ways);
    };
    resting.air_beneath = share(inside);
    resting.air_in_middle = share(in_middle);
    return resting;
}

}  // namespace evenspit::scan
