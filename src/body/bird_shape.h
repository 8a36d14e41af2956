// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "body/bone_setter.h"
#include "body/field.h"
#include "body/region.h"
#include "body/region_layers.h"
#include "geometry/mesh.h"

namespace evenspit::body {

/// Proportions of a dressed bird, each relative to the reference turkey of bird_shape.cpp.
struct BirdForm {
    double length = 1;  ///< of the trunk, along x
    double width = 1;   ///< of the trunk, along y
    double depth = 1;   ///< of the trunk, along z
    double breast = 1;  ///< fullness of the breast over the keel
    double keel = 1;    ///< how far the keel's edge stands out
    double leg_length = 1;
    double thigh_girth = 1;
    double drumstick_girth = 1;
    double splay = 1;  ///< distance between the drumsticks' ends
    double wing_length = 1;
    double wing_girth = 1;
    double neck_length = 1;  ///< of the stub
    double neck_girth = 1;
    double tail = 1;
    double cavity = 1;  ///< bore of the body cavity and its openings
};

/// A side of the bird: right is +y, left is −y in the item frame (x toward the neck, z toward the breast).
enum class Side : std::uint8_t { right, left };

/// Limbs that are there, by Side.
struct Limbs {
    std::array<bool, 2> wing{true, true};
    std::array<bool, 2> thigh{true, true};
    std::array<bool, 2> drumstick{true, true};
};

/// What a place on or in the bird belongs to. A left limb follows its right one.
enum class BirdRegion : std::uint8_t {
    breast,
    back,
    neck,
    tail,
    right_thigh,
    left_thigh,
    right_drumstick,
    left_drumstick,
    right_wing,
    left_wing,
    cavity_wall,
};
/// By BirdRegion.
std::vector<Region> bird_regions();

/// The solid of a dressed bird as distance fields, metres at the reference turkey's size.
///
/// x runs along the line through both openings (y = z = 0), from vent to neck; z toward the breast.
class BirdShape {
  public:
    explicit BirdShape(const BirdForm& form, const Limbs& limbs = {});

    [[nodiscard]] const BirdForm& form() const { return form_; }
    [[nodiscard]] const Limbs& limbs() const { return limbs_; }

    /// Negative inside the skin, openings and cavity taken as filled.
    [[nodiscard]] double skin(const Vec3& p) const;
    /// The same without the limbs.
    [[nodiscard]] double trunk(const Vec3& p) const;
    /// Negative in the bore that runs from the vent through the cavity to the neck and beyond both.
    [[nodiscard]] double bore(const Vec3& p) const;
    /// Negative in flesh and bone: the skin's inside less the bore.
    [[nodiscard]] double flesh(const Vec3& p) const;

    /// The flesh field as it grows: the trunk, then with the thigh, the drumstick, the wing of the place's
    /// side. So a limb's share is what is missed when it is taken away.
    /// Layers after one whose field is `full` or less are left out.
    [[nodiscard]] RegionLayers layers(const Vec3& p,
                                      double full = -std::numeric_limits<double>::infinity()) const;
    /// What a place on the flesh's surface belongs to.
    [[nodiscard]] BirdRegion region_on_surface(const Vec3& p) const;

    /// Whether all fields are the same on both sides of y = 0, to the last bit.
    [[nodiscard]] bool is_even() const;

    /// Holds all flesh; the same whichever limbs are missing.
    [[nodiscard]] const Box3& box() const { return box_; }
    /// Where the x axis enters at the vent and leaves at the neck: the middles of the openings' rims. Looked
    /// for at each call, some milliseconds.
    [[nodiscard]] double vent_x() const { return rim_x(-1); }
    [[nodiscard]] double neck_x() const { return rim_x(+1); }
    struct Openings {
        double vent_x, neck_x;
    };
    [[nodiscard]] Openings openings() const { return {vent_x(), neck_x()}; }

    /// How far the bore's field stays under `level` from a point on the axis in a direction across it.
    [[nodiscard]] double wall_radius(const Vec3& on_axis, const Vec3& outward, double level) const;
    /// How far the trunk reaches from a point inside it in a direction.
    [[nodiscard]] double skin_radius(const Vec3& from, const Vec3& outward) const;
    /// A piece of what fills the bore between the two openings, as a closed mesh half a millimetre off the
    /// wall: from a share of the way to another, its breadth multiplied by `across` ≤ 1.
    [[nodiscard]] TriangleMesh cavity_piece(double from, double to, double across) const {
        return cavity_piece(openings(), from, to, across);
    }
    /// The same where the openings are known.
    [[nodiscard]] TriangleMesh cavity_piece(const Openings& openings, double from, double to,
                                            double across) const;

    /// What an untied limb fills while it swings out from its folded place, by Side; absent where the limb
    /// is.
    using SwungPair = std::array<std::optional<TriangleMesh>, 2>;
    [[nodiscard]] SwungPair swung_legs() const;
    [[nodiscard]] SwungPair swung_wings() const;

    /// Tape measures, m: across the breast alone; round the trunk and limbs where that is most, hollows
    /// spanned; between the middles of the drumsticks' ends.
    [[nodiscard]] double breast_width() const;
    [[nodiscard]] double girth() const;
    [[nodiscard]] double hock_spread() const;

  private:
    // Parts of one limb, each blended to those before it.
    struct Cone {
        RoundCone solid;
        double fillet;
        BirdRegion region;  // of the right side
    };
    struct Limb {
        std::vector<Cone> cones;
        double fillet = 0;  // to the trunk
        Vec3 root = Vec3::Zero();
        Vec3 hub = Vec3::Zero();
        double reach = 0;
        Box3 box;          // holds all cones
        double bulge = 0;  // further than this the fillets between them do not stand out
        [[nodiscard]] double distance(const Vec3& p) const;
        // Only true where distance(p) is `least` or more.
        [[nodiscard]] bool is_beyond(const Vec3& p, double least) const;
    };
    struct LimbPair {
        std::optional<Limb> leg, wing;
    };
    // Solids and fillets of the trunk; the lobe and its rear stand on the right and are mirrored.
    struct Trunk {
        Ellipsoid ribcage, pelvis, lobe, tail;
        RoundCone rear, keel, neck;
        double neck_end;  // x of its cut
        double keel_rise;
        double back_fillet, lobe_fillet, crease, keel_fillet, breast_fillet, neck_fillet, tail_fillet,
            neck_rim;
    };
    struct Bore {
        Ellipsoid cavity;
        RoundCone vent, neck;
        double fillet;
    };
    struct TrunkDistances {
        double breast, back, neck, tail, all;
    };
    struct NearestCone {
        double distance;
        BirdRegion region;
    };
    static Trunk make_trunk(const BirdForm& form);
    static Bore make_bore(const BirdForm& form);
    [[nodiscard]] LimbPair make_limbs(Side side) const;
    void find_box();
    [[nodiscard]] double rim_x(double direction) const;
    [[nodiscard]] TrunkDistances trunk_distances(const Vec3& p) const;
    [[nodiscard]] double breast(const Vec3& p) const;
    // The skin's field from the trunk's.
    [[nodiscard]] double with_limbs(double trunk, const Vec3& p) const;
    [[nodiscard]] bool is_beyond_bore(const Vec3& p, double least) const;
    [[nodiscard]] static BirdRegion nearest_trunk(const TrunkDistances& distances);
    [[nodiscard]] std::optional<NearestCone> nearest_cone(const Vec3& p, double within) const;
    [[nodiscard]] static TriangleMesh swung_right(const Limb& limb, double angle_rad);
    [[nodiscard]] SwungPair swung_pair(std::optional<Limb> LimbPair::*limb, const std::array<bool, 2>& there,
                                       bool alike, double angle_rad) const;

    BirdForm form_;
    Limbs limbs_;
    Trunk trunk_;
    Bore bore_;
    std::array<LimbPair, 2> sides_;  // by Side; the left ones mirrored to +y
    Box3 box_;
};

/// The bones of a bird, Bone::region a BirdRegion.
std::vector<Bone> bird_bones(const BirdShape& shape);

}  // namespace evenspit::body
