// SPDX-License-Identifier: MIT
#include "analysis/body_findings.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>
#include <utility>

#include "analysis/limits.h"
#include "body/meat_density.h"

namespace evenspit {
namespace {

/// Greatest distance of a mesh in the item frame from the rod.
double reach(const TriangleMesh& mesh, const Pose& pose) {
    double greatest = 0;
    for (const Vec3& v : mesh.vertices) greatest = std::max(greatest, (pose * v).tail<2>().norm());
    return greatest;
}

/// What the free limbs of an item come near to.
void add_struck(LimbFacts& facts, std::size_t item, const Clearance& clearance) {
    bool others_strike = false;
    for (std::size_t s = 0; s < clearance.surfaces.size(); ++s) {
        const SurfaceGap& surface = clearance.surfaces[s];
        const bool strikes = surface.gap_m < 0;
        if (surface.part.kind != Thing::Kind::limb || surface.part.index != item) {
            others_strike = others_strike || strikes;
        } else if (surface.gap_m < surface.keep_m) {
            (strikes ? facts.struck : facts.near).push_back(s);
        }
    }
    // Only the nearest part is known of each surface: behind one that strikes, a limb may strike too.
    facts.strikes_nothing = !clearance.surfaces.empty() && !others_strike;
}

std::optional<Finding> free_limbs_finding(const Item& item, const Thing& about, const Clearance& clearance) {
    if (item.trussed) return std::nullopt;
    Finding finding{.level = Level::care, .code = Code::limbs_free, .about = about};
    const body::Body& body = item.body->body;
    if (body.swung.empty()) return finding;
    double swung = 0;
    for (const body::SwungLimb& limb : body.swung) swung = std::max(swung, reach(limb.mesh, item.pose));
    LimbFacts facts;
    for (const body::Part& part : body.parts) {
        if (part.parent < 0 && part.kind == body::PartKind::flesh)
            facts.tied_m = std::max(facts.tied_m, reach(part.mesh, item.pose));
    }
    add_struck(facts, about.index, clearance);
    finding.value = swung;
    finding.facts = std::move(facts);
    return finding;
}

const body::Part* part_named(const body::Body& body, std::string_view name) {
    const auto part = std::find_if(body.parts.begin(), body.parts.end(), [name](const body::Part& p) {
        return p.kind == body::PartKind::stuffing && p.name == name;
    });
    return part == body.parts.end() ? nullptr : &*part;
}

std::optional<Finding> giblets_finding(const Item& item, const Thing& about) {
    const body::Part* giblets = part_named(item.body->body, "giblets");
    if (giblets == nullptr) return std::nullopt;
    const Moments bag = giblets->density_kg_m3 * volume_moments(giblets->mesh);
    const Moments& all = item.body->mass;
    const Vec3 without = (all.first() - bag.first()) / (all.amount - bag.amount);
    return Finding{.level = Level::care,
                   .code = Code::giblets,
                   .about = about,
                   .value = (all.centre - without).norm(),
                   .facts = GibletFacts{bag.amount}};
}

std::optional<Finding> stuffing_finding(const Item& item, const Thing& about) {
    if (part_named(item.body->body, "stuffing") == nullptr) return std::nullopt;
    return Finding{.code = Code::stuffed, .about = about};
}

std::optional<Finding> density_finding(const Item& item, const Thing& about) {
    const double density = item.body->mass.amount / item.body->volume_m3;
    const body::DensityRange usual = body::density_range(item.body->body);
    if (usual.holds(density)) return std::nullopt;
    return Finding{.level = Level::care,
                   .code = Code::density,
                   .about = about,
                   .value = density,
                   .limit = density < usual.least_kg_m3 ? usual.least_kg_m3 : usual.greatest_kg_m3,
                   .facts = DensityFacts{usual, item.body->body.meat}};
}

}  // namespace

std::vector<Finding> body_findings(const Assembly& assembly, const Clearance& clearance) {
    std::vector<Finding> out;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        const Thing about{Thing::Kind::item, i};
        for (std::optional<Finding>& finding :
             std::array{free_limbs_finding(item, about, clearance), giblets_finding(item, about),
                        stuffing_finding(item, about), density_finding(item, about)}) {
            if (finding) out.push_back(std::move(*finding));
        }
    }
    return out;
}

}  // namespace evenspit
