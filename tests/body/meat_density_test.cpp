// SPDX-License-Identifier: MIT
#include "body/meat_density.h"

#include <gtest/gtest.h>

#include "body/bird_shape.h"
#include "body/bird_species.h"
#include "body/mesher.h"
#include "body/shape.h"
#include "body/solid_body.h"
#include "body/tissues.h"
#include "geometry/moments.h"
#include "support/meshes.h"

namespace evenspit::body {
namespace {

constexpr double hollow = 0.19 * 1.35;  // a third over the most that a parametric bird has

TEST(FleshDensity, HoldsFatAndBoneAndLittleElse) {
    for (const Meat meat : {Meat::unknown, Meat::poultry, Meat::pork, Meat::beef, Meat::lamb}) {
        const DensityRange range = flesh_density_range(meat);
        EXPECT_TRUE(range.holds(1050)) << int(meat) << ": a whole turkey, USDA SR26 05165";
        EXPECT_GT(range.least_kg_m3, 924 * 0.94) << "fat alone, Choi and Okos at 4 °C";
        EXPECT_LT(range.greatest_kg_m3, bone_density * 0.94) << "bone alone";
    }
    EXPECT_LT(flesh_density_range(Meat::pork).least_kg_m3, flesh_density_range(Meat::poultry).least_kg_m3)
        << "pork belly is fatter than a duck";
}

TEST(DensityRange, HoldsTheHollowOfEveryParametricBirdWhereNoneIsTold) {
    for (const BirdSpecies& species : bird_species_table()) {
        const BirdShape shape(species.form);
        Box3 box = shape.box();
        box.extend(box.min() - Vec3::Constant(0.02));
        box.extend(box.max() + Vec3::Constant(0.02));
        const TriangleMesh mesh =
            mesh_field([&](const Vec3& p) { return shape.skin(p); }, {.box = box, .spacing = 0.01});
        const double skin = volume_moments(mesh).amount;
        EXPECT_LT(volume_moments(shape.cavity_piece(0, 1, 1)).amount / skin, 0.19) << species.name;
    }
    Body bird = solid_body(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05}), {.name = "bird"});
    bird.meat = Meat::poultry;
    const DensityRange airy = density_range(bird);
    EXPECT_NEAR(airy.least_kg_m3, flesh_density_range(Meat::poultry).least_kg_m3 * (1 - hollow), 1e-9);
    bird.hollow_known = true;
    EXPECT_EQ(density_range(bird).least_kg_m3, flesh_density_range(Meat::poultry).least_kg_m3);
    bird.meat = Meat::beef;
    bird.hollow_known = false;
    EXPECT_EQ(density_range(bird).least_kg_m3, flesh_density_range(Meat::beef).least_kg_m3)
        << "beef has no hollow";
}

TEST(DensityRange, IsMetByEveryShape) {
    for (const ShapeKind& kind : shape_kinds()) {
        ShapeOptions options;
        options.species = kind.name;
        options.mass_kg = 0.5 * (kind.least_kg + kind.greatest_kg);
        const Body body = make_shape(options);
        const DensityRange range = density_range(body);
        const double density = mass_moments(body).amount / matter_volume(body);
        EXPECT_TRUE(range.holds(density)) << kind.name << ' ' << density << ' ' << range.least_kg_m3;
    }
}

}  // namespace
}  // namespace evenspit::body
