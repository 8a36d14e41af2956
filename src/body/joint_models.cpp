// SPDX-License-Identifier: MIT
#include "body/joint_models.h"

#include <cmath>
#include <memory>
#include <numbers>

#include "body/lumps.h"
#include "body/tube.h"

namespace evenspit {
namespace {

// Shapes are from memory of such joints at a usual weight, in millimetres; what is bone is told beside each.
constexpr double mm = 1e-3;

Vec3 point_mm(double x, double y, double z) {
    return mm * Vec3(x, y, z);
}
RoundCone cone(const Vec3& a, const Vec3& b, double ra, double rb) {
    return {a, b, mm * ra, mm * rb};
}
Mat3 turned(double degrees, const Vec3& axis) {
    return Eigen::AngleAxisd(degrees * std::numbers::pi / 180, axis).toRotationMatrix();
}

// A cut across x: takes away what lies beyond.
Field beyond_x(double x_mm) {
    return [x = mm * x_mm](const Vec3& p) { return x - p.x(); };
}
Field before_x(double x_mm) {
    return [x = mm * x_mm](const Vec3& p) { return p.x() - x; };
}

BodyModel model_of(const std::shared_ptr<const Lumps>& lumps, const Box3& box) {
    BodyModel model;
    model.flesh = [lumps](const Vec3& p) { return lumps->distance(p); };
    // Fillets stand out a little beyond what they join.
    const Vec3 room = point_mm(12, 12, 12);
    model.box = {box.min() - room, box.max() + room};
    model.region_names = lumps->region_names();
    model.region_on_surface = [lumps](const Vec3& p) { return lumps->nearest_region(p); };
    model.layers = [lumps](const Vec3& p) { return lumps->layers(p); };
    return model;
}

// About 2.5 kg: 29 cm long, 10 cm thick; string every 35 mm.
BodyModel boneless_roll() {
    auto lumps = std::make_shared<Lumps>();
    lumps->region("roll");
    const RoundCone meat = cone(point_mm(-200, 0, 0), point_mm(200, 0, 0), 53, 51);
    lumps->add_distance(
        [meat](const Vec3& p) {
            const double wave = std::cos(std::numbers::pi * p.x() / (mm * 35));
            return meat.distance(p) + mm * 2.5 * wave * wave * wave * wave;
        },
        0);
    lumps->cut(beyond_x(145), mm * 40);
    lumps->cut(before_x(-145), mm * 40);
    return model_of(lumps, {point_mm(-148, -56, -56), point_mm(148, 56, 56)});
}

// About 2.5 kg: 41 cm long with the shank, 17 cm wide, 12 cm thick.
BodyModel leg_of_lamb() {
    auto lumps = std::make_shared<Lumps>();
    lumps->region("rump");
    lumps->add(Ellipsoid(point_mm(-88, 8, 0), point_mm(94, 92, 57)), 0);
    lumps->region("leg");
    lumps->add(Ellipsoid(point_mm(-8, -4, 5), point_mm(106, 76, 60), turned(-10, Vec3::UnitZ())), mm * 40);
    lumps->add(cone(point_mm(20, -6, 0), point_mm(110, -16, -4), 52, 33), mm * 30);
    lumps->region("shank");
    lumps->add(cone(point_mm(110, -16, -4), point_mm(205, -24, -6), 31, 17), mm * 24);
    lumps->add(cone(point_mm(205, -24, -6), point_mm(212, -24, -6), 20, 20), mm * 12);
    // The cut from the loin.
    lumps->cut(before_x(-165), mm * 14);
    BodyModel model = model_of(lumps, {point_mm(-185, -95, -72), point_mm(236, 95, 75)});

    BoneSetter setter(model.flesh);
    setter.lay("femur", 1, point_mm(-70, -4, 2), point_mm(78, -8, -2),
               {.high = 15e-3, .wide = 15e-3, .knob = 1.9, .taper = 0.08});
    setter.lay("aitch bone", 0, point_mm(-150, 22, -4), point_mm(-72, 26, 6),
               {.high = 16e-3, .wide = 36e-3, .up = Vec3::UnitZ()});
    setter.lay("tibia", 2, point_mm(88, -14, -3), point_mm(212, -24, -6),
               {.high = 12e-3, .wide = 12e-3, .knob = 1.4, .taper = 0.08});
    model.bones = setter.take();
    return model;
}

// About 4 kg: 28 × 20 × 12 cm.
BodyModel pork_shoulder() {
    auto lumps = std::make_shared<Lumps>();
    lumps->region("blade");
    lumps->add(RoundBox(point_mm(-34, 0, 0), point_mm(110, 98, 62), mm * 56), 0);
    lumps->region("arm");
    lumps->add(Ellipsoid(point_mm(46, -4, 0), point_mm(128, 90, 61)), mm * 24);
    lumps->cut(beyond_x(138), mm * 16);
    BodyModel model = model_of(lumps, {point_mm(-150, -108, -74), point_mm(150, 108, 82)});

    BoneSetter setter(model.flesh);
    setter.lay("shoulder blade", 0, point_mm(-125, 6, -14), point_mm(26, -4, -6),
               {.high = 11e-3, .wide = 52e-3});
    setter.lay("humerus", 1, point_mm(42, -8, -4), point_mm(136, -14, -2),
               {.high = 18e-3, .wide = 18e-3, .knob = 1.4, .taper = 0.08});
    model.bones = setter.take();
    return model;
}

// About 4 kg, four ribs: 17 cm along the chine, 24 cm along the ribs, 15 cm high.
BodyModel rib_roast() {
    auto lumps = std::make_shared<Lumps>();
    lumps->region("eye");
    lumps->add(cone(point_mm(-160, -34, 6), point_mm(160, -34, 6), 66, 66), 0);
    lumps->region("rib side");
    const RoundBox flap(point_mm(0, 52, -18), point_mm(160, 78, 36), mm * 30);
    lumps->add(flap, mm * 44);
    lumps->region("cap");
    lumps->add(Ellipsoid(point_mm(0, 10, 32), point_mm(220, 92, 44), turned(-14, Vec3::UnitX())), mm * 30);
    lumps->cut(beyond_x(88), mm * 8);
    lumps->cut(before_x(-88), mm * 8);
    BodyModel model = model_of(lumps, {point_mm(-92, -110, -80), point_mm(92, 145, 95)});

    BoneSetter setter(model.flesh);
    for (int i = 0; i < 4; ++i) {
        const double x = -63 + 42 * i;
        setter.lay("rib " + std::to_string(i + 1), 1, point_mm(x, -48, -47), point_mm(x, 122, -36),
                   {.high = 6.5e-3, .wide = 11e-3});
    }
    setter.lay("chine", 0, point_mm(-84, -78, -18), point_mm(84, -78, -18),
               {.high = 13e-3, .wide = 13e-3, .taper = 0.06});
    model.bones = setter.take();
    return model;
}

// About 7 kg: 60 cm from rump to snout.
BodyModel suckling_pig() {
    auto lumps = std::make_shared<Lumps>();
    lumps->region("trunk");
    lumps->add(Ellipsoid(point_mm(-6, 0, 0), point_mm(235, 80, 84)), 0);
    lumps->add(cone(point_mm(-125, 0, -8), point_mm(125, 0, -8), 76, 78), mm * 30);
    lumps->region("hams");
    lumps->add_pair(Ellipsoid(point_mm(-146, 42, 8), point_mm(89, 46, 72)), mm * 30);
    lumps->region("shoulders");
    lumps->add_pair(Ellipsoid(point_mm(114, 40, 6), point_mm(82, 44, 74)), mm * 30);
    lumps->region("head");
    lumps->add(cone(point_mm(188, 0, -12), point_mm(274, 0, -6), 72, 60), mm * 40);
    lumps->add(cone(point_mm(274, 0, -4), point_mm(367, 0, 8), 52, 30), mm * 26);
    lumps->add_pair(Ellipsoid(point_mm(253, 62, -50), point_mm(34, 26, 10), turned(40, Vec3::UnitX())),
                    mm * 10);
    lumps->region("forelegs");
    lumps->add_pair(cone(point_mm(114, 48, 50), point_mm(71, 54, 92), 34, 22), mm * 24);
    lumps->add_pair(cone(point_mm(71, 54, 92), point_mm(160, 40, 104), 21, 14), mm * 12);
    lumps->region("hind legs");
    lumps->add_pair(cone(point_mm(-137, 46, 54), point_mm(-82, 56, 96), 40, 24), mm * 24);
    lumps->add_pair(cone(point_mm(-82, 56, 96), point_mm(-182, 42, 106), 22, 14), mm * 12);
    lumps->cut(beyond_x(381), mm * 12);
    BodyModel model = model_of(lumps, {point_mm(-256, -110, -100), point_mm(393, 110, 130)});

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
    model.layers = [lumps, belly](const Vec3& p) {
        const RegionLayers whole = lumps->layers(p);
        RegionLayers layers;
        for (const RegionLayers::Layer& layer : whole.all()) {
            layers.add(layer.region, carve(layer.field, belly.distance(p), mm * 2));
        }
        return layers;
    };

    BoneSetter setter(flesh);
    setter.lay("spine", 0, point_mm(-205, 0, -62), point_mm(188, 0, -64), {.high = 12e-3, .wide = 14e-3});
    setter.lay("skull", 3, point_mm(203, 0, -8), point_mm(356, 0, 4),
               {.high = 30e-3, .wide = 30e-3, .taper = 0.4});
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
                                outside, outside + setter.room(on_axis + outside * outward, outward, mm * 4)};
                        }));
        setter.lay(own + "femur", 1, point_mm(-171, 46, 0), point_mm(-105, 52, 66),
                   {.high = 9e-3, .wide = 9e-3, .knob = 1.5, .taper = 0.08});
        setter.lay(own + "hind shank", 5, point_mm(-93, 55, 96), point_mm(-178, 42, 105),
                   {.high = 7e-3, .wide = 7e-3, .knob = 1.3, .taper = 0.08});
        setter.lay(own + "shoulder blade", 2, point_mm(137, 58, -40), point_mm(119, 56, 14),
                   {.high = 16e-3, .wide = 5e-3, .up = Vec3::UnitX()});
        setter.lay(own + "humerus", 2, point_mm(119, 50, 26), point_mm(84, 52, 76),
                   {.high = 8e-3, .wide = 8e-3, .knob = 1.5, .taper = 0.08});
        setter.lay(own + "fore shank", 4, point_mm(84, 53, 94), point_mm(155, 41, 103),
                   {.high = 6e-3, .wide = 6e-3, .knob = 1.3, .taper = 0.08});
    }
    model.bones = setter.take();
    return model;
}

}  // namespace

// Ranges of weights: common practice, no source.
const std::vector<JointKind>& joint_table() {
    static const std::vector<JointKind> table{
        {"boneless roll", 0.8, 6, "10070", 0.009, boneless_roll},
        {"leg of lamb", 1.2, 4.5, "17011", 0.009, leg_of_lamb},
        {"pork shoulder", 1.5, 10, "10070", 0.009, pork_shoulder},
        {"rib roast", 1.5, 10, "13827", 0.009, rib_roast},
        {"suckling pig", 3.5, 14, "10070", 0.0135, suckling_pig},
    };
    return table;
}

}  // namespace evenspit
