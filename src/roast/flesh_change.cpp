// SPDX-License-Identifier: MIT
#include "roast/flesh_change.h"

#include <algorithm>
#include <cmath>
#include <deque>

#include "roast/body_foods.h"
#include "roast/flesh_laws.h"
#include "roast/food_properties.h"
#include "units/parallel.h"
#include "units/unit_table.h"

namespace evenspit {
namespace {

constexpr double cube_m = 0.012;     // of the field: fine enough for a tine's length
constexpr double lost_kg_m3 = 1000;  // juice and fat, for how far the skin moves in
constexpr std::size_t cells_a_piece = 16384;
constexpr double coldest_setting_k = 300;  // below, no law of flesh does anything

double area_of(const TriangleMesh& mesh, const Triangle& t) {
    return 0.5 * (mesh.corner(t, 1) - mesh.corner(t, 0)).cross(mesh.corner(t, 2) - mesh.corner(t, 0)).norm();
}

}  // namespace

FleshChange::FleshChange(const Item& item, std::shared_ptr<const HeatGrid> grid)
    : body_(item.body),
      grid_(std::move(grid)),
      strength_(bearing_strength(item.body->body.meat)),
      strength_fixed_(item.bearing_strength_pa.has_value()) {
    if (strength_fixed_) strength_ = {*item.bearing_strength_pa, *item.bearing_strength_pa};
    find_regions();
    find_laws();
    double grid_kg = 0;
    for (std::size_t cell = 0; cell < grid_->box.size(); ++cell) {
        if (!grid_->carries(cell)) continue;
        grid_kg += raw_m3(cell) * grid_->tissues[grid_->tissue[cell]].density_kg_m3;
        if (laws_[grid_->tissue[cell]].holds_water) cells_.push_back(static_cast<std::int32_t>(cell));
    }
    scale_ = grid_kg > 0 ? body_->mass.amount / grid_kg : 1;
    water_left_.assign(cells_.size(), 1.0f);
    hottest_k_.assign(cells_.size(), 0.0f);
    above_80_c_s_.assign(cells_.size(), 0.0f);
    lay_cubes();
}

double FleshChange::raw_m3(std::size_t cell) const {
    const double h = grid_->box.spacing_m;
    return h * h * h * static_cast<double>(grid_->filled[cell]);
}

// The last region is for what has none.
void FleshChange::find_regions() {
    const body::Body& body = body_->body;
    of_region_.resize(body.region_table.size() + 1);
    for (const GridSurface& surface : grid_->surfaces) {
        const body::Part& part = body.parts[std::size_t(surface.part)];
        for (std::size_t t = 0; t < part.mesh.triangles.size(); ++t) {
            const Triangle& triangle = part.mesh.triangles[t];
            const bool known = surface.part == 0 && t < part.regions.size();
            const std::size_t region = known ? part.regions[t] : of_region_.size() - 1;
            region_of_triangle_.push_back(region);
            centre_of_triangle_.push_back((part.mesh.corner(triangle, 0) + part.mesh.corner(triangle, 1) +
                                           part.mesh.corner(triangle, 2)) /
                                          3);
            of_region_[region].outside_m2 += area_of(part.mesh, triangle);
        }
    }
}

void FleshChange::find_laws() {
    double water_kg = 0, lean_m3 = 0;
    const std::vector<double> skin_m3 = skin_volumes_m3(body_->body);
    for (const Tissue& tissue : grid_->tissues) {
        TissueLaw law;
        law.holds_water = tissue.kind == TissueKind::lean || tissue.kind == TissueKind::skin;
        law.holds_fat = tissue.kind == TissueKind::skin;
        const body::Composition food = food_of(body_->body, tissue.kind, tissue.region);
        law.water_kg_m3 = food.water * tissue.density_kg_m3;
        law.fat_kg_m3 = food.fat * tissue.density_kg_m3;
        law.region = tissue.region >= 0 ? std::size_t(tissue.region) : of_region_.size() - 1;
        laws_.push_back(law);
        if (tissue.kind != TissueKind::lean) continue;
        water_kg += law.water_kg_m3 * tissue.volume_m3;
        lean_m3 += tissue.volume_m3;
    }
    for (std::size_t r = 0; r < of_region_.size(); ++r) {
        OfRegion& region = of_region_[r];
        region.water_kg_m3 = lean_m3 > 0 ? water_kg / lean_m3 : 0;
        region.has_skin = r < skin_m3.size() && skin_m3[r] > 0;
        if (!region.has_skin) continue;
        const body::Composition skin = food_of(body_->body, TissueKind::skin, static_cast<int>(r));
        constexpr double room_c = 20;
        region.water_kg_m3 = skin.water * body::composition_density(skin, room_c);
    }
}

void FleshChange::lay_cubes() {
    const Box3& box = body_->bounds;
    cubes_.origin = box.min();
    cubes_.spacing_m = cube_m;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const double side = box.sizes()[static_cast<Eigen::Index>(axis)];
        cubes_.count[axis] = std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(side / cube_m)));
    }
    for (const std::int32_t cell : cells_) {
        const Vec3 at = (grid_->box.centre(std::size_t(cell)) - cubes_.origin) / cube_m;
        std::array<std::size_t, 3> cube{};
        for (std::size_t axis = 0; axis < 3; ++axis) {
            const double along = at[static_cast<Eigen::Index>(axis)];
            cube[axis] = static_cast<std::size_t>(std::clamp(along, 0.0, double(cubes_.count[axis] - 1)));
        }
        cube_of_cell_.push_back(
            static_cast<std::int32_t>((cube[2] * cubes_.count[1] + cube[1]) * cubes_.count[0] + cube[0]));
    }
}

void FleshChange::pass(const HeatMoment& moment) {
    constexpr float eighty_k = 353.15f;
    const double step_s = moment.to_s - moment.from_s;
    const double left = std::exp(-step_s / juice_lag_s);
    now_s_ = moment.to_s;
    parallel_for(
        cells_.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t n = first; n < last; ++n) {
                const auto cell = std::size_t(cells_[n]);
                const float after = moment.temperature_k[cell];
                hottest_k_[n] = std::max(hottest_k_[n], after);
                if (static_cast<double>(after) < coldest_setting_k) continue;
                if (after > eighty_k) above_80_c_s_[n] += static_cast<float>(step_s);
                const double middle_k = static_cast<double>(after - moment.warmed_k[cell] / 2);
                const double held = water_held(middle_k);
                const auto now = static_cast<double>(water_left_[n]);
                if (now > held) water_left_[n] = static_cast<float>(held + (now - held) * left);
                const double boiled =
                    (static_cast<double>(after) - boiling_from_k) / (boiling_to_k - boiling_from_k);
                if (boiled > 0) {
                    const double most = water_held(boiling_from_k) * std::max(0.0, 1 - boiled);
                    water_left_[n] = std::min(water_left_[n], static_cast<float>(most));
                }
            }
        },
        cells_a_piece);
}

void FleshChange::settle(std::span<const double> dried_kg) {
    std::vector<double> juice_before;
    std::vector<double> dried_before;
    for (OfRegion& region : of_region_) {
        juice_before.push_back(region.juice.kg);
        dried_before.push_back(region.dried.kg);
        region.juice = region.fat = region.dried = {};
    }
    for (std::size_t n = 0; n < cells_.size(); ++n) {
        const auto cell = std::size_t(cells_[n]);
        const TissueLaw& law = laws_[grid_->tissue[cell]];
        const double m3 = scale_ * raw_m3(cell);
        OfRegion& region = of_region_[law.region];
        const Vec3 at = grid_->box.centre(cell);
        region.juice.add(m3 * law.water_kg_m3 * (1 - static_cast<double>(water_left_[n])), at);
        if (law.holds_fat)
            region.fat.add(m3 * law.fat_kg_m3 * fat_rendered(static_cast<double>(hottest_k_[n])), at);
    }
    dried_kg_ = 0;
    for (std::size_t t = 0; t < dried_kg.size(); ++t) {
        of_region_[region_of_triangle_[t]].dried.add(dried_kg[t], centre_of_triangle_[t]);
        dried_kg_ += dried_kg[t];
    }
    const double since_s = now_s_ - settled_s_;
    for (std::size_t r = 0; r < of_region_.size(); ++r) {
        OfRegion& region = of_region_[r];
        const double juice = region.juice.kg - juice_before[r], dried = region.dried.kg - dried_before[r];
        region.dried_beyond_kg += std::max(0.0, dried - juice);
        if (since_s > 0) region.juice_rate_kg_s = juice / since_s;
    }
    settled_s_ = now_s_;
}

double FleshChange::juice_kg() const {
    double kg = 0;
    for (const OfRegion& region : of_region_) kg += region.juice.kg;
    return kg;
}

double FleshChange::fat_kg() const {
    double kg = 0;
    for (const OfRegion& region : of_region_) kg += region.fat.kg;
    return kg;
}

double FleshChange::water_at_surface_kg_m2s(std::size_t region, double since_s) const {
    const OfRegion& of = of_region_[region];
    const double through = water_reaching_surface_kg_m2s(of.water_kg_m3, since_s);
    if (!(of.outside_m2 > 0)) return through;
    return through + (of.has_skin ? juice_through_skin : 1.0) * of.juice_rate_kg_s / of.outside_m2;
}

double FleshChange::retreat_m(std::size_t region) const {
    const OfRegion& of = of_region_[region];
    if (!(of.outside_m2 > 0)) return 0;
    return (of.juice.kg + of.fat.kg + of.dried_beyond_kg) / lost_kg_m3 / of.outside_m2;
}

// Cubes without flesh take over what the nearest with flesh have.
std::shared_ptr<const body::FleshField> FleshChange::field(double& mean_strength) const {
    auto field = std::make_shared<body::FleshField>(cubes_);
    const std::size_t cubes = cubes_.count[0] * cubes_.count[1] * cubes_.count[2];
    std::vector<double> strength(cubes, 0.0), retreat(cubes, 0.0), weight(cubes, 0.0);
    std::vector<double> retreats;
    for (std::size_t r = 0; r < of_region_.size(); ++r) retreats.push_back(retreat_m(r));
    double strengths = 0, weights = 0;
    for (std::size_t n = 0; n < cells_.size(); ++n) {
        const auto cell = std::size_t(cells_[n]);
        const auto cube = std::size_t(cube_of_cell_[n]);
        const double m3 = raw_m3(cell);
        const double left = strength_fixed_ ? 1.0
                                            : strength_left(strength_.raw_pa, strength_.cooked_pa,
                                                            static_cast<double>(hottest_k_[n]),
                                                            static_cast<double>(above_80_c_s_[n]));
        strength[cube] += m3 * left;
        retreat[cube] += m3 * retreats[laws_[grid_->tissue[cell]].region];
        weight[cube] += m3;
        strengths += m3 * left;
        weights += m3;
    }
    mean_strength = weights > 0 ? strengths / weights : 1;
    field->values.assign(cubes, {});
    std::deque<std::size_t> edge;
    std::vector<bool> known(cubes, false);
    for (std::size_t c = 0; c < cubes; ++c) {
        if (!(weight[c] > 0)) continue;
        field->values[c] = {static_cast<float>(strength[c] / weight[c] / mean_strength),
                            static_cast<float>(retreat[c] / weight[c])};
        known[c] = true;
        edge.push_back(c);
    }
    const std::array<std::size_t, 3> stride{1, cubes_.count[0], cubes_.count[0] * cubes_.count[1]};
    while (!edge.empty()) {
        const std::size_t c = edge.front();
        edge.pop_front();
        for (std::size_t axis = 0; axis < 3; ++axis) {
            const std::size_t place = c / stride[axis] % cubes_.count[axis];
            const auto take = [&](bool there, std::size_t next) {
                if (!there || known[next]) return;
                known[next] = true;
                field->values[next] = field->values[c];
                edge.push_back(next);
            };
            take(place > 0, c - stride[axis]);
            take(place + 1 < cubes_.count[axis], c + stride[axis]);
        }
    }
    return field;
}

body::Matter FleshChange::matter() const {
    body::Matter matter;
    double lost_kg = 0;
    Vec3 moment = Vec3::Zero();
    for (const OfRegion& region : of_region_) {
        lost_kg += region.juice.kg + region.fat.kg + region.dried_beyond_kg;
        moment += region.juice.moment + region.fat.moment;
        if (region.dried.kg > 0) moment += region.dried_beyond_kg / region.dried.kg * region.dried.moment;
    }
    matter.mass_kg = body_->mass.amount - lost_kg;
    matter.centre = (body_->mass.amount * body_->mass.centre - moment) / matter.mass_kg;
    matter.size = std::cbrt(std::max(0.1, 1 - lost_kg / lost_kg_m3 / body_->volume_m3));
    double mean_strength = 1;
    matter.flesh = field(mean_strength);
    matter.bearing_strength_pa = mean_strength * strength_.raw_pa;
    return matter;
}

}  // namespace evenspit
