// SPDX-License-Identifier: MIT
#include "roast/cook_ends.h"

#include <algorithm>

namespace evenspit {
namespace {

constexpr double roast_yield = 0.76;

double stuffing_kg(const body::Body& body) {
    double kg = 0;
    for (const body::Part& part : body.parts) {
        if (part.kind == body::PartKind::stuffing)
            kg += part.density_kg_m3 * volume_moments(part.mesh).amount;
    }
    return kg;
}

}  // namespace

double cooking_yield(body::RegionKind part) {
    switch (part) {
        case body::RegionKind::breast:
            return 0.799;
        case body::RegionKind::back:
        case body::RegionKind::neck:
        case body::RegionKind::tail:
            return 0.810;
        case body::RegionKind::leg:
            return 0.746;
        case body::RegionKind::wing:
            return 0.616;
        case body::RegionKind::other:
        case body::RegionKind::cavity_wall:
        case body::RegionKind::cut_face:
        case body::RegionKind::bone_end:
            break;
    }
    return roast_yield;
}

BearingStrength bearing_strength(body::Meat meat) {
    switch (meat) {
        case body::Meat::pork:
            return {322e3, 140e3};
        case body::Meat::beef:
            return {245e3, 180e3};
        case body::Meat::unknown:
        case body::Meat::poultry:
        case body::Meat::lamb:
            break;
    }
    return {245e3, 140e3};
}

std::array<body::Matter, cook_ends> matter_ends(const body::PreparedBody& body,
                                                std::optional<double> fixed_strength_pa) {
    const BearingStrength strength = bearing_strength(body.body.meat);
    const body::Matter raw{body.mass.amount, body.mass.centre, fixed_strength_pa.value_or(strength.raw_pa)};
    // What is lost is taken away, so that a body's own moments, more exact than its shares, stay the base.
    double lost_kg = 0;
    Vec3 lost_moment = Vec3::Zero();
    for (const body::PartShare& share : body.body.shares) {
        const double loss = (1 - cooking_yield(share.region.kind)) * share.mass_kg;
        lost_kg += loss;
        lost_moment += loss * share.centre_m;
    }
    if (body.body.shares.empty()) {
        lost_kg = (1 - roast_yield) * (raw.mass_kg - stuffing_kg(body.body));
        lost_moment = lost_kg * raw.centre;
    }
    const double left_kg = raw.mass_kg - lost_kg;
    return {raw, body::Matter{left_kg, (raw.mass_kg * raw.centre - lost_moment) / left_kg,
                              fixed_strength_pa.value_or(strength.cooked_pa)}};
}

std::array<body::Matter, cook_ends> matter_ends(const Item& item) {
    if (item.matter) return {*item.matter, *item.matter};
    std::array<body::Matter, cook_ends> ends = matter_ends(*item.body, item.bearing_strength_pa);
    if (item.cooked) ends[1] = *item.cooked;
    return ends;
}

body::Matter matter_at(const Item& item, Doneness end) {
    body::Matter matter = matter_ends(item)[static_cast<std::size_t>(end)];
    matter.mass_kg *= item.off.mass;
    matter.centre = item.off.scale * matter.centre + item.off.centre;
    matter.bearing_strength_pa *= item.off.strength;
    return matter;
}

body::Matter softest_matter(const Item& item) {
    const body::Matter raw = matter_at(item, Doneness::raw), cooked = matter_at(item, Doneness::cooked);
    return cooked.bearing_strength_pa < raw.bearing_strength_pa || cooked.flesh ? cooked : raw;
}

double least_bearing_strength_pa(const Item& item) {
    return softest_matter(item).bearing_strength_pa;
}

double bearing_strength_scatter(const Item& item) {
    constexpr double measured = 0.1, from_tables = 0.13;
    return item.bearing_strength_pa ? measured : from_tables;
}

}  // namespace evenspit
