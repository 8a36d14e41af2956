// SPDX-License-Identifier: MIT
#include "body/pig_legs.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <utility>

#include "body/joint_parts.h"
#include "body/mesher.h"
#include "body/tube.h"

namespace evenspit::body {
namespace {

using namespace joint_parts;

/// Half as thick as a piece is at its two ends, and how round it runs into what is before it, mm.
struct Piece {
    double from, to, fillet;
};

/// From the trunk outward.
struct LegGirth {
    Piece upper, lower, foot;
};

constexpr LegGirth fore_girth{{34, 23, 22}, {21, 14, 10}, {15, 13, 6}};
constexpr LegGirth hind_girth{{42, 26, 22}, {24, 15, 10}, {16, 13, 6}};
constexpr Piece toe_girth{9.5, 7, 5};
constexpr double toe_off_middle_mm = 8;

/// Where an untied leg hangs: how its two halves look, from +x (head) toward +z (belly), and how far it falls
/// outward. From memory of dressed pigs held by the back.
struct Hanging {
    double upper_deg, lower_deg;
};
constexpr Hanging fore_hanging{110, 80};
constexpr Hanging hind_hanging{75, 105};
constexpr double outward_deg = 30;

void add_piece(Lumps& lumps, const Vec3& a, const Vec3& b, const Piece& piece) {
    lumps.add_pair(cone(a, b, piece.from, piece.to), mm * piece.fillet);
}

void add_leg(Lumps& lumps, const PigLeg& leg, const LegGirth& girth) {
    add_piece(lumps, leg.top, leg.knee, girth.upper);
    add_piece(lumps, leg.knee, leg.heel, girth.lower);
    add_piece(lumps, leg.heel, leg.foot, girth.foot);
}

PigLegs folded_legs() {
    return {.fore = {.root = point_mm(119, 50, 26),
                     .top = point_mm(116, 50, 50),
                     .knee = point_mm(74, 58, 92),
                     .heel = point_mm(138, 50, 106),
                     .foot = point_mm(178, 46, 104),
                     .toe = {point_mm(180, 46, 104), point_mm(198, 46, 101)},
                     .upper_bone = {point_mm(119, 50, 26), point_mm(84, 52, 76)},
                     .lower_bone = {point_mm(84, 53, 94), point_mm(155, 41, 103)}},
            .hind = {.root = point_mm(-171, 46, 0),
                     .top = point_mm(-137, 48, 54),
                     .knee = point_mm(-84, 60, 96),
                     .heel = point_mm(-172, 50, 108),
                     .foot = point_mm(-222, 46, 100),
                     .toe = {point_mm(-224, 46, 100), point_mm(-243, 46, 95)},
                     .upper_bone = {point_mm(-171, 46, 0), point_mm(-105, 52, 66)},
                     .lower_bone = {point_mm(-93, 55, 96), point_mm(-178, 42, 105)}}};
}

/// The feet lie beside the jowls and beside the tail.
PigLegs stretched_legs() {
    return {.fore = {.root = point_mm(119, 50, 26),
                     .top = point_mm(116, 50, 50),
                     .knee = point_mm(164, 61, 84),
                     .heel = point_mm(221, 70, 52),
                     .foot = point_mm(259, 71, 39),
                     .toe = {point_mm(261, 71, 39), point_mm(278, 70, 33)},
                     .upper_bone = {point_mm(119, 50, 26), point_mm(156, 56, 72)},
                     .lower_bone = {point_mm(170, 62, 77), point_mm(234, 69, 46)}},
            .hind = {.root = point_mm(-171, 46, 0),
                     .top = point_mm(-150, 48, 44),
                     .knee = point_mm(-206, 58, 84),
                     .heel = point_mm(-289, 52, 52),
                     .foot = point_mm(-337, 46, 38),
                     .toe = {point_mm(-339, 46, 38), point_mm(-357, 45, 33)},
                     .upper_bone = {point_mm(-171, 46, 0), point_mm(-196, 52, 76)},
                     .lower_bone = {point_mm(-214, 57, 78), point_mm(-295, 50, 49)}}};
}

/// How a line looks, from +x toward +z, rad.
double pitch(const Vec3& from, const Vec3& to) {
    return std::atan2(to.z() - from.z(), to.x() - from.x());
}

Pose turned_about(const Vec3& centre, double angle_rad, const Vec3& axis) {
    Pose pose = Pose::Identity();
    pose.translate(centre);
    pose.rotate(Eigen::AngleAxisd(angle_rad, axis));
    pose.translate(-centre);
    return pose;
}

/// A leg at one place of its swing: its cones, and a ball that holds them.
struct LegSolid {
    std::vector<RoundCone> cones;
    std::vector<double> fillets;
    Vec3 hub = Vec3::Zero();
    double reach = 0;

    void add(const Pose& pose, const Vec3& a, const Vec3& b, const Piece& piece) {
        cones.push_back(cone(pose * a, pose * b, piece.from, piece.to));
        fillets.push_back(mm * piece.fillet);
    }
    void bound() {
        Box3 hubs;
        for (const RoundCone& solid : cones) hubs.extend(solid.hub());
        hub = hubs.center();
        for (std::size_t n = 0; n < cones.size(); ++n)
            reach = std::max(reach, (cones[n].hub() - hub).norm() + cones[n].reach() + fillets[n]);
    }
    [[nodiscard]] double distance(const Vec3& p) const {
        double d = cones.front().distance(p);
        for (std::size_t n = 1; n < cones.size(); ++n) d = blend(d, cones[n].distance(p), fillets[n]);
        return d;
    }
};

/// \param share of the way from where the leg is tied to where it hangs
LegSolid leg_at(const PigLeg& leg, const LegGirth& girth, const Hanging& hanging, double share) {
    constexpr double degree = std::numbers::pi / 180;
    const auto way = [share](double from_rad, double to_deg) {
        return share * std::remainder(to_deg * degree - from_rad, 2 * std::numbers::pi);
    };
    // About −y, x turns toward z; about −x, z turns outward, to +y.
    const double upper_rad = way(pitch(leg.root, leg.knee), hanging.upper_deg);
    const double lower_rad = way(pitch(leg.knee, leg.foot), hanging.lower_deg);
    const Pose upper = turned_about(leg.root, share * outward_deg * degree, -Vec3::UnitX()) *
                       turned_about(leg.root, upper_rad, -Vec3::UnitY());
    const Pose lower = upper * turned_about(leg.knee, lower_rad - upper_rad, -Vec3::UnitY());
    LegSolid solid;
    solid.add(upper, leg.top, leg.knee, girth.upper);
    solid.add(lower, leg.knee, leg.heel, girth.lower);
    solid.add(lower, leg.heel, leg.foot, girth.foot);
    // Both toes as one.
    solid.add(lower, leg.toe[0], leg.toe[1],
              {toe_girth.from + toe_off_middle_mm, toe_girth.to + toe_off_middle_mm, toe_girth.fillet});
    solid.bound();
    return solid;
}

TriangleMesh swung(const PigLeg& leg, const LegGirth& girth, const Hanging& hanging) {
    // Close enough together that their union is the swept solid to a millimetre or two.
    constexpr int places = 33;
    std::vector<LegSolid> solids;
    Box3 box;
    for (int n = 0; n < places; ++n) {
        solids.push_back(leg_at(leg, girth, hanging, static_cast<double>(n) / (places - 1)));
        const Vec3 reach = Vec3::Constant(solids.back().reach + mm * 20);
        box.extend(Vec3(solids.back().hub - reach));
        box.extend(Vec3(solids.back().hub + reach));
    }
    const Field field = [&solids](const Vec3& p) {
        double least = std::numeric_limits<double>::infinity();
        for (const LegSolid& solid : solids) {
            if ((p - solid.hub).norm() - solid.reach < least) least = std::min(least, solid.distance(p));
        }
        return least;
    };
    // Distances of round cones, blended, are never steeper than the distance itself.
    constexpr double steepest = 1.01;
    return mesh_field(field, {.box = box, .spacing = mm * 12, .steepest = steepest});
}

}  // namespace

PigLegs pig_legs(Trussing trussing) {
    return trussing == Trussing::stretched ? stretched_legs() : folded_legs();
}

void add_legs(Lumps& lumps, const PigLegs& legs) {
    lumps.region("forelegs");
    add_leg(lumps, legs.fore, fore_girth);
    lumps.region("hind legs");
    add_leg(lumps, legs.hind, hind_girth);
    lumps.region("trotters");
    for (const double off_mm : {-toe_off_middle_mm, toe_off_middle_mm}) {
        const Vec3 off = point_mm(0, off_mm, 0);
        for (const PigLeg* leg : {&legs.fore, &legs.hind})
            add_piece(lumps, leg->toe[0] + off, leg->toe[1] + off, toe_girth);
    }
}

void lay_leg_bones(BoneSetter& setter, const PigLegs& legs, const std::string& side) {
    // Forelegs are the fifth region, hind legs the sixth; what is high in a leg counts to shoulder and ham.
    setter.lay(side + "femur", 1, legs.hind.upper_bone[0], legs.hind.upper_bone[1],
               {.high = 11e-3, .wide = 11e-3, .knob = 1.5, .taper = 0.08});
    setter.lay(side + "hind shank", 5, legs.hind.lower_bone[0], legs.hind.lower_bone[1],
               {.high = 8.5e-3, .wide = 8.5e-3, .knob = 1.3, .taper = 0.08});
    setter.lay(side + "shoulder blade", 2, point_mm(137, 58, -40), point_mm(119, 56, 14),
               {.high = 22e-3, .wide = 5e-3, .up = Vec3::UnitX()});
    setter.lay(side + "humerus", 2, legs.fore.upper_bone[0], legs.fore.upper_bone[1],
               {.high = 10e-3, .wide = 10e-3, .knob = 1.5, .taper = 0.08});
    setter.lay(side + "fore shank", 4, legs.fore.lower_bone[0], legs.fore.lower_bone[1],
               {.high = 7.5e-3, .wide = 7.5e-3, .knob = 1.3, .taper = 0.08});
}

std::vector<SwungLimb> swung_legs(const PigLegs& legs) {
    std::vector<SwungLimb> limbs;
    const auto add = [&limbs](const char* name, TriangleMesh right) {
        limbs.push_back({std::string("left ") + name, mirror_image(right)});
        limbs.push_back({std::string("right ") + name, std::move(right)});
    };
    add("foreleg", swung(legs.fore, fore_girth, fore_hanging));
    add("hind leg", swung(legs.hind, hind_girth, hind_hanging));
    return limbs;
}

}  // namespace evenspit::body
