// SPDX-License-Identifier: MIT
#include "geometry/moments.h"

#include <functional>

#include <gtest/gtest.h>

#include "shapes.h"

namespace evenspit {
namespace {

using std::numbers::pi;
using test::box_mesh;
using test::cone_mesh;
using test::ellipsoid_mesh;
using test::joined;
using test::tetrahedron_mesh;
using test::torus_mesh;
using test::turned_over;

// Two sets of moments, each part against its own size.
void expect_same(const Moments& a, const Moments& b, double tolerance) {
    EXPECT_NEAR(a.amount, b.amount, tolerance * std::abs(b.amount));
    const double radius = std::sqrt(std::abs(b.second.trace() / b.amount));
    EXPECT_LE((a.centre - b.centre).norm(), tolerance * radius)
        << a.centre.transpose() << " for " << b.centre.transpose();
    EXPECT_LE((a.second - b.second).norm(), tolerance * b.second.norm()) << a.second << "\nfor\n" << b.second;
}

Moments box_moments(const Vec3& min, const Vec3& max) {
    const Vec3 side = max - min;
    const double volume = side.prod();
    return {volume, (min + max) / 2, Mat3((volume / 12 * side.cwiseProduct(side)).asDiagonal())};
}

// F. Tonon, J. Math. Stat. 1(1):8–11 (2005), doi 10.3844/jmssp.2005.8.11, numerical example. The vertices are
// printed to five decimals, which leaves the printed results good to some 1e-7 of their size (in exact
// rational arithmetic the volume of the printed vertices is 1873.2333642, not 1873.233236).
class TononTetrahedron : public ::testing::Test {
  protected:
    const Moments moments = volume_moments(tetrahedron_mesh(
        {8.33220, -11.86875, 0.93355}, {0.75523, 5, 16.37072}, {52.61236, 5, -5.38580}, {2, 5, 3}));
    // Signed products of the paper's formulas about the centroid.
    static constexpr double a = 43520.33257, b = 194711.28938, c = 191168.76173;
    static constexpr double a_prime = 4417.66150, b_prime = -46343.16662, c_prime = 11996.20119;
};

TEST_F(TononTetrahedron, VolumeAndCentroid) {
    EXPECT_NEAR(moments.amount, 1873.233236, 2e-4);
    EXPECT_NEAR(moments.amount, 1873.2333642164656, 1e-11);
    EXPECT_NEAR(moments.centre.x(), 15.92492, 4e-5);  // the exact value is 15.92495
    EXPECT_NEAR(moments.centre.y(), 0.78281, 1e-5);
    EXPECT_NEAR(moments.centre.z(), 3.72962, 1e-5);
}

TEST_F(TononTetrahedron, InertiaTensor) {
    const Mat3 inertia = moments.inertia();
    EXPECT_NEAR(inertia(0, 0), a, 1e-3);
    EXPECT_NEAR(inertia(1, 1), b, 4e-3);
    EXPECT_NEAR(inertia(2, 2), c, 4e-3);
    EXPECT_NEAR(inertia(0, 1), -c_prime, 1e-3);
    EXPECT_NEAR(inertia(0, 2), -b_prime, 1e-3);
    EXPECT_NEAR(inertia(1, 2), -a_prime, 1e-3);
    EXPECT_EQ(inertia, inertia.transpose());
}

// The paper's matrix (its equation 2) has b′ and c′ in each other's place: a check against it must fail.
TEST_F(TononTetrahedron, IsNotThePapersSwappedMatrix) {
    const Mat3 inertia = moments.inertia();
    EXPECT_GT(std::abs(inertia(0, 1) - -b_prime), 1e4);
    EXPECT_GT(std::abs(inertia(0, 2) - -c_prime), 1e4);
}

TEST(VolumeMoments, UnitTetrahedron) {
    // Over the unit right tetrahedron ∫ x² = 1/60, ∫ x y = 1/120; less V/16 about the centroid: 1/160 and
    // −1/480.
    const Moments moments = volume_moments(tetrahedron_mesh({0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}));
    EXPECT_NEAR(moments.amount, 1.0 / 6, 1e-16);
    EXPECT_TRUE(moments.centre.isApprox(Vec3::Constant(0.25), 1e-15));
    EXPECT_NEAR(moments.second(0, 0), 1.0 / 160, 1e-17);
    EXPECT_NEAR(moments.second(0, 1), -1.0 / 480, 1e-17);
}

TEST(VolumeMoments, Box) {
    expect_same(volume_moments(box_mesh({-1, 2, 3}, {4, 4, 7})), box_moments({-1, 2, 3}, {4, 4, 7}), 1e-15);
}

// A cube of side 2 with a square hole of side 1/2 bored through it along z, off the middle: the cube less the
// bored bar by the parallel-axis theorem, written out.
TEST(VolumeMoments, CubeWithOffsetHole) {
    const Moments moments = volume_moments(test::tube_mesh(2, 2, 1.0, 1.5, 0.25, 0.75));
    const double volume = 8 - 0.5;
    EXPECT_NEAR(moments.amount, volume, 1e-14);
    const Vec3 centre = (8 * Vec3(1, 1, 1) - 0.5 * Vec3(1.25, 0.5, 1)) / volume;
    EXPECT_TRUE(moments.centre.isApprox(centre, 1e-15));
    const auto central = [&](double cube, double bar, double cube_at, double bar_at, int k) {
        return cube + 8 * std::pow(cube_at - centre[k], 2) - bar - 0.5 * std::pow(bar_at - centre[k], 2);
    };
    const double xx = central(8 * 4 / 12.0, 0.5 * 0.25 / 12, 1, 1.25, 0);
    const double yy = central(8 * 4 / 12.0, 0.5 * 0.25 / 12, 1, 0.5, 1);
    const double zz = 8 * 4 / 12.0 - 0.5 * 4 / 12;
    const double xy =
        8 * (1 - centre.x()) * (1 - centre.y()) - 0.5 * (1.25 - centre.x()) * (0.5 - centre.y());
    const Mat3 inertia = moments.inertia();
    EXPECT_NEAR(inertia(0, 0), yy + zz, 1e-14);
    EXPECT_NEAR(inertia(1, 1), xx + zz, 1e-14);
    EXPECT_NEAR(inertia(2, 2), xx + yy, 1e-14);
    EXPECT_NEAR(inertia(0, 1), -xy, 1e-14);
    EXPECT_NEAR(inertia(0, 2), 0, 1e-14);
}

TEST(VolumeMoments, InnerShellTakesAway) {
    const Moments hollow =
        volume_moments(joined(box_mesh({0, 0, 0}, {3, 3, 3}), turned_over(box_mesh({1, 1, 0.5}, {2, 2, 1}))));
    expect_same(hollow, box_moments({0, 0, 0}, {3, 3, 3}) + -1.0 * box_moments({1, 1, 0.5}, {2, 2, 1}),
                1e-14);
}

TEST(VolumeMoments, InsideOutIsNegative) {
    const TriangleMesh mesh = test::wavy_mesh();
    expect_same(volume_moments(turned_over(mesh)), -1.0 * volume_moments(mesh), 1e-14);
}

TEST(VolumeMoments, NothingHasNothing) {
    EXPECT_EQ(volume_moments(TriangleMesh{}).amount, 0);
    const TriangleMesh flat{{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, {{0, 1, 2}, {0, 2, 1}}};
    const Moments moments = volume_moments(flat);
    EXPECT_EQ(moments.amount, 0);
    EXPECT_EQ(moments.centre, Vec3(0, 0, 0));
}

// Faceted bodies come to the smooth body's closed form (standard results) with the square of the facet size.
class ClosedForm : public ::testing::Test {
  protected:
    static void expect_second_order(const std::function<TriangleMesh(int)>& mesh, const Moments& exact,
                                    double within) {
        const auto error = [&](int n) {
            const Moments moments = volume_moments(mesh(n));
            const double radius = std::sqrt(exact.second.trace() / exact.amount);
            return Eigen::Vector3d(std::abs(moments.amount / exact.amount - 1),
                                   (moments.centre - exact.centre).norm() / radius,
                                   (moments.inertia() - exact.inertia()).norm() / exact.inertia().norm());
        };
        const Vec3 coarse = error(64);
        const Vec3 fine = error(128);
        EXPECT_LT(fine.maxCoeff(), within);
        EXPECT_NEAR(std::log2(coarse[0] / fine[0]), 2, 0.05) << "volume";
        EXPECT_NEAR(std::log2(coarse[2] / fine[2]), 2, 0.05) << "inertia";
        EXPECT_LT(fine[1], 1e-12) << "each of these meshes has its centre right at any fineness";
    }
    static Moments from_inertia(double amount, const Vec3& centre, const Vec3& inertia) {
        return {amount, centre, Mat3((Vec3::Constant(inertia.sum() / 2) - inertia).asDiagonal())};
    }
};

TEST_F(ClosedForm, Cone) {
    const double r = 0.3, h = 0.7, m = pi * r * r * h / 3;
    const double across = 3.0 / 80 * m * (4 * r * r + h * h);
    const Moments exact = from_inertia(m, {-h / 4, 0, 0}, {0.3 * m * r * r, across, across});
    expect_second_order([&](int n) { return cone_mesh(r, h, n); }, exact, 2e-3);
}

TEST_F(ClosedForm, Ellipsoid) {
    const double a = 0.3, b = 0.2, c = 0.1, m = 4 * pi / 3 * a * b * c;
    const Vec3 inertia = m / 5 * Vec3(b * b + c * c, a * a + c * c, a * a + b * b);
    expect_second_order(
        [&](int n) {
            return ellipsoid_mesh(a, b, c, {1, 2, 3}, n, n);
        },
        from_inertia(m, {1, 2, 3}, inertia), 3e-3);
}

TEST_F(ClosedForm, Torus) {
    const double ring = 0.3, tube = 0.1, m = 2 * pi * pi * ring * tube * tube;
    const double axis = m * (ring * ring + 0.75 * tube * tube);
    const double across = m * (ring * ring / 2 + 5.0 / 8 * tube * tube);
    expect_second_order([&](int n) { return torus_mesh(ring, tube, n); },
                        from_inertia(m, {0, 0, 0}, {across, across, axis}), 4e-3);
}

class Laws : public ::testing::Test {
  protected:
    std::mt19937 random{20240611};
    const TriangleMesh mesh = test::wavy_mesh();
    const Moments moments = volume_moments(mesh);
};

TEST_F(Laws, MovingTheMeshMovesTheMoments) {
    for (int i = 0; i < 20; ++i) {
        const Pose pose = test::random_pose(random, 0.5);
        expect_same(volume_moments(transformed(mesh, pose)), transformed(moments, pose), 1e-13);
    }
}

TEST_F(Laws, ScalingGoesWithThePowersOfLength) {
    const Moments grown = volume_moments(scaled(mesh, 25.4));
    expect_same(
        grown,
        {std::pow(25.4, 3) * moments.amount, 25.4 * moments.centre, std::pow(25.4, 5) * moments.second},
        1e-13);
}

TEST_F(Laws, MirroringMirrors) {
    TriangleMesh mirrored = turned_over(mesh);
    for (Vec3& vertex : mirrored.vertices) vertex.x() = -vertex.x();
    const Mat3 flip = Vec3(-1, 1, 1).asDiagonal();
    expect_same(volume_moments(mirrored),
                {moments.amount, flip * moments.centre, flip * moments.second * flip}, 1e-13);
}

TEST_F(Laws, HalvesMakeTheWhole) {
    const Box3 box(Vec3(0, -1, 2), Vec3(5, 1, 4));
    for (const double cut : {0.1, 1.0, 4.9}) {
        const Moments left = volume_moments(box_mesh(box.min(), {cut, 1, 4}));
        const Moments right = volume_moments(box_mesh({cut, -1, 2}, box.max()));
        expect_same(left + right, box_moments(box.min(), box.max()), 1e-15);
    }
    // The cone's wall and base, cut apart along a plane through the axis: two meshes with a common wall.
    const TriangleMesh wedge = tetrahedron_mesh({0, 0, 0}, {1, 0, 0}, {0.2, 1, 0}, {0.3, 0.1, 1});
    const Vec3 split = 0.25 * wedge.vertices[0] + 0.75 * wedge.vertices[1];
    const Moments sum =
        volume_moments(tetrahedron_mesh(wedge.vertices[0], split, wedge.vertices[2], wedge.vertices[3])) +
        volume_moments(tetrahedron_mesh(split, wedge.vertices[1], wedge.vertices[2], wedge.vertices[3]));
    expect_same(sum, volume_moments(wedge), 1e-15);
}

TEST_F(Laws, SumIsTheJoinedMesh) {
    const TriangleMesh other = transformed(mesh, test::random_pose(random, 2));
    expect_same(moments + volume_moments(other), volume_moments(joined(mesh, other)), 1e-13);
}

TEST_F(Laws, TakingAwayWhatWasAddedGivesItBack) {
    const Moments cavity = box_moments({0, 0, 0}, {0.01, 0.02, 0.03});
    expect_same((moments + cavity) + -1.0 * cavity, moments, 1e-14);
    const Moments nothing = moments + -1.0 * moments;
    EXPECT_EQ(nothing.amount, 0);
    EXPECT_EQ(nothing.centre, Vec3(0, 0, 0));
    EXPECT_EQ(nothing.second, Mat3(Mat3::Zero()));
}

TEST_F(Laws, AddingNothingChangesNothing) {
    EXPECT_EQ((Moments{} + moments).centre, moments.centre);
    EXPECT_EQ((Moments{} + moments).second, moments.second);
    EXPECT_EQ((moments + Moments{}).centre, moments.centre);
}

TEST_F(Laws, DensityScalesAmountAndSecondMoment) {
    const Moments mass = 1060.0 * moments;
    EXPECT_EQ(mass.amount, 1060 * moments.amount);
    EXPECT_EQ(mass.centre, moments.centre);
    EXPECT_EQ(mass.second, Mat3(1060 * moments.second));
}

// 10 km away a coordinate is rounded to 1e-12 m, 1e-11 of this body: nothing more than that may be lost.
TEST_F(Laws, FarFromTheOrigin) {
    const Pose away(Eigen::Translation3d(1e4, -1e4, 1e4));
    const Moments far = transformed(volume_moments(transformed(mesh, away)), away.inverse());
    expect_same(far, moments, 1e-10);

    // With coordinates that the shift leaves exact, nothing at all is lost but the centre's own rounding.
    TriangleMesh coarse = mesh;
    for (Vec3& vertex : coarse.vertices) vertex = (vertex * 1048576).array().round() / 1048576;
    const Moments near_moments = volume_moments(coarse);
    const Moments far_moments = volume_moments(transformed(coarse, away));
    EXPECT_NEAR(far_moments.amount, near_moments.amount, 1e-15 * near_moments.amount);
    EXPECT_LE((far_moments.second - near_moments.second).norm(), 1e-14 * near_moments.second.norm());
}

// A million terms: a plain sum would be off in the thirteenth digit, this one in the last two bits.
TEST(VolumeMoments, ManyTrianglesLoseNoDigits) {
    TriangleMesh heap;
    const TriangleMesh cube = box_mesh({0, 0, 0}, {0.1, 0.1, 0.1});
    heap.vertices = cube.vertices;
    const int copies = 100000;
    for (int i = 0; i < copies; ++i) {
        heap.triangles.insert(heap.triangles.end(), cube.triangles.begin(), cube.triangles.end());
    }
    expect_same(volume_moments(heap), copies * box_moments({0, 0, 0}, {0.1, 0.1, 0.1}), 8e-16);
}

}  // namespace
}  // namespace evenspit
