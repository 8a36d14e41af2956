// SPDX-License-Identifier: MIT
#include "body/grown_body.h"

#include <cmath>
#include <memory>

#include <gtest/gtest.h>

#include "body/lumps.h"
#include "body/tube.h"
#include "units/error.h"

namespace evenspit::body {
namespace {

// A 20 × 10 × 8 cm block of two regions, one bone in the front one.
BodyModel block() {
    auto lumps = std::make_shared<Lumps>();
    lumps->region("rear");
    lumps->add(RoundBox({-0.05, 0, 0.2}, {0.05, 0.05, 0.04}, 0.01), 0);
    lumps->region("front");
    lumps->add(RoundBox({0.03, 0, 0.2}, {0.07, 0.05, 0.04}, 0.01), 0);
    BodyModel model;
    model.name = "block";
    model.flesh = [lumps](const Vec3& p) { return lumps->distance(p); };
    model.box = {Vec3(-0.1, -0.05, 0.16), Vec3(0.1, 0.05, 0.24)};
    model.region_table = named_regions(lumps->region_names());
    model.region_on_surface = [lumps](const Vec3& p) { return lumps->region_on_surface(p); };
    model.layers = [lumps](const Vec3& p, double full) { return lumps->layers(p, full); };
    model.matter = {{.lean_density = 1050}, {.lean_density = 1050}};
    BoneSetter setter(model.flesh);
    setter.lay("bone", 1, {0.01, 0, 0.2}, {0.08, 0, 0.2}, {.high = 0.012, .wide = 0.012});
    model.bones = setter.take();
    return model;
}

// The block with a closed hollow of its own instead of the bone.
BodyModel hollow_block() {
    BodyModel model = block();
    model.bones.clear();
    model.cavity_is_closed = true;
    model.cavity_piece = [](double from, double to, double across) {
        const TubeOptions options{
            .from = {-0.06 + 0.12 * from, 0, 0.2}, .to = {-0.06 + 0.12 * to, 0, 0.2}, .flat_ends = true};
        return tube_mesh(options, [across](const Vec3&, const Vec3&, double) { return 0.02 * across; });
    };
    return model;
}

double mass_of(const Part& part) {
    return part.density_kg_m3 * volume_moments(part.mesh).amount;
}

TEST(GrownBody, TakesTheSizeThatGoesWithItsWeight) {
    const Body small = grown_body(block(), {.mass_kg = 1, .spacing_m = 0.01});
    const Body large = grown_body(block(), {.mass_kg = 8, .spacing_m = 0.01});
    EXPECT_NEAR(mass_moments(small).amount, 1, 1e-12);
    EXPECT_NEAR(mass_moments(large).amount, 8, 1e-11);
    EXPECT_NEAR(small.parts[0].density_kg_m3, 1050, 1e-8);
    EXPECT_NEAR(small.parts[1].density_kg_m3, bone_density, 1e-8);
    EXPECT_NEAR(bounds(large.parts[0].mesh).sizes().x() / bounds(small.parts[0].mesh).sizes().x(), 2, 1e-12);
    // Without an origin of its own it stands about the middle of its box.
    EXPECT_LT(bounds(small.parts[0].mesh).center().norm(), 1e-15);
}

TEST(GrownBody, AGivenFactorLeavesTheDensityToTheScale) {
    const Body body = grown_body(block(), {.mass_kg = 1.2, .spacing_m = 0.01, .factor = 1.0});
    EXPECT_NEAR(bounds(body.parts[0].mesh).sizes().x(), 0.2, 1e-3);
    EXPECT_NEAR(mass_moments(body).amount, 1.2, 1e-12);
    EXPECT_NEAR(body.parts[1].density_kg_m3 / body.parts[0].density_kg_m3, bone_density / 1050, 1e-12);
}

// Rear: 0.06 of 0.2 m alone plus what both share; the layers give the shared flesh to the first.
TEST(GrownBody, SharesFollowTheLayers) {
    const Body body = grown_body(block(), {.mass_kg = 1, .spacing_m = 0.008});
    ASSERT_EQ(body.shares.size(), 2U);
    EXPECT_NEAR(body.shares[0].mass_kg + body.shares[1].mass_kg, 1, 1e-12);
    const double bone_extra = (bone_density - 1050.0) / bone_density * mass_of(body.parts[1]);
    EXPECT_NEAR((body.shares[0].mass_kg) / (1 - bone_extra), 0.5, 0.01);
    EXPECT_LT(body.shares[0].centre_m.x(), 0);
    EXPECT_GT(body.shares[1].centre_m.x(), 0);
    const Vec3 centre =
        body.shares[0].mass_kg * body.shares[0].centre_m + body.shares[1].mass_kg * body.shares[1].centre_m;
    EXPECT_LT((centre - mass_moments(body).centre).norm(), 5e-4);
}

TEST(GrownBody, SizesStretchTheModel) {
    const Body plain = grown_body(block(), {.mass_kg = 1.7, .spacing_m = 0.01});
    const Body body = grown_body(block(), {.mass_kg = 1.7, .spacing_m = 0.01, .size = {.length = 0.23}});
    EXPECT_NEAR(bounds(body.parts[0].mesh).sizes().x(), 0.23, 1e-12);
    // What was not measured gives way, at the natural density.
    EXPECT_NEAR(body.parts[0].density_kg_m3, 1050, 1e-8);
    EXPECT_LT(bounds(body.parts[0].mesh).sizes().y(), bounds(plain.parts[0].mesh).sizes().y());
    const Body all = grown_body(
        block(), {.mass_kg = 1.7, .spacing_m = 0.01, .size = {.length = 0.21, .width = 0.1, .depth = 0.085}});
    EXPECT_TRUE(bounds(all.parts[0].mesh).sizes().isApprox(Vec3(0.21, 0.1, 0.085), 1e-12));
    EXPECT_NEAR(mass_moments(all).amount, 1.7, 1e-11);
}

TEST(GrownBody, RefusesSizesThatNoSuchBodyHas) {
    const auto key_of = [](OverallSize size) {
        try {
            grown_body(block(), {.mass_kg = 1.7, .spacing_m = 0.01, .size = size});
        } catch (const InputError& error) {
            EXPECT_NE(error.complaints()[0].expected.find("about "), std::string::npos);
            return error.complaints()[0].key;
        }
        return std::string("none");
    };
    EXPECT_EQ(key_of({.length = 0.9}), "length");
    EXPECT_EQ(key_of({.width = 0.02}), "width");
    EXPECT_EQ(key_of({.depth = -0.1}), "depth");
    EXPECT_EQ(key_of({.length = 0.25, .width = 0.13, .depth = 0.11}),
              "length");  // each possible, together too large
}

TEST(GrownBody, AClosedCavityIsTakenOutOfTheFlesh) {
    const Body body = grown_body(hollow_block(), {.mass_kg = 1.5, .spacing_m = 0.01});
    ASSERT_EQ(body.parts.size(), 2U);
    EXPECT_EQ(body.parts[1].parent, 0);
    EXPECT_NEAR(mass_moments(body).amount, 1.5, 1e-12);
    EXPECT_NEAR(body.parts[0].density_kg_m3, 1050, 1e-8);
    double sum = 0;
    for (const PartShare& share : body.shares) sum += share.mass_kg;
    EXPECT_NEAR(sum, 1.5, 1e-12);
}

TEST(GrownBody, ContentsWeighOnTopAndMustFit) {
    const Body body = grown_body(
        hollow_block(), {.mass_kg = 1.5, .spacing_m = 0.01, .stuffing_kg = 0.03, .giblets_kg = 0.02});
    EXPECT_NEAR(mass_moments(body).amount, 1.55, 1e-12);
    EXPECT_NEAR(mass_of(body.parts[2]), 0.02, 1e-12);
    EXPECT_NEAR(mass_of(body.parts[3]), 0.03, 1e-12);
    EXPECT_NEAR(body.parts[0].density_kg_m3, 1050, 1e-8);
    const auto refused = [](const BodyModel& model, Growth growth) {
        try {
            grown_body(model, growth);
        } catch (const InputError& error) {
            return error.complaints()[0].key;
        }
        return std::string("none");
    };
    EXPECT_EQ(refused(hollow_block(), {.mass_kg = 1.5, .spacing_m = 0.01, .stuffing_kg = 1}), "stuffing");
    EXPECT_EQ(refused(hollow_block(), {.mass_kg = 1.5, .spacing_m = 0.01, .giblets_kg = 1}), "giblets");
    EXPECT_EQ(refused(block(), {.mass_kg = 1.5, .spacing_m = 0.01, .stuffing_kg = 0.1}), "stuffing");
    EXPECT_EQ(refused(block(), {.mass_kg = 1.5, .spacing_m = 0.01, .giblets_kg = 0.1}), "giblets");
}

TEST(GrownBody, StuffingLiesAtTheDensityGiven) {
    const auto stuffed = [](double kg, double kg_m3) {
        return grown_body(
            hollow_block(),
            {.mass_kg = 1.5, .spacing_m = 0.01, .stuffing_kg = kg, .stuffing_density_kg_m3 = kg_m3});
    };
    const double room =
        volume_moments(grown_body(hollow_block(), {.mass_kg = 1.5, .spacing_m = 0.01}).parts[1].mesh).amount;
    for (const double density : {least_stuffing_density, 640.0, greatest_stuffing_density}) {
        const Part part = stuffed(0.5 * room * density, density).parts.back();
        EXPECT_NEAR(part.density_kg_m3, density, 1e-9 * density);
        EXPECT_NEAR(mass_of(part), 0.5 * room * density, 1e-12);
        // It does not give way: a cavity that is too small for it is too small.
        EXPECT_THROW(stuffed(1.02 * room * density, density), InputError) << density;
    }
    for (const double impossible : {199.0, 1151.0, -640.0, std::nan("")}) {
        try {
            stuffed(0.01, impossible);
            FAIL() << impossible;
        } catch (const InputError& error) {
            EXPECT_EQ(error.complaints()[0].key, "stuffing_density");
            EXPECT_NE(error.complaints()[0].expected.find("200"), std::string::npos)
                << error.complaints()[0].expected;
        }
    }
}

// A crumb beside the body is not part of it.
TEST(GrownBody, KeepsOnePiece) {
    BodyModel model = block();
    const Field flesh = model.flesh;
    model.flesh = [flesh](const Vec3& p) {
        return std::min(flesh(p), (p - Vec3(0, 0.08, 0.2)).norm() - 0.012);
    };
    model.box.extend(Vec3(0, 0.1, 0.2));
    model.layers = [field = model.flesh](const Vec3& p, double) {
        RegionLayers layers;
        layers.add(0, field(p));
        return layers;
    };
    const Body body = grown_body(model, {.mass_kg = 1, .spacing_m = 0.01});
    EXPECT_NEAR(bounds(body.parts[0].mesh).sizes().y() / bounds(body.parts[0].mesh).sizes().x(), 0.5, 0.01);
}

}  // namespace
}  // namespace evenspit::body
