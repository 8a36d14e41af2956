// SPDX-License-Identifier: MIT
#include "roast/fire_skin.h"

#include <algorithm>
#include <variant>

#include "rig/plane_room.h"

namespace evenspit {

Radiators radiators(const Cooker& cooker, const CookerShell& shell, const CookerState& state,
                    const std::vector<double>& item_skin_k, bool lid_open) {
    const std::vector<bool> lid = lid_surfaces(cooker);
    const bool open = stands_open(shell, lid_open), lid_off = open && lid_open;
    Radiators from;
    const double weather = black_power_w_m2(shell.ambient_k);
    from.open_w_m2 = open ? weather : black_power_w_m2(state.inside_k);
    for (std::size_t s = 0; s < cooker.surfaces.size(); ++s) {
        const CookerSurface& surface = cooker.surfaces[s];
        if (surface.fire) {
            from.surfaces_w_m2.push_back(
                fire_radiosity_w_m2(state.fire.fuel, state.bed, shell.fire_m2, state.inside_k));
        } else if (lid_off && lid[s]) {
            from.surfaces_w_m2.push_back(weather);
        } else {
            from.surfaces_w_m2.push_back(black_power_w_m2(surface.temperature_k.value_or(state.inside_k)));
        }
    }
    for (const double skin_k : item_skin_k) from.items_w_m2.push_back(black_power_w_m2(skin_k));
    return from;
}

SkinConvection skin_convection(const Assembly& assembly, const SkinViews& views, const TurnViews& mean,
                               std::size_t item, double skin_k, const AirFlow& air) {
    const ConvectionSize size = convection_size(assembly, views.skin, item);
    SkinConvection convection{.air_k = air.air_k};
    convection.outer_w_m2_k = convection_coefficient_w_m2_k(size, skin_k, air);
    if (assembly.cook && assembly.cook->convection_coefficient_w_m2_k)
        convection.outer_w_m2_k = *assembly.cook->convection_coefficient_w_m2_k;
    convection.cavity_w_m2_k =
        std::min(convection.outer_w_m2_k,
                 cavity_coefficient_w_m2_k(hollow_of(views.skin, mean, item), skin_k, air.air_k));
    return convection;
}

AirFlow item_air(const Assembly& assembly, const ConvectionSize& size, std::size_t item,
                 const CookerState& state) {
    AirFlow air{state.air_k, usual_air_speed_m_s, assembly.motor.speed_rad_s};
    // The item's shadow straight down, as a rectangle, against the fires' outlines.
    const Item& one = assembly.items[item];
    const Box3 reach = [&] {
        Box3 box;
        for (int corner = 0; corner < 8; ++corner)
            box.extend(one.pose * one.body->bounds.corner(Box3::CornerType(corner)));
        return box;
    }();
    const double from = reach.min().x(), to = from + size.length_m, half = size.diameter_m / 2;
    double covered = 0, height = 0, width = 0;
    for (const CookerSurface& surface : assembly.cooker.surfaces) {
        const auto* box = std::get_if<BoxShape>(&surface.shape);
        if (!surface.fire || box == nullptr) continue;
        const double along = std::min(to, box->max.x()) - std::max(from, box->min.x());
        const double across = std::min(half, box->max.y()) - std::max(-half, box->min.y());
        if (along <= 0 || across <= 0) continue;
        covered += along * across;
        height = std::max(height, -box->max.z());
        width = std::max(width, std::min(box->max.x() - box->min.x(), box->max.y() - box->min.y()));
    }
    if (!(covered > 0)) return air;
    const double share = std::min(1.0, covered / (size.length_m * size.diameter_m));
    const Plume plume = plume_over(state.bed.gas_w, std::max(height, 0.0), width, state.air_k);
    air.speed_m_s += share * std::max(0.0, plume.speed_m_s - usual_air_speed_m_s);
    if (burns_in_the_open(assembly.cooker)) air.air_k += share * plume.hotter_by_k;
    return air;
}

SkinHeating skin_heating(const SkinViews& views, const TurnViews& mean, std::size_t item,
                         const Radiators& from, const SkinConvection& convection, bool radiation) {
    SkinHeating heating{.air_k = convection.air_k,
                        .emissivity = radiation ? skin_emissivity : 0,
                        .coefficient_w_m2_k = {},
                        .incident_w_m2 = {}};
    std::vector<double> target = from.surfaces_w_m2;
    target.push_back(from.open_w_m2);
    target.insert(target.end(), from.items_w_m2.begin(), from.items_w_m2.end());
    for (const std::vector<std::int32_t>& patch_of : views.skin.patch_of_triangle[item]) {
        auto& coefficient = heating.coefficient_w_m2_k.emplace_back(patch_of.size());
        auto& incident = heating.incident_w_m2.emplace_back(patch_of.size());
        for (std::size_t t = 0; t < patch_of.size(); ++t) {
            const auto k = static_cast<std::size_t>(patch_of[t]);
            coefficient[t] =
                views.skin.patches[k].in_cavity ? convection.cavity_w_m2_k : convection.outer_w_m2_k;
            if (!radiation) continue;
            const std::span<const double> share = mean.of(k);
            for (std::size_t s = 0; s < target.size(); ++s) incident[t] += share[s] * target[s];
        }
    }
    return heating;
}

LoadSkin load_skin(const Assembly& assembly, const CookerShell& shell, const SkinViews& views,
                   const TurnViews& mean, const std::vector<SkinConvection>& convection,
                   const std::vector<double>& item_skin_k, bool lid_open, bool radiation) {
    const std::vector<bool> lid = lid_surfaces(assembly.cooker);
    const bool open = stands_open(shell, lid_open), lid_off = open && lid_open;
    const bool in_the_open = burns_in_the_open(assembly.cooker);
    LoadSkin skin;
    skin.emissivity = radiation ? skin_emissivity : 0;
    double weighted_k = 0;
    for (std::size_t k = 0; k < views.skin.patches.size(); ++k) {
        const SkinPatch& patch = views.skin.patches[k];
        const double area = patch.area_m2;
        skin.area_m2 += area;
        const SkinConvection& air = convection[patch.item];
        const double exchange_w_k = area * (patch.in_cavity ? air.cavity_w_m2_k : air.outer_w_m2_k);
        skin.convection_w_k += exchange_w_k;
        if (in_the_open) skin.plume_w += exchange_w_k * (air.air_k - shell.ambient_k);
        weighted_k += area * item_skin_k[patch.item];
        for (std::size_t s = 0; s < mean.surfaces; ++s) {
            const double share = area * mean.surface(k, s);
            (assembly.cooker.surfaces[s].fire ? skin.sees_fire
             : lid_off && lid[s]              ? skin.sees_open
                                              : skin.sees_wall) += share;
        }
        (open ? skin.sees_open : skin.sees_wall) += area * mean.open(k);
    }
    if (!(skin.area_m2 > 0)) return skin;
    skin.temperature_k = weighted_k / skin.area_m2;
    for (double* share : {&skin.sees_fire, &skin.sees_wall, &skin.sees_open}) *share /= skin.area_m2;
    return skin;
}

}  // namespace evenspit
