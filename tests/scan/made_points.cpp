// SPDX-License-Identifier: MIT
#include "made_points.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace evenspit::test {

namespace {

struct Sample {
    Vec3 place, normal;
};

std::vector<Sample> samples(const TriangleMesh& mesh, std::size_t count, double noise_m) {
    std::vector<double> until;
    double area = 0;
    for (const Triangle& t : mesh.triangles) {
        const Vec3 a = mesh.corner(t, 0);
        area += (mesh.corner(t, 1) - a).cross(mesh.corner(t, 2) - a).norm() / 2;
        until.push_back(area);
    }
    std::mt19937 dice(3);
    std::uniform_real_distribution<double> uniform;
    std::normal_distribution<double> normal;
    std::vector<Sample> all;
    for (std::size_t i = 0; i < count; ++i) {
        const double where = (double(i) + uniform(dice)) / double(count) * area;
        const auto at = std::size_t(std::lower_bound(until.begin(), until.end(), where) - until.begin());
        const Triangle& t = mesh.triangles[std::min(at, until.size() - 1)];
        double u = uniform(dice), v = uniform(dice);
        if (u + v > 1) {
            u = 1 - u;
            v = 1 - v;
        }
        const Vec3 a = mesh.corner(t, 0), b = mesh.corner(t, 1) - a, c = mesh.corner(t, 2) - a;
        const Vec3 n = b.cross(c).normalized();
        all.push_back({a + u * b + v * c + noise_m * normal(dice) * n, n});
    }
    return all;
}

}  // namespace

std::vector<Vec3> scattered(const TriangleMesh& mesh, std::size_t count, double noise_m) {
    std::vector<Vec3> points;
    for (const Sample& s : samples(mesh, count, noise_m)) points.push_back(s.place);
    return points;
}

scan::Sheet sheet_on(const TriangleMesh& mesh, std::size_t count) {
    double area = 0;
    for (const Triangle& t : mesh.triangles) {
        const Vec3 a = mesh.corner(t, 0);
        area += (mesh.corner(t, 1) - a).cross(mesh.corner(t, 2) - a).norm() / 2;
    }
    scan::Sheet sheet;
    for (const Sample& s : samples(mesh, count, 0)) {
        sheet.positions.push_back(s.place);
        sheet.normals.push_back(s.normal);
        sheet.areas.push_back(area / double(count));
        sheet.invented.push_back(false);
    }
    return sheet;
}

scan::Sheet part_of(const scan::Sheet& whole,
                    const std::function<bool(const Vec3& place, const Vec3& normal)>& seen) {
    scan::Sheet part;
    for (std::size_t s = 0; s < whole.size(); ++s) {
        if (!seen(whole.positions[s], whole.normals[s])) continue;
        part.positions.push_back(whole.positions[s]);
        part.normals.push_back(whole.normals[s]);
        part.areas.push_back(whole.areas[s]);
        part.invented.push_back(whole.invented[s]);
    }
    return part;
}

TriangleMesh roast() {
    TriangleMesh mesh = grid_mesh(144, 96, [](double u, double v) {
        const double t = std::numbers::pi * v, thin = 1 + 0.25 * std::cos(t);
        return Vec3(-0.15 * std::cos(t), 0.09 * thin * std::sin(t) * std::cos(u),
                    0.07 * thin * std::sin(t) * std::sin(u));
    });
    for (Vec3& v : mesh.vertices) {
        const double far = (v - Vec3(0.06, 0.06, 0.04)).norm() / 0.05;
        v += 0.02 * std::exp(-far * far) * v.normalized();
        v.y() += 1.2 * v.x() * v.x();
    }
    return mesh;
}

SimulatedScan roast_scan(const RoastScan& wanted) {
    ScanOptions options;
    options.seed = 4;
    options.rounds = {{0.5, 15, 0, 360, 8}, {0.5, 50, 20, 360, 6}, {0.5, 80, 0, 360, 1}};
    options.camera.noise_m = wanted.noise_m;
    options.camera.flying_share = wanted.flying_share;
    options.surroundings.board_sag_m = wanted.sag_m;
    options.surroundings.clutter = wanted.clutter;
    options.points = wanted.points;
    if (wanted.turned_over) {
        options.seed = 5;
        options.lies = turned_over(Mat3::Identity(), 70);
    }
    return simulate_scan(roast(), options);
}

}  // namespace evenspit::test
