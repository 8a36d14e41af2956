// SPDX-License-Identifier: MIT
#include "body/bird_shape.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "body/bird_landmarks.h"
#include "body/tube.h"
#include "geometry/hull.h"

namespace evenspit::body {
namespace {

// The reference turkey: a dressed bird of 5.9 kg, on its back, legs tied to the tail, wings folded, in
// millimetres about the line through its openings. From memory of such birds: about 40 cm long with the legs,
// 25 cm wide, 20 cm deep; no published table of lengths and breadths against weight was found. Its parts
// weigh what parts of real birds do (see bird_test.cpp).

constexpr double rim_radius = 5 * mm;  // roundness of the openings' rims

Vec3 mirrored(const Vec3& p) {
    return {p.x(), -p.y(), p.z()};
}
std::size_t index(Side side) {
    return static_cast<std::size_t>(side);
}

// Where a field along a ray, negative at first, turns positive, by halving the way forty times. Most of what
// the halves ask is known beforehand from a few steps of false position.
template <class Along>
double halved(const Along& field) {
    double known_inside = 0, known_outside = mm * 300;
    double low = field(known_inside), high = field(known_outside);
    const auto look = [&](double r) {
        const double here = field(r);
        if (here < 0) {
            known_inside = r;
            low = here;
        } else {
            known_outside = r;
            high = here;
        }
        return here;
    };
    // Illinois: the end that stays counts half.
    double before = 0;
    for (int round = 0; round < 12 && low < 0 && high > 0; ++round) {
        const double at = known_inside + (known_outside - known_inside) * low / (low - high);
        const double here = look(at);
        if (std::abs(here) < 1e-14) break;
        if (here * before > 0) (here < 0 ? high : low) *= 0.5;
        before = here;
    }
    constexpr double hair = 2e-12;
    const double at = std::abs(low) < std::abs(high) ? known_inside : known_outside;
    for (const double r : {at - hair, at + hair}) {
        if (r > known_inside && r < known_outside) look(r);
    }
    double inside = 0, outside = mm * 300;
    for (int round = 0; round < 40; ++round) {
        const double r = 0.5 * (inside + outside);
        const bool is_inside = r <= known_inside || (r < known_outside && field(r) < 0);
        (is_inside ? inside : outside) = r;
    }
    return inside;
}

}  // namespace

std::vector<Region> bird_regions() {
    return named_regions({"breast", "back", "neck", "tail", "right thigh", "left thigh", "right drumstick",
                          "left drumstick", "right wing", "left wing", std::string(cavity_wall_name)});
}

double BirdShape::Limb::distance(const Vec3& p) const {
    double d = cones.front().solid.distance(p);
    for (std::size_t i = 1; i < cones.size(); ++i) {
        if (!cones[i].solid.is_beyond(p, d + cones[i].fillet))
            d = blend(d, cones[i].solid.distance(p), cones[i].fillet);
    }
    return d;
}

bool BirdShape::Limb::is_beyond(const Vec3& p, double least) const {
    const double away = least + bulge + field_rounding;
    return away > 0 && box.squaredExteriorDistance(p) >= away * away;
}

BirdShape::BirdShape(const BirdForm& form, const Limbs& limbs)
    : form_(form), trunk_(make_trunk(form)), bore_(make_bore(form)) {
    // The box is that of a whole bird, so that what is left of one without a limb is meshed and counted
    // alike.
    for (const Side side : {Side::right, Side::left}) sides_[index(side)] = make_limbs(side);
    find_box();
    limbs_ = limbs;
    for (const Side side : {Side::right, Side::left}) sides_[index(side)] = make_limbs(side);
}

BirdShape::Trunk BirdShape::make_trunk(const BirdForm& form) {
    const Landmarks m(form);
    return {
        .ribcage = {m.trunk(34, 0, -26), m.trunk(118, 72, 61)},
        .pelvis = {m.trunk(-78, 0, -31), m.trunk(90, 56, 54)},
        .lobe = {m.breast(36, 39, 37), m.breast(110, 51, 61)},
        .tail = {m.trunk(-160, 0, -57), mm * form.tail * Vec3(38, 24, 14)},
        .rear = {m.breast(21, 33, 35), m.breast(-101, 13, 26), m.girth(52), m.girth(30)},
        .keel = {m.breast(82, 0, 73), m.breast(-78, 0, 65), m.girth(13), m.girth(9)},
        .neck = {m.trunk(105, 0, 0), m.trunk(168, 0, 0) + Vec3(mm * 30 * form.neck_length, 0, 0),
                 m.girth(42) * form.neck_girth, m.girth(31) * form.neck_girth},
        .neck_end = m.trunk(131, 0, 0).x() + mm * 38 * form.neck_length,
        .keel_rise = mm * 4 * (form.keel - 1),
        .back_fillet = m.girth(40),
        .lobe_fillet = m.girth(30),
        .crease = m.girth(16),
        .keel_fillet = m.girth(26),
        .breast_fillet = m.girth(30),
        .neck_fillet = m.girth(34),
        .tail_fillet = m.girth(24),
        .neck_rim = m.girth(12) * form.neck_girth,
    };
}

BirdShape::Bore BirdShape::make_bore(const BirdForm& form) {
    const Landmarks m(form);
    const double c = form.cavity;
    const double beyond = mm * 1000;
    return {
        .cavity = {m.trunk(2, 0, -10), m.trunk(113, 47 * c, 48 * c)},
        .vent = {Vec3(-beyond, 0, 0), m.trunk(-52, 0, 0), m.girth(32) * c, m.girth(32) * c},
        .neck = {m.trunk(52, 0, 0), Vec3(beyond, 0, 0), m.girth(18) * c, m.girth(18) * c},
        .fillet = m.girth(30),
    };
}

BirdShape::LimbPair BirdShape::make_limbs(Side side) const {
    const Landmarks m(form_);
    Limb leg;
    leg.fillet = m.thigh(18);
    leg.root = m.hip();
    if (limbs_.thigh[index(side)]) {
        leg.cones.push_back({{m.hip(), m.knee(), m.thigh(49), m.thigh(41)}, 0, BirdRegion::right_thigh});
    }
    if (limbs_.drumstick[index(side)]) {
        const Vec3 belly = m.knee() + 0.42 * (m.hock() - m.knee());
        const Vec3 knob = m.drumstick(3) * (m.hock() - m.knee()).normalized();
        const BirdRegion region = BirdRegion::right_drumstick;
        leg.cones.push_back({{m.knee(), belly, m.drumstick(36), m.drumstick(41)}, m.drumstick(10), region});
        leg.cones.push_back({{belly, m.hock(), m.drumstick(40), m.drumstick(13)}, m.drumstick(14), region});
        leg.cones.push_back(
            {{m.hock() - knob, m.hock() + knob, m.drumstick(15), m.drumstick(15)}, m.drumstick(8), region});
    }
    Limb wing;
    wing.fillet = m.wing(13);
    wing.root = m.shoulder();
    if (limbs_.wing[index(side)]) {
        const BirdRegion region = BirdRegion::right_wing;
        wing.cones.push_back({{m.shoulder(), m.elbow(), m.wing(38), m.wing(29)}, 0, region});
        wing.cones.push_back({{m.elbow(), m.wrist(), m.wing(25.5), m.wing(18)}, m.wing(8), region});
        wing.cones.push_back({{m.wrist(), m.wing_tip(), m.wing(16), m.wing(12)}, m.wing(8), region});
    }
    const auto bounded = [](Limb limb) -> std::optional<Limb> {
        if (limb.cones.empty()) return std::nullopt;
        Box3 hubs;
        for (const Cone& cone : limb.cones) hubs.extend(cone.solid.hub());
        limb.hub = hubs.center();
        for (const Cone& cone : limb.cones) {
            limb.reach =
                std::max(limb.reach, (cone.solid.hub() - limb.hub).norm() + cone.solid.reach() + cone.fillet);
            limb.box.extend(cone.solid.box());
            limb.bulge += 0.25 * cone.fillet;
        }
        return limb;
    };
    return {bounded(std::move(leg)), bounded(std::move(wing))};
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
    box_.extend(m.trunk(-173, -110, -95));
    box_.extend(m.trunk(158, 110, 60));
    box_.extend(m.breast(0, 0, 100));
    box_.extend(Vec3(m.trunk(-166, 0, -50) - Vec3(mm * 50 * form_.tail, 0, 0)));
    around(trunk_.neck);
    for (const LimbPair& side : sides_) {
        for (const auto* limb : {&side.leg, &side.wing}) {
            if (!*limb) continue;
            for (const Cone& cone : (*limb)->cones) around(cone.solid);
        }
    }
    // Fillets may stand out a little beyond what they join.
    const Vec3 room = Vec3::Constant(mm * 8);
    box_ = Box3(box_.min() - room, box_.max() + room);
}

// An opening's centre is that of its rim: where the bore's wall meets the skin, all round.
double BirdShape::rim_x(double direction) const {
    constexpr int steps_round = 16;
    double sum = 0;
    for (int i = 0; i < steps_round; ++i) {
        const double angle = 2 * std::numbers::pi * (i + 0.5) / steps_round;
        const Vec3 outward(0, std::cos(angle), std::sin(angle));
        double inside = 0, outside = direction > 0 ? box_.max().x() : box_.min().x();
        for (int round = 0; round < 30; ++round) {
            const Vec3 on_axis(0.5 * (inside + outside), 0, 0);
            (trunk(on_axis + wall_radius(on_axis, outward, 0) * outward) < 0 ? inside : outside) =
                on_axis.x();
        }
        sum += inside;
    }
    return sum / steps_round;
}

// Near and far side in this order, so that a mirrored place gives the same number to the last bit. What is
// too far to touch even its fillet, here as below, is not looked at: blending would leave the number as it
// is.
double BirdShape::breast(const Vec3& p) const {
    const Trunk& t = trunk_;
    const Vec3 near(p.x(), std::abs(p.y()), p.z());
    const Vec3 far = mirrored(near);
    const auto half = [&t](const Vec3& at) {
        const double lobe = t.lobe.distance(at);
        if (t.rear.is_beyond(at, lobe + t.lobe_fillet)) return lobe;
        return blend(lobe, t.rear.distance(at), t.lobe_fillet);
    };
    double d = half(near);
    const double clear = d + t.crease + 0.25 * t.lobe_fillet;
    if (!t.lobe.is_beyond(far, clear) || !t.rear.is_beyond(far, clear)) d = blend(d, half(far), t.crease);
    if (t.keel.is_beyond(p, d + t.keel_fillet + t.keel_rise)) return d;
    return blend(d, t.keel.distance(p) - t.keel_rise, t.keel_fillet);
}

BirdShape::TrunkDistances BirdShape::trunk_distances(const Vec3& p) const {
    const Trunk& t = trunk_;
    TrunkDistances d{};
    d.breast = breast(p);
    d.back = blend(t.ribcage.distance(p), t.pelvis.distance(p), t.back_fillet);
    d.neck = carve(t.neck.distance(p), t.neck_end - p.x(), t.neck_rim);
    d.tail = t.tail.distance(p);
    d.all =
        blend(blend(blend(d.back, d.breast, t.breast_fillet), d.neck, t.neck_fillet), d.tail, t.tail_fillet);
    return d;
}

// As above, for those who need no more.
double BirdShape::trunk(const Vec3& p) const {
    const Trunk& t = trunk_;
    double d = t.ribcage.distance(p);
    if (!t.pelvis.is_beyond(p, d + t.back_fillet)) d = blend(d, t.pelvis.distance(p), t.back_fillet);
    d = blend(d, breast(p), t.breast_fillet);
    // Its cut leaves less of the neck than there was.
    if (!t.neck.is_beyond(p, d + t.neck_fillet)) {
        d = blend(d, carve(t.neck.distance(p), t.neck_end - p.x(), t.neck_rim), t.neck_fillet);
    }
    if (!t.tail.is_beyond(p, d + t.tail_fillet)) d = blend(d, t.tail.distance(p), t.tail_fillet);
    return d;
}

double BirdShape::with_limbs(double trunk, const Vec3& p) const {
    double d = trunk;
    const Vec3 near(p.x(), std::abs(p.y()), p.z());
    const auto add = [&d](const std::optional<Limb>& limb, const Vec3& at) {
        if (!limb || limb->is_beyond(at, d + limb->fillet)) return;
        if ((at - limb->hub).norm() - limb->reach > d + limb->fillet) return;
        d = blend(d, limb->distance(at), limb->fillet);
    };
    // The near side first, for the same reason.
    const Side side = p.y() >= 0 ? Side::right : Side::left;
    const Side other = side == Side::right ? Side::left : Side::right;
    add(sides_[index(side)].leg, near);
    add(sides_[index(side)].wing, near);
    add(sides_[index(other)].leg, mirrored(near));
    add(sides_[index(other)].wing, mirrored(near));
    return d;
}

double BirdShape::skin(const Vec3& p) const {
    return with_limbs(trunk(p), p);
}

double BirdShape::bore(const Vec3& p) const {
    const Bore& b = bore_;
    return blend(blend(b.cavity.distance(p), b.vent.distance(p), b.fillet), b.neck.distance(p), b.fillet);
}

bool BirdShape::is_beyond_bore(const Vec3& p, double least) const {
    const Bore& b = bore_;
    const double clear = least + 0.5 * b.fillet;
    return b.cavity.is_beyond(p, clear) && b.vent.is_beyond(p, clear) && b.neck.is_beyond(p, clear);
}

double BirdShape::flesh(const Vec3& p) const {
    const double d = trunk(p);
    if (d < -rim_radius) {
        // Limbs only add flesh: along the wall of the bore they change nothing.
        const double wall = bore(p);
        return carve(d <= -wall - rim_radius ? d : with_limbs(d, p), wall, rim_radius);
    }
    const double skin_field = with_limbs(d, p);
    if (is_beyond_bore(p, rim_radius - skin_field)) return skin_field;
    return carve(skin_field, bore(p), rim_radius);
}

// The nearest cone of those within reach.
std::optional<BirdShape::NearestCone> BirdShape::nearest_cone(const Vec3& p, double within) const {
    std::optional<NearestCone> nearest;
    const Side side = p.y() >= 0 ? Side::right : Side::left;
    const Vec3 near(p.x(), std::abs(p.y()), p.z());
    for (const auto* limb : {&sides_[index(side)].leg, &sides_[index(side)].wing}) {
        if (!*limb) continue;
        for (const Cone& cone : (*limb)->cones) {
            if (cone.solid.is_beyond(near, nearest ? nearest->distance : within)) continue;
            const double d = cone.solid.distance(near);
            if (nearest && nearest->distance <= d) continue;
            nearest =
                NearestCone{d, static_cast<BirdRegion>(index(side) + static_cast<std::size_t>(cone.region))};
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

RegionLayers BirdShape::layers(const Vec3& p, double full) const {
    const TrunkDistances d = trunk_distances(p);
    const double wall = bore(p);
    const Side side = p.y() >= 0 ? Side::right : Side::left;
    const Vec3 near(p.x(), std::abs(p.y()), p.z());
    RegionLayers layers;
    // Whether there is room for more.
    const auto add = [&](BirdRegion region, double skin_field) {
        const double field = carve(skin_field, wall, rim_radius);
        layers.add(static_cast<std::uint8_t>(region), field);
        return field > full;
    };
    const auto own = [side](BirdRegion right) {
        return static_cast<BirdRegion>(static_cast<std::size_t>(right) + index(side));
    };
    if (!add(nearest_trunk(d), d.all)) return layers;
    const LimbPair& limbs = sides_[index(side)];
    double skin_field = d.all;
    if (limbs.leg) {
        const Cone& first = limbs.leg->cones.front();
        if (first.region == BirdRegion::right_thigh &&
            !add(own(BirdRegion::right_thigh), blend(d.all, first.solid.distance(near), limbs.leg->fillet))) {
            return layers;
        }
        skin_field = blend(d.all, limbs.leg->distance(near), limbs.leg->fillet);
        if (limbs.leg->cones.size() > 1 && !add(own(BirdRegion::right_drumstick), skin_field)) return layers;
    }
    if (limbs.wing)
        add(own(BirdRegion::right_wing), blend(skin_field, limbs.wing->distance(near), limbs.wing->fillet));
    return layers;
}

BirdRegion BirdShape::region_on_surface(const Vec3& p) const {
    const TrunkDistances d = trunk_distances(p);
    if (-bore(p) > with_limbs(d.all, p)) return BirdRegion::cavity_wall;
    const auto cone = nearest_cone(p, d.all);
    return cone && cone->distance < d.all ? cone->region : nearest_trunk(d);
}

bool BirdShape::is_even() const {
    const auto alike = [](const std::array<bool, 2>& there) { return there[0] == there[1]; };
    return alike(limbs_.wing) && alike(limbs_.thigh) && alike(limbs_.drumstick);
}

TriangleMesh BirdShape::cavity_piece(const Openings& openings, double from, double to, double across) const {
    constexpr double inset = 0.5 * mm;
    const double vent = openings.vent_x, length = openings.neck_x - vent - 2 * inset;
    const TubeOptions options{.from = {vent + inset + from * length, 0, 0},
                              .to = {vent + inset + to * length, 0, 0},
                              .around = 32,
                              .along = 32,
                              .flat_ends = true};
    return tube_mesh(options, [&](const Vec3& at, const Vec3& outward, double) {
        return across * wall_radius(at, outward, -inset);
    });
}

// First radius from the axis at which the bore's field reaches `level`.
double BirdShape::wall_radius(const Vec3& on_axis, const Vec3& outward, double level) const {
    return halved([&](double r) { return bore(on_axis + r * outward) - level; });
}

double BirdShape::skin_radius(const Vec3& from, const Vec3& outward) const {
    return halved([&](double r) { return trunk(from + r * outward); });
}

double BirdShape::breast_width() const {
    const Landmarks m(form_);
    double widest = 0;
    for (const double z : {20.0, 30.0, 40.0, 50.0}) {
        widest = std::max(widest, skin_radius(m.breast(36, 0, z), Vec3::UnitY()));
    }
    return 2 * widest;
}

double BirdShape::girth() const {
    const Landmarks m(form_);
    double most = 0;
    for (double x = -60; x <= 60; x += 10) {
        // Outermost skin in each direction, walked inward with steps that cannot jump over it.
        constexpr int rays = 72;
        std::vector<Vec2> outline;
        for (int i = 0; i < rays; ++i) {
            const double angle = 2 * std::numbers::pi * (i + 0.5) / rays;
            const Vec2 outward(std::cos(angle), std::sin(angle));
            double r = mm * 300;
            for (int step = 0; step < 200 && r > 0; ++step) {
                const double d = skin({m.trunk(x, 0, 0).x(), r * outward.x(), r * outward.y()});
                if (d < 1e-5) break;
                r -= 0.4 * d;
            }
            outline.emplace_back(r * outward);
        }
        most = std::max(most, hull_perimeter(std::move(outline)));
    }
    return most;
}

double BirdShape::hock_spread() const {
    return 2 * Landmarks(form_).hock().y();
}

}  // namespace evenspit::body
