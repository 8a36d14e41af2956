// SPDX-License-Identifier: MIT
#include "body/solid_body.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "support/meshes.h"
#include "units/error.h"

namespace evenspit::body {
namespace {

using test::box_mesh;
using test::grid_mesh;

// A drop along x: thick at −x, thin at +x, flatter in z than in y and fuller on its upper side.
TriangleMesh drop() {
    return grid_mesh(48, 40, [](double u, double v) {
        const double t = std::numbers::pi * v;
        const double width = std::sin(t) * (1 - 0.4 * v);
        const double up = std::sin(u) > 0 ? 0.05 : 0.03;
        return Vec3(-0.15 * std::cos(t), 0.07 * width * std::cos(u), up * width * std::sin(u));
    });
}

TEST(SolidBody, DefaultDensityIsTurkeyMeatWithSkin) {
    const Body body = solid_body(box_mesh({0, 0, 0}, {0.1, 0.1, 0.1}), {.name = "cube"});
    EXPECT_EQ(body.name, "cube");
    EXPECT_NEAR(mass_moments(body).amount, 1.052, 0.001);
    EXPECT_EQ(body.mass_model, MassModel::density_and_volume);
    EXPECT_FALSE(body.pointed_ends_known);
}

TEST(SolidBody, WeightWinsOverDensity) {
    const auto cube = box_mesh({0, 0, 0}, {0.1, 0.1, 0.1});
    EXPECT_NEAR(mass_moments(solid_body(cube, {.density_kg_m3 = 700})).amount, 0.7, 1e-12);
    const Body weighed = solid_body(cube, {.mass_kg = 0.9, .density_kg_m3 = 700});
    EXPECT_NEAR(mass_moments(weighed).amount, 0.9, 1e-12);
    EXPECT_EQ(weighed.mass_model, MassModel::scale_weight);
}

TEST(SolidBody, StaysWhereTheFileHasItUnlessAsked) {
    const Body body = solid_body(box_mesh({1, 2, 3}, {1.1, 2.1, 3.1}), {});
    EXPECT_TRUE(mass_moments(body).centre.isApprox(Vec3(1.05, 2.05, 3.05), 1e-12));
}

TEST(SolidBody, OwnAxesAreLongThenWideThenFlat) {
    const Moments mass = mass_moments(solid_body(drop(), {.align_to_principal_axes = true}));
    EXPECT_LT(mass.centre.norm(), 1e-12);
    EXPECT_GT(mass.second(0, 0), mass.second(1, 1));
    EXPECT_GT(mass.second(1, 1), mass.second(2, 2));
    const Mat3 off_diagonal = mass.second - Mat3(mass.second.diagonal().asDiagonal());
    EXPECT_LT(off_diagonal.cwiseAbs().maxCoeff(), 1e-12 * mass.second.trace());
}

TEST(SolidBody, WhatIsOpenOfTheCentreTurnsWithTheBody) {
    const Mat3 covariance = Vec3(1e-6, 4e-6, 9e-6).asDiagonal();
    EXPECT_EQ(solid_body(drop(), {.centre_covariance_m2 = covariance}).centre_covariance_m2, covariance);
    EXPECT_FALSE(solid_body(drop(), {}).centre_covariance_m2.has_value());
    const Pose turn = Eigen::Translation3d(1, 2, 3) *
                      Eigen::AngleAxisd(0.7, Vec3(0.2, 0.9, -0.4).normalized()) * Pose::Identity();
    const auto aligned = [](const TriangleMesh& mesh, const Mat3& c) {
        const Body body = solid_body(mesh, {.centre_covariance_m2 = c, .align_to_principal_axes = true});
        return body.centre_covariance_m2.value();
    };
    const Mat3 straight = aligned(drop(), covariance);
    EXPECT_LT((aligned(transformed(drop(), turn), turned(covariance, turn)) - straight).norm(), 1e-15);
    EXPECT_NEAR(straight.trace(), 14e-6, 1e-18);
}

// The thin end looks to +x, the fuller side (the longer reach) to +z.
TEST(SolidBody, SignsFollowTheThinEnd) {
    const Box3 box = bounds(solid_body(drop(), {.align_to_principal_axes = true}).parts[0].mesh);
    EXPECT_GT(box.max().x(), -box.min().x());
    EXPECT_GT(box.max().z(), -box.min().z());
}

TEST(SolidBody, TheSameBodyLandsTheSameWayHoweverTheFileHadIt) {
    const Body reference = solid_body(drop(), {.align_to_principal_axes = true});
    for (int k = 1; k <= 12; ++k) {
        Pose pose = Pose::Identity();
        pose.linear() =
            Eigen::AngleAxisd(0.7 * k,
                              Vec3(std::sin(3.0 * k), std::cos(5.0 * k), std::sin(7.0 * k)).normalized())
                .toRotationMatrix();
        pose.translation() = Vec3(0.3 * k, -0.2, 0.1 * k);
        const Body moved = solid_body(transformed(drop(), pose), {.align_to_principal_axes = true});
        double worst = 0;
        for (std::size_t i = 0; i < moved.parts[0].mesh.vertices.size(); ++i) {
            worst = std::max(worst,
                             (moved.parts[0].mesh.vertices[i] - reference.parts[0].mesh.vertices[i]).norm());
        }
        EXPECT_LT(worst, 1e-9) << "pose " << k;
    }
}

// Even along x: the sign must then follow what is uneven, here z.
TEST(SolidBody, EvenBodiesAreSettledByTheAxesThatAreNot) {
    const auto dome = grid_mesh(48, 40, [](double u, double v) {
        const double t = std::numbers::pi * v;
        const double up = std::sin(u) > 0 ? 0.05 : 0.03;
        return Vec3(-0.15 * std::cos(t), 0.07 * std::sin(t) * std::cos(u), up * std::sin(t) * std::sin(u));
    });
    Pose flip = Pose::Identity();
    flip.linear() = Eigen::AngleAxisd(std::numbers::pi, Vec3::UnitX()).toRotationMatrix();
    for (const TriangleMesh& mesh : {dome, transformed(dome, flip)}) {
        const Box3 box = bounds(solid_body(mesh, {.align_to_principal_axes = true}).parts[0].mesh);
        EXPECT_GT(box.max().z(), -box.min().z());
    }
}

TEST(SolidBody, NamesTheFirstGateThatIsClosed) {
    TriangleMesh open = box_mesh({0, 0, 0}, {1, 1, 1});
    open.triangles.pop_back();
    try {
        solid_body(open, {});
        FAIL() << "an open mesh has no volume";
    } catch (const InputError& error) {
        ASSERT_EQ(error.complaints().size(), 1U);
        EXPECT_NE(error.complaints()[0].found.find("boundary"), std::string::npos);
        EXPECT_FALSE(error.complaints()[0].mend.empty());
    }
    EXPECT_THROW(solid_body(box_mesh({0, 0, 0}, {1, 1, 1}), {.mass_kg = -1}), InputError);
    EXPECT_THROW(solid_body(box_mesh({0, 0, 0}, {1, 1, 1}), {.density_kg_m3 = 0}), InputError);
}

}  // namespace
}  // namespace evenspit::body
