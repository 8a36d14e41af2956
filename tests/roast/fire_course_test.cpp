// SPDX-License-Identifier: MIT
#include "roast/fire_course.h"

#include <cmath>
#include <filesystem>

#include <gtest/gtest.h>

#include "load/load_file.h"
#include "scenes.h"

namespace evenspit {
namespace {

constexpr double minute_s = 60;
constexpr double fahrenheit_300_k = 422.04, fahrenheit_350_k = 449.82;

Assembly harvest_turkey() {
    const std::filesystem::path root = EVENSPIT_SOURCE_DIR;
    return read_load(root / "samples" / "harvest-turkey.toml", root / "models");
}

// The turkey's rays are cast once for all tests.
const FireCourse& turkey_course() {
    static const FireCourse course = [] {
        Assembly load = harvest_turkey();
        load.cook->fire.preheat_k = fahrenheit_350_k;
        load.cook->fire.vents_left = true;
        return fire_course(load, fire_settings(load).value());
    }();
    return course;
}

// Meat under its skin, 2 mm by 2 mm inward to the middle of a side of the bird; water leaves the skin as from
// a wet one (Lewis: the same film carries heat and vapour).
class WetMeat {
  public:
    [[nodiscard]] double skin_k() const { return temperature_k_.front(); }

    void take_up(double flux_w_m2, double coefficient_w_m2_k, double seconds) {
        constexpr double step_s = 0.5, spacing_m = 0.002, k = 0.50, diffusivity = 1.36e-7;
        for (double t = 0; t < seconds; t += step_s) {
            const double skin_c = skin_k() - 273.15;
            // Magnus' formula for the pressure of vapour over water.
            const double vapour_kg_m3 =
                611 * std::exp(17.27 * skin_c / (skin_c + 237.3)) / (461.5 * skin_k());
            const double drying = coefficient_w_m2_k / 950 * std::max(0.0, vapour_kg_m3 - 0.02) * 2.3e6;
            double in = flux_w_m2 - drying;
            for (std::size_t i = 0; i < temperature_k_.size(); ++i) {
                const double out = i + 1 < temperature_k_.size()
                                       ? k * (temperature_k_[i] - temperature_k_[i + 1]) / spacing_m
                                       : 0;
                temperature_k_[i] += step_s * diffusivity / k * (in - out) / spacing_m;
                in = out;
            }
        }
    }

  private:
    std::vector<double> temperature_k_ = std::vector<double>(20, 277.6);
};

// Common practice, no source: a cooker at 350 °F settles near 300 °F when a 13 lb bird goes in, vents left as
// they are.
TEST(FireCourse, APreheatedCookerDropsWhenTheBirdGoesIn) {
    const FireCourse& course = turkey_course();
    CookerState state = load_goes_in(course);
    EXPECT_NEAR(state.shown_k, fahrenheit_350_k, 0.01);
    WetMeat meat;
    double sum_k = 0;
    int minutes = 0;
    for (int minute = 0; minute < 90; ++minute) {
        state = later(course, state, {meat.skin_k()}, minute_s);
        const SkinHeating on = heating(course, state, {meat.skin_k()})[0];
        double area = 0, convection = 0;
        for (const SkinPatch& patch : course.views.skin.patches) {
            area += patch.area_m2;
            convection += patch.area_m2 * on.coefficient_w_m2_k[patch.part][std::size_t(patch.triangles[0])];
        }
        meat.take_up(state.to_load_w / area, convection / area, minute_s);
        if (minute < 20) continue;
        sum_k += state.shown_k;
        ++minutes;
    }
    const double settled_k = sum_k / minutes;
    EXPECT_NEAR(settled_k, fahrenheit_300_k, 25 / 1.8) << "to half of the drop of 50 °F";
    EXPECT_GT(meat.skin_k(), 273 + 40);
    EXPECT_LT(meat.skin_k(), 273 + 90);
}

/// What an item's triangles take up, W.
double taken_w(const FireCourse& course, const SkinHeating& on, double skin_k) {
    double sum_w = 0;
    const auto& parts = course.assembly.items[0].body->body.parts;
    for (std::size_t p = 0; p < parts.size(); ++p) {
        for (std::size_t t = 0; t < on.incident_w_m2[p].size(); ++t) {
            const TriangleMesh& mesh = parts[p].mesh;
            const Triangle& triangle = mesh.triangles[t];
            const Vec3& a = mesh.corner(triangle, 0);
            const double area = (mesh.corner(triangle, 1) - a).cross(mesh.corner(triangle, 2) - a).norm() / 2;
            sum_w += area * (on.coefficient_w_m2_k[p][t] * (on.air_k - skin_k) +
                             on.emissivity * (on.incident_w_m2[p][t] - black_power_w_m2(skin_k)));
        }
    }
    return sum_w;
}

// What the cooker gives to the load is what its triangles take up.
TEST(FireCourse, SkinTakesUpWhatTheCookerGives) {
    const FireCourse& course = turkey_course();
    for (const double skin_k : {280.0, 340.0}) {
        // Long enough for the step's own changes to be small.
        const CookerState state =
            later(course, later(course, load_goes_in(course), {skin_k}, 1800), {skin_k}, 10);
        EXPECT_NEAR(taken_w(course, heating(course, state, {skin_k})[0], skin_k), state.to_load_w,
                    0.01 * state.to_load_w)
            << skin_k;
    }
}

// Straight over coals in the open it hangs in what rises from them, which is hot; beside them it does not.
TEST(FireCourse, OverCoalsInTheOpenTheAirIsHot) {
    const std::filesystem::path root = EVENSPIT_SOURCE_DIR;
    Assembly load = read_load(root / "samples" / "three-chickens.toml", root / "models");
    load.items.resize(1);
    constexpr double skin_k = 340;
    const ViewOptions coarse{.patch_m = 0.06, .rays = 16};
    for (const CoalPlace place : {CoalPlace::under, CoalPlace::both_sides}) {
        load.cook->fire.coals = place;
        const FireCourse course = fire_course(load, fire_settings(load).value(), coarse);
        const CookerState before = later(course, load_goes_in(course), {skin_k}, 600),
                          state = later(course, before, {skin_k}, 10);
        const SkinHeating on = heating(course, state, {skin_k})[0];
        EXPECT_EQ(state.air_k, course.settings.ambient_k);
        if (place == CoalPlace::under) {
            EXPECT_GT(on.air_k, state.air_k + 40);
            EXPECT_LT(on.air_k, state.air_k + 300) << "no hotter than flames";
        } else {
            EXPECT_EQ(on.air_k, state.air_k);
        }
        EXPECT_NEAR(taken_w(course, on, skin_k), state.to_load_w, 0.01 * state.to_load_w);
        const auto grown = [&](double CookerHeat::*heat) { return state.heat.*heat - before.heat.*heat; };
        EXPECT_NEAR(grown(&CookerHeat::released_j),
                    grown(&CookerHeat::to_load_j) + grown(&CookerHeat::with_gas_j) +
                        grown(&CookerHeat::by_openings_j),
                    1e-9 * grown(&CookerHeat::released_j));
    }
}

TEST(FireCourse, OfRadiationAloneOrNoneFollowsTheLoadFile) {
    Assembly load = harvest_turkey();
    load.cook->radiation = false;
    load.cook->convection_coefficient_w_m2_k = 25;
    FireSettings settings;
    settings.held_k = fahrenheit_300_k;
    ViewOptions coarse;
    coarse.patch_m = 0.06;
    coarse.rays = 16;
    const FireCourse course = fire_course(load, settings, coarse);
    const SkinHeating on = heating(course, load_goes_in(course), {300})[0];
    EXPECT_EQ(on.emissivity, 0);
    const SkinPatch& outer = course.views.skin.patches.front();
    ASSERT_FALSE(outer.in_cavity);
    EXPECT_EQ(on.coefficient_w_m2_k[outer.part][std::size_t(outer.triangles[0])], 25);
    EXPECT_EQ(on.incident_w_m2[outer.part][std::size_t(outer.triangles[0])], 0);
}

// Between two banks in the open the fire shines on what turns there and the air does not warm it.
TEST(FireCourse, OfAPitHeatsByRadiationAlone) {
    Assembly load =
        test::scene({test::meat_at(test::ball(0.08), 0.35)},
                    {test::surface("front", BoxShape{Vec3(.1, -.4, -.4), Vec3(.6, -.2, -.3)}, true),
                     test::surface("ground", PlaneShape{Vec3(0, 0, -.4), Vec3::UnitZ()}),
                     test::surface("back", BoxShape{Vec3(.1, .2, -.4), Vec3(.6, .4, -.3)}, true)});
    FireSettings settings;
    settings.ambient_k = 290;
    const FireCourse course = fire_course(load, settings);
    const CookerState state = later(course, load_goes_in(course), {320}, 600);
    EXPECT_EQ(state.air_k, 290);
    const SkinHeating on = heating(course, state, {320})[0];
    EXPECT_GT(state.to_load_w, 0);
    // All that shines is the banks at their glow and the weather for the rest.
    const double fire = item_view(course.views.skin, course.mean, 0)[0] * 2;
    const double glow = fire_radiosity_w_m2(settings.fuel, state.bed, course.shell.fire_m2, 290);
    double area = 0, incident = 0;
    for (const SkinPatch& patch : course.views.skin.patches) {
        area += patch.area_m2;
        incident += patch.area_m2 * on.incident_w_m2[0][std::size_t(patch.triangles[0])];
    }
    EXPECT_NEAR(incident / area, fire * glow + (1 - fire) * black_power_w_m2(290), 0.03 * fire * glow);
    EXPECT_LT(on.coefficient_w_m2_k[0][0], 10);
    EXPECT_GT(on.coefficient_w_m2_k[0][0], 2);
}

// In an oven at T all that skin sees, but for itself, is black at T: h (T − Ts) + ε σ (T⁴ − Ts⁴) on each m2.
TEST(FireCourse, OfAnOvenIsAllAtOneTemperature) {
    FireSettings settings;
    settings.held_k = 436;
    settings.basting = {.first_s = 0, .every_s = 60, .open_s = 30};
    for (const std::vector<CookerSurface>& walls :
         {std::vector<CookerSurface>{}, {test::surface("lid", BoxShape{Vec3(0, -1, .3), Vec3(1, 1, .4)})}}) {
        const FireCourse course =
            fire_course(test::scene({test::meat_at(test::ball(0.08), 0.35)}, walls), settings);
        const CookerState state = later(course, load_goes_in(course), {330}, 600);
        const SkinHeating on = heating(course, state, {330})[0];
        EXPECT_EQ(state.air_k, 436);
        EXPECT_EQ(state.time_s, 600);
        EXPECT_NEAR(on.incident_w_m2[0][7], black_power_w_m2(436), 1e-9 * black_power_w_m2(436));
        const double flux_w_m2 = on.coefficient_w_m2_k[0][7] * (436 - 330) +
                                 skin_emissivity * (black_power_w_m2(436) - black_power_w_m2(330));
        EXPECT_NEAR(state.to_load_w, flux_w_m2 * course.views.skin.outer_area_m2(0), 1e-3 * state.to_load_w);
        EXPECT_NEAR(state.heat.to_load_j, 600 * state.to_load_w, 1e-9 * state.heat.to_load_j);
    }
}

TEST(FireCourse, OfAFireThatIsFedDoesNotFade) {
    FireCourse course = turkey_course();
    ASSERT_FALSE(course.settings.laid_kg);
    const CookerState in = load_goes_in(course);
    EXPECT_EQ(later(course, in, {330}, 3600).fire.left_kg, in.fire.laid_kg);
    course.settings.laid_kg = 0.6;
    course.settings.vents_left = false;
    CookerState state = load_goes_in(course);
    const double at_first_w = later(course, state, {330}, 1800).to_load_w;
    state = later(course, state, {330}, 6 * test::hour_s);
    EXPECT_LT(state.fire.left_kg, 0.1);
    EXPECT_LT(state.to_load_w, 0.5 * at_first_w) << "0.6 kg are gone";
}

TEST(FireSettings, FollowTheLoadFile) {
    Assembly load = harvest_turkey();
    FireSettings settings = fire_settings(load).value();
    EXPECT_NEAR(settings.held_k, fahrenheit_300_k, 0.01);
    EXPECT_EQ(settings.fuel, FuelKind::lump_charcoal);
    EXPECT_FALSE(lid_is_open(settings.basting, 2 * test::hour_s)) << "nobody opens it";
    load.cook->fire.baste = CookBasting{.every_s = 1200, .from_s = {}};
    load.cook->duration_s = 2 * test::hour_s;
    EXPECT_EQ(fire_settings(load)->basting.first_s, test::hour_s);
    load.cook->fire.baste->from_s = 600;
    EXPECT_EQ(fire_settings(load)->basting.first_s, 600);
    EXPECT_EQ(fire_settings(load)->basting.open_s, 30);
    load.cook->cooker_temperature_k.reset();
    EXPECT_FALSE(fire_settings(load));
    load.cook.reset();
    EXPECT_FALSE(fire_settings(load));
}

TEST(FireCourse, ALidThatIsOffLetsSkinCool) {
    FireCourse course = turkey_course();
    CookerState state = later(course, load_goes_in(course), {340}, 1800);
    const auto mean_incident = [&](bool open) {
        course.settings.basting = open ? Basting{.first_s = 0, .every_s = 1e9, .open_s = 1e9} : Basting{};
        const SkinHeating on = heating(course, state, {340})[0];
        double sum = 0;
        for (const double w : on.incident_w_m2[0]) sum += w;
        return sum / double(on.incident_w_m2[0].size());
    };
    EXPECT_LT(mean_incident(true), 0.95 * mean_incident(false));
}

TEST(FireCourse, TimeSpentAtAnAngleShiftsTheHeat) {
    FireCourse course = turkey_course();
    const CookerState state = load_goes_in(course);
    const std::vector<double> even = heating(course, state, {300})[0].incident_w_m2[0];
    std::vector<double> lingering(course.views.angles, 0);
    lingering[0] = 1;
    spend_turn(course, lingering);
    const std::vector<double> shifted = heating(course, state, {300})[0].incident_w_m2[0];
    // Stopped with the breast up, the underside has the fire.
    double under_even = 0, under = 0, over_even = 0, over = 0;
    for (const SkinPatch& patch : course.views.skin.patches) {
        if (patch.in_cavity || std::abs(patch.normal.z()) < 0.7) continue;
        const auto t = std::size_t(patch.triangles[0]);
        (patch.normal.z() < 0 ? under_even : over_even) += patch.area_m2 * even[t];
        (patch.normal.z() < 0 ? under : over) += patch.area_m2 * shifted[t];
    }
    EXPECT_GT(under, 1.2 * under_even);
    EXPECT_LT(over, 0.95 * over_even);
}

}  // namespace
}  // namespace evenspit
