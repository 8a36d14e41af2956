// SPDX-License-Identifier: MIT
// Every species over its whole range of weights, with proportions drawn at random and limbs missing at
// random.
#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <random>

#include <gtest/gtest.h>

#include "body/bird_model.h"
#include "body/bird_species.h"
#include "geometry/solid_check.h"
#include "self_intersection.h"
#include "support/sweep.h"

namespace evenspit::body {
namespace {

class BirdSweep : public testing::TestWithParam<std::size_t> {};

BirdForm scattered(BirdForm form, std::mt19937& random) {
    std::uniform_real_distribution<double> u(-1, 1);
    for (double* factor : {&form.length, &form.width, &form.depth, &form.breast, &form.leg_length,
                           &form.thigh_girth, &form.drumstick_girth, &form.wing_length, &form.wing_girth,
                           &form.neck_length, &form.neck_girth, &form.tail}) {
        *factor *= 1 + 0.15 * u(random);
    }
    form.keel *= 1 + 0.5 * u(random);
    form.splay *= 1 + 0.4 * u(random);
    form.cavity *= 1 + 0.06 * u(random);
    return form;
}

Limbs scattered_limbs(std::mt19937& random) {
    Limbs limbs;
    std::uniform_int_distribution<int> one_in_ten(0, 9);
    for (auto* side : {&limbs.wing, &limbs.thigh, &limbs.drumstick}) {
        for (bool& there : *side) there = one_in_ten(random) != 0;
    }
    for (std::size_t s = 0; s < 2; ++s) limbs.drumstick[s] = limbs.drumstick[s] && limbs.thigh[s];
    return limbs;
}

// Whether the line through the openings meets the mesh.
bool meets_axis(const TriangleMesh& mesh) {
    return std::any_of(mesh.triangles.begin(), mesh.triangles.end(), [&](const Triangle& t) {
        int left = 0, right = 0;
        for (int k = 0; k < 3; ++k) {
            const Vec3 &a = mesh.corner(t, k), &b = mesh.corner(t, (k + 1) % 3);
            (a.y() * b.z() - a.z() * b.y() > 0 ? left : right) += 1;
        }
        return left == 0 || right == 0;
    });
}

TEST_P(BirdSweep, BirdsAreSoundAndWeighWhatTheyShould) {
    const BirdSpecies& species = bird_species_table()[GetParam()];
    std::mt19937 random(static_cast<unsigned>(GetParam()) + 1);
    std::uniform_real_distribution<double> log_mass(std::log(species.least_kg),
                                                    std::log(species.greatest_kg));
    const int count = test::sweep_sets(GetParam() < 4 ? 500 : 100, 5);
    for (int k = 0; k < count; ++k) {
        const double kg = std::exp(log_mass(random));
        const BirdForm form = scattered(species.form_at(kg), random);
        const auto shape = std::make_shared<const BirdShape>(form, scattered_limbs(random));
        const BodyModel model = bird_model(std::string(species.name), shape, species.matter());
        // Mostly coarse, which is quick and hard on the mesher.
        const Body body = grown_body(model, {.mass_kg = kg, .spacing_m = k % 50 == 0 ? 0.0115 : 0.024});
        ASSERT_NEAR(mass_moments(body).amount, kg, 1e-9 * kg);
        for (const Part& part : body.parts) {
            const SolidReport report = check_solid(part.mesh);
            ASSERT_TRUE(report.ok()) << k << ' ' << part.name << ": " << report.found;
            ASSERT_EQ(report.components, 1) << k << ' ' << part.name;
        }
        ASSERT_FALSE(test::self_intersects(body.parts[0].mesh)) << k;
        ASSERT_FALSE(meets_axis(body.parts[0].mesh)) << k;  // open from vent to neck
        double sum = 0;
        for (const PartShare& share : body.shares) sum += share.mass_kg;
        ASSERT_NEAR(sum, kg, 1e-9 * kg);
        const std::size_t gone = static_cast<std::size_t>(
            std::count(shape->limbs().wing.begin(), shape->limbs().wing.end(), false) * 2 +
            std::count(shape->limbs().thigh.begin(), shape->limbs().thigh.end(), false) +
            std::count(shape->limbs().drumstick.begin(), shape->limbs().drumstick.end(), false));
        ASSERT_EQ(body.parts.size(), 17U - gone) << k;  // flesh, cavity, and 15 bones
    }
}

double flesh_volume_of(const BirdForm& form) {
    const BirdShape shape(form);
    return volume_moments(mesh_field([&](const Vec3& p) { return shape.flesh(p); },
                                     {.box = shape.box(), .spacing = 0.018}))
        .amount;
}

// In three even steps the volume changes by three even amounts: no jumps. All proportions change at once, by
// up to a percent a step, wherever they stand. The mesher's grain at this spacing is 0.15 % of the volume.
TEST_P(BirdSweep, VolumeFollowsTheProportionsSmoothly) {
    const BirdSpecies& species = bird_species_table()[GetParam()];
    std::mt19937 random(static_cast<unsigned>(GetParam()) + 101);
    std::uniform_real_distribution<double> u(-1, 1);
    const int count = test::sweep_sets(40, 2);
    for (int k = 0; k < count; ++k) {
        const BirdForm start = scattered(species.form_at(species.reference_kg), random);
        std::array<double, 15> rate{};
        for (double& r : rate) r = 0.01 * u(random);
        std::array<double, 4> volume{};
        for (std::size_t step = 0; step < volume.size(); ++step) {
            BirdForm form = start;
            std::size_t i = 0;
            for (double* factor :
                 {&form.length, &form.width, &form.depth, &form.breast, &form.keel, &form.leg_length,
                  &form.thigh_girth, &form.drumstick_girth, &form.splay, &form.wing_length, &form.wing_girth,
                  &form.neck_length, &form.neck_girth, &form.tail, &form.cavity}) {
                *factor *= 1 + rate[i++] * static_cast<double>(step);
            }
            volume[step] = flesh_volume_of(form);
        }
        const double change = (volume[3] - volume[0]) / 3;
        ASSERT_LT(std::abs(change), 0.04 * volume[0]) << k;

        for (std::size_t step = 1; step < volume.size(); ++step) {
            ASSERT_NEAR(volume[step] - volume[step - 1], change, 2.5e-3 * volume[0]) << k;
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Species, BirdSweep, testing::Range<std::size_t>(0, 6), [](const auto& species) {
    std::string name(bird_species_table().at(species.param).name);
    for (char& c : name) c = c == ' ' ? '_' : c;
    return name;
});

TEST(BirdSweepTest, CoversEverySpecies) {
    EXPECT_EQ(bird_species_table().size(), 6U);
}

}  // namespace
}  // namespace evenspit::body
