// SPDX-License-Identifier: MIT
#include "analysis/body_findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "loads.h"
#include "support/said.h"

namespace evenspit {
namespace {

using test::flesh;
using test::said;
using test::Said;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

/// A roast of 200 × 100 × 100 mm (2 kg) on the rod's axis, in a cooker with a lid.
struct Told {
    Assembly load = test::good_load();
    Clearance clearance;

    Told() {
        load.items[0].name = "goose";
        load.cooker.surfaces.resize(1);
        clearance.surfaces = {
            {.name = "lid", .gap_m = 0.06, .keep_m = 0.025, .at_m = 0.4, .part = {Thing::Kind::item, 0}}};
    }

    body::Body body() const { return load.items[0].body->body; }
    void set(body::Body body) { load.items[0].body = body::prepare(std::move(body)); }

    /// Frees limbs of which each reaches 300 mm to the side.
    void free(const std::vector<std::string>& limbs) {
        body::Body changed = body();
        for (const std::string& name : limbs)
            changed.swung.push_back({name, test::box_mesh({0, 0, 0}, {0.05, 0.18, 0.24})});
        set(changed);
        load.items[0].trussed = false;
    }

    std::vector<Said> findings() const { return said(body_findings(load, clearance), load); }
    Said only() const {
        const std::vector<Said> all = findings();
        EXPECT_EQ(all.size(), 1U);
        return all.empty() ? Said{} : all[0];
    }
};

TEST(BodyFindings, ATrussedRoastGivesNoneToTell) {
    EXPECT_THAT(Told().findings(), IsEmpty());
}

TEST(BodyFindings, WhatHangsFromAScanIsNotKnown) {
    Told t;
    t.load.items[0].trussed = false;
    const Said f = t.only();
    EXPECT_EQ(f.level, Level::care);
    EXPECT_THAT(f.message, HasSubstr("sweeps further than computed here. Tie it tight."));
}

TEST(BodyFindings, FreeLimbsAreNamedWithTheirSwing) {
    Told t;
    t.free({"right leg", "right wing", "left leg", "left wing"});
    const Said f = t.only();
    EXPECT_EQ(f.level, Level::care);
    EXPECT_EQ(f.topic, "body");
    // hypot(0.18, 0.24) = 0.3; the roast itself reaches hypot(0.05, 0.05).
    EXPECT_EQ(
        f.message,
        "The legs and wings of goose are free and flop over at every turn. Swung out, they reach 300 mm "
        "from the rod and strike nothing there; tied, the bird goes to 71 mm. Tie them tight.");
    EXPECT_NEAR(f.value.value(), 0.3, 1e-12);
    EXPECT_EQ(f.unit, "m");
}

TEST(BodyFindings, TiedLegsLeaveOnlyTheWingsToSpeakOf) {
    Told t;
    t.free({"right wing", "left wing"});
    EXPECT_THAT(t.only().message, AllOf(HasSubstr("The wings of goose are free"), Not(HasSubstr("leg"))));
    Told lone;
    lone.free({"left wing"});
    EXPECT_THAT(lone.only().message, AllOf(HasSubstr("The left wing of goose is free and flops over"),
                                           HasSubstr("it reaches 300 mm"), HasSubstr("Tie it tight.")));
    Told three;
    three.free({"right leg", "right wing", "left wing"});
    EXPECT_THAT(three.only().message, HasSubstr("The right leg and wings of goose are free"));
}

TEST(BodyFindings, FreeLimbsThatStrikeAreToldWithWhat) {
    Told t;
    t.free({"right wing", "left wing"});
    auto& surfaces = t.clearance.surfaces;
    t.load.cooker.surfaces.resize(3);
    t.load.cooker.surfaces[1].name = "wall";
    t.load.cooker.surfaces[2].name = "coals";
    surfaces.push_back({.name = "wall", .gap_m = -0.01, .keep_m = 0.025, .part = {Thing::Kind::limb, 0, 1}});
    surfaces.push_back({.name = "coals", .gap_m = -0.02, .keep_m = 0.05, .part = {Thing::Kind::limb, 0, 0}});
    EXPECT_THAT(t.only().message, HasSubstr("from the rod and strike wall and coals;"));
    surfaces.pop_back();
    surfaces.back().gap_m = 0.02;
    EXPECT_THAT(t.only().message, HasSubstr("from the rod, too near to wall;"));
    surfaces.back().gap_m = 0.03;
    EXPECT_THAT(t.only().message, HasSubstr("from the rod and strike nothing there;"));
    // Behind what strikes, a limb may strike too.
    surfaces[0].gap_m = -0.001;
    EXPECT_THAT(t.only().message, HasSubstr("from the rod; tied"));
    // Without a cooker there is nothing to strike.
    surfaces.clear();
    EXPECT_THAT(t.only().message, HasSubstr("from the rod; tied"));
}

TEST(BodyFindings, GibletsLeftInWantCare) {
    Told t;
    // 0.2 kg at x = 80 mm in a hollow beside the 2 kg at 0.
    body::Body body = test::with_part(t.body(), body::PartKind::cavity,
                                      test::box_mesh({0.06, -0.03, -0.03}, {0.1, 0.03, 0.03}), 0, -1);
    body = test::with_part(body, body::PartKind::stuffing,
                           test::box_mesh({0.07, -0.02, -0.025}, {0.09, 0.02, 0.025}), 5000, 1);
    body.parts.back().name = "giblets";
    t.set(body);
    const Said f = t.only();
    EXPECT_EQ(f.level, Level::care);
    EXPECT_THAT(f.message, HasSubstr("The giblets (200 g) are still inside goose: take the bag out before"));
    EXPECT_NEAR(f.value.value(), 0.2 * 0.08 / 2.2, 1e-9);
}

TEST(BodyFindings, StuffingHasATemperatureToReach) {
    Told t;
    body::Body body = test::with_part(t.body(), body::PartKind::stuffing,
                                      test::box_mesh({-0.02, -0.02, -0.02}, {0.02, 0.02, 0.02}), 750, 0);
    body.parts.back().name = "stuffing";
    t.set(body);
    const Said f = t.only();
    EXPECT_EQ(f.level, Level::ready) << "nothing is wrong with it";
    EXPECT_EQ(f.topic, "food");
    EXPECT_THAT(f.message, AllOf(HasSubstr("goose is stuffed"), HasSubstr("165 °F (74 °C, USDA)"),
                                 HasSubstr("thermometer")));
}

TEST(BodyFindings, ADensityNoMeatHasWantsCare) {
    const auto density = [](double kg_m3) {
        Told t;
        t.set(flesh(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05}), kg_m3));
        return t.findings();
    };
    EXPECT_THAT(density(720), IsEmpty()) << "may be a bird with its hollow";
    EXPECT_THAT(density(1165), IsEmpty());
    EXPECT_EQ(density(1200).size(), 1U);
    const std::vector<Said> light = density(600), heavy = density(2700);
    ASSERT_EQ(light.size(), 1U);
    ASSERT_EQ(heavy.size(), 1U);
    EXPECT_EQ(light[0].level, Level::care);
    EXPECT_THAT(light[0].message, HasSubstr("goose would weigh 600 kg/m³ for its size"));
    EXPECT_NEAR(*light[0].value, 600, 1e-9);
    EXPECT_THAT(light[0].message, HasSubstr("where its kind weighs 689 kg/m³ to 1170 kg/m³"));
    EXPECT_EQ(heavy[0].level, Level::care);
    EXPECT_THAT(light[0].message, HasSubstr("Check its weight and the unit of its shape."));
    // Scaled as units are misread.
    EXPECT_THAT(density(1030 * 2.54 * 2.54 * 2.54)[0].message,
                HasSubstr("Is its shape in inches, and was it read as centimetres?"));
    EXPECT_THAT(density(1.0)[0].message, HasSubstr("in millimetres, and was it read as centimetres?"));
    EXPECT_EQ(heavy[0].topic, "density");
}

TEST(BodyFindings, ADensityIsHeldAgainstItsKind) {
    const auto findings = [](body::Meat meat, bool hollow_known) {
        Told t;
        body::Body body = flesh(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05}), 850);
        body.meat = meat;
        body.hollow_known = hollow_known;
        t.set(body);
        return t.findings().size();
    };
    EXPECT_EQ(findings(body::Meat::poultry, false), 0U) << "air in its hollow";
    EXPECT_EQ(findings(body::Meat::poultry, true), 1U);
    EXPECT_EQ(findings(body::Meat::beef, false), 1U) << "no beef has a hollow";
}

}  // namespace
}  // namespace evenspit
