// SPDX-License-Identifier: MIT
#include "roast/convection.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "roast/convection_air.h"
#include "scenes.h"

namespace evenspit {
namespace {

// Incropera, "Fundamentals of Heat and Mass Transfer", table A.4: its own columns for density, viscosity over
// density, and Prandtl number, none of which is stored. The table is for 1 bar, air_at() for 1 atm.
TEST(Air, HasWhatTheTablePrints) {
    struct Row {
        double t, density, kinematic_e6, prandtl;
    };
    for (const Row& row :
         {Row{300, 1.1614, 15.89, 0.707}, Row{400, 0.8711, 26.41, 0.690}, Row{500, 0.6964, 38.79, 0.684},
          Row{800, 0.4354, 84.93, 0.709}, Row{1000, 0.3482, 121.9, 0.726}}) {
        AirProperties air = air_at(row.t);
        air.density_kg_m3 /= 1.01325;
        EXPECT_NEAR(air.density_kg_m3, row.density, 0.002 * row.density) << row.t;
        EXPECT_NEAR(air.kinematic_viscosity_m2_s(), 1e-6 * row.kinematic_e6, 2e-9 * row.kinematic_e6)
            << row.t;
        EXPECT_NEAR(air.prandtl(), row.prandtl, 0.002) << row.t;
    }
}

// Sutherland's law, F. M. White, "Viscous Fluid Flow", table 1-2: 1.716e-5 Pa s at 273 K, S = 111 K, which
// is itself within 2 % of measurements.
TEST(Air, IsAsViscousAsSutherlandsLawHasIt) {
    for (double t = 280; t <= 1200; t += 37) {
        const double law = 1.716e-5 * std::pow(t / 273, 1.5) * (273 + 111) / (t + 111);
        EXPECT_NEAR(air_at(t).viscosity_pa_s, law, 0.025 * law) << t;
    }
}

// Values of a general-purpose library of heat transfer, which names the books: Incropera examples 7.3
// and 9.4, a horizontal cylinder at Pr 0.69 and Gr 2.63e9, a sphere at Pr 0.7 and Gr 1e7.
TEST(Nusselt, AsInWorkedExamples) {
    EXPECT_NEAR(nusselt_of_cylinder_in_flow(6071, 0.7), 40.637, 0.001);
    EXPECT_NEAR(nusselt_of_still_cylinder(0.69 * 2.63e9, 0.69), 139.135, 0.001);
    EXPECT_NEAR(nusselt_of_still_cylinder(5.073e6, 0.697), 23.09, 0.005);
    EXPECT_NEAR(nusselt_of_still_sphere(0.7 * 1e7, 0.7), 25.6709, 0.0001);
    // Incropera example 7.6, from memory: 47.4 with the viscosity at the surface, which takes off 2 %.
    EXPECT_NEAR(nusselt_of_sphere_in_flow(6510, 0.708), 47.4 / 0.977, 0.3);
}

TEST(Nusselt, OfThingsAtRestInStillAirIsOfConduction) {
    EXPECT_NEAR(nusselt_of_still_sphere(0, 0.7), 2, 1e-12) << "exact for a sphere in endless air";
    EXPECT_NEAR(nusselt_of_sphere_in_flow(0, 0.7), 2, 1e-12);
    EXPECT_NEAR(nusselt_of_still_cylinder(0, 0.7), 0.36, 1e-12);
}

TEST(Nusselt, OfTwoCausesIsThatOfTheStrongerWhereOneIsWeak) {
    EXPECT_NEAR(mixed_nusselt(30, 3), 30, 0.001);
    EXPECT_NEAR(mixed_nusselt(2, 30, 3), 30, 0.001);
    EXPECT_NEAR(mixed_nusselt(20, 20), 20 * std::pow(2, 0.25), 1e-12);
}

// By hand, from the formulas with air at 400 K: 26.41e-6 m2/s, 33.8e-3 W/(m K), Pr 0.69.
TEST(Coefficient, OfALongRollInStillAir) {
    const ConvectionSize roll{.length_m = 0.4, .diameter_m = 0.15};
    const double ra = 9.80665 / 400 * 100 * std::pow(0.15, 3) / (26.41e-6 * 26.41e-6) * 0.690;
    const double expected = nusselt_of_still_cylinder(ra, 0.690) * 33.8e-3 / 0.15;
    // A slow turn and still air's own 0.3 add next to nothing.
    EXPECT_NEAR(convection_coefficient_w_m2_k(roll, 350, {450, 0, 0.3}), expected, 0.01 * expected);
    EXPECT_GT(expected, 4);
    EXPECT_LT(expected, 8);
}

TEST(Coefficient, IsASpheresForWhatIsAsLongAsThick) {
    const AirFlow flow{.air_k = 450, .speed_m_s = 0.3};
    const double ball = convection_coefficient_w_m2_k({0.2, 0.2}, 350, flow);
    const double roll = convection_coefficient_w_m2_k({0.4, 0.2}, 350, flow);
    EXPECT_NEAR(convection_coefficient_w_m2_k({0.3, 0.2}, 350, flow), (ball + roll) / 2, 1e-12);
    EXPECT_EQ(convection_coefficient_w_m2_k({0.9, 0.2}, 350, flow), roll);
    EXPECT_EQ(convection_coefficient_w_m2_k({0.1, 0.2}, 350, flow), ball);
}

TEST(Coefficient, GrowsWithDifferenceSpeedAndSmallness) {
    const auto h = [](double skin, double speed, double diameter) {
        return convection_coefficient_w_m2_k({2 * diameter, diameter}, skin, {450, speed, 0});
    };
    EXPECT_GT(h(300, 0, 0.2), h(400, 0, 0.2));
    EXPECT_GT(h(350, 1, 0.2), h(350, 0.5, 0.2));
    EXPECT_GT(h(350, 0.5, 0.1), h(350, 0.5, 0.2));
}

TEST(Size, OfABallIsItsDiameter) {
    const Assembly assembly = test::scene({test::meat_at(test::ball(0.08), 0.3)}, {});
    const ConvectionSize size = convection_size(assembly, skin_patches(assembly, 0.03), 0);
    EXPECT_NEAR(size.length_m, 0.16, 1e-3);
    EXPECT_NEAR(size.diameter_m, 0.16, 1e-3);
}

// The heat through an opening over its temperature difference, by hand: a door of 1 m by 2 m, 20 K at 300 K:
// 1.1766 kg/m3 × 1007 J/(kg K) × 0.2 × 2 m2 × √(9.81 × 2 × 20/300).
TEST(Opening, ExchangesByItsHeightAndDifference) {
    EXPECT_NEAR(opening_exchange_w_k(2, 2, 310, 290), 1.1766 * 1007 * 0.2 * 2 * std::sqrt(9.80665 * 2 / 15),
                2);
    EXPECT_EQ(opening_exchange_w_k(2, 2, 300, 300), 0);
}

TEST(Hollow, OpensByWhatItsWallSeesOfTheOutside) {
    // A bowl, its inside marked as the wall of a cavity: it opens by its mouth.
    const double inner = 0.09;
    TriangleMesh bowl = test::grid_mesh(96, 96, [&](double u, double v) {
        const double radius = v <= 0.5 ? 0.1 : inner, angle = std::numbers::pi * (v <= 0.5 ? v : 1 - v);
        const double r = v <= 0 || v >= 1 ? 0 : radius * std::sin(angle);
        return Vec3(-radius * std::cos(angle), r * std::cos(u), r * std::sin(u));
    });
    body::Body body = test::flesh_body(bowl, 1);
    body.region_table = body::named_regions({"meat", "cavity wall"});
    for (const Triangle& triangle : body.parts[0].mesh.triangles) {
        const Vec3 middle = (body.parts[0].mesh.corner(triangle, 0) + body.parts[0].mesh.corner(triangle, 1) +
                             body.parts[0].mesh.corner(triangle, 2)) /
                            3;
        body.parts[0].regions.push_back(middle.norm() < inner + 1e-4 && middle.x() < -0.003 ? 1 : 0);
    }
    const Assembly assembly = test::scene({test::item_of(body, {})}, {});
    ViewOptions options;
    options.rays = 256;
    const SkinViews views = skin_views(assembly, options);
    const Hollow hollow = hollow_of(views.skin, mean_over_turn(views), 0);
    const double mouth = std::numbers::pi * inner * inner;
    EXPECT_NEAR(hollow.opening_m2, mouth, 0.02 * mouth);
    // The marked wall ends 3 mm short of the mouth.
    EXPECT_NEAR(hollow.wall_m2, 2 * mouth * (1 - 0.003 / inner), 0.04 * mouth);
}

// Through a hole that is small against the wall all depends on the hole: on its area and the root of its
// width, so 16 times the area lets in 32 times the heat. Through a wide one it depends on the wall.
TEST(Hollow, TakesInWhatItsOpeningLets) {
    const double small = cavity_coefficient_w_m2_k({0.05, 2e-6}, 350, 450);
    EXPECT_GT(small, 0);
    EXPECT_NEAR(cavity_coefficient_w_m2_k({0.05, 32e-6}, 350, 450) / small, 32, 1);
    const double wide = cavity_coefficient_w_m2_k({0.05, 0.5}, 350, 450);
    EXPECT_NEAR(cavity_coefficient_w_m2_k({0.05, 5}, 350, 450), wide, 0.1 * wide);
    EXPECT_EQ(cavity_coefficient_w_m2_k({0.05, 0}, 350, 450), 0);
}

// Heskestad's formula by hand, 1 kW over a point 1 m below: 3.4 (9.81 / (1.007 × 1.16 × 300))^⅓ × 1 m/s on
// the axis, 0.083 m below where the plume seems to begin.
TEST(Plume, RisesAsFastAsTheFormulaHasIt) {
    const double on_axis = 3.4 * std::cbrt(9.80665 / (1.007 * 1.1766 * 300 * (1 - 0.083)));
    EXPECT_NEAR(plume_over(1000, 1, 0, 300).speed_m_s, on_axis / 2, 0.01 * on_axis);
    EXPECT_EQ(plume_over(0, 1, 0.3, 300).speed_m_s, 0);
    EXPECT_EQ(plume_over(1000, 0, 0, 300).speed_m_s, plume_over(1000, 0.2, 0, 300).speed_m_s)
        << "in the flames";
    EXPECT_LT(plume_over(1000, 1, 0.5, 300).speed_m_s, on_axis / 2) << "a wide fire's plume is slower";
}

// As handbooks of fire protection have it in round numbers, 25 K for a kilowatt at a metre.
TEST(Plume, IsAsHotAsTheFormulaHasIt) {
    const double on_axis = 25 / std::pow(1 - 0.083, 5. / 3);
    EXPECT_NEAR(plume_over(1000, 1, 0, 293).hotter_by_k, on_axis / 2, 0.02 * on_axis);
    EXPECT_EQ(plume_over(0, 1, 0.3, 300).hotter_by_k, 0);
    EXPECT_EQ(plume_over(1000, 0, 0, 300).hotter_by_k, plume_over(1000, 0.2, 0, 300).hotter_by_k)
        << "in the flames";
    EXPECT_GT(plume_over(1000, 0.5, 0, 300).hotter_by_k, plume_over(1000, 1, 0, 300).hotter_by_k);
    // What rises carries the heat of the fire: its section, by entrainment 2 % of its height squared and
    // more.
    const Plume far = plume_over(10000, 3, 0, 300);
    const double section_m2 = 10000 / (1007 * 1.1766 * far.speed_m_s * far.hotter_by_k);
    EXPECT_GT(section_m2, 0.02 * 9);
    EXPECT_LT(section_m2, 0.25 * 9);
}

}  // namespace
}  // namespace evenspit
