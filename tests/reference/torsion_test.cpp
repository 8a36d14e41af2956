// SPDX-License-Identifier: MIT
// Torsion of square and hexagonal bars, solved again: Prandtl's stress function ∇²φ = −2, φ = 0 on the rim
// (Timoshenko and Goodier, Theory of Elasticity, §107; from memory), by linear finite elements on ever finer
// lattices, extrapolated. K = 2 ∫φ dA, and the torsion modulus is K over the steepest slope of φ, which is at
// the middle of a side.
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>
#include <vector>

#include <Eigen/Dense>
#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>
#include <gtest/gtest.h>

#include "geometry/types.h"
#include "rig/rod.h"

namespace evenspit {
namespace {

using std::numbers::sqrt3;

/// A triangulated section whose nodes include a line from the middle of a side inward.
struct SectionMesh {
    std::vector<Vec2> nodes;
    std::vector<bool> on_rim;
    std::vector<std::array<int, 3>> triangles;
    std::vector<int> inward;  ///< nodes from the middle of a side along its normal, evenly spaced
};

/// φ at the nodes.
Eigen::VectorXd stress_function(const SectionMesh& mesh) {
    std::vector<int> unknown(mesh.nodes.size(), -1);
    int count = 0;
    for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
        if (!mesh.on_rim[i]) unknown[i] = count++;
    }
    std::vector<Eigen::Triplet<double>> entries;
    Eigen::VectorXd load = Eigen::VectorXd::Zero(count);
    for (const auto& t : mesh.triangles) {
        std::array<Vec2, 3> p;
        for (std::size_t k = 0; k < 3; ++k) p[k] = mesh.nodes[static_cast<std::size_t>(t[k])];
        const Vec2 u = p[1] - p[0], v = p[2] - p[0];
        const double twice_area = u.x() * v.y() - u.y() * v.x();
        std::array<Vec2, 3> gradient;  // times twice the area
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec2 opposite = p[(k + 2) % 3] - p[(k + 1) % 3];
            gradient[k] = {-opposite.y(), opposite.x()};
        }
        for (std::size_t a = 0; a < 3; ++a) {
            const int row = unknown[static_cast<std::size_t>(t[a])];
            if (row < 0) continue;
            load[row] += 2 * twice_area / 6;
            for (std::size_t b = 0; b < 3; ++b) {
                const int column = unknown[static_cast<std::size_t>(t[b])];
                if (column < 0) continue;
                entries.emplace_back(row, column, gradient[a].dot(gradient[b]) / (2 * twice_area));
            }
        }
    }
    Eigen::SparseMatrix<double> stiffness(count, count);
    stiffness.setFromTriplets(entries.begin(), entries.end());
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(stiffness);
    const Eigen::VectorXd solved = solver.solve(load);
    Eigen::VectorXd phi = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(mesh.nodes.size()));
    for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
        if (unknown[i] >= 0) phi[static_cast<Eigen::Index>(i)] = solved[unknown[i]];
    }
    return phi;
}

double torsion_constant(const SectionMesh& mesh, const Eigen::VectorXd& phi) {
    double twice_integral = 0;
    for (const auto& t : mesh.triangles) {
        const Vec2 u =
            mesh.nodes[static_cast<std::size_t>(t[1])] - mesh.nodes[static_cast<std::size_t>(t[0])];
        const Vec2 v =
            mesh.nodes[static_cast<std::size_t>(t[2])] - mesh.nodes[static_cast<std::size_t>(t[0])];
        twice_integral += (u.x() * v.y() - u.y() * v.x()) * (phi[t[0]] + phi[t[1]] + phi[t[2]]) / 3;
    }
    return twice_integral;
}

/// Slope of φ across the rim: derivative at 0 of the polynomial through the first nodes of the inward line.
double rim_slope(const SectionMesh& mesh, const Eigen::VectorXd& phi) {
    constexpr Eigen::Index points = 7;
    const double step = (mesh.nodes[static_cast<std::size_t>(mesh.inward[1])] -
                         mesh.nodes[static_cast<std::size_t>(mesh.inward[0])])
                            .norm();
    Eigen::Matrix<double, points, points> powers;
    Eigen::Matrix<double, points, 1> values;
    for (Eigen::Index i = 0; i < points; ++i) {
        for (Eigen::Index k = 0; k < points; ++k) {
            powers(i, k) = std::pow(static_cast<double>(i), static_cast<double>(k));
        }
        values[i] = phi[mesh.inward[static_cast<std::size_t>(i)]];
    }
    return powers.fullPivLu().solve(values)[1] / step;
}

/// Unit square, n by n cells, n even.
SectionMesh square_section(int n) {
    SectionMesh mesh;
    const auto at = [n](int i, int j) { return i + j * (n + 1); };
    for (int j = 0; j <= n; ++j) {
        for (int i = 0; i <= n; ++i) {
            mesh.nodes.emplace_back(static_cast<double>(i) / n, static_cast<double>(j) / n);
            mesh.on_rim.push_back(i == 0 || j == 0 || i == n || j == n);
        }
    }
    for (int j = 0; j < n; ++j) {
        for (int i = 0; i < n; ++i) {
            mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    }
    for (int j = 0; j <= n / 2; ++j) mesh.inward.push_back(at(n / 2, j));
    return mesh;
}

/// Regular hexagon, 1 across flats, each side cut into n, n even: a lattice of equilateral triangles.
SectionMesh hexagon_section(int n) {
    SectionMesh mesh;
    const double h = 1 / (sqrt3 * n);
    std::map<std::pair<int, int>, int> index;  // of lattice point p (1, 0) h + q (½, √3/2) h
    for (int q = -n; q <= n; ++q) {
        for (int p = -n; p <= n; ++p) {
            if (std::abs(p + q) > n) continue;
            index[{p, q}] = static_cast<int>(mesh.nodes.size());
            mesh.nodes.emplace_back(h * (p + q / 2.0), h * sqrt3 / 2 * q);
            mesh.on_rim.push_back(std::max({std::abs(p), std::abs(q), std::abs(p + q)}) == n);
        }
    }
    for (const auto& [place, i] : index) {
        const auto [p, q] = place;
        const auto right = index.find({p + 1, q}), up = index.find({p, q + 1}),
                   left = index.find({p - 1, q + 1});
        if (right != index.end() && up != index.end())
            mesh.triangles.push_back({i, right->second, up->second});
        if (left != index.end() && up != index.end()) mesh.triangles.push_back({i, up->second, left->second});
    }
    // The middle of the lower side is p = n/2, q = −n; two rows up and one to the left is straight inward.
    for (int k = 0; k <= n / 2; ++k) mesh.inward.push_back(index.at({n / 2 - k, -n + 2 * k}));
    return mesh;
}

/// Takes the errors h^p, for each p in turn, out of values computed at h, h/2, h/4 …
double extrapolated(std::vector<double> values, const std::vector<double>& powers) {
    for (const double p : powers) {
        const double gain = std::pow(2.0, p);
        for (std::size_t i = 0; i + 1 < values.size(); ++i) {
            values[i] = (gain * values[i + 1] - values[i]) / (gain - 1);
        }
        values.pop_back();
    }
    return values.back();
}

/// Torsion constant and steepest slope at lattices of 32, 64, 128 and 256 cells a side.
struct Solutions {
    std::vector<double> constants, slopes;
};

Solutions solutions(SectionMesh (*section)(int)) {
    Solutions all;
    for (int n = 32; n <= 256; n *= 2) {
        const SectionMesh mesh = section(n);
        const Eigen::VectorXd phi = stress_function(mesh);
        all.constants.push_back(torsion_constant(mesh, phi));
        all.slopes.push_back(rim_slope(mesh, phi));
    }
    return all;
}

}  // namespace

// The corners leave an error h⁴ log h: taking h⁴ out twice removes it.
TEST(Torsion, SquareBarAgreesWithFiniteElements) {
    const SectionProperties unit = section_properties(Section::square, 1);
    const Solutions solved = solutions(square_section);
    const double constant = extrapolated(solved.constants, {2, 4, 4});
    const double modulus = constant / extrapolated(solved.slopes, {2, 4, 4});
    EXPECT_NEAR(unit.torsion_constant_m4 / constant, 1, 1e-10);
    EXPECT_NEAR(unit.torsion_modulus_m3 / modulus, 1, 1e-8);
}

// On this lattice linear elements leave no error of second order at the nodes; the corners leave one of
// third.
TEST(Torsion, HexagonalBarAgreesWithFiniteElements) {
    const SectionProperties unit = section_properties(Section::hexagon, 1);
    const Solutions solved = solutions(hexagon_section);
    const double constant = extrapolated(solved.constants, {2, 3, 4});
    const double modulus = constant / extrapolated(solved.slopes, {3, 4});
    EXPECT_NEAR(unit.torsion_constant_m4 / constant, 1, 1e-9);
    EXPECT_NEAR(unit.torsion_modulus_m3 / modulus, 1, 1e-7);
}

// Saint-Venant's series, first figures as tabulated by Timoshenko and Goodier, §109 (from memory): K = 0.1406
// s⁴, torsion modulus 0.208 s³.
TEST(Torsion, SquareBarAgreesWithTabulatedSeries) {
    const SectionProperties unit = section_properties(Section::square, 1);
    EXPECT_NEAR(unit.torsion_constant_m4, 0.1406, 0.5e-4);
    EXPECT_NEAR(unit.torsion_modulus_m3, 0.208, 0.5e-3);
    EXPECT_NEAR(unit.torsion_constant_m4, 0.140577, 0.5e-6);
    EXPECT_NEAR(unit.torsion_modulus_m3, 0.208166, 1e-6);
}

// Roark's Formulas for Stress and Strain, 6th edition, table 20, row 3 (from memory): K = 2.25 a⁴ with a half
// the side, a coefficient of three digits.
TEST(Torsion, SquareBarAgreesWithRoarkWithinItsRounding) {
    const SectionProperties unit = section_properties(Section::square, 1);
    EXPECT_NEAR(unit.torsion_constant_m4 * 16, 2.25, 0.5e-2);
}

}  // namespace evenspit
