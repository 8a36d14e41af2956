// SPDX-License-Identifier: MIT
// A cook with every figure written by hand, for tests of what is printed and drawn. The figures are invented;
// they do not come from a computation and need not agree with each other.
#pragma once

#include <cmath>
#include <limits>
#include <numbers>

#include "cook/cook_course.h"
#include "cook/schedule.h"
#include "report/sample_result.h"
#include "support/meshes.h"

namespace evenspit::test {

inline constexpr double cook_minute = 60, cook_hour = 3600;
inline constexpr double cook_takes_s = 3 * cook_hour + 4 * cook_minute;

/// An egg of 30 cm on a straight rod line.
inline Item cooked_item(const std::string& name = "goose") {
    Item item = sample_item();
    auto body = std::make_shared<body::PreparedBody>(*item.body);
    body::Part flesh;
    flesh.mesh = ellipsoid_mesh(0.15, 0.09, 0.08, Vec3::Zero());
    for (const Vec3& vertex : flesh.mesh.vertices) body->bounds.extend(vertex);
    body->body.parts = {flesh};
    item.body = body;
    item.name = name;
    item.bird = true;
    item.pose.translation() = Vec3(0.34, 0.005, 0);
    item.seat.line = {Vec2(0, 0), Vec2(0, 0.01)};
    return item;
}

inline Assembly cooked_assembly() {
    Assembly assembly = sample_assembly();
    assembly.items = {cooked_item()};
    assembly.cook.emplace();
    assembly.cook->cooker_temperature_k = 422;
    return assembly;
}

inline ItemMoment item_moment(double share) {
    ItemMoment moment;
    moment.matter.mass_kg = 4.6 - 1.1 * share * share;
    moment.matter.bearing_strength_pa = 120e3 - 80e3 * share;
    moment.skin_k = 278 + 120 * std::sqrt(share);
    moment.mean_k = 278 + 75 * share;
    moment.coldest_k = 277 + 70 * share * share;
    moment.juice_kg = 0.8 * share * share;
    moment.dried_kg = 0.5 * share;
    moment.fat_kg = 0.3 * share * share;
    return moment;
}

inline RoastMoment roast_moment(double time_s, bool resting, std::size_t items) {
    const double share = time_s / cook_takes_s, cooked = std::min(share, 1.0);
    RoastMoment moment;
    moment.time_s = time_s;
    moment.resting = resting;
    moment.shown_k = resting ? 293.15 : 422 - 30 * std::exp(-time_s / 900);
    moment.fuel_left_kg = 2.2 * (1 - 0.8 * cooked);
    moment.to_load_w = resting ? 0 : 600;
    for (std::size_t i = 0; i < items; ++i) {
        moment.items.push_back(item_moment(cooked));
        // breast, thigh, core, probe
        moment.places_k.insert(
            moment.places_k.end(),
            {277 + 70 * share, 277 + 76 * share, 277 + 69 * share * share, 277 + 90 * std::sqrt(share)});
    }
    return moment;
}

inline void add_places(RoastCourse& course, std::size_t item) {
    constexpr double safe_k = 347.04;
    course.places.push_back({item, PlaceKind::breast, "breast", safe_k, 0, 345.37});
    course.places.push_back({item, PlaceKind::thigh, "thigh", safe_k, 0, 350.93});
    course.places.push_back({item, PlaceKind::core, "core", safe_k, 0, {}});
    course.places.push_back({item, PlaceKind::probe, "deep <in> & out", {}, 0, {}});
    for (int n = 0; n < 4; ++n)
        course.place_courses.push_back({.pull_s = cook_takes_s - 600.0 * n,
                                        .safe_s = cook_takes_s + 300,
                                        .peak_k = 349.5 + n,
                                        .peak_s = cook_takes_s + 600,
                                        .lukewarm_s = 7000,
                                        .come_up_s = 6500,
                                        .salmonella_logs = 12.34});
}

inline RoastCut sample_cut(std::size_t item, double time_s, bool lengthwise, double spacing_m) {
    RoastCut cut;
    cut.time_s = time_s;
    cut.item = item;
    cut.lengthwise = lengthwise;
    cut.spacing_m = spacing_m;
    const double wide = lengthwise ? 0.15 : 0.09, high = 0.08;
    cut.from = {-wide - spacing_m, -high - spacing_m};
    cut.count = {static_cast<std::size_t>(2 * wide / spacing_m) + 2,
                 static_cast<std::size_t>(2 * high / spacing_m) + 2};
    const double share = time_s / cook_takes_s;
    for (std::size_t up = 0; up < cut.count[1]; ++up) {
        for (std::size_t across = 0; across < cut.count[0]; ++across) {
            const double x = cut.from[0] + spacing_m * (static_cast<double>(across) + 0.5),
                         z = cut.from[1] + spacing_m * (static_cast<double>(up) + 0.5);
            const double r = std::hypot(x / wide, z / high);
            cut.temperature_k.push_back(r < 1 ? static_cast<float>(277 + 65 * share + 80 * r * r * r * r)
                                              : std::numeric_limits<float>::quiet_NaN());
        }
    }
    return cut;
}

/// More at clock 90° and toward the point.
inline SkinHeat sample_skin_heat(const Item& item) {
    SkinHeat heat;
    const TriangleMesh& mesh = item.body->body.parts.front().mesh;
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3 at =
            item.pose *
            Vec3((mesh.corner(triangle, 0) + mesh.corner(triangle, 1) + mesh.corner(triangle, 2)) / 3);
        heat.j_m2.push_back(6e6 * (1 + 0.2 * at.z() / 0.08 + 0.15 * (at.x() - 0.34) / 0.15));
    }
    return heat;
}

inline cook::Evenness sample_evenness() {
    cook::Evenness even;
    even.index = 0.834;
    even.index_even_turn = 0.912;
    for (int n = 0; n < 24; ++n) {
        even.round_j_m2.push_back(6e6 * (1 + 0.2 * std::sin((n + 0.5) / 12 * std::numbers::pi)));
        even.along_j_m2.push_back(6e6 * (0.85 + 0.3 * n / 23.0));
    }
    even.along_from_m = 0.19;
    even.along_to_m = 0.49;
    even.hottest_over_mean = 1.34;
    even.hottest = Vec3(0.1, 0, 0.05);
    return even;
}

inline void add_along(cook::CookCourse& course) {
    for (const RoastMoment& moment : course.roast.moments) {
        if (moment.resting) continue;
        const double share = moment.time_s / cook_takes_s;
        cook::Along along;
        along.time_s = moment.time_s;
        for (const ItemMoment& item : moment.items) along.mass_kg += item.matter.mass_kg;
        along.unbalance_kg_m = Vec2(0.03, -0.04) * (1 + share);
        along.gravity_torque_n_m = 0.49 * (1 + share);
        along.motor_use = 0.22 * (1 + share);
        along.irregularity = 0.13;
        along.sag_m = 0.0021;
        along.gap_m = 0.041;
        along.torque_use = 0.2 + 0.9 * share * share;
        along.hold_use = 0.15 + 0.9 * share * share;
        along.torque_use_tightened = share > 0.5 ? 0.2 + 0.4 * share : *along.torque_use;
        along.hold_use_tightened = 0.1;
        course.along.push_back(along);
    }
    course.worst = course.along.size() - 1;
}

/// The coarser, the fewer moments and cells.
inline cook::CookCourse sample_cook(const Assembly& assembly, double spacing_m = 0.004) {
    cook::CookCourse course;
    RoastCourse& roast = course.roast;
    roast.spacing_m = spacing_m;
    roast.cells = 123456;
    roast.imbalance = 2e-4;
    roast.off_s = cook_takes_s;
    const std::size_t items = assembly.items.size();
    for (double t = 0; t < cook_takes_s; t += 600) roast.moments.push_back(roast_moment(t, false, items));
    roast.moments.push_back(roast_moment(cook_takes_s, false, items));
    for (const double rest_s : {300.0, 600.0, 900.0, 1200.0})
        roast.moments.push_back(roast_moment(cook_takes_s + rest_s, true, items));
    for (std::size_t i = 0; i < items; ++i) {
        add_places(roast, i);
        roast.skin_heat.push_back(sample_skin_heat(assembly.items[i]));
        for (const double time_s : {cook_takes_s / 2, cook_takes_s}) {
            roast.cuts.push_back(sample_cut(i, time_s, true, spacing_m));
            roast.cuts.push_back(sample_cut(i, time_s, false, spacing_m));
        }
        course.evenness.push_back(sample_evenness());
    }
    roast.fuel = FuelPlan{.laid_kg = 2.13,
                          .burnt_kg = 1.71,
                          .released_j = 45e6,
                          .lit_before_s = 55 * cook_minute,
                          .preheat_s = 25 * cook_minute,
                          .bank_from_m = 0.18,
                          .bank_to_m = 0.5,
                          .bank_width_m = 0.12,
                          .need_w = 2000,
                          .through_wall_w = 900,
                          .with_gas_w = 400,
                          .by_openings_w = 100,
                          .to_load_w = 600,
                          .least_w = 450};
    course.off_s =
        cook::Range{cook_takes_s - 25 * cook_minute, cook_takes_s, cook_takes_s + 26 * cook_minute};
    course.retighten = {{96 * cook_minute, 0, 0.006}};
    course.findings = {{.level = Level::care, .code = Code::cool_cooker, .value = 370.0, .limit = 380.37},
                       {.level = Level::ready,
                        .code = Code::by_carry_over,
                        .about = {Thing::Kind::item, 0},
                        .value = 346.5,
                        .limit = 347.04,
                        .facts = CarryOverFacts{{"breast"}, 347.04, 300}}};
    course.verdict = Level::care;
    add_along(course);
    return course;
}

inline std::optional<cook::Schedule> sample_schedule(const Assembly& assembly,
                                                     const cook::CookCourse& course) {
    const std::optional<cook::ScheduleNeed> need = cook::schedule_need(assembly, course);
    return need ? std::optional(cook::schedule(*need)) : std::nullopt;
}

}  // namespace evenspit::test
