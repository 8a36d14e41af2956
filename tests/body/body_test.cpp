// SPDX-License-Identifier: MIT
#include "body/body.h"

#include <numbers>
#include <stdexcept>

#include <gtest/gtest.h>

#include "support/meshes.h"

namespace evenspit::body {
namespace {

using test::box_mesh;

// A 4 × 2 × 2 cm block of flesh with a 1 cm cube of bone in its right half, and an empty hollow beside it.
Body block_with_bone() {
    Body body;
    body.name = "block";
    body.parts.push_back({.name = "flesh",
                          .kind = PartKind::flesh,
                          .mesh = box_mesh({-0.02, -0.01, -0.01}, {0.02, 0.01, 0.01}),
                          .density_kg_m3 = 1000});
    body.parts.push_back({.name = "bone",
                          .kind = PartKind::bone,
                          .mesh = box_mesh({0.005, -0.005, -0.005}, {0.015, 0.005, 0.005}),
                          .density_kg_m3 = 1500,
                          .parent = 0});
    body.parts.push_back({.name = "hollow",
                          .kind = PartKind::cavity,
                          .mesh = box_mesh({0.02, -0.01, -0.01}, {0.03, 0.01, 0.01}),
                          .density_kg_m3 = 0});
    return body;
}

// mass = 1000·16e-6 + (1500 − 1000)·1e-6 kg; only the bone's surplus sits off centre, at x = 10 mm.
TEST(Body, NestedPartReplacesTheMatterOfItsParent) {
    const Moments mass = mass_moments(block_with_bone());
    EXPECT_NEAR(mass.amount, 0.0165, 1e-15);
    EXPECT_NEAR(mass.centre.x(), 0.0005 * 0.010 / 0.0165, 1e-15);
    EXPECT_NEAR(mass.centre.y(), 0, 1e-15);
    // ∫ x² dm about the origin: block m·L²/12, bone surplus m·(d² + s²/12); then to the centre of mass.
    const double about_origin = 0.016 * 0.04 * 0.04 / 12 + 0.0005 * (0.01 * 0.01 + 0.01 * 0.01 / 12);
    EXPECT_NEAR(mass.second(0, 0), about_origin - mass.amount * mass.centre.x() * mass.centre.x(), 1e-18);
}

// The block's flesh in two halves of 900 and 1100 kg/m3, which is 1000 in the mean: mass as before, the
// centre off by (1100 − 900)·8e-6·0.01 kg m and the bone's surplus.
TEST(Body, FleshMayBeOfSeveralDensities) {
    Body body = block_with_bone();
    body.parts[1].density_kg_m3 = 1000;
    body.flesh_by_region = {
        {{"left"}, 900, volume_moments(box_mesh({-0.02, -0.01, -0.01}, {0, 0.01, 0.01}))},
        {{"right"}, 1100, volume_moments(box_mesh({0, -0.01, -0.01}, {0.02, 0.01, 0.01}))}};
    const Moments mass = mass_moments(body);
    EXPECT_NEAR(mass.amount, 0.016, 1e-15);
    EXPECT_NEAR(mass.centre.x(), 200 * 8e-6 * 0.01 / 0.016, 1e-15);
    EXPECT_NEAR(mass.second(1, 1), 0.016 * 0.02 * 0.02 / 12, 1e-18);

    const Body heavier = with_scale_weight(body, 0.032);
    EXPECT_NEAR(mass_moments(heavier).amount, 0.032, 1e-15);
    EXPECT_NEAR(heavier.flesh_by_region[0].density_kg_m3, 1800, 1e-9);
    EXPECT_TRUE(mass_moments(heavier).centre.isApprox(mass.centre, 1e-12));
}

TEST(Body, VolumeCountsFleshBoneAndContents) {
    Body body = block_with_bone();
    EXPECT_NEAR(matter_volume(body), 16e-6, 1e-18);
    // What lies in the open cavity beside it.
    body.parts.push_back({.name = "stuffing",
                          .kind = PartKind::stuffing,
                          .mesh = box_mesh({0.022, -0.005, -0.005}, {0.028, 0.005, 0.005}),
                          .density_kg_m3 = 500,
                          .parent = 2});
    EXPECT_NEAR(matter_volume(body), 16.6e-6, 1e-18);
    // A hollow within.
    body.parts.push_back({.name = "hollow",
                          .kind = PartKind::cavity,
                          .mesh = box_mesh({-0.01, -0.005, -0.005}, {0, 0.005, 0.005}),
                          .parent = 0});
    EXPECT_NEAR(matter_volume(body), 15.6e-6, 1e-18);
}

TEST(Body, ScaleWeightScalesFleshAndBoneAlike) {
    const Body weighed = with_scale_weight(block_with_bone(), 0.033);
    EXPECT_NEAR(mass_moments(weighed).amount, 0.033, 1e-14);
    EXPECT_NEAR(weighed.parts[0].density_kg_m3, 2000, 1e-9);
    EXPECT_NEAR(weighed.parts[1].density_kg_m3, 3000, 1e-9);
    EXPECT_EQ(weighed.mass_model, MassModel::scale_weight);
}

TEST(Body, ScaleWeightLeavesStuffingAlone) {
    Body body = block_with_bone();
    body.parts.push_back({.name = "stuffing",
                          .kind = PartKind::stuffing,
                          .mesh = box_mesh({0.022, -0.005, -0.005}, {0.028, 0.005, 0.005}),
                          .density_kg_m3 = 500,
                          .parent = 2});
    const double stuffing = 500 * 0.6e-6;
    const Body weighed = with_scale_weight(body, 0.02);
    EXPECT_NEAR(mass_moments(weighed).amount, 0.02, 1e-14);
    EXPECT_DOUBLE_EQ(weighed.parts[3].density_kg_m3, 500);
    EXPECT_NEAR(weighed.parts[0].density_kg_m3 / 1000, (0.02 - stuffing) / 0.0165, 1e-9);
    EXPECT_THROW(with_scale_weight(body, stuffing), std::invalid_argument);
    EXPECT_THROW(with_scale_weight(body, 0), std::invalid_argument);
}

TEST(Body, PreparingKeepsTheFiguresTogether) {
    const auto prepared = prepare(block_with_bone());
    EXPECT_DOUBLE_EQ(prepared->mass.amount, mass_moments(block_with_bone()).amount);
    EXPECT_NEAR(prepared->volume_m3, 16e-6, 1e-18);
    EXPECT_TRUE(prepared->bounds.min().isApprox(Vec3(-0.02, -0.01, -0.01)));
    EXPECT_TRUE(prepared->bounds.max().isApprox(Vec3(0.03, 0.01, 0.01)));
    ASSERT_EQ(prepared->queries.size(), 3U);
    EXPECT_TRUE(prepared->queries[1].contains({0.01, 0, 0}));
    EXPECT_FALSE(prepared->queries[1].contains({0.0, 0, 0}));
}

}  // namespace
}  // namespace evenspit::body
