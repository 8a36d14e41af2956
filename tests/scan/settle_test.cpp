// SPDX-License-Identifier: MIT
#include "scan/settle.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "geometry/moments.h"
#include "made_points.h"

namespace evenspit::scan {
namespace {

constexpr double noise = 0.002;

PointSet facing_points(const std::vector<Vec3>& positions) {
    // The roast is convex about its axis: its points face away from it.
    PointSet points{positions, {}, {}};
    for (const Vec3& p : positions) points.normals.push_back(Vec3(0.3 * p.x(), p.y(), p.z()).normalized());
    return points;
}

TEST(Settle, TakesAwayTheBiasOfAWrap) {
    const TriangleMesh truth = test::roast();
    const PointSet points = facing_points(test::scattered(truth, 60000, noise));
    TriangleMesh wrap = truth;
    const std::vector<Vec3> normals = vertex_normals(wrap);
    for (std::size_t v = 0; v < normals.size(); ++v) wrap.vertices[v] += 0.0015 * normals[v];
    const Settled settled = settle(wrap, points, test::sheet_on(truth, 10000),
                                   ScanScale::of(bounds(truth).diagonal().norm(), {0.001, noise}));
    EXPECT_NEAR(settled.offset_before, -0.0015, 2e-4);
    EXPECT_NEAR(settled.offset_after, 0, 1e-4);
    EXPECT_NEAR(settled.scatter, noise, 0.3 * noise);
    const double wanted = volume_moments(truth).amount;
    EXPECT_NEAR(volume_moments(wrap).amount, wanted, 0.006 * wanted) << "1.5 mm all round are 5 %";
    EXPECT_GT(*std::min_element(settled.support.begin(), settled.support.end()), 0.3);
}

TEST(Settle, WhereNothingWasSeenTheInventedDiscsDecide) {
    const TriangleMesh truth = test::roast();
    Sheet sheet = test::sheet_on(truth, 20000);
    std::vector<Vec3> seen;
    for (const Vec3& p : test::scattered(truth, 60000, 0.0005)) {
        if (p.z() > -0.02) seen.push_back(p);
    }
    for (std::size_t s = 0; s < sheet.size(); ++s) sheet.invented[s] = sheet.positions[s].z() <= -0.02;
    TriangleMesh wrap = truth;
    for (Vec3& v : wrap.vertices) v *= 1.01;
    const Settled settled = settle(wrap, facing_points(seen), sheet,
                                   ScanScale::of(bounds(truth).diagonal().norm(), {0.001, 0.0005}));
    EXPECT_NEAR(bounds(wrap).min().z(), bounds(truth).min().z(), 5e-4);
    for (std::size_t v = 0; v < wrap.vertices.size(); ++v) {
        if (wrap.vertices[v].z() < -0.04) {
            EXPECT_EQ(settled.support[v], 0);
        }
        if (wrap.vertices[v].z() > 0.01) {
            EXPECT_GT(settled.support[v], 0.3);
        }
    }
}

TEST(EvenOut, SlidesAlongTheSurface) {
    TriangleMesh mesh = test::ellipsoid_mesh(0.1, 0.1, 0.1, Vec3::Zero(), 96, 64);
    const double before = volume_moments(mesh).amount;
    even_out(mesh, 3);
    EXPECT_NEAR(volume_moments(mesh).amount, before, 0.003 * before);
    for (const Vec3& v : mesh.vertices) EXPECT_NEAR(v.norm(), 0.1, 3e-4);
}

TEST(VertexNormals, LookOutward) {
    const TriangleMesh mesh = test::ellipsoid_mesh(0.1, 0.1, 0.1, Vec3::Zero());
    const std::vector<Vec3> normals = vertex_normals(mesh);
    for (std::size_t v = 0; v < normals.size(); ++v)
        EXPECT_GT(normals[v].dot(mesh.vertices[v].normalized()), 0.99);
}

}  // namespace
}  // namespace evenspit::scan
