// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include <Eigen/Cholesky>

#include "scan/beside_fit.h"

namespace evenspit::scan {

namespace {

constexpr double upright = 0.985;                           // cosine, 10°
constexpr double wall_from = 0.14, wall_to = 0.84;          // of the height: rims are wider, feet narrower
constexpr double least_height = 0.7, greatest_height = 12;  // in radii
constexpr std::size_t sectors = 24, floors = 5, least_in_bin = 4;
constexpr std::size_t least_sectors = 7;  // that show a wall: 105°
constexpr double wide_in_noises = 4, close_in_noises = 3;
constexpr double most_scatter = 0.06;  // of the radius, beyond the noise: no round thing
constexpr double most_over = 0.08;     // share of its points that may lie over its top: nothing stands on it
constexpr double usual_lean = 0.01;    // σ; cans stand upright
// Errors that neighbouring places share make fewer of them count. Likeliest over scans of known truth
// (tests/scan/beside_table), even seeds.
constexpr double shared_by_bins = 9;
// Errors across the line of sight carry points outward, by σ²/2r; they are some two thirds of those along
// it, as a wall is seen from all sides that face it.
constexpr double across_share = 0.7;

struct Bin {
    Vec3 sum = Vec3::Zero();
    double n = 0, radius = 0, square = 0;
};

using Bins = std::array<Bin, sectors * floors>;
using Vec5 = Eigen::Matrix<double, 5, 1>;
using Mat5 = Eigen::Matrix<double, 5, 5>;

// A can as it stands: where its axis meets the board, how that leans, how wide it is.
struct Stands {
    Vec2 middle, lean;
    double radius = 0;

    [[nodiscard]] Vec2 off(const Vec3& p) const { return p.head<2>() - middle - p.z() * lean; }
};

double share_below(std::vector<double> values, double share) {
    const auto at = std::size_t(share * double(values.size() - 1));
    std::nth_element(values.begin(), values.begin() + std::ptrdiff_t(at), values.end());
    return values[at];
}

Bins binned(const Stands& can, double top, double reach, const std::vector<Vec3>& near) {
    Bins bins;
    for (const Vec3& p : near) {
        const double rise = (p.z() / top - wall_from) / (wall_to - wall_from);
        const Vec2 off = can.off(p);
        const double r = off.norm();
        if (!(rise >= 0 && rise < 1) || std::abs(r - can.radius) > reach) continue;
        const double turn = std::atan2(off.y(), off.x()) / (2 * std::numbers::pi) + 0.5;
        const std::size_t sector = std::min(sectors - 1, std::size_t(turn * double(sectors)));
        Bin& bin = bins[sector * floors + std::size_t(rise * double(floors))];
        bin.sum += p;
        bin.n += 1;
        bin.radius += r;
        bin.square += (r - can.radius) * (r - can.radius);
    }
    return bins;
}

// One step of least squares on the means of the bins. Returns σ of the radius.
double step(Stands& can, const Bins& bins, double noise) {
    Mat5 matrix = Mat5::Zero();
    Vec5 right = Vec5::Zero();
    struct Row {
        Vec5 slope;
        double miss = 0, weight = 0;
    };
    std::vector<Row> rows;
    for (const Bin& bin : bins) {
        if (bin.n < double(least_in_bin)) continue;
        const Vec3 middle = bin.sum / bin.n;
        const Vec2 u = can.off(middle).normalized();
        Row row;
        row.slope << -u.x(), -u.y(), -u.x() * middle.z(), -u.y() * middle.z(), -1;
        row.miss = bin.radius / bin.n - can.radius;
        row.weight = bin.n / (bin.n + 2 * double(least_in_bin));
        matrix += row.weight * row.slope * row.slope.transpose();
        right -= row.weight * row.miss * row.slope;
        rows.push_back(row);
    }
    const double leans = noise * noise / double(least_in_bin) / (usual_lean * usual_lean);
    matrix(2, 2) += leans;
    matrix(3, 3) += leans;
    right[2] -= leans * can.lean.x();
    right[3] -= leans * can.lean.y();
    const Eigen::LDLT<Mat5> solver(matrix);
    const Vec5 move = solver.solve(right);
    can.middle += move.head<2>();
    can.lean += move.segment<2>(2);
    can.radius += move[4];
    double squares = 0, weights = 0;
    for (const Row& row : rows) {
        const double left = row.miss + row.slope.dot(move);
        squares += row.weight * left * left;
        weights += row.weight;
    }
    const double scatter = squares / std::max(1.0, weights - 5) * shared_by_bins;
    return std::sqrt(scatter * std::max(0.0, solver.solve(Mat5::Identity())(4, 4)));
}

std::size_t sectors_with_wall(const Bins& bins) {
    std::size_t seen = 0;
    for (std::size_t s = 0; s < sectors; ++s) {
        std::size_t filled = 0;
        for (std::size_t f = 0; f < floors; ++f) filled += bins[s * floors + f].n >= double(least_in_bin);
        seen += filled >= 2;
    }
    return seen;
}

}  // namespace

BesideTrial try_can(const FoundShape& shape, const OnFlatBoard& scene) {
    if (!shape.cylinder) return {};
    const Vec3 axis = shape.direction.z() < 0 ? Vec3(-shape.direction) : shape.direction;
    if (axis.z() < upright) return {std::nullopt, "a round thing that lies or leans"};
    Stands can;
    can.lean = axis.head<2>() / axis.z();
    can.middle = shape.point.head<2>() - shape.point.z() * can.lean;
    can.radius = shape.radius;
    const double wide = std::min(wide_in_noises * scene.noise, 0.3 * can.radius);

    std::vector<Vec3> near;
    std::vector<double> heights;
    for (const Vec3& p : scene.standing) {
        const double r = can.off(p).norm();
        if (r > can.radius + 2 * wide) continue;
        near.push_back(p);
        if (std::abs(r - can.radius) < wide) heights.push_back(p.z());
    }
    if (heights.size() < sectors * least_in_bin) return {};
    const double top = share_below(heights, 0.97), low = share_below(heights, 0.03);
    if (top < least_height * can.radius || top > greatest_height * can.radius || low > 0.35 * top) return {};

    double sigma = 0;
    for (int round = 0; round < 10; ++round) {
        const double reach = round < 4 ? wide : std::min(wide, close_in_noises * scene.noise);
        sigma = step(can, binned(can, top, reach, near), scene.noise);
        if (!(can.radius > 0) || std::abs(can.radius / shape.radius - 1) > 0.3) return {};
    }
    const Bins bins = binned(can, top, wide, near);
    if (sectors_with_wall(bins) < least_sectors)
        return {std::nullopt, "a round thing of which too little was seen"};
    double n = 0, squares = 0;
    for (const Bin& bin : bins) {
        n += bin.n;
        squares += bin.square;
    }
    const double scatter = std::sqrt(squares / n);
    if (scatter > 2 * scene.noise + most_scatter * can.radius) return {};
    double over = 0, inside = 0;
    for (const Vec3& p : near) {
        const double r = can.off(p).norm();
        if (r > can.radius) continue;
        over += p.z() > top + wide;
        inside += p.z() < wall_to * top && r < can.radius - 2 * wide;
    }
    if (over > most_over * n || inside > most_over * n)
        return {std::nullopt, "a round thing with something on it or in it"};
    can.radius -= across_share * scatter * scatter / (2 * can.radius);

    FoundBeside found;
    found.thing.kind = BesideThing::Kind::can;
    found.size = 2 * can.radius;
    found.fit_sigma = sigma / can.radius;
    found.middle = can.middle;
    found.lean = can.lean;
    found.half = Vec2::Constant(can.radius);
    found.top = top;
    found.points = std::size_t(n);
    return {found, {}};
}

}  // namespace evenspit::scan
