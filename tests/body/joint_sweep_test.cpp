// SPDX-License-Identifier: MIT
// Every joint over its whole range of weights, with measures and meshers drawn at random.
#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include <gtest/gtest.h>

#include "body/joint.h"
#include "body/joint_models.h"
#include "geometry/solid_check.h"
#include "self_intersection.h"
#include "support/sweep.h"

namespace evenspit::body {
namespace {

class JointSweep : public testing::TestWithParam<std::size_t> {
  protected:
    const JointKind& kind() const { return joint_table()[GetParam()]; }
    std::string name() const { return std::string(kind().name); }
};

TEST_P(JointSweep, JointsAreSoundAndMeasureAndWeighWhatTheyShould) {
    std::mt19937 random(static_cast<unsigned>(GetParam()) + 1);
    std::uniform_real_distribution<double> log_mass(std::log(kind().least_kg), std::log(kind().greatest_kg)),
        stretch(0.8, 1.25), spacing(2, 4);
    // Sizes go with the cube root of the weight.
    const Vec3 usual =
        bounds(make_joint({.kind = name(), .mass_kg = kind().least_kg}).parts[0].mesh).sizes() /
        std::cbrt(kind().least_kg);
    const int count = test::sweep_sets(500, 4);
    for (int k = 0; k < count; ++k) {
        const double kg = std::exp(log_mass(random));
        JointOptions options{.kind = name(), .mass_kg = kg, .spacing_m = spacing(random) * kind().spacing_m};
        // Of all three at most two: the third follows, so that the density stays natural.
        if (k % 2 == 0) options.length = stretch(random) * std::cbrt(kg) * usual.x();
        if (k % 3 == 0) options.width = stretch(random) * std::cbrt(kg) * usual.y();
        if (k % 6 == 1) options.depth = stretch(random) * std::cbrt(kg) * usual.z();
        const Body body = make_joint(options);
        ASSERT_NEAR(mass_moments(body).amount, kg, 1e-9 * kg);
        double sum = 0;
        for (const PartShare& share : body.shares) sum += share.mass_kg;
        ASSERT_NEAR(sum, kg, 1e-9 * kg);
        const Vec3 size = bounds(body.parts[0].mesh).sizes();
        ASSERT_NEAR(size.x(), options.length.value_or(size.x()), 1e-9) << k;
        ASSERT_NEAR(size.y(), options.width.value_or(size.y()), 1e-9) << k;
        ASSERT_NEAR(size.z(), options.depth.value_or(size.z()), 1e-9) << k;
        for (const Part& part : body.parts) {
            const SolidReport report = check_solid(part.mesh);
            ASSERT_TRUE(report.ok()) << k << ' ' << part.name << ": " << report.found;
            ASSERT_EQ(report.components, 1) << k << ' ' << part.name;
        }
        ASSERT_FALSE(test::self_intersects(body.parts[0].mesh)) << k;
    }
}

// However fine the mesh, the body is the same: volume over weight hardly moves.
TEST_P(JointSweep, VolumeHardlyDependsOnTheMesher) {
    const double kg = std::sqrt(kind().least_kg * kind().greatest_kg);
    const double fine = matter_volume(make_joint({.kind = name(), .mass_kg = kg}));
    for (const double coarse : {1.2, 1.6, 2.2}) {
        const Body body = make_joint({.kind = name(), .mass_kg = kg, .spacing_m = coarse * kind().spacing_m});
        EXPECT_NEAR(matter_volume(body), fine, 2e-3 * fine) << coarse;
    }
}

// Volume goes with the weight, in even steps.
TEST_P(JointSweep, VolumeFollowsTheWeight) {
    const double kg = 1.1 * kind().least_kg;
    const double spacing = 2 * kind().spacing_m;
    const double first = matter_volume(make_joint({.kind = name(), .mass_kg = kg, .spacing_m = spacing}));
    for (int k = 1; k <= 5; ++k) {
        const double more = kg * (1 + 1e-3 * k);
        const double volume =
            matter_volume(make_joint({.kind = name(), .mass_kg = more, .spacing_m = spacing}));
        EXPECT_NEAR(volume / first, more / kg, 1e-9);
    }
}

INSTANTIATE_TEST_SUITE_P(Joints, JointSweep, testing::Range<std::size_t>(0, 5), [](const auto& joint) {
    std::string text(joint_table().at(joint.param).name);
    std::replace(text.begin(), text.end(), ' ', '_');
    return text;
});

TEST(JointSweepTest, CoversEveryJoint) {
    EXPECT_EQ(joint_table().size(), 5U);
}

}  // namespace
}  // namespace evenspit::body
