// SPDX-License-Identifier: MIT
#include "body/bird_shape.h"

#include <memory>
#include <random>

#include <gtest/gtest.h>

#include "body/bird_model.h"
#include "body/bird_species.h"
#include "body/grown_body.h"

namespace evenspit::body {
namespace {

template <class Look>
void at_random_places(const BirdShape& shape, const Look& look) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> u(0, 1);
    for (int k = 0; k < 3000; ++k) {
        const Vec3 share(u(random), u(random), u(random));
        look(Vec3(shape.box().min() + share.cwiseProduct(shape.box().sizes())));
    }
}

std::vector<BirdShape> whole_birds() {
    std::vector<BirdShape> shapes;
    for (const BirdSpecies& species : bird_species_table()) {
        for (const double kg : {species.least_kg, species.greatest_kg})
            shapes.emplace_back(species.form_at(kg));
    }
    return shapes;
}

// What is passed over as too far off changes no bit: fields are the same whichever way they are asked.
TEST(BirdShape, FieldsAgreeToTheLastBit) {
    constexpr double rim = 0.005;
    for (const BirdShape& shape : whole_birds()) {
        at_random_places(shape, [&](const Vec3& p) {
            ASSERT_EQ(shape.flesh(p), carve(shape.skin(p), shape.bore(p), rim));
            const RegionLayers layers = shape.layers(p), some = shape.layers(p, -0.004);
            ASSERT_EQ(layers.all().front().field, carve(shape.trunk(p), shape.bore(p), rim));
            ASSERT_LE(some.all().size(), layers.all().size());
            for (std::size_t i = 0; i < some.all().size(); ++i)
                ASSERT_EQ(some.all()[i].field, layers.all()[i].field);
            ASSERT_TRUE(some.all().size() == layers.all().size() || some.all().back().field <= -0.004);
        });
    }
}

TEST(BirdShape, AWholeBirdIsEvenToTheLastBit) {
    const std::vector<std::uint8_t> mirrored = mirrored_regions(bird_regions());
    for (const BirdShape& shape : whole_birds()) {
        ASSERT_TRUE(shape.is_even());
        at_random_places(shape, [&](const Vec3& p) {
            const Vec3 other(p.x(), -p.y(), p.z());
            ASSERT_EQ(shape.flesh(p), shape.flesh(other));
            const RegionLayers here = shape.layers(p), there = shape.layers(other);
            ASSERT_EQ(here.all().size(), there.all().size());
            for (std::size_t i = 0; i < here.all().size(); ++i) {
                ASSERT_EQ(here.all()[i].field, there.all()[i].field);
                ASSERT_EQ(here.all()[i].region, mirrored[there.all()[i].region]);
            }
        });
    }
    Limbs one_wing;
    one_wing.wing[0] = false;
    EXPECT_FALSE(BirdShape(BirdForm{}, one_wing).is_even());
}

// Of an even bird half is asked, and what comes out is the same to the last bit.
TEST(BirdShape, HalfABirdMakesTheWhole) {
    const BirdSpecies& species = bird_species_table().front();
    const auto shape = std::make_shared<const BirdShape>(species.form_at(5.9));
    BodyModel model = bird_model("turkey", shape, species.matter());
    ASSERT_FALSE(model.mirrored_regions.empty());
    const Growth growth{.mass_kg = 5.9, .spacing_m = 0.016};
    const Body half = grown_body(model, growth);
    model.mirrored_regions.clear();
    const Body whole = grown_body(model, growth);
    EXPECT_EQ(half.parts[0].mesh.vertices, whole.parts[0].mesh.vertices);
    EXPECT_EQ(half.parts[0].mesh.triangles, whole.parts[0].mesh.triangles);
    EXPECT_EQ(half.parts[0].regions, whole.parts[0].regions);
    ASSERT_EQ(half.shares.size(), whole.shares.size());
    for (std::size_t i = 0; i < half.shares.size(); ++i) {
        EXPECT_EQ(half.shares[i].mass_kg, whole.shares[i].mass_kg);
        EXPECT_EQ(half.shares[i].centre_m, whole.shares[i].centre_m);
        EXPECT_EQ(half.flesh_by_region[i].volume.second, whole.flesh_by_region[i].volume.second);
    }
}

// Rings stand where forty halvings put them, to the last bit, though few of these look at the field.
TEST(BirdShape, RadiiAreThoseOfHalving) {
    const BirdShape shape(bird_species_table().front().form_at(5.9));
    const auto halved = [](const auto& is_inside) {
        double inside = 0, outside = 0.3;
        for (int round = 0; round < 40; ++round) {
            const double r = 0.5 * (inside + outside);
            (is_inside(r) ? inside : outside) = r;
        }
        return inside;
    };
    std::mt19937 random(6);
    std::uniform_real_distribution<double> u(0, 1);
    for (int k = 0; k < 500; ++k) {
        const Vec3 from((u(random) - 0.5) * 0.25, 0, 0);
        const Vec3 outward = Vec3(0, u(random) - 0.5, u(random) - 0.5).normalized();
        const double level = 0.01 * (u(random) - 0.3);
        EXPECT_EQ(shape.wall_radius(from, outward, level),
                  halved([&](double r) { return shape.bore(from + r * outward) < level; }));
        EXPECT_EQ(shape.skin_radius(from, outward),
                  halved([&](double r) { return shape.trunk(from + r * outward) < 0; }));
    }
}

}  // namespace
}  // namespace evenspit::body
