// SPDX-License-Identifier: MIT
#include "roast/view_formulas.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "roast/view_cooker.h"
#include "roast/view_directions.h"
#include "scenes.h"

namespace evenspit {
namespace {

// J. R. Howell, "A Catalog of Radiation Heat Transfer Configuration Factors", B-3, B-4, C-11, C-41;
// Incropera, "Fundamentals of Heat and Mass Transfer", table 13.1, for strip and cylinder. The sphere sees a
// sixth of a cube about it through each face, a quarter of that through each quarter of a face.
TEST(ViewFormulas, GiveWhatTheCataloguesPrint) {
    EXPECT_NEAR(view_to_parallel_rectangle(1, 1), 0.13853, 5e-6);
    EXPECT_NEAR(view_to_upright_rectangle(1, 1), 0.05573, 5e-6);
    EXPECT_DOUBLE_EQ(view_to_disc(1), 0.5);
    EXPECT_NEAR(view_between_rectangles(1, 1), 0.199825, 5e-7);
    EXPECT_NEAR(view_between_discs(1. / 3, 1. / 3), (11 - std::sqrt(117)) / 2, 1e-12);
    EXPECT_NEAR(view_from_sphere_to_rectangle(1, 1), 1. / 24, 1e-15);
    // r / (s2 − s1) (atan(s2/L) − atan(s1/L)) = 0.26180 from the strip; the other way round 0.25 of it.
    EXPECT_NEAR(view_from_cylinder_to_strip(-1, 1), 0.25, 1e-15);
}

TEST(ViewFormulas, ReachTheirEnds) {
    EXPECT_NEAR(view_to_parallel_rectangle(1e9, 1e9), 0.25, 1e-9) << "a quarter of an endless plane";
    EXPECT_NEAR(view_to_upright_rectangle(1e9, 1e9), 0.25, 1e-9);
    EXPECT_NEAR(view_between_rectangles(1e5, 1e5), 1, 1e-4);
    EXPECT_NEAR(view_to_disc(1e9), 1, 1e-9);
    EXPECT_NEAR(view_to_disc(1, std::numbers::pi / 3), 0.25, 1e-15);
    EXPECT_DOUBLE_EQ(view_to_plane(0), 1);
    EXPECT_NEAR(view_to_plane(std::numbers::pi), 0, 1e-15);
}

TEST(ViewFormulas, DiscsGiveEachOtherAsMuch) {
    // A1 F12 = A2 F21.
    EXPECT_NEAR(1.5 * 1.5 * view_between_discs(1.5, 0.4), 0.4 * 0.4 * view_between_discs(0.4, 1.5), 1e-12);
}

// A flat sheet of a cooker, as two triangles.
CookerSurface sheet(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    TriangleMesh mesh{{a, b, c, d}, {{0, 1, 2}, {0, 2, 3}}};
    return test::surface("sheet", MeshShape{std::make_shared<const TriangleMesh>(std::move(mesh))});
}

// The share of a surface in what an element at a place sees.
double seen(const CookerSurface& surface, const Vec3& place, const Vec3& normal) {
    const CookerSight sight(Cooker{"", {surface}});
    constexpr std::uint32_t rays = 1u << 16;
    const EvenPoints points(7);
    std::uint32_t met = 0;
    for (std::uint32_t n = 0; n < rays; ++n) {
        const auto p = points.point(n);
        met += sight.first_met(place, cosine_direction(normal, p[0], p[1])) == 0 ? 1 : 0;
    }
    return double(met) / rays;
}

// 65,536 plain draws would be off by 0.0014 (a share of 0.14); these are evener.
constexpr double sampling = 5e-4;

TEST(ViewRays, AgreeWithFormulasForAnElement) {
    for (const Vec3& turn : {Vec3(0, 0, 0), Vec3(0.3, -1.1, 2), Vec3(2, 0.4, -0.8)}) {
        const Mat3 r =
            Eigen::AngleAxisd(turn.norm(), turn.norm() > 0 ? turn.normalized() : Vec3(Vec3::UnitX()))
                .toRotationMatrix();
        const Vec3 place(0.1, 0.2, 0.3);
        const auto at = [&](double x, double y, double z) { return Vec3(place + r * Vec3(x, y, z)); };
        EXPECT_NEAR(seen(sheet(at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1)), place, r.col(2)),
                    view_to_parallel_rectangle(1, 1), sampling);
        EXPECT_NEAR(seen(sheet(at(0, 0, .5), at(2, 0, .5), at(2, .4, .5), at(0, .4, .5)), place, r.col(2)),
                    view_to_parallel_rectangle(4, 0.8), sampling);
        EXPECT_NEAR(seen(sheet(at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1)), place, r.col(2)),
                    view_to_upright_rectangle(1, 1), sampling);
        EXPECT_NEAR(seen(sheet(at(.5, 0, 0), at(.5, 2, 0), at(.5, 2, 1), at(.5, 0, 1)), place, r.col(2)),
                    view_to_upright_rectangle(4, 2), sampling);
    }
}

TEST(ViewRays, AgreeWithFormulasForDiscs) {
    const CookerSurface disc =
        test::surface("disc", RevolvedShape{Vec3(0, 0, 0.5), {{0.0, 0.0}, {0.5, 0.0}}});
    EXPECT_NEAR(seen(disc, Vec3::Zero(), Vec3::UnitZ()), view_to_disc(1), sampling);
    const double tilt = 0.7;
    EXPECT_NEAR(seen(disc, Vec3::Zero(), Vec3(std::sin(tilt), 0, std::cos(tilt))), view_to_disc(1, tilt),
                sampling);
    const CookerSurface ring =
        test::surface("ring", RevolvedShape{Vec3(0, 0, 0.5), {{0.25, 0.0}, {0.5, 0.0}}});
    EXPECT_NEAR(seen(ring, Vec3::Zero(), Vec3::UnitZ()), view_to_disc(1) - view_to_disc(0.5), sampling);
    // A cone stands on the rim of the disc and ends in a smaller one: it is seen through the one but not
    // through the other.
    const CookerSurface cone =
        test::surface("cone", RevolvedShape{Vec3(0, 0, 0.5), {{0.5, 0.0}, {0.3, 0.4}}});
    EXPECT_NEAR(seen(cone, Vec3::Zero(), Vec3::UnitZ()), view_to_disc(1) - view_to_disc(0.3 / 0.9), sampling);
}

TEST(ViewRays, AgreeWithFormulasForPlanesAndBoxes) {
    const CookerSurface ground = test::surface("ground", PlaneShape{Vec3(0, 0, -1), Vec3::UnitZ()});
    for (const double tilt : {0.0, 0.6, 1.9, 3.0}) {
        EXPECT_NEAR(seen(ground, Vec3::Zero(), Vec3(0, std::sin(tilt), -std::cos(tilt))), view_to_plane(tilt),
                    sampling);
    }
    // Straight below a box over a corner of it only its lower face is seen.
    const CookerSurface box = test::surface("box", BoxShape{Vec3(0, 0, 1), Vec3(1, 1, 2)});
    EXPECT_NEAR(seen(box, Vec3::Zero(), Vec3::UnitZ()), view_to_parallel_rectangle(1, 1), sampling);
}

TEST(ViewRays, FillSquaresInOneSquare) {
    // Parallel squares, by rays from all over the one.
    const CookerSight sight(Cooker{"", {sheet(Vec3(0, 0, 1), Vec3(1, 0, 1), Vec3(1, 1, 1), Vec3(0, 1, 1))}});
    constexpr std::uint32_t rays = 1u << 16;
    const EvenPoints points(3);
    std::uint32_t met = 0;
    for (std::uint32_t n = 0; n < rays; ++n) {
        const auto p = points.point(n);
        met += sight.first_met(Vec3(p[2], p[3], 0), cosine_direction(Vec3::UnitZ(), p[0], p[1])) == 0 ? 1 : 0;
    }
    EXPECT_NEAR(double(met) / rays, view_between_rectangles(1, 1), sampling);
}

// Every elementary interval of the first two dimensions holds as many points as every other: that is what
// makes the sequence even (Sobol 1967).
TEST(EvenPoints, LieOnceInEachCell) {
    for (const std::uint64_t stream : {0u, 1u, 99u}) {
        const EvenPoints points(stream);
        for (const auto& [columns, rows] : {std::pair{64u, 1u}, {8u, 8u}, {2u, 32u}, {1u, 64u}}) {
            std::vector<int> count(64, 0);
            for (std::uint32_t n = 0; n < 64; ++n) {
                const auto p = points.point(n);
                ++count[std::size_t(p[0] * columns) * rows + std::size_t(p[1] * rows)];
            }
            for (const int c : count) EXPECT_EQ(c, 1) << columns << " by " << rows;
        }
        for (std::size_t d = 2; d < EvenPoints::dimensions; ++d) {
            std::vector<int> count(64, 0);
            for (std::uint32_t n = 0; n < 64; ++n) ++count[std::size_t(points.point(n)[d] * 64)];
            for (const int c : count) EXPECT_EQ(c, 1) << "dimension " << d;
        }
    }
}

}  // namespace
}  // namespace evenspit
