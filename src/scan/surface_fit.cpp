// SPDX-License-Identifier: MIT
#include "scan/surface_fit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <limits>
#include <utility>
#include <vector>

#include <Eigen/Cholesky>

#include "units/wide.h"

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

// Points beside a place, column by column, so that several are summed at a time; filled up with points of no
// weight.
struct Nearby {
    std::vector<double> x, y, height, weight;

    void clear() {
        for (std::vector<double>* column : {&x, &y, &height, &weight}) column->clear();
    }
    void add(double at_x, double at_y, double at_height, double of_weight) {
        x.push_back(at_x);
        y.push_back(at_y);
        height.push_back(at_height);
        weight.push_back(of_weight);
    }
    [[nodiscard]] std::size_t size() const { return x.size(); }
};

using Quadric = Eigen::Matrix<double, 6, 1>;  // of 1, x, y, x², xy, y²

// What a fit of a quadric needs of the points, each by its weight and by how near the last quadric it lies.
struct Sums {
    std::array<double, 15> powers{};  // Σ w xⁱ yʲ, i + j ≤ 4, in the order of `power_of`
    std::array<double, 6> heights{};  // Σ w z times each of the quadric's terms
    double squares = 0;               // Σ w (z − quadric)²
};

constexpr std::size_t abreast = 4;
using Row = double __attribute__((vector_size(abreast * sizeof(double))));

// \param width how far off the quadric a point counts (Tukey's biweight), m; infinite: all count in full
// \pre the columns are as long as a whole number of rows
EVENSPIT_WIDE void add_up(Sums& sums, const Nearby& near, const Quadric& quadric, double width) {
    std::array<Row, 15> powers{};
    std::array<Row, 6> heights{};
    Row squares{};
    const double per_width = 1 / width;
    for (std::size_t i = 0; i < near.size(); i += abreast) {
        Row x, y, z, w;
        std::memcpy(&x, near.x.data() + i, sizeof x);
        std::memcpy(&y, near.y.data() + i, sizeof y);
        std::memcpy(&z, near.height.data() + i, sizeof z);
        std::memcpy(&w, near.weight.data() + i, sizeof w);
        const Row xx = x * x, xy = x * y, yy = y * y;
        const Row off = z - (quadric[0] + quadric[1] * x + quadric[2] * y + quadric[3] * xx +
                             quadric[4] * xy + quadric[5] * yy);
        const Row t = off * per_width;
        Row kept = 1 - t * t;
        kept = kept > 0 ? kept : Row{};
        w *= kept * kept;
        const Row wx = w * x, wy = w * y, wxx = w * xx, wxy = w * xy, wyy = w * yy;
        const std::array<Row, 15> terms{w,        wx,       wy,       wxx,      wxy,
                                        wyy,      wxx * x,  wxx * y,  wyy * x,  wyy * y,
                                        wxx * xx, wxx * xy, wxx * yy, wyy * xy, wyy * yy};
        for (std::size_t k = 0; k < terms.size(); ++k) powers[k] += terms[k];
        for (std::size_t k = 0; k < heights.size(); ++k) heights[k] += terms[k] * z;
        squares += w * off * off;
    }
    const auto whole = [](const Row& row) { return (row[0] + row[2]) + (row[1] + row[3]); };
    for (std::size_t k = 0; k < powers.size(); ++k) sums.powers[k] = whole(powers[k]);
    for (std::size_t k = 0; k < heights.size(); ++k) sums.heights[k] = whole(heights[k]);
    sums.squares = whole(squares);
}

// The matrix of the least squares: Σ w of each term of the quadric times each other.
Eigen::Matrix<double, 6, 6> normal_matrix(const Sums& sums) {
    // Which power stands for term i times term j: their places among 1, x, y, x², xy, y², x³, x²y, xy², y³,
    // x⁴, x³y, x²y², xy³, y⁴.
    static constexpr std::array<std::array<std::size_t, 6>, 6> power_of{{{0, 1, 2, 3, 4, 5},
                                                                         {1, 3, 4, 6, 7, 8},
                                                                         {2, 4, 5, 7, 8, 9},
                                                                         {3, 6, 7, 10, 11, 12},
                                                                         {4, 7, 8, 11, 12, 13},
                                                                         {5, 8, 9, 12, 13, 14}}};
    Eigen::Matrix<double, 6, 6> matrix;
    for (std::size_t i = 0; i < 6; ++i) {
        for (std::size_t j = 0; j < 6; ++j)
            matrix(Eigen::Index(i), Eigen::Index(j)) = sums.powers[power_of[i][j]];
    }
    return matrix;
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
    thread_local Nearby near;  // kept between calls only to spare allocations
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
        near.add(x, y, height, weight);
        sum += weight;
        lean += weight * Vec2(x, y);
    });
    Result result;
    if (near.size() < fewest || !(sum > 0)) return result;
    lean /= sum;
    while (near.size() % abreast != 0) near.add(0, 0, 0, 0);

    Quadric quadric = Quadric::Zero();
    const double width = 4 * noise_ + 0.5 * spacing_;
    for (int step = 0; step <= reweightings; ++step) {
        Sums sums;
        add_up(sums, near, quadric, step == 0 ? std::numeric_limits<double>::infinity() : width);
        const double weights = sums.powers[0];
        if (step == reweightings && weights > 0) result.scatter = std::sqrt(sums.squares / weights);
        Eigen::Matrix<double, 6, 6> matrix = normal_matrix(sums);
        matrix(0, 0) += 1e-9 * sum;
        for (int k = 1; k < 6; ++k) matrix(k, k) += (k < 3 ? slope_ridge : curvature_ridge) * sum;
        quadric = matrix.ldlt().solve(Quadric(sums.heights.data()));
    }
    result.height = quadric[0];
    result.normal = (normal - (quadric[1] * u + quadric[2] * v) / radius_).normalized();
    result.trust = std::min(1.0, sum / (0.4 * usual_)) * square(std::max(0.0, 1 - 1.6 * lean.norm()));
    return result;
}

}  // namespace evenspit::scan
