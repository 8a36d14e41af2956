// SPDX-License-Identifier: MIT
#include "plan/corridor.h"

#include <random>

#include <gtest/gtest.h>

#include "body/bird.h"
#include "plan/loads.h"

namespace evenspit::plan {
namespace {

constexpr double rod_m = 0.006;
constexpr double mm = 1e-3;

Corridor corridor_of(body::Body body) {
    return {std::make_shared<body::JoinedParts>(body::prepare(std::move(body))), rod_m};
}
RodLine along(double y, double z) {
    return {.from = {y, z}, .to = {y, z}};
}

/// 300 × 160 × 160 mm of flesh with a bone 20 mm thick along it, its axis at y = 30 mm.
body::Body joint() {
    body::Body body = test::flesh_body(test::box_mesh({-0.15, -0.08, -0.08}, {0.15, 0.08, 0.08}), 7);
    body.parts.push_back({.name = "bone",
                          .kind = body::PartKind::bone,
                          .mesh = test::box_mesh({-0.12, 0.02, -0.01}, {0.12, 0.04, 0.01}),
                          .density_kg_m3 = 1300,
                          .parent = 0});
    return body;
}

TEST(Corridor, RefusesTheSameLinesByWhatIsKnownOfOthers) {
    std::mt19937 random(4);
    std::uniform_real_distribution<double> off(-0.05, 0.05);
    for (const Corridor& corridor :
         {corridor_of(joint()), corridor_of(body::make_bird({.species = "chicken", .mass_kg = 1.6}))}) {
        TightPlaces known;
        int taken = 0, refused = 0;
        for (int k = 0; k < 400; ++k) {
            const double spread = k % 2 == 0 ? 0.3 : 1;
            const RodLine line{.from = spread * Vec2(off(random), off(random)),
                               .to = spread * Vec2(off(random), off(random))};
            const double enough = -0.004 * (k % 3);
            const LinePassage fresh = corridor.passage(line, {.enough_m = enough});
            const LinePassage quick = corridor.passage(line, {.enough_m = enough, .known = &known});
            EXPECT_EQ(quick.slack_m >= enough, fresh.slack_m >= enough);
            if (fresh.slack_m >= enough) {
                EXPECT_EQ(quick.slack_m, fresh.slack_m);
                EXPECT_EQ(quick.limit, fresh.limit);
            }
            (fresh.slack_m >= enough ? taken : refused) += 1;
        }
        EXPECT_GT(taken, 20);
        EXPECT_GT(refused, 20);
    }
}

TEST(Corridor, OfAJointEndsWhereTooLittleFleshIsLeft) {
    const Corridor corridor = corridor_of(joint());
    // 80 mm to the side, less the rod's 6 mm and 8 mm of flesh.
    EXPECT_NEAR(corridor.passage(along(-0.062, 0)).slack_m, 4 * mm, 0.5 * mm);
    EXPECT_NEAR(corridor.passage(along(-0.069, 0)).slack_m, -3 * mm, 0.5 * mm);
    EXPECT_EQ(corridor.passage(along(-0.069, 0)).limit, RodLimit::cover);
}

TEST(Corridor, OfAJointPassesBesideTheBone) {
    const Corridor corridor = corridor_of(joint());
    EXPECT_NEAR(corridor.passage(along(0.012, 0)).slack_m, 2 * mm, 0.5 * mm);
    const LinePassage grazing = corridor.passage(along(0.016, 0));
    EXPECT_NEAR(grazing.slack_m, -2 * mm, 0.5 * mm);
    EXPECT_EQ(grazing.limit, RodLimit::bone);
    EXPECT_LT(corridor.passage(along(0.03, 0)).slack_m, -rod_m) << "right through it";
    EXPECT_EQ(corridor.passage(along(0.03, 0)).limit, RodLimit::bone);
}

TEST(Corridor, SeesABoneThatCrossesTheLineSomewhere) {
    const Corridor corridor = corridor_of(joint());
    const RodLine crossing{.from = {-0.05, 0}, .to = {0.065, 0}};  // at y = 30 mm some way along
    EXPECT_LT(corridor.passage(crossing).slack_m, 0);
    EXPECT_EQ(corridor.passage(crossing).limit, RodLimit::bone);
    EXPECT_GT(corridor.passage({.from = {-0.05, 0.05}, .to = {0.065, 0.05}}).slack_m, 0) << "above it";
}

TEST(Corridor, LeavesALineBesideTheBodyOut) {
    const LinePassage beside = corridor_of(joint()).passage(along(0, 0.2));
    EXPECT_LT(beside.slack_m, 0);
    EXPECT_EQ(beside.limit, RodLimit::beside);
}

TEST(Corridor, MiddleOfAJointIsItsCentreOfMass) {
    const auto prepared = body::prepare(joint());
    const Corridor corridor(std::make_shared<body::JoinedParts>(prepared), rod_m);
    EXPECT_TRUE(corridor.middle().from.isApprox(prepared->mass.centre.tail<2>(), 1e-12));
}

class Turkey : public ::testing::Test {
  protected:
    static const Corridor& corridor() {
        static const Corridor turkey = corridor_of(body::make_bird({.species = "turkey", .mass_kg = 5.9}));
        return turkey;
    }
};

TEST_F(Turkey, TakesTheRodThroughItsOpenings) {
    EXPECT_GT(corridor().passage(corridor().middle()).slack_m, 2 * mm);
}

TEST_F(Turkey, DoesNotTakeItThroughBreastOrSpine) {
    const LinePassage breast = corridor().passage(along(0, 0.055));
    EXPECT_LT(breast.slack_m, -5 * mm);
    const LinePassage spine = corridor().passage(along(0, -0.055));
    EXPECT_LT(spine.slack_m, -5 * mm);
}

TEST_F(Turkey, IsTheSameToBothSides) {
    for (const double y : {0.004, 0.009, 0.015, 0.03}) {
        EXPECT_NEAR(corridor().passage({.from = {y, 0.005}, .to = {-y / 2, 0}}).slack_m,
                    corridor().passage({.from = {-y, 0.005}, .to = {y / 2, 0}}).slack_m, 0.6 * mm);
    }
}

TEST_F(Turkey, NarrowsSteadily) {
    // Whatever the way to the side, there is a last line that can be taken and none behind it.
    for (const Vec2& way : {Vec2(1, 0), Vec2(0, 1), Vec2(0, -1), Vec2(0.7, 0.7)}) {
        bool open = true;
        for (double off = 0; off < 0.08; off += 0.002) {
            const bool now = corridor().passage({.from = off * way, .to = off * way}).slack_m >= 0;
            EXPECT_TRUE(open || !now) << way.transpose() << " " << off;
            open = now;
        }
        EXPECT_FALSE(open);
    }
}

TEST_F(Turkey, LetsTheTailBePierced) {
    // Low at the vent and out through the tail, high at the neck.
    const auto lowest = [](bool may_pierce) {
        body::Body body = body::make_bird({.species = "turkey", .mass_kg = 5.9});
        if (!may_pierce) {
            for (body::Region& region : body.region_table) {
                if (region.kind == body::RegionKind::tail) region.kind = body::RegionKind::other;
            }
        }
        const Corridor way = corridor_of(std::move(body));
        double z = 0;
        while (z > -0.1 && way.passage({.from = {0, z}, .to = {0, 0.01}}).slack_m >= 0) z -= 0.001;
        return z;
    };
    EXPECT_LT(lowest(true), lowest(false) - 2.5 * mm);
}

}  // namespace
}  // namespace evenspit::plan
