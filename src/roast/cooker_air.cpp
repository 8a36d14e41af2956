// SPDX-License-Identifier: MIT
#include "roast/cooker_air.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <variant>

#include <Eigen/LU>

#include "rig/plane_room.h"
#include "roast/convection.h"
#include "roast/convection_air.h"

namespace evenspit {
namespace {

constexpr double longest_step_s = 30;
constexpr double longest_open_step_s = 5;  // the air falls quickly when the lid comes off
constexpr double held_within_k = 1e-4;

constexpr double settled_s = 30 * 60, longest_preheat_s = 3 * 3600, preheat_step_s = 60;
constexpr double short_by_k = 1;          // that is as good as there
constexpr double smallest_bed_m2 = 1e-6;  // so that nothing is divided by a bed that is gone

double wall_area_m2(const RevolvedShape& wall) {
    double area = 0;
    for (std::size_t i = 0; i + 1 < wall.profile.size(); ++i) {
        const Vec2 &a = wall.profile[i], &b = wall.profile[i + 1];
        area += std::numbers::pi * (a.x() + b.x()) * (b - a).norm();
    }
    return area;
}

double wall_area_m2(const TriangleMesh& mesh) {
    double area = 0;
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3& a = mesh.corner(triangle, 0);
        area += (mesh.corner(triangle, 1) - a).cross(mesh.corner(triangle, 2) - a).norm() / 2;
    }
    return area;
}

// Of a fire, as seen from above; of a box its largest side, as burners may stand.
double burning_area_m2(const SurfaceShape& fire) {
    double area = 0;
    if (const auto* box = std::get_if<BoxShape>(&fire)) {
        const Vec3 side = box->max - box->min;
        area = std::max({side.x() * side.y(), side.x() * side.z(), side.y() * side.z()});
    } else if (const auto* ring = std::get_if<RevolvedShape>(&fire)) {
        const auto [inner, outer] =
            std::minmax_element(ring->profile.begin(), ring->profile.end(),
                                [](const Vec2& a, const Vec2& b) { return a.x() < b.x(); });
        area = std::numbers::pi * (outer->x() * outer->x() - inner->x() * inner->x());
    } else if (const auto* mesh = std::get_if<MeshShape>(&fire)) {
        for (const Triangle& triangle : mesh->mesh->triangles) {
            const Vec3& a = mesh->mesh->corner(triangle, 0);
            const Vec3 up =
                (mesh->mesh->corner(triangle, 1) - a).cross(mesh->mesh->corner(triangle, 2) - a) / 2;
            area += std::max(0.0, up.z());
        }
    } else {
        area = 1;
    }
    return area;
}

// A ball with as much wall.
double shell_diameter_m(const CookerShell& shell) {
    return std::sqrt(shell.area_m2 / std::numbers::pi);
}

// Of cold air: hot air is thinner, but one value for all keeps the balance whole, and it is little.
double air_capacity_j_k(const CookerShell& shell) {
    const AirProperties air = air_at(shell.ambient_k);
    return air.density_kg_m3 * air.specific_heat_j_kg_k * std::numbers::pi / 6 *
           std::pow(shell_diameter_m(shell), 3);
}

double wall_capacity_j_k(const CookerShell& shell) {
    const CookerWall& wall = shell.wall;
    return shell.area_m2 * wall.thickness_m * wall.density_kg_m3 * wall.specific_heat_j_kg_k;
}

// 4 σ T³ between two temperatures: what makes the difference of fourth powers one of temperatures.
double radiation_w_m2_k(double first_k, double second_k) {
    return stefan_boltzmann_w_m2_k4 * (first_k * first_k + second_k * second_k) * (first_k + second_k);
}

// Convection on a face of the shell, taken as a ball's, W/K.
double face_w_k(const CookerShell& shell, double face_k, double air_k, double speed_m_s) {
    const double d = shell_diameter_m(shell);
    return shell.area_m2 *
           convection_coefficient_w_m2_k({.length_m = d, .diameter_m = d}, face_k, {air_k, speed_m_s, 0});
}

// Everything that carries heat over one step, from what the state was at its start.
struct Conductances {
    double inner = 0, half_wall = 0, outer = 0;  // W/K
    double leak = 0;                             // slots and open lid, W/K
    double aperture = 0;                         // radiation through them, from the inner face, W/K
    double load_from_wall = 0;                   // radiation, W/K
};

Conductances conductances(const CookerShell& shell, const CookerState& state,
                          const std::optional<LoadSkin>& load, bool lid_open) {
    Conductances c;
    c.inner = face_w_k(shell, state.inside_k, state.air_k, usual_air_speed_m_s);
    c.half_wall = 2 * shell.wall.conductivity_w_m_k / shell.wall.thickness_m * shell.area_m2;
    c.outer = face_w_k(shell, state.outside_k, shell.ambient_k, 0) +
              shell.area_m2 * shell.wall.emissivity * radiation_w_m2_k(state.outside_k, shell.ambient_k);
    c.leak = opening_exchange_w_k(shell.slots_m2, shell.slot_height_m, state.air_k, shell.ambient_k);
    double open_m2 = shell.slots_m2;
    if (stands_open(shell, lid_open)) {
        const double width = std::sqrt(shell.lid_opening_m2 * 4 / std::numbers::pi);
        c.leak += opening_exchange_w_k(shell.lid_opening_m2, width, state.air_k, shell.ambient_k);
        open_m2 += shell.lid_opening_m2;
    }
    c.aperture = open_m2 * radiation_w_m2_k(state.inside_k, shell.ambient_k);
    if (load) {
        c.load_from_wall = load->emissivity * load->area_m2 * load->sees_wall *
                           radiation_w_m2_k(state.inside_k, load->temperature_k);
    }
    return c;
}

// One step with a given burning rate.
CookerState one_step(const CookerShell& shell, CookerState state, const std::optional<LoadSkin>& load,
                     const Conductances& c, double burnt_kg_s, double seconds) {
    const double ambient = shell.ambient_k;
    const BedHeat bed =
        bed_heat(state.fire.fuel, burnt_kg_s, std::max(covered_m2(state.fire), smallest_bed_m2),
                 state.inside_k, ambient, shell.glows_k);
    const double gas_w_k = bed.gas_kg_s * air_specific_heat_j_kg_k(state.air_k);
    double load_air = 0, load_k = ambient, drawn_w = 0, load_from_fire_w = 0, load_to_open_w = 0;
    if (load) {
        load_air = load->convection_w_k;
        load_k = load->temperature_k;
        drawn_w = load->drawn_w;
        const double fire = fire_radiosity_w_m2(state.fire.fuel, bed, shell.fire_m2, state.inside_k);
        const double facing = load->emissivity * load->area_m2;
        load_from_fire_w = facing * load->sees_fire * (fire - black_power_w_m2(load_k));
        load_to_open_w = facing * load->sees_open * (black_power_w_m2(load_k) - black_power_w_m2(ambient));
    }
    const double air_j_k = air_capacity_j_k(shell), wall_j_k = wall_capacity_j_k(shell);

    // Unknown: air, inner face, wall, outer face. What the bed radiates and the load does not take falls on
    // the walls.
    Eigen::Matrix4d a = Eigen::Matrix4d::Zero();
    Eigen::Vector4d b;
    a(0, 0) = air_j_k / seconds + gas_w_k + c.leak + c.inner + load_air;
    a(0, 1) = -c.inner;
    b(0) = air_j_k / seconds * state.air_k + bed.gas_w + (gas_w_k + c.leak) * ambient + load_air * load_k -
           drawn_w;
    a(1, 0) = -c.inner;
    a(1, 1) = c.inner + c.half_wall + c.aperture + c.load_from_wall;
    a(1, 2) = -c.half_wall;
    b(1) = bed.radiated_w - load_from_fire_w + c.aperture * ambient + c.load_from_wall * load_k;
    a(2, 1) = -c.half_wall;
    a(2, 2) = wall_j_k / seconds + 2 * c.half_wall;
    a(2, 3) = -c.half_wall;
    b(2) = wall_j_k / seconds * state.wall_k;
    a(3, 2) = -c.half_wall;
    a(3, 3) = c.half_wall + c.outer;
    b(3) = c.outer * ambient;
    const Eigen::Vector4d t = a.partialPivLu().solve(b);

    const double load_w = drawn_w + load_air * (t(0) - load_k) + c.load_from_wall * (t(1) - load_k) +
                          load_from_fire_w - load_to_open_w;
    state.heat.released_j += seconds * bed.released_w;
    state.heat.to_load_j += seconds * load_w;
    state.heat.through_wall_j += seconds * c.outer * (t(3) - ambient);
    state.heat.with_gas_j += seconds * gas_w_k * (t(0) - ambient);
    state.heat.by_openings_j +=
        seconds * (c.leak * (t(0) - ambient) + c.aperture * (t(1) - ambient) + load_to_open_w);
    state.time_s += seconds;
    state.air_k = t(0);
    state.inside_k = t(1);
    state.wall_k = t(2);
    state.outside_k = t(3);
    state.shown_k = thermometer_k(state.air_k, state.inside_k, state.shown_k);
    state.fire = burnt_down(state.fire, burnt_kg_s, seconds);
    state.bed = bed;
    state.burnt_kg_s = burnt_kg_s;
    state.to_load_w = load_w;
    return state;
}

// The rate between least and most that brings the thermometer to where it is to be at the end of the step.
double holding_kg_s(const CookerShell& shell, const CookerState& state, const std::optional<LoadSkin>& load,
                    const Conductances& c, double shown_k, double least, double most, double seconds) {
    const auto after = [&](double burnt) { return one_step(shell, state, load, c, burnt, seconds).shown_k; };
    double low_k = after(least) - shown_k, high_k = after(most) - shown_k;
    if (high_k <= 0) return most;
    if (low_k >= 0) return least;
    // It follows the fire all but in a line: straight lines between the two sides, the older side's
    // miss halved so that both close in (the Illinois method).
    double guess = most;
    for (int k = 0; k < 20; ++k) {
        guess = least + (most - least) * low_k / (low_k - high_k);
        const double miss_k = after(guess) - shown_k;
        if (std::abs(miss_k) < held_within_k) break;
        if (miss_k < 0) {
            least = guess;
            low_k = miss_k;
            high_k /= 2;
        } else {
            most = guess;
            high_k = miss_k;
            low_k /= 2;
        }
    }
    return guess;
}

// In the open: nothing holds the heat, and the air is the weather's.
CookerState step_in_the_open(const CookerShell& shell, CookerState state, const std::optional<LoadSkin>& load,
                             double burnt_kg_s, double seconds) {
    const double ambient = shell.ambient_k;
    const BedHeat bed =
        bed_heat(state.fire.fuel, burnt_kg_s, std::max(covered_m2(state.fire), smallest_bed_m2), ambient,
                 ambient, shell.glows_k);
    double load_w = 0;
    if (load) {
        const double fire = fire_radiosity_w_m2(state.fire.fuel, bed, shell.fire_m2, ambient);
        const double own = black_power_w_m2(load->temperature_k);
        load_w = load->convection_w_k * (ambient - load->temperature_k) + load->plume_w +
                 load->emissivity * load->area_m2 *
                     (load->sees_fire * (fire - own) +
                      (load->sees_wall + load->sees_open) * (black_power_w_m2(ambient) - own));
    }
    state.heat.released_j += seconds * bed.released_w;
    state.heat.to_load_j += seconds * load_w;
    const double plume_w = load ? load->plume_w : 0;
    state.heat.with_gas_j += seconds * (bed.gas_w - plume_w);
    state.heat.by_openings_j += seconds * (bed.radiated_w - (load_w - plume_w));
    state.time_s += seconds;
    state.air_k = state.inside_k = state.wall_k = state.outside_k = state.shown_k = ambient;
    state.fire = burnt_down(state.fire, burnt_kg_s, seconds);
    state.bed = bed;
    state.burnt_kg_s = burnt_kg_s;
    state.to_load_w = load_w;
    return state;
}

// All at one temperature.
CookerState step_in_an_oven(CookerState state, const std::optional<LoadSkin>& load, double kept_k,
                            double seconds) {
    double load_w = 0;
    if (load) {
        const double skin_k = load->temperature_k;
        load_w = load->drawn_w + load->convection_w_k * (kept_k - skin_k) +
                 load->emissivity * load->area_m2 * (load->sees_fire + load->sees_wall + load->sees_open) *
                     (black_power_w_m2(kept_k) - black_power_w_m2(skin_k));
    }
    state.heat.released_j += seconds * load_w;
    state.heat.to_load_j += seconds * load_w;
    state.time_s += seconds;
    state.air_k = state.inside_k = state.wall_k = state.outside_k = state.shown_k = kept_k;
    state.to_load_w = load_w;
    return state;
}

}  // namespace

CookerWall cooker_wall(WallKind kind) {
    switch (kind) {
        case WallKind::ceramic:
            // Fireclay: conductivity and specific heat from tables of materials; density and thickness from
            // memory. Glaze 0.9.
            return {0.025, 1.0, 2000, 753, 0.9};
        case WallKind::insulating_brick:
            // Insulating kaolin brick, the middle of 0.08 to 0.25 W/(m K); the rest from memory.
            return {0.050, 0.17, 800, 840, 0.9};
        case WallKind::steel:
            // Enamelled sheet of a kettle: 1 mm, common practice; enamel 0.9.
            return {0.001, 50, 7850, 470, 0.9};
        case WallKind::insulated_steel:
            // An oven: 40 mm of mineral wool between sheets, whose steel is what stores. From memory.
            return {0.040, 0.05, 300, 500, 0.3};
    }
    return {};
}

std::vector<bool> lid_surfaces(const Cooker& cooker) {
    std::vector<bool> lid;
    lid.reserve(cooker.surfaces.size());
    for (const CookerSurface& surface : cooker.surfaces) lid.push_back(surface.name == "lid");
    return lid;
}

CookerShell shell_of(const Cooker& cooker, double ambient_k) {
    CookerShell shell;
    shell.wall = cooker_wall(cooker.wall);
    shell.ambient_k = ambient_k;
    shell.slots_m2 = 2 * cooker.slot_m[0] * cooker.slot_m[1];
    shell.slot_height_m = cooker.slot_m[1];
    const std::vector<bool> lid = lid_surfaces(cooker);
    shell.has_lid = std::find(lid.begin(), lid.end(), true) != lid.end();
    for (const CookerSurface& surface : cooker.surfaces) {
        if (!surface.fire) continue;
        shell.fire_m2 += burning_area_m2(surface.shape);
        if (!shell.glows_k) shell.glows_k = surface.temperature_k;
    }
    const HeatHolders holders = heat_holders(cooker);
    double widest_m = 0;
    for (const std::size_t wall : holders.walls) {
        const SurfaceShape& shape = cooker.surfaces[wall].shape;
        if (const auto* revolved = std::get_if<RevolvedShape>(&shape)) {
            shell.area_m2 += wall_area_m2(*revolved);
            for (const Vec2& point : revolved->profile) widest_m = std::max(widest_m, point.x());
        } else if (const auto* mesh = std::get_if<MeshShape>(&shape)) {
            shell.area_m2 += wall_area_m2(*mesh->mesh);
            const Vec3 side = bounds(*mesh->mesh).sizes();
            widest_m = std::max(widest_m, std::min(side.x(), side.y()) / 2);
        }
    }
    shell.lid_opening_m2 = std::numbers::pi * widest_m * widest_m;
    if (const std::optional<PlaneRoom>& room = holders.planes) {
        shell.area_m2 = room->floor_m2;
        for (std::size_t s = 0; s < room->area_m2.size(); ++s) {
            shell.area_m2 += room->area_m2[s];
            if (lid[s]) shell.lid_opening_m2 += room->area_m2[s];
        }
        shell.has_lid = true;  // whatever it is called, something shuts it above
    }
    return shell;
}

double thermometer_k(double air_k, double walls_k, std::optional<double> about_k) {
    constexpr double rod_m = 0.006, long_rod_m = 0.1, emissivity = 0.8;
    constexpr double near_k = 1e-3;
    constexpr int most_rounds = 6;
    double shown_k = about_k.value_or(air_k);
    // Both coefficients hardly change with what it shows: it is found in a few rounds.
    double before_k = shown_k + 1;
    for (int k = 0; k < most_rounds && std::abs(shown_k - before_k) > near_k; ++k) {
        before_k = shown_k;
        const double air =
            convection_coefficient_w_m2_k({long_rod_m, rod_m}, shown_k, {air_k, usual_air_speed_m_s, 0});
        const double walls = emissivity * radiation_w_m2_k(shown_k, walls_k);
        shown_k = (air * air_k + walls * walls_k) / (air + walls);
    }
    return shown_k;
}

CookerState cold_cooker(const CookerShell& shell, const Fire& fire) {
    CookerState state;
    state.air_k = state.inside_k = state.wall_k = state.outside_k = state.shown_k = shell.ambient_k;
    state.bed.temperature_k = shell.ambient_k;
    state.fire = fire;
    return state;
}

double least_burnt_kg_s(const CookerShell& shell, const CookerState& state) {
    const FuelProperties fuel = fuel_properties(state.fire.fuel);
    const double air_kg_s =
        opening_exchange_w_k(shell.slots_m2, shell.slot_height_m, state.air_k, shell.ambient_k) /
        air_specific_heat_j_kg_k((state.air_k + shell.ambient_k) / 2);
    return std::min(air_kg_s / (fuel.air_kg_kg * fuel.air_ratio), most_burnt_kg_s(state.fire));
}

CookerState later(const CookerShell& shell, CookerState state, const std::optional<LoadSkin>& load,
                  const Draught& draught, bool lid_open, double seconds) {
    if (is_oven(shell))
        return step_in_an_oven(std::move(state), load, draught.hold_k.value_or(state.air_k), seconds);
    const auto steps =
        std::max(1, static_cast<int>(std::ceil(seconds / (lid_open ? longest_open_step_s : longest_step_s))));
    const double step_s = seconds / steps;
    for (int k = 0; k < steps; ++k) {
        const double left =
            state.fire.fuel == FuelKind::gas ? most_burnt_kg_s(state.fire) : state.fire.left_kg / step_s;
        const double most = std::min(most_burnt_kg_s(state.fire), left);
        const double least =
            state.fire.fuel == FuelKind::gas ? 0 : std::min(most, least_burnt_kg_s(shell, state));
        if (!(shell.area_m2 > 0)) {
            const double burnt =
                std::min(left, draught.pace * std::clamp(draught.burnt_kg_s.value_or(most), least, most));
            state = step_in_the_open(shell, state, load, burnt, step_s);
            continue;
        }
        const Conductances c = conductances(shell, state, load, lid_open);
        double burnt = std::clamp(draught.burnt_kg_s.value_or(most), least, most);
        if (draught.hold_k) burnt = holding_kg_s(shell, state, load, c, *draught.hold_k, least, most, step_s);
        state = one_step(shell, state, load, c, burnt, step_s);
    }
    return state;
}

PreheatedCooker preheated_cooker(const CookerShell& shell, const Fire& laid, double shown_k) {
    const FuelProperties fuel = fuel_properties(laid.fuel);
    PreheatedCooker ready{.state = cold_cooker(shell, laid)};
    CookerState& state = ready.state;
    state.fire = lit_through(laid);
    state.heat.released_j = (laid.left_kg - state.fire.left_kg) * fuel.heating_value_j_kg * fuel.burnt_share;
    state.heat.by_openings_j = state.heat.released_j;
    if (is_oven(shell)) {
        state = later(shell, state, {}, {.hold_k = shown_k}, false, 0);
        ready.reached = true;
        return ready;
    }
    if (!(shell.area_m2 > 0)) {
        ready.reached = true;
        return ready;
    }
    double there_s = 0;
    while (there_s < settled_s && ready.preheat_s < longest_preheat_s) {
        state = later(shell, state, {}, {.hold_k = shown_k}, false, preheat_step_s);
        ready.preheat_s += preheat_step_s;
        there_s = state.shown_k > shown_k - short_by_k ? there_s + preheat_step_s : 0;
    }
    ready.reached = there_s >= settled_s;
    return ready;
}

double held_j(const CookerShell& shell, const CookerState& state) {
    return wall_capacity_j_k(shell) * (state.wall_k - shell.ambient_k) +
           air_capacity_j_k(shell) * (state.air_k - shell.ambient_k);
}

Basting usual_basting(double cook_s) {
    return {.first_s = cook_s / 2, .every_s = 20 * 60, .open_s = 30};
}

bool lid_is_open(const Basting& basting, double since_in_s) {
    if (!(basting.every_s > 0) || since_in_s < basting.first_s) return false;
    return std::fmod(since_in_s - basting.first_s, basting.every_s) < basting.open_s;
}

}  // namespace evenspit
