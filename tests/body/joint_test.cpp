// SPDX-License-Identifier: MIT
#include "body/joint.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "body/joint_models.h"
#include "geometry/solid_check.h"
#include "units/error.h"

namespace evenspit::body {
namespace {

class EachJoint : public testing::TestWithParam<std::size_t> {
  protected:
    const JointKind& kind() const { return joint_table()[GetParam()]; }
    std::string name() const { return std::string(kind().name); }
    double usual_kg() const { return std::sqrt(kind().least_kg * kind().greatest_kg); }
};

TEST_P(EachJoint, SoundAndOfItsWeightOverTheWholeRange) {
    for (const double kg : {kind().least_kg, usual_kg(), kind().greatest_kg}) {
        const Body body = make_joint({.kind = name(), .mass_kg = kg});
        EXPECT_NEAR(mass_moments(body).amount, kg, 1e-9 * kg);
        EXPECT_EQ(body.mass_model, MassModel::scale_weight);
        double sum = 0;
        for (const PartShare& share : body.shares) sum += share.mass_kg;
        EXPECT_NEAR(sum, kg, 1e-9 * kg);
        for (const Part& part : body.parts) {
            const SolidReport report = check_solid(part.mesh);
            EXPECT_TRUE(report.ok()) << part.name << ": " << report.found;
            EXPECT_EQ(report.components, 1) << part.name;
        }
    }
}

TEST_P(EachJoint, BonesLieInTheFleshAndApart) {
    const auto prepared = prepare(make_joint({.kind = name(), .mass_kg = usual_kg()}));
    const auto& parts = prepared->body.parts;
    for (std::size_t i = 1; i < parts.size(); ++i) {
        for (const Vec3& v : parts[i].mesh.vertices) {
            ASSERT_TRUE(prepared->queries[0].contains(v)) << parts[i].name;
            for (std::size_t j = 1; j < parts.size(); ++j) {
                ASSERT_TRUE(j == i || !prepared->queries[j].contains(v))
                    << parts[i].name << " in " << parts[j].name;
            }
        }
    }
}

TEST_P(EachJoint, LongestAlongTheRodOrCutAcross) {
    const Body body = make_joint({.kind = name(), .mass_kg = usual_kg()});
    const Vec3 size = bounds(body.parts[0].mesh).sizes();
    EXPECT_GT(size.x(), 0.1);
    EXPECT_LT(size.maxCoeff(), 0.8);
    // One aims the rod at the middle: the centre of mass lies near it.
    const Vec3 centre = mass_moments(body).centre;
    EXPECT_LT(std::hypot(centre.y(), centre.z()), 0.06 * size.maxCoeff());
}

INSTANTIATE_TEST_SUITE_P(Joints, EachJoint, testing::Range<std::size_t>(0, 5), [](const auto& joint) {
    std::string text(joint_table().at(joint.param).name);
    std::replace(text.begin(), text.end(), ' ', '_');
    return text;
});

double bone_share(const Body& body) {
    double bone = 0;
    for (const Part& part : body.parts) {
        if (part.kind == PartKind::bone) bone += part.density_kg_m3 * volume_moments(part.mesh).amount;
    }
    return bone / mass_moments(body).amount;
}

// Refuse of raw joints as bought (USDA SR26): lamb leg 21 %, pork shoulder 25 % with its skin, beef rib 17 %.
// What is counted there holds gristle and skin too; bones alone must stay below and be of that order.
TEST(Joint, BonesWeighWhatCanBeBone) {
    EXPECT_EQ(bone_share(make_joint({.kind = "boneless roll", .mass_kg = 2.5})), 0);
    for (const auto& [kind, kg, refuse] :
         {std::tuple{"leg of lamb", 2.5, 0.21}, std::tuple{"pork shoulder", 4.0, 0.25},
          std::tuple{"rib roast", 4.0, 0.17}}) {
        const double share = bone_share(make_joint({.kind = kind, .mass_kg = kg}));
        EXPECT_LT(share, refuse) << kind;
        EXPECT_GT(share, 0.33 * refuse) << kind;
    }
}

// USDA SR26 17011, 10070, 13827: bone 21, 25 (with 8 % skin, from memory), 17 % of the joint; fat 17.1, 18.0,
// 27.9 % of what can be eaten, of which that between lean and fat is told apart here.
TEST(Joint, TissuesOfTheWholeAreThoseOfTheTables) {
    struct Whole {
        const char* kind;
        double kg, bone, skin_and_fat;
    };
    for (const auto& [kind, kg, bone, skin_and_fat] :
         {Whole{"leg of lamb", 2.5, 0.21, 0.18 * 0.79}, Whole{"pork shoulder", 4, 0.17, 0.08 + 0.17 * 0.75},
          Whole{"rib roast", 4, 0.17, 0.28 * 0.83}, Whole{"boneless roll", 2.5, 0, 0.17}}) {
        const Body body = make_joint({.kind = kind, .mass_kg = kg});
        Tissues sum;
        for (const PartShare& share : body.shares) {
            sum.bone_kg += share.tissues.bone_kg + share.tissues.gristle_kg;
            sum.skin_and_fat_kg += share.tissues.skin_and_fat_kg;
            EXPECT_NEAR(share.tissues.all_kg(), share.mass_kg, 1e-12) << kind;
        }
        EXPECT_NEAR(sum.bone_kg / kg, bone, 0.015) << kind;
        EXPECT_NEAR(sum.skin_and_fat_kg / kg, skin_and_fat, 0.015) << kind;
    }
}

// Over all: from memory of such joints.
TEST(Joint, SizesOfJoints) {
    struct Measured {
        const char* kind;
        double kg;
        Vec3 size;
    };
    for (const auto& [kind, kg, size] :
         {Measured{"boneless roll", 2.5, {0.30, 0.11, 0.11}},
          Measured{"leg of lamb", 2.5, {0.35, 0.16, 0.11}}, Measured{"pork shoulder", 4, {0.30, 0.19, 0.12}},
          Measured{"rib roast", 4, {0.17, 0.24, 0.16}}, Measured{"suckling pig", 7, {0.58, 0.17, 0.20}}}) {
        const Vec3 made = bounds(make_joint({.kind = kind, .mass_kg = kg}).parts[0].mesh).sizes();
        for (int k = 0; k < 3; ++k) EXPECT_NEAR(made[k], size[k], 0.1 * size[k]) << kind << ' ' << k;
    }
}

// Even all round: no unbalance on a rod through its middle.
TEST(Joint, ARollIsEven) {
    const Vec3 centre = mass_moments(make_joint({.kind = "boneless roll", .mass_kg = 2.5})).centre;
    EXPECT_LT(std::hypot(centre.y(), centre.z()), 2e-4);
}

TEST(Joint, ThinEndOfALegLooksToPlusX) {
    const Body leg = make_joint({.kind = "leg of lamb", .mass_kg = 2.5});
    EXPECT_LT(mass_moments(leg).centre.x(), -0.03);
    const auto shank = std::find_if(leg.shares.begin(), leg.shares.end(),
                                    [](const PartShare& s) { return s.region.name == "shank"; });
    ASSERT_NE(shank, leg.shares.end());
    EXPECT_GT(shank->centre_m.x(), 0.08);
}

TEST(Joint, APigHasTwoSidesAndABelly) {
    const Body pig = make_joint({.kind = "suckling pig", .mass_kg = 7, .stuffing_kg = 0.5});
    EXPECT_LT(std::abs(mass_moments(pig).centre.y()), 1e-9);
    EXPECT_NEAR(mass_moments(pig).amount, 7.5, 1e-9);
    const auto cavity = std::find_if(pig.parts.begin(), pig.parts.end(),
                                     [](const Part& p) { return p.kind == PartKind::cavity; });
    ASSERT_NE(cavity, pig.parts.end());
    EXPECT_EQ(cavity->parent, 0);  // closed: flesh all round
}

TEST(Joint, RefusesWhatItDoesNotKnow) {
    const auto complaint_of = [](const JointOptions& options) {
        try {
            make_joint(options);
        } catch (const InputError& error) {
            return error.complaints()[0];
        }
        return Complaint{};
    };
    EXPECT_EQ(complaint_of({.kind = "brisket", .mass_kg = 2}).key, "shape");
    EXPECT_NE(complaint_of({.kind = "brisket", .mass_kg = 2}).expected.find("leg of lamb"),
              std::string::npos);
    EXPECT_EQ(complaint_of({.kind = "leg of lamb", .mass_kg = 40}).key, "mass");
    EXPECT_EQ(complaint_of({.kind = "leg of lamb", .mass_kg = std::nan("")}).key, "mass");
    EXPECT_EQ(complaint_of({.kind = "leg of lamb", .mass_kg = 2, .stuffing_kg = 0.2}).key, "stuffing");
    EXPECT_EQ(complaint_of({.kind = "leg of lamb", .mass_kg = 2, .length = 1.2}).key, "length");
}

// From beside the tail to the mouth, at any weight, a rod of 12 mm meets no bone.
TEST(Joint, ARodGoesThroughAPigFromTailToMouth) {
    for (const double mass_kg : {3.5, 7.0, 14.0}) {
        const Body pig = make_joint({.kind = "suckling pig", .mass_kg = mass_kg});
        for (const Part& part : pig.parts) {
            if (part.kind != PartKind::bone) continue;
            const SolidQueries bone(part.mesh);
            for (int k = 0; k < 12; ++k) {
                const double angle = k * std::numbers::pi / 6;
                const Vec3 edge(0, 6e-3 * std::cos(angle), 6e-3 * std::sin(angle));
                EXPECT_TRUE(bone.inside(edge - Vec3::UnitX(), edge + Vec3::UnitX()).empty())
                    << part.name << " at " << mass_kg << " kg";
            }
        }
    }
}

}  // namespace
}  // namespace evenspit::body
