// SPDX-License-Identifier: MIT
#include "scan/surface_fit.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <Eigen/Cholesky>

namespace evenspit::scan {

namespace {

constexpr double facing = 0.3;         // least cosine between normals that belong to one surface
constexpr int reweightings = 2;        // after the first fit
constexpr double slope_ridge = 0.002;  // of the sum of weights
constexpr double curvature_ridge = 0.01;
constexpr std::size_t fewest = 6;
constexpr std::size_t samples = 400;  // places where the usual weight is looked up

double square(double x) {
    return x * x;
}

}  // namespace

SurfaceFit::SurfaceFit(PointSet points, const ScanScale& scale, const StopControl& control)
    : points_(std::move(points)),
      radius_(std::max(scale.patch, 2.2 * scale.spacing)),
      band_(3.5 * scale.noise + 1.5 * scale.spacing),
      noise_(scale.noise),
      spacing_(scale.spacing),
      grid_(points_.positions, radius_, control) {
    std::vector<double> sums;
    const std::size_t step = std::max<std::size_t>(1, points_.size() / samples);
    for (std::size_t i = 0; i < points_.size(); i += step) {
        control.check();
        double sum = 0;
        grid_.for_each_within(points_.positions[i], radius_, [&](std::size_t j, double d) {
            if (points_.normals[i].dot(points_.normals[j]) > facing)
                sum += points_.count(j) * square(1 - d / square(radius_));
        });
        sums.push_back(sum);
    }
    if (sums.empty()) return;
    const auto middle = sums.begin() + std::ptrdiff_t(sums.size() / 2);
    std::nth_element(sums.begin(), middle, sums.end());
    usual_ = *middle;
}

SurfaceFit::Result SurfaceFit::at(const Vec3& place, const Vec3& normal) const {
    using Row = Eigen::Matrix<double, 6, 1>;
    struct Near {
        double x, y, height, weight;
        [[nodiscard]] Row row() const { return Row(1, x, y, x * x, x * y, y * y); }
    };
    thread_local std::vector<Near> near;  // kept between calls only to spare allocations
    near.clear();
    const Vec3 u = normal.unitOrthogonal(), v = normal.cross(u);
    double sum = 0;
    Vec2 lean = Vec2::Zero();
    grid_.for_each_within(place, std::hypot(radius_, band_), [&](std::size_t i, double) {
        if (points_.normals[i].dot(normal) < facing) return;
        const Vec3 d = points_.positions[i] - place;
        const double x = d.dot(u) / radius_, y = d.dot(v) / radius_, height = d.dot(normal);
        const double t = 1 - x * x - y * y;
        if (t <= 0 || std::abs(height) > band_) return;
        const double weight = points_.count(i) * t * t;
        near.push_back({x, y, height, weight});
        sum += weight;
        lean += weight * Vec2(x, y);
    });
    Result result;
    if (near.size() < fewest || !(sum > 0)) return result;
    lean /= sum;

    Row quadric = Row::Zero();
    const double width = 4 * noise_ + 0.5 * spacing_;
    for (int step = 0; step <= reweightings; ++step) {
        Eigen::Matrix<double, 6, 6> matrix = Eigen::Matrix<double, 6, 6>::Zero();
        Row right = Row::Zero();
        double squares = 0, weights = 0;
        for (const Near& p : near) {
            const Row row = p.row();
            const double off = p.height - quadric.dot(row);
            const double t = step == 0 ? 0 : off / width;
            if (std::abs(t) >= 1) continue;
            const double weight = p.weight * square(1 - t * t);
            matrix.noalias() += weight * row * row.transpose();
            right += weight * p.height * row;
            squares += weight * off * off;
            weights += weight;
        }
        if (step == reweightings && weights > 0) result.scatter = std::sqrt(squares / weights);
        matrix(0, 0) += 1e-9 * sum;
        for (int k = 1; k < 6; ++k) matrix(k, k) += (k < 3 ? slope_ridge : curvature_ridge) * sum;
        quadric = matrix.ldlt().solve(right);
    }
    result.height = quadric[0];
    result.normal = (normal - (quadric[1] * u + quadric[2] * v) / radius_).normalized();
    result.trust = std::min(1.0, sum / (0.4 * usual_)) * square(std::max(0.0, 1 - 1.6 * lean.norm()));
    return result;
}

}  // namespace evenspit::scan
