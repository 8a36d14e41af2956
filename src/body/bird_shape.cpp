// SPDX-License-Identifier: MIT
#include "body/bird_shape.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "body/bird_landmarks.h"

namespace evenspit {
namespace {

// The reference turkey: a dressed bird of 5.9 kg, on its back, legs tied to the tail, wings folded, in
// millimetres about the line through its openings. From memory of such birds: about 40 cm long with the legs,
// 25 cm wide, 20 cm deep; no published table of lengths and breadths against weight was found. Its parts
// weigh what parts of real birds do (see bird_test.cpp).

Vec3 mirrored(const Vec3& p) {
    return {p.x(), -p.y(), p.z()};
}
std::size_t index(Side side) {
    return static_cast<std::size_t>(side);
}

}  // namespace

std::string bird_region_name(BirdRegion region) {
    static constexpr std::array<const char*, kBirdRegions> names{
        "breast",          "back",           "neck",       "tail",      "right thigh", "left thigh",
        "right drumstick", "left drumstick", "right wing", "left wing", "cavity wall"};
    return names[static_cast<std::size_t>(region)];
}

double BirdShape::Limb::distance(const Vec3& p) const {
    double d = cones.front().solid.distance(p);
    for (std::size_t i = 1; i < cones.size(); ++i) d = blend(d, cones[i].solid.distance(p), cones[i].fillet);
    return d;
}

BirdShape::BirdShape(const BirdForm& form, const Limbs& limbs)
    : form_(form), limbs_(limbs), trunk_(make_trunk(form)), bore_(make_bore(form)) {
    add_limbs(Side::right);
    add_limbs(Side::left);
    find_box();
    vent_x_ = rim_x(-1);
    neck_x_ = rim_x(+1);
}

BirdShape::Trunk BirdShape::make_trunk(const BirdForm& form) {
    const Landmarks m(form);
    return {
        .ribcage = {m.trunk(32, 0, -22), m.trunk(112, 73, 58)},
        .pelvis = {m.trunk(-74, 0, -26), m.trunk(84, 58, 50)},
        .lobe = {m.breast(34, 40, 36), m.breast(105, 53.5, 58)},
        .tail = {m.trunk(-152, 0, -50), kMm * form.tail * Vec3(38, 24, 14)},
        .rear = {m.breast(20, 34, 34), m.breast(-96, 14, 26), m.girth(52), m.girth(30)},
        .keel = {m.breast(94, 0, 72), m.breast(-72, 0, 62), m.girth(13), m.girth(9)},
        .neck = {m.trunk(105, 0, 0), m.trunk(125, 0, 0) + Vec3(kMm * 30 * form.neck_length, 0, 0),
                 m.girth(42) * form.neck_girth, m.girth(30) * form.neck_girth},
        .keel_rise = kMm * 4 * (form.keel - 1),
        .back_fillet = m.girth(40),
        .lobe_fillet = m.girth(30),
        .crease = m.girth(16),
        .keel_fillet = m.girth(26),
        .breast_fillet = m.girth(30),
        .neck_fillet = m.girth(34),
        .tail_fillet = m.girth(24),
    };
}

BirdShape::Bore BirdShape::make_bore(const BirdForm& form) {
    const Landmarks m(form);
    const double c = form.cavity;
    const double beyond = kMm * 1000;
    return {
        .cavity = {m.trunk(2, 0, -8), m.trunk(108, 47 * c, 44 * c)},
        .vent = {Vec3(-beyond, 0, 0), m.trunk(-50, 0, 0), m.girth(32) * c, m.girth(32) * c},
        .neck = {m.trunk(50, 0, 0), Vec3(beyond, 0, 0), m.girth(18) * c, m.girth(18) * c},
        .fillet = m.girth(30),
    };
}

void BirdShape::add_limbs(Side side) {
    const Landmarks m(form_);
    Limb leg;
    leg.fillet = m.leg(14);
    if (limbs_.thigh[index(side)]) {
        leg.cones.push_back({{m.hip(), m.knee(), m.leg(49), m.leg(41)}, 0, BirdRegion::right_thigh});
    }
    if (limbs_.drumstick[index(side)]) {
        const Vec3 belly = m.knee() + 0.42 * (m.hock() - m.knee());
        const Vec3 knob = m.leg(3) * (m.hock() - m.knee()).normalized();
        leg.cones.push_back(
            {{m.knee(), belly, m.leg(35), m.leg(39)}, m.leg(10), BirdRegion::right_drumstick});
        leg.cones.push_back(
            {{belly, m.hock(), m.leg(38), m.leg(13)}, m.leg(14), BirdRegion::right_drumstick});
        leg.cones.push_back({{m.hock() - knob, m.hock() + knob, m.leg(15), m.leg(15)},
                             m.leg(8),
                             BirdRegion::right_drumstick});
    }
    Limb wing;
    wing.fillet = m.wing(11);
    if (limbs_.wing[index(side)]) {
        wing.cones.push_back({{m.shoulder(), m.elbow(), m.wing(35), m.wing(26)}, 0, BirdRegion::right_wing});
        wing.cones.push_back(
            {{m.elbow(), m.wrist(), m.wing(23), m.wing(17)}, m.wing(8), BirdRegion::right_wing});
        wing.cones.push_back(
            {{m.wrist(), m.wing_tip(), m.wing(16), m.wing(10)}, m.wing(8), BirdRegion::right_wing});
    }
    for (Limb* limb : {&leg, &wing}) {
        if (limb->cones.empty()) continue;
        Box3 hubs;
        for (const Cone& cone : limb->cones) hubs.extend(cone.solid.hub());
        limb->hub = hubs.center();
        for (const Cone& cone : limb->cones) {
            limb->reach = std::max(limb->reach,
                                   (cone.solid.hub() - limb->hub).norm() + cone.solid.reach() + cone.fillet);
        }
        (side == Side::right ? right_limbs_ : left_limbs_).push_back(std::move(*limb));
    }
}

void BirdShape::find_box() {
    const Landmarks m(form_);
    const auto around = [&](const RoundCone& cone) {
        for (const double y : {1.0, -1.0}) {
            const Vec3 hub(cone.hub().x(), y * cone.hub().y(), cone.hub().z());
            box_.extend(Vec3(hub - Vec3::Constant(cone.reach())));
            box_.extend(Vec3(hub + Vec3::Constant(cone.reach())));
        }
    };
    box_.extend(m.trunk(-165, -110, -95));
    box_.extend(m.trunk(150, 110, 60));
    box_.extend(m.breast(0, 0, 100));
    box_.extend(Vec3(m.trunk(-158, 0, -50) - Vec3(kMm * 50 * form_.tail, 0, 0)));
    around(trunk_.neck);
    for (const auto* limbs : {&right_limbs_, &left_limbs_}) {
        for (const Limb& limb : *limbs) {
            for (const Cone& cone : limb.cones) around(cone.solid);
        }
    }
    // Fillets may stand out a little beyond what they join.
    const Vec3 room = Vec3::Constant(kMm * 8);
    box_ = Box3(box_.min() - room, box_.max() + room);
}

// An opening's centre is that of its rim: where the bore's wall meets the skin, all round.
double BirdShape::rim_x(double direction) const {
    constexpr int kRound = 16;
    double sum = 0;
    for (int i = 0; i < kRound; ++i) {
        const double angle = 2 * std::numbers::pi * (i + 0.5) / kRound;
        const Vec3 outward(0, std::cos(angle), std::sin(angle));
        double inside = 0, outside = direction > 0 ? box_.max().x() : box_.min().x();
        for (int round = 0; round < 30; ++round) {
            const Vec3 on_axis(0.5 * (inside + outside), 0, 0);
            double r = 0, wall = kMm * 200;
            for (int k = 0; k < 30; ++k) {
                const double middle = 0.5 * (r + wall);
                (bore(on_axis + middle * outward) < 0 ? r : wall) = middle;
            }
            (trunk(on_axis + r * outward) < 0 ? inside : outside) = on_axis.x();
        }
        sum += inside;
    }
    return sum / kRound;
}

BirdShape::TrunkDistances BirdShape::trunk_distances(const Vec3& p) const {
    const Trunk& t = trunk_;
    const Vec3 near(p.x(), std::abs(p.y()), p.z());
    const Vec3 far = mirrored(near);
    TrunkDistances d{};
    d.breast = blend(blend(t.lobe.distance(near), t.rear.distance(near), t.lobe_fillet),
                     blend(t.lobe.distance(far), t.rear.distance(far), t.lobe_fillet), t.crease);
    d.breast = blend(d.breast, t.keel.distance(p) - t.keel_rise, t.keel_fillet);
    d.back = blend(t.ribcage.distance(p), t.pelvis.distance(p), t.back_fillet);
    d.neck = t.neck.distance(p);
    d.tail = t.tail.distance(p);
    d.all =
        blend(blend(blend(d.back, d.breast, t.breast_fillet), d.neck, t.neck_fillet), d.tail, t.tail_fillet);
    return d;
}

double BirdShape::trunk(const Vec3& p) const {
    return trunk_distances(p).all;
}

double BirdShape::skin(const Vec3& p) const {
    double d = trunk(p);
    const bool on_right = p.y() >= 0;
    const Vec3 near(p.x(), std::abs(p.y()), p.z());
    const auto add = [&d](const std::vector<Limb>& limbs, const Vec3& at) {
        for (const Limb& limb : limbs) {
            // Too far to touch even the fillet.
            if ((at - limb.hub).norm() - limb.reach > d + limb.fillet) continue;
            d = blend(d, limb.distance(at), limb.fillet);
        }
    };
    // The near side first, so that a mirrored place gives the same number to the last bit.
    add(on_right ? right_limbs_ : left_limbs_, near);
    add(on_right ? left_limbs_ : right_limbs_, mirrored(near));
    return d;
}

double BirdShape::bore(const Vec3& p) const {
    const Bore& b = bore_;
    return blend(blend(b.cavity.distance(p), b.vent.distance(p), b.fillet), b.neck.distance(p), b.fillet);
}

double BirdShape::flesh(const Vec3& p) const {
    return carve(skin(p), bore(p), kMm * 5);
}

std::optional<BirdShape::NearestCone> BirdShape::nearest_cone(const Vec3& p) const {
    std::optional<NearestCone> nearest;
    const bool on_right = p.y() >= 0;
    const Vec3 near(p.x(), std::abs(p.y()), p.z());
    for (const Limb& limb : on_right ? right_limbs_ : left_limbs_) {
        for (const Cone& cone : limb.cones) {
            const double d = cone.solid.distance(near);
            if (nearest && nearest->distance <= d) continue;
            // A left region follows its right one.
            nearest =
                NearestCone{d, static_cast<BirdRegion>(static_cast<int>(cone.region) + (on_right ? 0 : 1))};
        }
    }
    return nearest;
}

BirdRegion BirdShape::nearest_trunk(const TrunkDistances& d) {
    const std::array<std::pair<double, BirdRegion>, 4> parts{{{d.breast, BirdRegion::breast},
                                                              {d.back, BirdRegion::back},
                                                              {d.neck, BirdRegion::neck},
                                                              {d.tail, BirdRegion::tail}}};
    return std::min_element(parts.begin(), parts.end())->second;
}

BirdRegion BirdShape::region_inside(const Vec3& p) const {
    const TrunkDistances d = trunk_distances(p);
    if (d.all >= 0) {
        if (const auto cone = nearest_cone(p)) return cone->region;
    }
    return nearest_trunk(d);
}

BirdRegion BirdShape::region_on_surface(const Vec3& p) const {
    if (-bore(p) > skin(p)) return BirdRegion::cavity_wall;
    const TrunkDistances d = trunk_distances(p);
    const auto cone = nearest_cone(p);
    return cone && cone->distance < d.all ? cone->region : nearest_trunk(d);
}

}  // namespace evenspit
