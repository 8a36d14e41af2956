// SPDX-License-Identifier: MIT
#include "roast/surface_heat.h"

#include <cmath>

#include <gtest/gtest.h>

#include "units/physical_constants.h"

namespace evenspit {
namespace {

// Steam tables.
TEST(SurfaceHeat, KnowsWatersVapour) {
    EXPECT_NEAR(saturation_pa(293.15), 2339, 5);
    EXPECT_NEAR(saturation_pa(333.15), 19946, 30);
    EXPECT_NEAR(saturation_pa(373.15), 101420, 100);
    EXPECT_NEAR(evaporation_j_kg(293.15), 2.4535e6, 0.01e6);
    EXPECT_NEAR(evaporation_j_kg(373.15), 2.2564e6, 0.01e6);
}

TEST(SurfaceHeat, SumsConvectionAndRadiation) {
    const SurfaceExposure e{
        .air_k = 450, .convection_w_m2k = 20, .irradiation_w_m2 = 3000, .emissivity = 0.8};
    const SurfaceFlux flux = surface_flux(e, 350);
    EXPECT_NEAR(flux.heat_w_m2, 20 * 100 + 0.8 * (3000 - stefan_boltzmann_w_m2_k4 * std::pow(350, 4)), 1e-9);
    EXPECT_NEAR(flux.heat_slope_w_m2k, -20 - 4 * 0.8 * stefan_boltzmann_w_m2_k4 * std::pow(350, 3), 1e-9);
    EXPECT_EQ(flux.water_kg_m2s, 0);
}

TEST(SurfaceHeat, HasTheSlopesOfItsFluxes) {
    const SurfaceExposure e{
        .air_k = 430, .convection_w_m2k = 15, .irradiation_w_m2 = 2000, .vapour_pa = 3000, .wetness = 0.7};
    for (const double t : {290.0, 330.0, 365.0}) {
        const SurfaceFlux a = surface_flux(e, t - 0.2), b = surface_flux(e, t + 0.2), at = surface_flux(e, t);
        EXPECT_NEAR(at.heat_slope_w_m2k / ((b.heat_w_m2 - a.heat_w_m2) / 0.4), 1, 0.02) << t;
        EXPECT_NEAR(at.water_slope_kg_m2sk / ((b.water_kg_m2s - a.water_kg_m2s) / 0.4), 1, 0.02) << t;
    }
}

// A wet surface in a stream that does not radiate takes the wet-bulb temperature: of dry air at 100 °C about
// 31 °C, at 40 °C and 20 % humidity about 21.6 °C (psychrometric charts, from memory).
TEST(SurfaceHeat, FindsTheWetBulb) {
    const SurfaceExposure oven{
        .air_k = 373.15, .convection_w_m2k = 25, .emissivity = 0, .vapour_pa = 0, .wetness = 1};
    EXPECT_NEAR(balanced_surface(oven, 300, 1e-6, 300).surface_k - 273.15, 31, 1.5);
    const SurfaceExposure desert{.air_k = 313.15,
                                 .convection_w_m2k = 25,
                                 .emissivity = 0,
                                 .vapour_pa = 0.2 * saturation_pa(313.15),
                                 .wetness = 1};
    EXPECT_NEAR(balanced_surface(desert, 300, 1e-6, 300).surface_k - 273.15, 21.6, 1.0);
}

TEST(SurfaceHeat, KeepsWetSurfacesUnderBoiling) {
    SurfaceExposure fire{.air_k = 500, .convection_w_m2k = 20, .irradiation_w_m2 = 30000, .wetness = 1};
    EXPECT_LT(balanced_surface(fire, 360, 300, 300).surface_k, 375);
    fire.most_water_kg_m2s = 1e-4;
    const double crust = balanced_surface(fire, 360, 300, 300).surface_k;
    EXPECT_GT(crust, 400);
    const SurfaceFlux flux = surface_flux(fire, crust);
    EXPECT_EQ(flux.water_kg_m2s, 1e-4);
    EXPECT_NEAR(flux.heat_w_m2, 300 * (crust - 360), 1);
}

TEST(SurfaceHeat, FindsTheSameFromAnyGuess) {
    const SurfaceExposure e{.air_k = 480,
                            .convection_w_m2k = 20,
                            .irradiation_w_m2 = 8000,
                            .wetness = 1,
                            .most_water_kg_m2s = 1e-3};
    const double at = balanced_surface(e, 320, 400, 320).surface_k;
    for (const double guess : {200.0, 300.0, 372.0, 400.0, 900.0})
        EXPECT_NEAR(balanced_surface(e, 320, 400, guess).surface_k, at, 0.01) << guess;
}

// Four σ T³ between black walls at 330 K is 8.2 W/m2·K; steam carries more than that in a closed hollow.
TEST(SurfaceHeat, StirsHollows) {
    EXPECT_NEAR(hollow_exchange_w_m2k(330, false), 3 + 0.82 * 8.15, 0.1);
    EXPECT_GT(hollow_exchange_w_m2k(330, true), 2 * hollow_exchange_w_m2k(330, false));
}

}  // namespace
}  // namespace evenspit
