// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "body/region.h"
#include "body/tissues.h"
#include "body/trussing.h"
#include "geometry/bvh.h"
#include "geometry/moments.h"

namespace evenspit::body {

enum class PartKind { flesh, bone, cavity, stuffing };

/// One closed piece of a body, in the item frame.
///
/// Parts nest: a part with a parent lies inside it and replaces the parent's matter there. A cavity that is
/// open to the outside has no parent (nothing is taken from the flesh, whose own surface runs along the
/// cavity's wall).
struct Part {
    std::string name{};
    PartKind kind = PartKind::flesh;
    TriangleMesh mesh{};       ///< closed, outward, m
    double density_kg_m3 = 0;  ///< mean over the part where nothing nested replaces it; 0 for an empty cavity
    int parent = -1;           ///< index into Body::parts, −1 for none
    /// Per triangle an index into Body::region_table; empty if there are none.
    std::vector<std::uint8_t> regions{};
};

/// Whether a part takes up room of its own: no cavity, nothing inside another part.
inline bool displaces(const Part& part) {
    return part.parent < 0 && part.kind != PartKind::cavity;
}

/// Where an untied limb may be found: a closed hull it fills somewhere in its swing. Counts for what is
/// swept, not for mass.
struct SwungLimb {
    std::string name;   ///< "left wing"
    TriangleMesh mesh;  ///< item frame, m
};

/// What one part weighs within the whole, flesh and bone together.
struct PartShare {
    Region region;
    double mass_kg = 0;
    Vec3 centre_m = Vec3::Zero();  ///< centre of mass, item frame
    Tissues tissues{};             ///< what it is made of; they sum to mass_kg, all 0 if not known
};

/// The flesh of one region, its bones taken out.
struct RegionFlesh {
    Region region;
    double density_kg_m3 = 0;  ///< its own, where the flesh part has the mean
    Moments volume;            ///< m3, item frame
};

/// How the mass of a body was arrived at; told in the result.
enum class MassModel {
    scale_weight,        ///< densities scaled so that the sum is the weight on the scale
    density_and_volume,  ///< the stated density times the enclosed volume
};

/// Whose flesh it is, as far as tables of strength tell them apart.
enum class Meat { unknown, poultry, pork, beef, lamb };

/// What is roasted.
struct Body {
    std::string name;
    /// The shape it was grown from, as shape_names() has it, whatever it is called; "" for a scan.
    std::string shape{};
    std::vector<Part> parts;  ///< parents before children; parts[0] is flesh
    /// What Part::regions count by; a cavity's wall is one where flesh borders an open cavity.
    std::vector<Region> region_table;
    std::vector<SwungLimb> swung;  ///< empty when trussed
    /// Of a trussed body: the limbs that hang loose once a tie comes undone.
    std::vector<SwungLimb> if_undone{};
    std::optional<Trussing> trussing{};  ///< of a shape that has limbs to tie
    std::vector<PartShare> shares;       ///< sum to the mass without stuffing; empty if not known
    /// Together as much as the flesh weighs at its mean density; empty if it is of one density.
    std::vector<RegionFlesh> flesh_by_region;
    MassModel mass_model = MassModel::density_and_volume;
    Meat meat = Meat::unknown;
    /// Nothing is hollow in it but the cavities among its parts.
    bool hollow_known = false;
    /// How the error of the centre of mass spreads that the body's scan leaves open, item frame; absent where
    /// no such spread is known.
    std::optional<Mat3> centre_covariance_m2;
    /// How far its lengths may be off together, share, σ, where its scan tells it.
    std::optional<double> scale_sigma{};
    bool pointed_ends_known = false;   ///< parametric or labelled: x really runs vent → neck
    std::vector<std::string> remarks;  ///< assumptions worth telling, one sentence each
};

/// Σ (ρ_part − ρ_parent)·moments of the part, and Σ (ρ_region − ρ_flesh)·moments of the region's flesh, in
/// the item frame, kg.
Moments mass_moments(const Body& body);

/// Volume that flesh, bone and contents fill; what is empty of a cavity is left out, m3.
double matter_volume(const Body& body);

/// Scales the densities of flesh and bone together so that the whole weighs `mass_kg`; stuffing keeps its own
/// weight.
///
/// \pre mass_kg > 0 and more than the stuffing
/// \throws std::invalid_argument otherwise
Body with_scale_weight(Body body, double mass_kg);

/// A body whose moments are integrated and whose parts answer ray and distance queries. Made once, shared,
/// never changed.
struct PreparedBody {
    Body body;
    Moments mass;                       ///< kg, item frame
    double volume_m3 = 0;               ///< matter_volume()
    Box3 bounds;                        ///< of the parts' vertices (not of swung limbs), item frame
    std::vector<SolidQueries> queries;  ///< one per part, same order; a cavity's wall counts as inner
};

/// \pre every part passes check_solid()
std::shared_ptr<const PreparedBody> prepare(Body body);

}  // namespace evenspit::body
