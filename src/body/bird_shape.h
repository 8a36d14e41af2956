// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "body/field.h"
#include "geometry/mesh.h"

namespace evenspit {

/// Proportions of a dressed bird, each relative to the reference turkey of bird_shape.cpp.
struct BirdForm {
    double length = 1;      ///< of the trunk, along x
    double width = 1;       ///< of the trunk, along y
    double depth = 1;       ///< of the trunk, along z
    double breast = 1;      ///< fullness of the breast over the keel
    double keel = 1;        ///< how far the keel's edge stands out
    double leg_length = 1;  ///< thigh and drumstick
    double leg_girth = 1;
    double wing_length = 1;
    double wing_girth = 1;
    double neck_length = 1;  ///< of the stub
    double neck_girth = 1;
    double tail = 1;
    double cavity = 1;  ///< bore of the body cavity and its openings
};

/// A side of the bird: right is +y, left is −y in the item frame (x toward the neck, z toward the breast).
enum class Side : std::uint8_t { right, left };

/// Limbs that can be missing.
struct Limbs {
    std::array<bool, 2> wing{true, true};  ///< by Side
    std::array<bool, 2> thigh{true, true};
    std::array<bool, 2> drumstick{true, true};
};

/// What a place on or in the bird belongs to.
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
inline constexpr std::size_t kBirdRegions = 11;
std::string bird_region_name(BirdRegion region);

/// A bone as a closed mesh, and the part it belongs to.
struct BirdBone {
    std::string name;
    BirdRegion region = BirdRegion::back;
    TriangleMesh mesh;  ///< outward, strictly inside the flesh, apart from all other bones
};

/// The solid of a dressed bird as distance fields, metres at the reference turkey's size.
///
/// x runs along the line through both openings (y = z = 0), from vent to neck; z toward the breast.
class BirdShape {
  public:
    explicit BirdShape(const BirdForm& form, const Limbs& limbs = {});

    /// Negative inside the skin, openings and cavity taken as filled.
    [[nodiscard]] double skin(const Vec3& p) const;
    /// The same without the limbs.
    [[nodiscard]] double trunk(const Vec3& p) const;
    /// Negative in the bore that runs from the vent through the cavity to the neck and beyond both.
    [[nodiscard]] double bore(const Vec3& p) const;
    /// Negative in flesh and bone: the skin's inside less the bore.
    [[nodiscard]] double flesh(const Vec3& p) const;
    /// What a place in the flesh belongs to, never cavity_wall: to a limb if it would be gone with the limb,
    /// else to the nearest part of the trunk.
    [[nodiscard]] BirdRegion region_inside(const Vec3& p) const;
    /// What a place on the flesh's surface belongs to.
    [[nodiscard]] BirdRegion region_on_surface(const Vec3& p) const;

    /// Holds all flesh.
    [[nodiscard]] const Box3& box() const { return box_; }
    /// Where the x axis enters at the vent and leaves at the neck.
    [[nodiscard]] double vent_x() const { return vent_x_; }
    [[nodiscard]] double neck_x() const { return neck_x_; }

    /// What fills the bore between the two openings, as a closed mesh; `inset` away from the wall.
    [[nodiscard]] TriangleMesh cavity_mesh(double inset) const;
    /// Bones of the trunk and of the limbs that are there.
    [[nodiscard]] std::vector<BirdBone> bones() const;
    /// The solid that a limb fills while it swings out from its folded place; metres, reference size.
    [[nodiscard]] TriangleMesh swung_leg(Side side, double angle_rad) const;
    [[nodiscard]] TriangleMesh swung_wing(Side side, double angle_rad) const;

  private:
    // Parts of one limb: each blended to those before it.
    struct Cone {
        RoundCone solid;
        double fillet;
        BirdRegion region;  // of the right side
    };
    struct Limb {
        std::vector<Cone> cones;
        double fillet = 0;  // to the trunk
        Vec3 hub = Vec3::Zero();
        double reach = 0;
        [[nodiscard]] double distance(const Vec3& p) const;
    };
    // Solids and fillets of the trunk; the lobe and its rear stand on the right and are mirrored.
    struct Trunk {
        Ellipsoid ribcage, pelvis, lobe, tail;
        RoundCone rear, keel, neck;
        double keel_rise, back_fillet, lobe_fillet, crease, keel_fillet, breast_fillet, neck_fillet,
            tail_fillet;
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
    void add_limbs(Side side);
    void find_box();
    [[nodiscard]] double rim_x(double direction) const;
    [[nodiscard]] TrunkDistances trunk_distances(const Vec3& p) const;
    [[nodiscard]] static BirdRegion nearest_trunk(const TrunkDistances& distances);
    [[nodiscard]] std::optional<NearestCone> nearest_cone(const Vec3& p) const;

    BirdForm form_;
    Limbs limbs_;
    Trunk trunk_;
    Bore bore_;
    std::vector<Limb> right_limbs_, left_limbs_;  // left ones mirrored to +y
    Box3 box_;
    double vent_x_ = 0, neck_x_ = 0;
};

}  // namespace evenspit
