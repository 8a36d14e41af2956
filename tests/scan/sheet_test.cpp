// SPDX-License-Identifier: MIT
#include "scan/sheet.h"

#include <cmath>
#include <numbers>
#include <numeric>

#include <gtest/gtest.h>

#include "made_points.h"

namespace evenspit::scan {
namespace {

constexpr double radius = 0.1;
constexpr double noise = 0.002;

TriangleMesh ball() {
    return test::ellipsoid_mesh(radius, radius, radius, Vec3::Zero(), 96, 64);
}

ScannedSurface sheet_of(const PointSet& points, double noise_m) {
    return make_sheet(points, ScanScale::of(2 * radius * std::sqrt(3.0), {0.001, noise_m}), std::nullopt);
}

TEST(ScanScale, IsFinerThanTheBodyAndCoarserThanItsPoints) {
    const ScanScale dense = ScanScale::of(0.45, {0.0005, 0.001});
    EXPECT_NEAR(dense.spacing, 0.003, 1e-4);
    EXPECT_GE(dense.patch, dense.spacing);
    const ScanScale sparse = ScanScale::of(0.45, {0.01, 0.001});
    EXPECT_GE(sparse.spacing, 0.01);
    EXPECT_GT(ScanScale::of(0.45, {0.0005, 0.004}).patch, dense.patch) << "noise is averaged over more";
}

TEST(MakeSheet, AveragesNoiseOutAndFacesOutward) {
    const PointSet points{test::scattered(ball(), 60000, noise), {}, {}};
    const ScannedSurface surface = sheet_of(points, noise);
    ASSERT_GT(surface.sheet.size(), 1000u);
    double mean = 0, squares = 0;
    std::size_t astray = 0;
    for (std::size_t s = 0; s < surface.sheet.size(); ++s) {
        const Vec3& p = surface.sheet.positions[s];
        const double off = p.norm() - radius;
        mean += off / double(surface.sheet.size());
        squares += off * off / double(surface.sheet.size());
        astray += surface.sheet.normals[s].dot(p.normalized()) < 0.9;
        EXPECT_FALSE(surface.sheet.invented[s]);
    }
    EXPECT_LT(double(astray), 0.01 * double(surface.sheet.size()));
    EXPECT_LT(std::abs(mean), 0.1 * noise) << "no bias: planes alone would cut the corners";
    EXPECT_LT(std::sqrt(squares), 0.3 * noise);
    const double area = std::accumulate(surface.sheet.areas.begin(), surface.sheet.areas.end(), 0.0);
    EXPECT_NEAR(area, 4 * std::numbers::pi * radius * radius, 0.05 * area);
}

TEST(MakeSheet, NormalsThatAllLookInwardAreTurnedOver) {
    PointSet points{test::scattered(ball(), 30000, 0.0005), {}, {}};
    for (const Vec3& p : points.positions) points.normals.push_back(-p.normalized());
    const ScannedSurface surface = sheet_of(points, 0.0005);
    for (std::size_t s = 0; s < surface.sheet.size(); ++s)
        EXPECT_GT(surface.sheet.normals[s].dot(surface.sheet.positions[s]), 0);
}

TEST(Sheet, Appends) {
    Sheet sheet = test::sheet_on(ball(), 10);
    Sheet other = test::sheet_on(ball(), 5);
    other.invented.assign(5, true);
    sheet.append(other);
    EXPECT_EQ(sheet.size(), 15u);
    EXPECT_EQ(sheet.areas.size(), 15u);
    EXPECT_FALSE(sheet.invented[9]);
    EXPECT_TRUE(sheet.invented[10]);
}

}  // namespace
}  // namespace evenspit::scan
