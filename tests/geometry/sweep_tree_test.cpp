// SPDX-License-Identifier: MIT
#include "geometry/sweep_tree.h"

#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>

#include <gtest/gtest.h>

#include "geometry/swept.h"
#include "shapes.h"

namespace evenspit {
namespace {

/// To the last bit.
bool same(const std::vector<OutlinePiece>& a, const std::vector<OutlinePiece>& b) {
    return std::equal(
        a.begin(), a.end(), b.begin(), b.end(), [](const OutlinePiece& p, const OutlinePiece& q) {
            return p.x0 == q.x0 && p.r0 == q.r0 && p.x1 == q.x1 && p.r1 == q.r1 && p.part == q.part;
        });
}

/// A roast with a waist and a knob, so that its outline is anything but convex.
TriangleMesh knobbly_mesh() {
    const auto shape = [](double u, double v) {
        const double t = std::numbers::pi * v;
        const double waist = 1 - 0.5 * std::exp(-std::pow((v - 0.5) / 0.08, 2));
        const double knob = 1 + 0.4 * std::exp(-std::pow((v - 0.7) / 0.03, 2) - std::pow((u - 2) / 0.2, 2));
        return Vec3(-0.10 * std::cos(t), 0.06 * waist * knob * std::sin(t) * std::cos(u),
                    0.07 * waist * knob * std::sin(t) * std::sin(u));
    };
    return test::grid_mesh(90, 71, shape);
}

TriangleMesh moved(const TriangleMesh& mesh, const Vec3& by) {
    return transformed(mesh, Pose(Eigen::Translation3d(by)));
}

/// A shell within a shell, two lumps with nothing between them, a tube, a box, a sheet without thickness, and
/// loose triangles of all sizes.
std::vector<TriangleMesh> meshes() {
    std::vector<TriangleMesh> all{knobbly_mesh()};
    const TriangleMesh egg = test::ellipsoid_mesh(0.1, 0.06, 0.03, Vec3::Zero(), 60, 40);
    all.push_back(test::joined(egg, test::turned_over(scaled(egg, 0.9))));
    all.push_back(test::joined(moved(egg, {-0.15, 0.01, 0}), moved(scaled(egg, 0.5), {0.15, 0, 0.02})));
    all.push_back(test::tube_mesh(0.08, 0.2, 0.02, 0.06, 0.02, 0.06));
    all.push_back(test::box_mesh({-0.1, -0.05, -0.03}, {0.1, 0.05, 0.06}));
    all.push_back(test::grid_mesh(
        40, 21, [](double u, double v) { return Vec3(0, 0.1 * v * std::cos(u), 0.1 * v * std::sin(u)); }));
    std::mt19937 random(7);
    std::normal_distribution<double> normal(0, 0.05);
    TriangleMesh loose;
    for (std::int32_t t = 0; t < 300; ++t) {
        const Vec3 at(normal(random), normal(random), normal(random));
        for (int k = 0; k < 3; ++k)
            loose.vertices.push_back(at + std::abs(normal(random)) *
                                              Vec3(normal(random), normal(random), normal(random)) * 20);
        loose.triangles.push_back({3 * t, 3 * t + 1, 3 * t + 2});
    }
    all.push_back(loose);
    return all;
}

TEST(SweepTree, SweepsTheSameOutlineToTheLastBit) {
    std::mt19937 random(11);
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> unit(0, 1);
    for (const TriangleMesh& mesh : meshes()) {
        const SweepTree tree(mesh);
        for (int k = 0; k < 60; ++k) {
            // Some along the rod to the last bit, some a little off it, some across it.
            const double off = k % 3 == 0 ? 0 : k % 3 == 1 ? 0.05 : 3;
            const Vec3 axis = Vec3(normal(random), normal(random), normal(random)).normalized();
            const Vec3 move = 0.01 * (k % 3) * Vec3(normal(random), normal(random), normal(random));
            const Pose pose(Eigen::Translation3d(move) * Eigen::AngleAxisd(off * unit(random), axis));
            const double scale = k % 2 == 0 ? 1 : 0.5 + unit(random),
                         step = std::array{1e-3, 1e-3, 4e-3, 4e-3, 0.05}[k % 5];
            const SweptMesh whole{.mesh = &mesh, .pose = pose, .part = 3, .scale = scale};
            const std::vector<OutlinePiece> expected = sweep({whole}, {}, step).pieces;
            SweptMesh quick = whole;
            quick.tree = &tree;
            EXPECT_TRUE(same(sweep({quick}, {}, step).pieces, expected)) << k;
        }
    }
}

TEST(SweepTree, OfNothingIsEmpty) {
    const SweepTree tree(TriangleMesh{});
    EXPECT_TRUE(tree.pieces(Pose::Identity(), 1, 1e-3, 0).empty());
}

TEST(SweepTree, RefusesWhatIsNotFinite) {
    TriangleMesh mesh = test::box_mesh({-1, -1, -1}, {1, 1, 1});
    mesh.vertices[2].y() = std::numeric_limits<double>::quiet_NaN();
    EXPECT_THROW(SweepTree{mesh}, std::invalid_argument);
    const SweepTree tree(test::box_mesh({-1, -1, -1}, {1, 1, 1}));
    Pose nowhere = Pose::Identity();
    nowhere.translation().x() = std::numeric_limits<double>::infinity();
    EXPECT_THROW((void)tree.pieces(nowhere, 1, 1e-3, 0), std::invalid_argument);
    EXPECT_THROW((void)tree.pieces(Pose::Identity(), 1, 1e-8, 0), std::invalid_argument);
}

}  // namespace
}  // namespace evenspit
