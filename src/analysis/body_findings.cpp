// SPDX-License-Identifier: MIT
#include "analysis/body_findings.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "units/listed.h"
#include "units/metric.h"
#include "units/quantity.h"

namespace evenspit {
namespace {

/// The limbs in a few words: "left leg and wings" for a left leg and a wing on either side.
std::string free_limbs(const std::vector<SwungLimb>& limbs) {
    std::vector<std::string> words;
    for (const SwungLimb& limb : limbs) {
        const std::string kind = limb.name.substr(limb.name.find(' ') + 1);
        const bool pair = std::count_if(limbs.begin(), limbs.end(), [&](const SwungLimb& other) {
                              return other.name.ends_with(' ' + kind);
                          }) == 2;
        const std::string word = pair ? kind + "s" : limb.name;
        if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
    }
    return listed(words, "and");
}

/// Greatest distance of a mesh in the item frame from the rod.
double reach(const TriangleMesh& mesh, const Pose& pose) {
    double greatest = 0;
    for (const Vec3& v : mesh.vertices) greatest = std::max(greatest, (pose * v).tail<2>().norm());
    return greatest;
}

/// What the free limbs of an item do to the cooker; "" where that is not known.
std::string what_they_strike(const Item& item, const Clearance& clearance) {
    const auto is_limb = [&item](const std::string& part) {
        const std::vector<SwungLimb>& limbs = item.body->body.swung;
        return std::any_of(limbs.begin(), limbs.end(),
                           [&](const SwungLimb& limb) { return part == swung_name(item, limb); });
    };
    std::vector<std::string> struck, near;
    bool others_strike = false;
    for (const SurfaceGap& surface : clearance.surfaces) {
        const bool strikes = surface.gap_m < 0;
        if (!is_limb(surface.part)) {
            others_strike = others_strike || strikes;
        } else if (surface.gap_m < surface.keep_m) {
            (strikes ? struck : near).push_back(surface.name);
        }
    }
    if (!struck.empty()) return fmt::format(" and strike {}", listed(struck, "and"));
    if (!near.empty()) return fmt::format(", too near to {}", listed(near, "and"));
    // Only the nearest part is known of each surface: behind one that strikes, a limb may strike too.
    return clearance.surfaces.empty() || others_strike ? "" : " and strike nothing there";
}

std::optional<Finding> free_limbs_finding(const Item& item, const Clearance& clearance) {
    if (item.trussed) return std::nullopt;
    const Body& body = item.body->body;
    if (body.swung.empty()) {
        return Finding{Level::care,
                       "body",
                       fmt::format("{} is not trussed: what hangs loose flops over at every turn and sweeps "
                                   "further than computed here. Tie it tight.",
                                   item.name),
                       std::nullopt,
                       std::nullopt,
                       ""};
    }
    double swung = 0;
    for (const SwungLimb& limb : body.swung) swung = std::max(swung, reach(limb.mesh, item.pose));
    double tied = 0;
    for (const Part& part : body.parts) {
        if (part.parent < 0 && part.kind == PartKind::flesh)
            tied = std::max(tied, reach(part.mesh, item.pose));
    }
    const bool one = body.swung.size() == 1;
    return Finding{
        Level::care,
        "body",
        fmt::format("The {} of {} {} free and {} over at every turn. Swung out, {} {} from the rod{}; tied, "
                    "the bird goes to {}. Tie {} tight.",
                    free_limbs(body.swung), item.name, one ? "is" : "are", one ? "flops" : "flop",
                    one ? "it reaches" : "they reach", metric(swung, Dimension::length),
                    what_they_strike(item, clearance), metric(tied, Dimension::length), one ? "it" : "them"),
        swung,
        std::nullopt,
        "m"};
}

const Part* part_named(const Body& body, std::string_view name) {
    const auto part = std::find_if(body.parts.begin(), body.parts.end(), [name](const Part& p) {
        return p.kind == PartKind::stuffing && p.name == name;
    });
    return part == body.parts.end() ? nullptr : &*part;
}

std::optional<Finding> giblets_finding(const Item& item) {
    const Part* giblets = part_named(item.body->body, "giblets");
    if (giblets == nullptr) return std::nullopt;
    const Moments bag = giblets->density_kg_m3 * volume_moments(giblets->mesh);
    const Moments& all = item.body->mass;
    const Vec3 without = (all.first() - bag.first()) / (all.amount - bag.amount);
    const double shift = (all.centre - without).norm();
    return Finding{
        Level::care,
        "body",
        fmt::format(
            "The giblets ({}) are still inside {}: take the bag out before roasting. It shifts as the "
            "bird turns, and moves the centre of mass by {}.",
            metric(bag.amount, Dimension::mass), item.name, metric(shift, Dimension::length)),
        shift,
        std::nullopt,
        "m"};
}

std::optional<Finding> stuffing_finding(const Item& item) {
    const Part* stuffing = part_named(item.body->body, "stuffing");
    if (stuffing == nullptr) return std::nullopt;
    // 165 °F: USDA Food Safety and Inspection Service, "Safe minimum internal temperature chart".
    return Finding{Level::ready,
                   "food",
                   fmt::format("{} is stuffed: the middle of the stuffing heats last and must reach 165 °F "
                               "(74 °C, USDA), whatever the flesh shows. A thermometer there decides.",
                               item.name),
                   std::nullopt,
                   std::nullopt,
                   ""};
}

std::optional<Finding> density_finding(const Item& item) {
    // Lighter than fat by a quarter, or heavier than most bone: no roast is, so a unit or a weight is wrong.
    // From memory.
    constexpr double light_kg_m3 = 700, heavy_kg_m3 = 1300;
    const double density = item.body->mass.amount / item.body->volume_m3;
    if (density >= light_kg_m3 && density <= heavy_kg_m3) return std::nullopt;
    return Finding{
        Level::care,
        "body",
        fmt::format("{} would weigh {} for its size, where meat weighs about 1050 kg/m³. Check its "
                    "weight and the unit of its shape.",
                    item.name, metric(density, Dimension::density)),
        density,
        density < light_kg_m3 ? light_kg_m3 : heavy_kg_m3,
        "kg/m3"};
}

}  // namespace

std::vector<Finding> body_findings(const Assembly& assembly, const Analysis& analysis) {
    std::vector<Finding> out;
    for (const Item& item : assembly.items) {
        for (std::optional<Finding>& finding :
             std::array{free_limbs_finding(item, analysis.clearance), giblets_finding(item),
                        stuffing_finding(item), density_finding(item)}) {
            if (finding) out.push_back(std::move(*finding));
        }
    }
    return out;
}

}  // namespace evenspit
