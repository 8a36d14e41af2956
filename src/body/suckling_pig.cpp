// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <string>

#include "body/joint_models.h"
#include "body/joint_parts.h"
#include "body/lumps.h"
#include "body/pig_legs.h"
#include "body/tube.h"

namespace evenspit::body {
namespace {

using namespace joint_parts;

// A dressed suckling pig, from memory of such pigs on the spit. About 7 kg: 62 cm from tail to snout, on its
// back.

// A disc across x with a round rim.
Field snout_disc(const Vec3& centre, double radius_mm, double half_mm) {
    return [centre, radius = mm * (radius_mm - half_mm), rim = mm * half_mm](const Vec3& p) {
        const double out = std::hypot(p.y() - centre.y(), p.z() - centre.z()) - radius;
        const double off = std::abs(p.x() - centre.x());
        return std::hypot(std::max(out, 0.0), off) - rim;
    };
}

// A blunt leaf: a cone from root to tip, flattened.
Field ear() {
    const Vec3 root = point_mm(242, 46, -50), tip = point_mm(256, 92, -112);
    const RoundCone leaf = cone(root, tip, 30, 9);
    const Vec3 along = (tip - root).normalized();
    const Vec3 across = Vec3(0.85, -0.1, 0.3);
    const Vec3 thin = (across - across.dot(along) * along).normalized();
    const Field flat = [root, thin](const Vec3& p) { return std::abs((p - root).dot(thin)) - mm * 7.5; };
    return common([leaf](const Vec3& p) { return leaf.distance(p); }, flat, 9);
}

/// \param flesh with the belly carved out of it
std::vector<Bone> bones_of(const Field& flesh, const Ellipsoid& belly, const PigLegs& legs) {
    BoneSetter setter(flesh);
    setter.lay("spine", 0, point_mm(-205, 0, -62), point_mm(188, 0, -64), {.high = 15e-3, .wide = 17e-3});
    // The rod goes out between the jaws.
    setter.lay("skull", 3, point_mm(206, 0, -34), point_mm(350, 0, -19),
               {.high = 15e-3, .wide = 36e-3, .taper = 0.4});
    setter.lay("lower jaw", 3, point_mm(226, 0, 28), point_mm(345, 0, 21),
               {.high = 8e-3, .wide = 20e-3, .taper = 0.3});
    for (const bool left : {false, true}) {
        const std::string own = left ? "left " : "right ";
        setter.mirror(left);
        constexpr double degree = std::numbers::pi / 180;
        const ShellOptions ribs{
            .from_x = mm * -46, .to_x = mm * 131, .from_angle = -50 * degree, .to_angle = 40 * degree};
        setter.lay_mesh(own + "ribs", 0, shell_mesh(ribs, [&](const Vec3& on_axis, const Vec3& outward) {
                            double inside = 0, outside = mm * 300;
                            for (int round = 0; round < 40; ++round) {
                                const double r = 0.5 * (inside + outside);
                                (belly.distance(on_axis + r * outward) < 1.3 * BoneSetter::least_cover
                                     ? inside
                                     : outside) = r;
                            }
                            return std::pair{
                                outside, outside + setter.room(on_axis + outside * outward, outward, mm * 6)};
                        }));
        lay_leg_bones(setter, legs, own);
    }
    return setter.take();
}

}  // namespace

BodyModel suckling_pig(Trussing trussing) {
    const PigLegs legs = pig_legs(trussing);
    auto lumps = std::make_shared<Lumps>();
    lumps->region("trunk");
    lumps->add(Ellipsoid(point_mm(-6, 0, 0), point_mm(235, 80, 84)), 0);
    lumps->add(cone(point_mm(-125, 0, -8), point_mm(125, 0, -8), 76, 78), mm * 30);
    // The tail curls up over the rump.
    lumps->add(cone(point_mm(-226, 0, -44), point_mm(-254, 0, -52), 11, 8), mm * 10);
    lumps->add(cone(point_mm(-254, 0, -52), point_mm(-266, 0, -34), 8, 7), mm * 4);
    lumps->region("hams");
    lumps->add_pair(Ellipsoid(point_mm(-146, 44, 10), point_mm(89, 48, 74)), mm * 26);
    lumps->region("shoulders");
    lumps->add_pair(Ellipsoid(point_mm(114, 42, 8), point_mm(80, 45, 76)), mm * 26);
    lumps->region("head");
    lumps->add(cone(point_mm(188, 0, -14), point_mm(266, 0, -14), 70, 57), mm * 34);
    lumps->add_pair(Ellipsoid(point_mm(248, 26, 20), point_mm(54, 34, 34)), mm * 24);  // jowls
    lumps->add(cone(point_mm(270, 0, -2), point_mm(366, 0, 4), 44, 25), mm * 22);
    lumps->add_distance(snout_disc(point_mm(374, 0, 3), 32, 8), mm * 6);
    lumps->add_distance(
        [ear = ear()](const Vec3& p) {
            return ear({p.x(), std::abs(p.y()), p.z()});
        },
        mm * 8);
    add_legs(*lumps, legs);
    lumps->cut(beyond_x(382), mm * 6);
    const double hindmost_mm = trussing == Trussing::stretched ? -376 : -276;
    BodyModel model = model_of(lumps, {point_mm(hindmost_mm, -110, -118), point_mm(390, 110, 130)});
    // Trunk, hams, shoulders, head, fore and hind legs, trotters: from memory.
    model.matter = {{.bone = 0.16, .skin_and_fat = 0.24}, {.bone = 0.12, .skin_and_fat = 0.20},
                    {.bone = 0.14, .skin_and_fat = 0.20}, {.bone = 0.35, .skin_and_fat = 0.25},
                    {.bone = 0.28, .skin_and_fat = 0.20}, {.bone = 0.26, .skin_and_fat = 0.20},
                    {.bone = 0.50, .skin_and_fat = 0.30}};

    const Ellipsoid belly(point_mm(-2, 0, 8), point_mm(182, 52, 54));
    const Field flesh = [lumps, belly](const Vec3& p) {
        return carve(lumps->distance(p), belly.distance(p), mm * 2);
    };
    model.origin = point_mm(62, 0, 0);  // the rod goes in beside the tail and out at the mouth
    model.cavity_is_closed = true;
    model.cavity_piece = [](double from, double to, double across) {
        const TubeOptions options{.from = point_mm(-184 + 364 * from, 0, 8),
                                  .to = point_mm(-184 + 364 * to, 0, 8),
                                  .around = 28,
                                  .along = 28,
                                  .flat_ends = from > 0 || to < 1};
        return tube_mesh(options, [across](const Vec3& at, const Vec3& outward, double) {
            const double s = (at.x() - mm * -2) / (mm * 182);
            const double round = std::sqrt(std::max(1e-6, 1 - s * s));
            return across * round / std::hypot(outward.y() / (mm * 52), outward.z() / (mm * 54));
        });
    };
    model.layers = [lumps, belly](const Vec3& p, double) {
        const RegionLayers whole = lumps->layers(p);
        RegionLayers layers;
        for (const RegionLayers::Layer& layer : whole.all()) {
            layers.add(layer.region, carve(layer.field, belly.distance(p), mm * 2));
        }
        return layers;
    };

    model.bones = bones_of(flesh, belly, legs);
    (trussing == Trussing::loose ? model.swung : model.if_undone) = swung_legs(legs);
    return model;
}

}  // namespace evenspit::body
