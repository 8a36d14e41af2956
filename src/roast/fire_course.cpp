// SPDX-License-Identifier: MIT
#include "roast/fire_course.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "rig/plane_room.h"

namespace evenspit {
namespace {

constexpr double usual_cook_s = 3 * 3600;
constexpr double part_s = 10;  // how finely it is asked whether the lid is open

bool radiates(const FireCourse& course) {
    return !course.assembly.cook || course.assembly.cook->radiation;
}

std::vector<SkinConvection> convections(const FireCourse& course, const CookerState& state,
                                        const std::vector<double>& item_skin_k) {
    std::vector<SkinConvection> all;
    for (std::size_t i = 0; i < course.assembly.items.size(); ++i) {
        const ConvectionSize size = convection_size(course.assembly, course.views.skin, i);
        all.push_back(skin_convection(course.assembly, course.views, course.mean, i, item_skin_k[i],
                                      item_air(course.assembly, size, i, state)));
    }
    return all;
}

}  // namespace

std::optional<FireSettings> fire_settings(const Assembly& assembly) {
    if (!assembly.cook) return std::nullopt;
    const CookFire& fire = assembly.cook->fire;
    const bool open = burns_in_the_open(assembly.cooker);
    if (!open && !assembly.cook->cooker_temperature_k) return std::nullopt;
    FireSettings settings{.fuel = fire.fuel,
                          .laid_kg = fire.mass_kg,
                          .coals = fire.coals,
                          .ambient_k = fire.weather_k,
                          .held_k = open ? fire.weather_k : *assembly.cook->cooker_temperature_k,
                          .preheated_k = open ? std::nullopt : fire.preheat_k,
                          .vents_left = fire.vents_left};
    if (fire.baste) {
        const double cook_s = assembly.cook->duration_s.value_or(usual_cook_s);
        settings.basting = {.first_s = fire.baste->from_s.value_or(cook_s / 2),
                            .every_s = fire.baste->every_s,
                            .open_s = fire.baste->open_s};
    }
    return settings;
}

FireCourse fire_course(Assembly assembly, const FireSettings& settings, const ViewOptions& options) {
    assembly.cooker = with_coals_at(std::move(assembly.cooker), settings.coals);
    FireCourse course{
        .assembly = std::move(assembly), .settings = settings, .shell = {}, .views = {}, .mean = {}};
    course.shell = shell_of(course.assembly.cooker, settings.ambient_k);
    course.views = skin_views(course.assembly, options);
    course.mean = mean_over_turn(course.views);
    return course;
}

void spend_turn(FireCourse& course, std::span<const double> time_share) {
    course.mean = mean_over_turn(course.views, time_share);
}

CookerState load_goes_in(const FireCourse& course) {
    const FireSettings& settings = course.settings;
    const FuelProperties fuel = fuel_properties(settings.fuel);
    const double full_kg = course.shell.fire_m2 * pile_depth_m * fuel.bulk_kg_m3;
    const double laid_kg = settings.laid_kg.value_or(full_kg);
    const Fire fire =
        settings.fuel == FuelKind::gas
            ? lit_fire(settings.fuel, 0, course.shell.fire_m2)
            : lit_fire(settings.fuel, laid_kg, pile_area_m2(settings.fuel, laid_kg, pile_depth_m));
    CookerState state =
        preheated_cooker(course.shell, fire, settings.preheated_k.value_or(settings.held_k)).state;
    state.time_s = 0;
    return state;
}

CookerState later(const FireCourse& course, const CookerState& state, const std::vector<double>& item_skin_k,
                  double seconds) {
    CookerState now = state;
    Draught draught{.hold_k = course.settings.held_k};
    if (course.settings.vents_left) draught = {.burnt_kg_s = state.burnt_kg_s};
    draught.pace = course.settings.open_pace;
    const std::vector<SkinConvection> air = convections(course, state, item_skin_k);
    std::array<std::optional<LoadSkin>, 2> skins;  // with the lid shut, and open
    for (double left = seconds; left > 0; left -= part_s) {
        const bool open = lid_is_open(course.settings.basting, now.time_s);
        std::optional<LoadSkin>& skin = skins[open ? 1 : 0];
        if (!skin) {
            skin = load_skin(course.assembly, course.shell, course.views, course.mean, air, item_skin_k, open,
                             radiates(course));
        }
        now = later(course.shell, now, skin, draught, open, std::min(part_s, left));
        if (!course.settings.laid_kg) now.fire.left_kg = now.fire.laid_kg;
    }
    return now;
}

std::vector<SkinHeating> heating(const FireCourse& course, const CookerState& state,
                                 const std::vector<double>& item_skin_k) {
    const bool open = lid_is_open(course.settings.basting, state.time_s);
    const Radiators from = radiators(course.assembly.cooker, course.shell, state, item_skin_k, open);
    const std::vector<SkinConvection> air = convections(course, state, item_skin_k);
    std::vector<SkinHeating> all;
    for (std::size_t i = 0; i < course.assembly.items.size(); ++i) {
        all.push_back(skin_heating(course.views, course.mean, i, from, air[i], radiates(course)));
    }
    return all;
}

}  // namespace evenspit
