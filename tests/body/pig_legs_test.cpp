// SPDX-License-Identifier: MIT
#include "body/pig_legs.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "body/shape.h"
#include "geometry/solid_check.h"

namespace evenspit::body {
namespace {

constexpr std::array ways{Trussing::folded, Trussing::stretched, Trussing::loose};

Body pig(Trussing way, double mass_kg = 7) {
    ShapeOptions options;
    options.species = "suckling pig";
    options.mass_kg = mass_kg;
    options.trussing = way;
    return make_shape(options);
}

double from_rod_m(const Vec3& p) {
    return std::hypot(p.y(), p.z());
}

/// Farthest from the rod, which runs along x.
double swept_m(const TriangleMesh& mesh) {
    double r = 0;
    for (const Vec3& v : mesh.vertices) r = std::max(r, from_rod_m(v));
    return r;
}

/// The same of the skin of one region.
double swept_m(const Body& body, const std::string& region) {
    const Part& skin = body.parts.front();
    double r = 0;
    for (std::size_t n = 0; n < skin.mesh.triangles.size(); ++n) {
        if (body.region_table[skin.regions[n]].name == region)
            r = std::max(r, from_rod_m(skin.mesh.corner(skin.mesh.triangles[n], 0)));
    }
    return r;
}

const PartShare& share(const Body& body, const std::string& region) {
    return *std::find_if(body.shares.begin(), body.shares.end(),
                         [&](const PartShare& s) { return s.region.name == region; });
}

TEST(PigLegs, SoundAndOfItsWeightHoweverTheyAreTied) {
    for (const Trussing way : ways) {
        for (const double kg : {3.5, 7.0, 14.0}) {
            const Body body = pig(way, kg);
            EXPECT_NEAR(mass_moments(body).amount, kg, 1e-9 * kg);
            EXPECT_LT(std::abs(mass_moments(body).centre.y()), 1e-9);
            EXPECT_EQ(body.trussing, way);
            for (const Part& part : body.parts) {
                const SolidReport report = check_solid(part.mesh);
                EXPECT_TRUE(report.ok()) << part.name << ": " << report.found;
                EXPECT_EQ(report.components, 1) << part.name;
            }
            double sum = 0;
            for (const PartShare& s : body.shares) sum += s.mass_kg;
            EXPECT_NEAR(sum, kg, 1e-9 * kg);
        }
    }
}

TEST(PigLegs, BonesLieInStretchedLegsAndApart) {
    const auto prepared = prepare(pig(Trussing::stretched));
    const auto& parts = prepared->body.parts;
    EXPECT_EQ(parts.size(), pig(Trussing::folded).parts.size()) << "every bone is there";
    for (std::size_t i = 1; i < parts.size(); ++i) {
        for (const Vec3& v : parts[i].mesh.vertices) {
            ASSERT_TRUE(prepared->queries[0].contains(v)) << parts[i].name;
            for (std::size_t j = 1; j < parts.size(); ++j)
                ASSERT_TRUE(j == i || !prepared->queries[j].contains(v))
                    << parts[i].name << " in " << parts[j].name;
        }
    }
}

// The same legs, laid another way: as long, as heavy, and as heavy a trunk.
TEST(PigLegs, StretchedLegsAreAsLongAndAsHeavyAsFoldedOnes) {
    const PigLegs folded = pig_legs(Trussing::folded), stretched = pig_legs(Trussing::stretched);
    for (const auto leg : {&PigLegs::fore, &PigLegs::hind}) {
        const PigLeg &a = folded.*leg, &b = stretched.*leg;
        for (const auto& [from, to] : {std::pair{&PigLeg::top, &PigLeg::knee},
                                       {&PigLeg::knee, &PigLeg::heel},
                                       {&PigLeg::heel, &PigLeg::foot}})
            EXPECT_NEAR((b.*to - b.*from).norm(), (a.*to - a.*from).norm(), 1e-3);
        EXPECT_NEAR((b.toe[1] - b.toe[0]).norm(), (a.toe[1] - a.toe[0]).norm(), 1e-3);
    }
    const Body one = pig(Trussing::folded), other = pig(Trussing::stretched);
    for (const char* region : {"forelegs", "hind legs"})
        EXPECT_NEAR(share(other, region).mass_kg / share(one, region).mass_kg, 1, 0.06) << region;
    EXPECT_NEAR(share(other, "trotters").mass_kg / share(one, "trotters").mass_kg, 1, 0.1);
    for (const char* region : {"trunk", "head", "hams", "shoulders"})
        EXPECT_NEAR(share(other, region).mass_kg / share(one, region).mass_kg, 1, 0.015) << region;
    EXPECT_NEAR(matter_volume(other) / matter_volume(one), 1, 0.005);
}

TEST(PigLegs, StretchedOnesLieForeAndAftNearTheRod) {
    const Body folded = pig(Trussing::folded), stretched = pig(Trussing::stretched);
    EXPECT_GT(bounds(stretched.parts[0].mesh).sizes().x(), bounds(folded.parts[0].mesh).sizes().x() + 0.05);
    for (const char* region : {"forelegs", "hind legs", "trotters"})
        EXPECT_LT(swept_m(stretched, region), swept_m(folded, region) - 4e-3) << region;
    EXPECT_GT(share(stretched, "forelegs").centre_m.x(), share(folded, "forelegs").centre_m.x() + 0.04);
    EXPECT_LT(share(stretched, "hind legs").centre_m.x(), share(folded, "hind legs").centre_m.x() - 0.06);
    for (const char* region : {"forelegs", "hind legs"})
        EXPECT_LT(share(stretched, region).centre_m.z(), share(folded, region).centre_m.z() - 0.01) << region;
}

// What the skins' moments say of the move of the centre of mass, against the sum over the regions, which are
// counted cell by cell from the fields.
TEST(PigLegs, StretchingMovesTheCentreAsTheSumOverTheRegionsSays) {
    const Body folded = pig(Trussing::folded), stretched = pig(Trussing::stretched);
    Vec3 moved = Vec3::Zero(), moved_by_legs = Vec3::Zero();
    for (const PartShare& s : folded.shares) {
        const PartShare& there = share(stretched, s.region.name);
        const Vec3 moment = there.mass_kg * there.centre_m - s.mass_kg * s.centre_m;
        moved += moment;
        if (s.region.name.ends_with("legs") || s.region.name == "trotters") moved_by_legs += moment;
    }
    const Vec3 told = mass_moments(stretched).first() - mass_moments(folded).first();
    // The centre comes nearer to the rod by 2 mm: 13 g m, of which the lattice may miss 0.5.
    EXPECT_LT(told.z(), -8e-3);
    EXPECT_NEAR(told.z(), moved.z(), 5e-4);
    EXPECT_NEAR(told.x(), moved.x(), 2e-3);
    EXPECT_NEAR(told.z(), moved_by_legs.z(), 0.25 * std::abs(told.z())) << "it is the legs that moved it";
}

TEST(PigLegs, LooseOnesSweepMoreButWeighTheSame) {
    const Body folded = pig(Trussing::folded), loose = pig(Trussing::loose);
    EXPECT_EQ(mass_moments(loose).centre, mass_moments(folded).centre);
    EXPECT_TRUE(folded.swung.empty());
    EXPECT_TRUE(loose.if_undone.empty()) << "nothing ties them";
    ASSERT_EQ(loose.swung.size(), 4U);
    for (const SwungLimb& limb : loose.swung)
        EXPECT_GT(swept_m(limb.mesh), 1.5 * swept_m(folded.parts[0].mesh)) << limb.name;
}

TEST(PigLegs, TiedOnesSwingOnceTheirTieIsUndone) {
    for (const Trussing way : {Trussing::folded, Trussing::stretched}) {
        const Body body = pig(way);
        EXPECT_TRUE(body.swung.empty());
        ASSERT_EQ(body.if_undone.size(), 4U);
        for (const SwungLimb& limb : body.if_undone) {
            const SolidReport report = check_solid(limb.mesh);
            EXPECT_TRUE(report.ok()) << limb.name << ": " << report.found;
            EXPECT_EQ(report.components, 1) << limb.name;
            EXPECT_EQ(limb.name.starts_with("left"), volume_moments(limb.mesh).centre.y() < 0) << limb.name;
        }
    }
}

// However a leg was tied, it ends up hanging as far out: at most as long as all its pieces end to end, and
// within a sixth of that: its joints stay bent a little.
TEST(PigLegs, ALooseLegHangsAsFarOutAsItIsLong) {
    const PigLegs legs = pig_legs(Trussing::folded);
    const auto reach_m = [](const PigLeg& leg) {
        return (leg.knee - leg.root).norm() + (leg.heel - leg.knee).norm() + (leg.foot - leg.heel).norm() +
               (leg.toe[1] - leg.foot).norm();
    };
    for (const Trussing way : {Trussing::folded, Trussing::stretched}) {
        for (const SwungLimb& limb : swung_legs(pig_legs(way))) {
            const PigLeg& leg = limb.name.ends_with("foreleg") ? legs.fore : legs.hind;
            double farthest = 0;
            for (const Vec3& v : limb.mesh.vertices) {
                const Vec3 right(v.x(), std::abs(v.y()), v.z());
                farthest = std::max(farthest, (right - leg.root).norm());
            }
            constexpr double toe_radius_m = 0.0175;
            EXPECT_LT(farthest, reach_m(leg) + toe_radius_m) << limb.name;
            EXPECT_GT(farthest, 5.0 / 6 * reach_m(leg)) << limb.name;
        }
    }
}

// Every place of a leg as it is tied lies in what it sweeps, but for a millimetre or two.
TEST(PigLegs, ALegsSwingBeginsWhereItIsTied) {
    for (const Trussing way : {Trussing::folded, Trussing::stretched}) {
        const PigLegs legs = pig_legs(way);
        for (const SwungLimb& limb : swung_legs(legs)) {
            if (limb.name.starts_with("left")) continue;
            const PigLeg& leg = limb.name.ends_with("foreleg") ? legs.fore : legs.hind;
            const SolidQueries swing(limb.mesh);
            for (const Vec3& p : {leg.top, leg.knee, leg.heel, leg.foot, leg.toe[1]})
                EXPECT_TRUE(swing.contains(p)) << limb.name;
        }
    }
}

TEST(PigLegs, EachShapeKnowsItsOwnWays) {
    using enum Trussing;
    EXPECT_EQ(trussings("turkey"), (std::vector{tight, legs_tied, loose}));
    EXPECT_EQ(trussings("suckling pig"), (std::vector{folded, stretched, loose}));
    EXPECT_TRUE(trussings("rib roast").empty());
    EXPECT_TRUE(trussings("crocodile").empty());
    // What is usual for its kind.
    EXPECT_EQ(pig(tight).trussing, folded);
}

}  // namespace
}  // namespace evenspit::body
