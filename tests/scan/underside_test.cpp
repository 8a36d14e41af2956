// SPDX-License-Identifier: MIT
#include "scan/underside.h"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "made_points.h"

namespace evenspit::scan {
namespace {

constexpr double cut = 0.005;

// The discs of a body over the level board z = 0 that `seen` lets through.
template <class Seen>
Sheet seen_of(const TriangleMesh& mesh, const Seen& seen) {
    return test::part_of(test::sheet_on(mesh, 20000), seen);
}

ScanScale fine() {
    return {.spacing = 0.003, .patch = 0.006, .noise = 0.001};
}

TEST(CloseUnderside, AWallThatTheBoardCutGoesStraightDownToIt) {
    // A loaf with upright walls.
    const TriangleMesh loaf = test::box_mesh({-0.1, -0.06, 0}, {0.1, 0.06, 0.08});
    const Sheet sheet = seen_of(loaf, [](const Vec3& p, const Vec3&) { return p.z() > cut; });
    const Underside closed = close_underside(sheet, Board{}, {}, cut, fine(), {});
    EXPECT_GT(closed.wall_share, 0.9);
    double flat = 0;
    for (std::size_t s = 0; s < closed.sheet.size(); ++s) {
        EXPECT_TRUE(closed.sheet.invented[s]);
        EXPECT_LT(closed.sheet.positions[s].z(), cut + 0.004);
        if (closed.sheet.normals[s].z() < -0.9) flat += closed.sheet.areas[s];
    }
    EXPECT_NEAR(flat, 0.2 * 0.12, 0.1 * 0.2 * 0.12);
}

TEST(CloseUnderside, FollowsAGuessThatComesNearWhatWasSeen) {
    const double r = 0.07;
    const TriangleMesh ball = test::ellipsoid_mesh(r, r, r, Vec3(0, 0, r), 96, 64);
    const Sheet sheet = seen_of(ball, [&](const Vec3& p, const Vec3&) { return p.z() > 0.025; });
    const SkinGuess right{"ball", [&](const Vec3& p) { return (p - Vec3(0, 0, r)).norm() - r; }, {}, {}};
    const SkinGuess wrong{"far", [](const Vec3&) { return 0.02; }, {}, {}};
    const Underside closed = close_underside(sheet, Board{}, {}, cut, fine(), {wrong, right});
    EXPECT_EQ(closed.guess, "ball");
    EXPECT_LT(closed.guess_error, 1e-3);
    EXPECT_LT(closed.wall_share, 0.1);
    double squares = 0;
    for (const Vec3& p : closed.sheet.positions) {
        EXPECT_GE(p.z(), -1e-6);
        squares += std::pow((p - Vec3(0, 0, r)).norm() - r, 2) / double(closed.sheet.size());
    }
    EXPECT_LT(std::sqrt(squares), 0.0015);
}

TEST(CloseUnderside, WithoutAGuessThatFitsAPlateCarriesOnAboveTheBoard) {
    const double r = 0.07;
    const TriangleMesh ball = test::ellipsoid_mesh(r, r, r, Vec3(0, 0, r), 96, 64);
    const Sheet sheet = seen_of(ball, [](const Vec3& p, const Vec3&) { return p.z() > 0.02; });
    const SkinGuess none{
        "nothing", [](const Vec3&) { return std::numeric_limits<double>::infinity(); }, {}, {}};
    const Underside closed = close_underside(sheet, Board{}, {}, cut, fine(), {none});
    EXPECT_EQ(closed.guess, "");
    ASSERT_GT(closed.sheet.size(), 100u);
    for (const Vec3& p : closed.sheet.positions) {
        EXPECT_GE(p.z(), -1e-6);
        EXPECT_LT(p.z(), p.head<2>().norm() < 0.045 ? 0.025 : r);
    }
}

TEST(CloseUnderside, AnOpeningThatShowsTheBoardStaysOpen) {
    // A ring lying on the board, its hole wide.
    const TriangleMesh ring = [] {
        TriangleMesh mesh;
        constexpr int n = 96, m = 48;
        for (int i = 0; i < n; ++i) {
            for (int j = 0; j < m; ++j) {
                const double u = 2 * M_PI * i / n, v = 2 * M_PI * j / m, w = 0.1 + 0.03 * std::cos(v);
                mesh.vertices.emplace_back(w * std::cos(u), w * std::sin(u), 0.03 + 0.03 * std::sin(v));
                const auto at = [](int a, int b) { return std::int32_t((a % n) * m + b % m); };
                mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
                mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
            }
        }
        return mesh;
    }();
    const Sheet sheet = seen_of(ring, [](const Vec3& p, const Vec3&) { return p.z() > 0.012; });
    PointSet board;
    for (double x = -0.06; x < 0.06; x += 0.002) {
        for (double y = -0.06; y < 0.06; y += 0.002) board.positions.emplace_back(x, y, 0);
    }
    const auto in_the_hole = [](const Underside& closed) {
        std::size_t count = 0;
        for (const Vec3& p : closed.sheet.positions) count += p.head<2>().norm() < 0.05;
        return count;
    };
    EXPECT_EQ(in_the_hole(close_underside(sheet, Board{}, board, cut, fine(), {})), 0u);
    EXPECT_GT(in_the_hole(close_underside(sheet, Board{}, {}, cut, fine(), {})), 100u);
}

TEST(CloseUnderside, NothingToCloseOfNothing) {
    EXPECT_EQ(close_underside({}, Board{}, {}, cut, fine(), {}).sheet.size(), 0u);
}

}  // namespace
}  // namespace evenspit::scan
