// SPDX-License-Identifier: MIT
#include "scan/multigrid.h"

#include <cmath>
#include <random>

#include <gtest/gtest.h>

namespace evenspit::scan {
namespace {

GridField random_field(const std::array<int, 3>& n, unsigned seed) {
    std::mt19937 dice(seed);
    std::normal_distribution<float> normal;
    GridField field(Vec3::Zero(), 1, n);
    for (int k = 0; k < n[2]; ++k) {
        for (int j = 0; j < n[1]; ++j) {
            for (int i = 0; i < n[0]; ++i) field.values[field.index(i, j, k)] = normal(dice);
        }
    }
    return field;
}

// (6 u − Σ neighbours) + d u
GridField apply(const GridField& u, const GridField& d) {
    GridField y = u;
    for (int k = 0; k < u.n[2]; ++k) {
        for (int j = 0; j < u.n[1]; ++j) {
            for (int i = 0; i < u.n[0]; ++i) {
                y.values[u.index(i, j, k)] = (6 + d.at(i, j, k)) * u.at(i, j, k) - u.at(i - 1, j, k) -
                                             u.at(i + 1, j, k) - u.at(i, j - 1, k) - u.at(i, j + 1, k) -
                                             u.at(i, j, k - 1) - u.at(i, j, k + 1);
            }
        }
    }
    return y;
}

double dot(const GridField& a, const GridField& b) {
    double sum = 0;
    for (std::size_t i = 0; i < a.values.size(); ++i) sum += double(a.values[i]) * double(b.values[i]);
    return sum;
}

TEST(Multigrid, SizesHalve) {
    for (int least = 1; least < 200; ++least) {
        const int n = multigrid_size(least, 4);
        EXPECT_GE(n, least);
        EXPECT_EQ((n + 1) % 16, 0);
        EXPECT_LT(n, least + 16);
    }
}

TEST(Multigrid, OneCycleTakesMostOfTheErrorAway) {
    const std::array<int, 3> n{31, 47, 31};
    const GridField blank(Vec3::Zero(), 1, n);
    const GridField truth = random_field(n, 1);
    // A smooth truth: the hard part for relaxation alone.
    GridField smooth = truth;
    for (int k = 0; k < n[2]; ++k) {
        for (int j = 0; j < n[1]; ++j) {
            for (int i = 0; i < n[0]; ++i) {
                smooth.values[smooth.index(i, j, k)] =
                    float(std::sin(M_PI * (i + 1) / 32.0) * std::sin(M_PI * (j + 1) / 48.0) *
                          std::sin(2 * M_PI * (k + 1) / 32.0));
            }
        }
    }
    for (const GridField& u : {truth, smooth}) {
        GridField solution = blank;
        MultigridCycle(blank, 4).apply(apply(u, blank), solution);
        GridField error = u;
        for (std::size_t i = 0; i < u.values.size(); ++i) error.values[i] -= solution.values[i];
        EXPECT_LT(std::sqrt(dot(error, error) / dot(u, u)), 0.25);
    }
}

TEST(Multigrid, CycleIsSymmetricSoThatItMayPrecondition) {
    const std::array<int, 3> n{15, 31, 15};
    GridField diagonal = random_field(n, 3);
    for (float& d : diagonal.values) d = d > 1 ? d : 0;
    MultigridCycle cycle(diagonal, 3);
    const GridField a = random_field(n, 4), b = random_field(n, 5);
    GridField ma = a, mb = b;
    cycle.apply(a, ma);
    cycle.apply(b, mb);
    EXPECT_NEAR(dot(ma, b), dot(a, mb), 1e-4 * std::sqrt(dot(ma, ma) * dot(b, b)));
    EXPECT_GT(dot(ma, a), 0);
}

}  // namespace
}  // namespace evenspit::scan
