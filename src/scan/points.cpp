// SPDX-License-Identifier: MIT
#include "scan/points.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include "scan/neighbours.h"
#include "scan/stoppable.h"

namespace evenspit::scan {

namespace {

constexpr std::size_t survey_patches = 600;
constexpr std::size_t patch_points = 24;

double middle_value(std::vector<double> values) {
    if (values.empty()) return 0;
    const auto middle = values.begin() + std::ptrdiff_t(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

}  // namespace

double PointSet::total_count() const {
    double sum = 0;
    for (std::size_t i = 0; i < size(); ++i) sum += count(i);
    return sum;
}

PointSet thinned(const PointSet& points, double cell, const StopControl& control) {
    if (points.empty()) return {};
    control.check();
    Box3 box;
    for (const Vec3& p : points.positions) box.extend(p);
    // 21 bits an axis; beyond that the outermost cubes simply grow.
    const auto cube = [&](double x, double least) {
        return std::uint64_t(std::clamp(std::floor((x - least) / cell), 0.0, 2097151.0));
    };
    std::vector<std::pair<std::uint64_t, std::uint32_t>> order(points.size());
    EveryNthCheck now_and_then(control, points_a_look);
    for (std::size_t i = 0; i < points.size(); ++i) {
        now_and_then.step();
        const Vec3& p = points.positions[i];
        const std::uint64_t key = (cube(p.z(), box.min().z()) << 42) | (cube(p.y(), box.min().y()) << 21) |
                                  cube(p.x(), box.min().x());
        order[i] = {key, std::uint32_t(i)};
    }
    stoppable_sort(control, order);
    PointSet thin;
    for (std::size_t first = 0; first < order.size();) {
        Vec3 sum = Vec3::Zero(), normal = Vec3::Zero();
        double weight = 0;
        std::size_t last = first;
        for (; last < order.size() && order[last].first == order[first].first; ++last) {
            now_and_then.step();
            const std::size_t i = order[last].second;
            const double w = points.count(i);
            weight += w;
            sum += w * points.positions[i];
            if (!points.normals.empty()) normal += w * points.normals[i];
        }
        thin.positions.push_back(sum / weight);
        thin.counts.push_back(std::uint32_t(weight));
        if (!points.normals.empty()) {
            // Normals that cancel (both sides of a thin sheet in one cube) leave any one of them.
            const double length = normal.norm();
            thin.normals.push_back(length > 0 ? Vec3(normal / length) : points.normals[order[first].second]);
        }
        first = last;
    }
    return thin;
}

PointSet selected(const PointSet& points, const std::vector<std::size_t>& indices) {
    PointSet chosen;
    chosen.positions.reserve(indices.size());
    if (!points.normals.empty()) chosen.normals.reserve(indices.size());
    if (!points.counts.empty()) chosen.counts.reserve(indices.size());
    for (const std::size_t i : indices) {
        chosen.positions.push_back(points.positions[i]);
        if (!points.normals.empty()) chosen.normals.push_back(points.normals[i]);
        if (!points.counts.empty()) chosen.counts.push_back(points.counts[i]);
    }
    return chosen;
}

double robust_diagonal(const PointSet& points, const StopControl& control) {
    if (points.empty()) return 0;
    Vec3 size = Vec3::Zero();
    std::vector<double> values(points.size());
    for (int k = 0; k < 3; ++k) {
        control.check();
        for (std::size_t i = 0; i < points.size(); ++i) values[i] = points.positions[i][k];
        control.check();
        const auto low = values.begin() + std::ptrdiff_t(0.02 * double(values.size() - 1));
        const auto high = values.begin() + std::ptrdiff_t(0.98 * double(values.size() - 1));
        std::nth_element(values.begin(), low, values.end());
        const double least = *low;
        control.check();
        std::nth_element(values.begin(), high, values.end());
        size[k] = *high - least;
    }
    return size.norm();
}

PlaneFit PlaneSum::fit() const {
    PlaneFit fit;
    fit.weight = weight_;
    const Vec3 mean = first_ / weight_;
    fit.middle = origin_ + mean;
    const Mat3 spread = second_ / weight_ - mean * mean.transpose();
    Eigen::SelfAdjointEigenSolver<Mat3> solver;
    solver.computeDirect(spread);
    fit.normal = solver.eigenvectors().col(0).normalized();
    fit.thickness = std::sqrt(std::max(0.0, solver.eigenvalues()[0]));
    fit.width = std::sqrt(std::max(0.0, solver.eigenvalues()[1]));
    return fit;
}

SurfaceSurvey survey(const PointSet& points, double radius, const StopControl& control) {
    if (points.size() < patch_points) return {};
    const NeighbourGrid grid(points.positions, radius, control);
    std::vector<double> spacings, noises;
    const std::size_t step = std::max<std::size_t>(1, points.size() / survey_patches);
    for (std::size_t i = 0; i < points.size(); i += step) {
        control.check();
        const Vec3 centre = points.positions[i];
        std::vector<std::size_t> patch;
        double reach = radius;
        for (; patch.size() < patch_points && reach < 64 * radius; reach *= std::numbers::sqrt2) {
            patch.clear();
            grid.for_each_within(centre, reach, [&](std::size_t j, double) { patch.push_back(j); });
        }
        reach /= std::numbers::sqrt2;  // what the last look used
        if (patch.size() < patch_points) continue;

        PlaneSum sum(centre);
        double count = 0;
        for (const std::size_t j : patch) {
            sum.add(points.positions[j], points.count(j));
            count += points.count(j);
        }
        const PlaneFit plane = sum.fit();
        const Vec3 u = plane.normal.unitOrthogonal(), v = plane.normal.cross(u);
        using Row = Eigen::Matrix<double, 6, 1>;
        const auto row = [&](const Vec3& p) {
            const Vec3 d = (p - plane.middle) / reach;
            const double x = d.dot(u), y = d.dot(v);
            return Row(1, x, y, x * x, x * y, y * y);
        };
        Eigen::Matrix<double, 6, 6> normal_matrix = Eigen::Matrix<double, 6, 6>::Zero();
        Row right = Row::Zero();
        for (const std::size_t j : patch) {
            const Row r = row(points.positions[j]);
            normal_matrix += r * r.transpose();
            right += (points.positions[j] - plane.middle).dot(plane.normal) * r;
        }
        const Row quadric = normal_matrix.ldlt().solve(right);
        double square = 0;
        for (const std::size_t j : patch) {
            const double off = (points.positions[j] - plane.middle).dot(plane.normal) -
                               quadric.dot(row(points.positions[j]));
            square += off * off;
        }
        spacings.push_back(std::sqrt(std::numbers::pi * reach * reach / count));
        noises.push_back(std::sqrt(square / double(patch.size() - 6)));
    }
    return {middle_value(std::move(spacings)), middle_value(std::move(noises))};
}

}  // namespace evenspit::scan
