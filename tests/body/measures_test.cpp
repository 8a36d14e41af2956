// SPDX-License-Identifier: MIT
#include "body/measures.h"

#include <numbers>

#include <gtest/gtest.h>

#include "body/shape.h"
#include "support/meshes.h"

namespace evenspit::body {
namespace {

Body body_of(TriangleMesh mesh) {
    Body body;
    body.parts.push_back({.name = "flesh", .mesh = std::move(mesh), .density_kg_m3 = 1000});
    return body;
}

TEST(Measures, OfABox) {
    const BodyMeasures box = measure_body(body_of(test::box_mesh({-0.1, 0, 0}, {0.2, 0.05, 0.07})));
    EXPECT_TRUE(box.size.isApprox(Vec3(0.3, 0.05, 0.07)));
    EXPECT_NEAR(box.girth_m, 0.24, 1e-12);
}

TEST(Measures, GirthIsTakenWhereItIsMost) {
    const BodyMeasures egg = measure_body(body_of(test::ellipsoid_mesh(0.2, 0.05, 0.05, Vec3(0.3, 0, 0))));
    EXPECT_NEAR(egg.girth_m, 2 * std::numbers::pi * 0.05, 0.002);
    EXPECT_NEAR(egg.girth_at_m, 0.3, 0.02);
}

// The fit measures the field, this the mesh.
TEST(Measures, AgreeWithTheTapeThatABirdWasFittedTo) {
    ShapeOptions options;
    options.species = "turkey";
    options.mass_kg = 6;
    options.tape.girth = 0.67;
    EXPECT_NEAR(measure_body(make_shape(options)).girth_m, 0.67, 0.01 * 0.67);
}

TEST(Measures, CavityIsCountedWhetherOpenOrClosed) {
    Body body = body_of(test::box_mesh({-0.1, -0.1, -0.1}, {0.1, 0.1, 0.1}));
    EXPECT_EQ(cavity_volume(body), 0);
    body.parts.push_back({.name = "cavity",
                          .kind = PartKind::cavity,
                          .mesh = test::box_mesh({0, 0, 0}, {0.05, 0.02, 0.01}),
                          .parent = 0});
    EXPECT_NEAR(cavity_volume(body), 1e-5, 1e-18);
}

}  // namespace
}  // namespace evenspit::body
