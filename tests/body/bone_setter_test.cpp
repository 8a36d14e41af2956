// SPDX-License-Identifier: MIT
#include "body/bone_setter.h"

#include <cmath>

#include <gtest/gtest.h>

#include "body/field.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"

namespace evenspit::body {
namespace {

const Field ball = [](const Vec3& p) { return p.norm() - 0.1; };
const BoneProfile thin{.high = 0.01, .wide = 0.01};

double deepest_field(const Field& flesh, const TriangleMesh& mesh) {
    double most = -1;
    for (const Vec3& v : mesh.vertices) most = std::max(most, flesh(v));
    return most;
}

TEST(BoneSetter, LaysABoneAsAskedWhereThereIsRoom) {
    BoneSetter setter(ball);
    ASSERT_TRUE(setter.lay("bone", 3, {-0.05, 0, 0}, {0.05, 0, 0}, thin));
    const std::vector<Bone> bones = setter.take();
    ASSERT_EQ(bones.size(), 1U);
    EXPECT_EQ(bones[0].name, "bone");
    EXPECT_EQ(bones[0].region, 3);
    EXPECT_TRUE(check_solid(bones[0].mesh).ok());
    const Box3 box = bounds(bones[0].mesh);
    EXPECT_NEAR(box.min().x(), -0.05, 1e-12);
    EXPECT_NEAR(box.max().x(), 0.05, 1e-12);
    EXPECT_NEAR(box.max().z(), 0.01, 1e-9);
}

TEST(BoneSetter, FlatProfilesLieAcrossTheirUp) {
    BoneSetter setter(ball);
    setter.lay("blade", 0, {-0.04, 0, 0}, {0.04, 0, 0}, {.high = 0.004, .wide = 0.03});
    const Vec3 size = bounds(setter.take()[0].mesh).sizes();
    EXPECT_NEAR(size.z(), 0.008, 1e-6);
    EXPECT_NEAR(size.y(), 0.060, 1e-6);
}

// A parabola: halfway it stands off by the whole bend, at a quarter by three quarters of it.
TEST(BoneSetter, BendsAsAsked) {
    BoneSetter setter(ball);
    ASSERT_TRUE(setter.lay("rib", 0, {-0.06, 0, -0.01}, {0.06, 0, -0.01},
                           {.high = 0.004, .wide = 0.006, .bend = {0, 0, 0.03}}));
    const TriangleMesh mesh = setter.take()[0].mesh;
    ASSERT_TRUE(check_solid(mesh).ok()) << check_solid(mesh).found;
    const SolidQueries solid(mesh);
    for (const double s : {0.05, 0.25, 0.5, 0.75, 0.95}) {
        const Vec3 at(-0.06 + 0.12 * s, 0, -0.01 + 4 * s * (1 - s) * 0.03);
        EXPECT_TRUE(solid.contains(at)) << s;
        EXPECT_FALSE(solid.contains(at + Vec3(0, 0, 0.0045))) << s;
        EXPECT_FALSE(solid.contains(at - Vec3(0, 0, 0.0045))) << s;
    }
}

// What is left of a bent bone lies where the whole one would.
TEST(BoneSetter, ShortensABentBoneAlongItself) {
    BoneSetter setter(ball);
    const Vec3 from(-0.16, 0, -0.05), to(0.16, 0, -0.05), bend(0, 0, 0.06);
    ASSERT_TRUE(setter.lay("rib", 0, from, to, {.high = 0.003, .wide = 0.003, .bend = bend}));
    const SolidQueries solid(setter.take()[0].mesh);
    for (const double s : {0.35, 0.45, 0.5, 0.6}) {
        EXPECT_TRUE(solid.contains(from + s * (to - from) + 4 * s * (1 - s) * bend)) << s;
    }
    EXPECT_FALSE(solid.contains(from + 0.1 * (to - from) + 0.36 * bend));
}

TEST(BoneSetter, ShortensAndThinsUnderTheSkin) {
    BoneSetter setter(ball);
    ASSERT_TRUE(setter.lay("long", 0, {-0.2, 0, 0.05}, {0.2, 0, 0.05}, {.high = 0.08, .wide = 0.08}));
    const TriangleMesh mesh = setter.take()[0].mesh;
    EXPECT_TRUE(check_solid(mesh).ok());
    EXPECT_LE(deepest_field(ball, mesh), -BoneSetter::least_cover + 1e-5);
    EXPECT_GT(volume_moments(mesh).amount, 1e-4);
}

TEST(BoneSetter, KeepsBonesApart) {
    BoneSetter setter(ball);
    setter.lay("first", 0, {-0.06, 0, 0}, {0.06, 0, 0}, thin);
    ASSERT_TRUE(setter.lay("second", 0, {0, -0.06, 0.005}, {0, 0.06, 0.005}, thin));
    const std::vector<Bone> bones = setter.take();
    const SolidQueries first(bones[0].mesh), second(bones[1].mesh);
    for (const Vec3& v : bones[1].mesh.vertices) {
        EXPECT_FALSE(first.contains(v));
        EXPECT_GT(first.closest(v).distance, 1e-3);
    }
    for (const Vec3& v : bones[0].mesh.vertices) EXPECT_FALSE(second.contains(v));
    // It kept the longer side of where the two cross; both are as long here.
    EXPECT_LT(bounds(bones[1].mesh).sizes().y(), 0.06);
}

TEST(BoneSetter, LaysNothingWhereThereIsNoRoom) {
    BoneSetter setter(ball);
    EXPECT_FALSE(setter.lay("outside", 0, {0.2, 0, 0}, {0.3, 0, 0}, thin));
    EXPECT_TRUE(setter.take().empty());
}

TEST(BoneSetter, MirrorsOnRequest) {
    BoneSetter setter(ball);
    setter.lay("right", 0, {-0.04, 0.03, 0}, {0.04, 0.05, 0}, thin);
    setter.mirror(true);
    setter.lay("left", 0, {-0.04, 0.03, 0}, {0.04, 0.05, 0}, thin);
    const std::vector<Bone> bones = setter.take();
    const Moments right = volume_moments(bones[0].mesh), left = volume_moments(bones[1].mesh);
    EXPECT_NEAR(left.amount, right.amount, 1e-18);
    EXPECT_NEAR(left.centre.y(), -right.centre.y(), 1e-15);
}

}  // namespace
}  // namespace evenspit::body
