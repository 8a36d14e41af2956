// SPDX-License-Identifier: MIT
#include "body/joint_models.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <string>

#include "body/composition.h"
#include "body/joint_parts.h"
#include "body/lumps.h"

namespace evenspit::body {
namespace {

using namespace joint_parts;

// Shapes are from memory of such joints at a usual weight, in millimetres.

// About 2.5 kg: 29 cm long, 10 cm thick; string every 35 mm.
BodyModel boneless_roll(Trussing /*has no legs*/) {
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
    BodyModel model = model_of(lumps, {point_mm(-148, -56, -56), point_mm(148, 56, 56)});
    model.matter = {{.skin_and_fat = 0.17}};
    return model;
}

// Bone, gristle and fat of the joints below are USDA SR26's for the whole (refuse of 17011, 10070, 13827; the
// share of separable fat, see the table at the end), spread over the regions from memory. The skin of pork,
// 8 %, is counted there as refuse, here as skin.

// About 2.5 kg: 41 cm long with the shank, 17 cm wide, 12 cm thick.
BodyModel leg_of_lamb(Trussing /*has no legs*/) {
    auto lumps = std::make_shared<Lumps>();
    lumps->region("rump");
    lumps->add(Ellipsoid(point_mm(-88, 8, 0), point_mm(94, 92, 57)), 0);
    lumps->region("leg");
    lumps->add(Ellipsoid(point_mm(-8, -4, 5), point_mm(106, 76, 60), turned(-10, Vec3::UnitZ())), mm * 40);
    lumps->add(cone(point_mm(20, -6, 0), point_mm(110, -16, -4), 52, 33), mm * 30);
    lumps->region("shank");
    lumps->add(cone(point_mm(110, -16, -4), point_mm(205, -24, -6), 31, 17), mm * 24);
    lumps->add(cone(point_mm(205, -24, -6), point_mm(212, -24, -6), 20, 20), mm * 12);
    // The cut from the loin, and the sawn shank.
    lumps->cut(before_x(-160), mm * 20);
    lumps->cut(beyond_x(226), mm * 8);
    lumps->patch("cut face", before_x(-158));
    lumps->patch("bone end", [end = cone(point_mm(212, -24, -6), point_mm(240, -24, -6), 11, 11)](
                                 const Vec3& p) { return end.distance(p); });
    lumps->patch("bone end", on_face_x(-158, point_mm(0, 22, -4), point_mm(0, 26, 9)));
    BodyModel model = model_of(lumps, {point_mm(-185, -95, -72), point_mm(236, 95, 75)});
    model.matter = {{.bone = 0.17, .skin_and_fat = 0.18},
                    {.bone = 0.22, .skin_and_fat = 0.11},
                    {.bone = 0.50, .skin_and_fat = 0.06}};

    BoneSetter setter(model.flesh);
    setter.lay("femur", 1, point_mm(-76, -4, 2), point_mm(84, -8, -2),
               {.high = 16e-3, .wide = 16e-3, .knob = 1.9, .taper = 0.08});
    setter.lay("aitch bone", 0, point_mm(-156, 22, -4), point_mm(-78, 22, 6),
               {.high = 18e-3, .wide = 40e-3, .taper = 0.1, .up = Vec3::UnitZ()});
    setter.lay("tibia", 2, point_mm(92, -14, -3), point_mm(223, -24, -6),
               {.high = 13e-3, .wide = 13e-3, .knob = 1.5, .taper = 0.06});
    model.bones = setter.take();
    return model;
}

// About 4 kg: 31 cm from the cut through the blade to the sawn hock, 19 cm wide, 13 cm thick; flat toward the
// ribs (−z), rounded under the skin.
BodyModel pork_shoulder(Trussing /*has no legs*/) {
    auto lumps = std::make_shared<Lumps>();
    lumps->region("blade");
    lumps->add(RoundBox(point_mm(-70, 0, -4), point_mm(92, 94, 50), mm * 36), 0);
    lumps->add(Ellipsoid(point_mm(-66, 4, 14), point_mm(128, 88, 54)), mm * 30);
    lumps->region("arm");
    lumps->add(Ellipsoid(point_mm(28, -6, 2), point_mm(100, 86, 55)), mm * 30);
    lumps->add(cone(point_mm(40, -12, -2), point_mm(112, -20, -6), 54, 40), mm * 30);
    lumps->region("hock");
    lumps->add(cone(point_mm(112, -20, -6), point_mm(182, -26, -8), 39, 29), mm * 24);
    lumps->cut(before_x(-132), mm * 16);
    lumps->cut(beyond_x(180), mm * 12);
    lumps->patch("cut face", before_x(-130));
    lumps->patch("cut face", beyond_x(178));
    lumps->patch("bone end", on_face_x(-130, point_mm(0, 8, -8), point_mm(0, 54, 6)));
    lumps->patch("bone end", on_face_x(178, point_mm(0, -26, -8), point_mm(0, 15, 13)));
    BodyModel model = model_of(lumps, {point_mm(-150, -108, -74), point_mm(190, 108, 82)});
    model.matter = {{.bone = 0.14, .skin_and_fat = 0.23},
                    {.bone = 0.21, .skin_and_fat = 0.18},
                    {.bone = 0.40, .skin_and_fat = 0.20}};

    BoneSetter setter(model.flesh);
    setter.lay("shoulder blade", 0, point_mm(-128, 8, -8), point_mm(22, -6, -6),
               {.high = 7.5e-3, .wide = 56e-3, .taper = 0.05});
    setter.lay("spine of the blade", 0, point_mm(-118, 10, 12), point_mm(6, -4, 12),
               {.high = 11e-3, .wide = 6e-3, .taper = 0.2});
    setter.lay("humerus", 1, point_mm(32, -8, -3), point_mm(120, -18, -6),
               {.high = 23e-3, .wide = 23e-3, .knob = 1.5, .taper = 0.08});
    setter.lay("radius and ulna", 2, point_mm(126, -20, -6), point_mm(177, -26, -8),
               {.high = 18e-3, .wide = 23e-3, .knob = 1.1, .taper = 0.08});
    model.bones = setter.take();
    return model;
}

// The flank of beef arches over the ribs, 22 mm over 9 cm from their middle; this is the place where `p`
// would lie if it were flat.
Vec3 flank_unbent(const Vec3& p) {
    const double y = p.y() - mm * 10;
    return {p.x(), p.y(), p.z() + mm * 22 * y * y / (mm * 90 * mm * 90)};
}

// About 4 kg, four ribs 42 mm apart: 17 cm along the chine, 24 cm along the ribs, 15 cm high.
BodyModel rib_roast(Trussing /*has no legs*/) {
    constexpr double apart = mm * 42;
    const auto along_flank = [](const auto& solid) {
        return [solid](const Vec3& p) { return solid.distance(flank_unbent(p)); };
    };
    auto lumps = std::make_shared<Lumps>();
    lumps->region("eye");
    lumps->add(cone(point_mm(-220, -34, 4), point_mm(220, -34, 4), 58, 58), 0);
    lumps->add(cone(point_mm(-220, -76, -34), point_mm(220, -76, -34), 24, 24), mm * 24);
    lumps->region("rib side");
    lumps->add_distance(along_flank(RoundBox(point_mm(0, 36, -4), point_mm(220, 96, 32), mm * 30)), mm * 44);
    // The ribs stand out of the underside and of the end, all four by one folded over.
    const RoundCone rib = cone(point_mm(0, -16, -30), point_mm(0, 132, -32), 11, 12);
    const auto ribs = [rib](const Vec3& p) {
        const double nearest = std::clamp(std::floor(p.x() / apart), -2.0, 1.0) + 0.5;
        const Vec3 flat = flank_unbent(p);
        return rib.distance({p.x() - apart * nearest, flat.y(), flat.z()});
    };
    lumps->add_distance(ribs, mm * 8);
    lumps->region("fat cap");
    const auto meat = std::make_shared<const Lumps>(*lumps);
    lumps->add_distance(
        [meat](const Vec3& p) {
            const double above = p.z() + 0.15 * p.y() - mm * 14;
            return carve(meat->distance(p) - mm * 9, above, mm * 26);
        },
        mm * 8);
    // The chine is sawn off at a slant.
    const auto sawn = [](const Vec3& p) { return mm * 94 + 0.8 * p.y() + 0.6 * p.z(); };
    lumps->cut(sawn, mm * 12);
    lumps->cut(beyond_x(84), mm * 14);
    lumps->cut(before_x(-84), mm * 14);
    // Both faces show the lean inside the cap, and the eye inside its seam of fat.
    const Field faces = [](const Vec3& p) { return mm * 82 - std::abs(p.x()); };
    const Field lean = [meat](const Vec3& p) { return meat->distance(p) + mm; };
    const auto round_eye = [faces](double radius_mm) {
        return common(
            faces,
            [radius_mm](const Vec3& p) {
                return std::hypot(p.y() - mm * -32, p.z() - mm * 8) - mm * radius_mm;
            },
            0);
    };
    lumps->patch("cut face", common(faces, lean, 0));
    lumps->patch("fat cap", round_eye(45));
    lumps->patch("cut face", round_eye(41));
    lumps->patch("bone end", [ribs](const Vec3& p) { return std::max(ribs(p) - mm, mm * 134 - p.y()); });
    lumps->patch("bone end", [sawn](const Vec3& p) {
        return std::max(sawn(p) - mm * 2,
                        std::abs(0.6 * (p.y() + mm * 76) - 0.8 * (p.z() + mm * 34)) - mm * 13);
    });
    BodyModel model = model_of(lumps, {point_mm(-92, -110, -95), point_mm(92, 150, 95)});
    model.matter = {{.bone = 0.15, .skin_and_fat = 0.10},
                    {.bone = 0.24, .skin_and_fat = 0.27},
                    {.bone = 0, .skin_and_fat = 0.80}};
    model.origin = point_mm(0, 0, 2);  // the rod goes in beside the eye, above the ribs

    BoneSetter setter(model.flesh);
    for (int i = 0; i < 4; ++i) {
        const double x = -63 + 42 * i;
        const std::string number = std::to_string(i + 1);
        // The chord between the rib's ends on the arched flank, and the arch over it.
        setter.lay("rib " + number, 1, point_mm(x, -46, -40), point_mm(x, 138, -76),
                   {.high = 8e-3, .wide = 12e-3, .taper = 0.06, .bend = point_mm(0, 0, 23)});
        setter.lay("feather bone " + number, 0, point_mm(x, -72, -12), point_mm(x, -62, 40),
                   {.high = 12e-3, .wide = 4e-3, .up = Vec3::UnitX()});
    }
    setter.lay("chine", 0, point_mm(-80, -72, -32), point_mm(80, -72, -32),
               {.high = 15e-3, .wide = 17e-3, .taper = 0.05});
    model.bones = setter.take();
    return model;
}

}  // namespace

// The fat between lean and fat is what makes the composition of both that of the table (USDA SR26): the lean
// is what is left without it.
void JointKind::weigh(BodyModel& shaped) const {
    constexpr double refrigerator = 4;                                                          // °C
    constexpr Composition adipose{.water = 0.22, .protein = 0.07, .fat = 0.705, .ash = 0.004};  // from memory
    const Composition lean = without(raw_food(flesh).composition, adipose, separable_fat);
    for (RegionMatter& region : shaped.matter) {
        region.lean_density = composition_density(lean, refrigerator);
        region.skin_and_fat_density = composition_density(adipose, refrigerator);
    }
}

// Ranges of weights: common practice, no source. Shares of separable fat: such that the lean has the fat of
// trimmed meat, 5 % (lamb), 7 % (pork), 11 % (beef rib), from memory.
const std::vector<JointKind>& joint_table() {
    static const std::vector<JointKind> table{
        {"boneless roll", "tied at even distances", 0.8, 6, "10070", Meat::unknown, 0.17, 0.009,
         boneless_roll},
        {"leg of lamb", "bone in, from rump to shank", 1.2, 4.5, "17011", Meat::lamb, 0.18, 0.009,
         leg_of_lamb},
        {"pork shoulder", "bone in, from blade to hock", 1.5, 10, "10070", Meat::pork, 0.17, 0.0075,
         pork_shoulder},
        {"rib roast", "four ribs, chine sawn off", 1.5, 10, "13827", Meat::beef, 0.28, 0.007, rib_roast},
        {"suckling pig", "whole and gutted, from tail to snout, belly up", 3.5, 14, "10070", Meat::pork, 0.17,
         0.010, suckling_pig, true},
    };
    return table;
}

}  // namespace evenspit::body
