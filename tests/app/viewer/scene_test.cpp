// SPDX-License-Identifier: MIT
#include "app/viewer/scene.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "analysis/loads.h"

namespace evenspit::viewer {
namespace {

using test::good_load;

Assembly load_in_cooker() {
    Assembly load = good_load();
    load.items[0] = test::item(
        "roast",
        test::with_part(test::flesh(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})),
                        body::PartKind::bone, test::ellipsoid_mesh(0.05, 0.01, 0.01, Vec3::Zero()), 1300, 0),
        0.34);
    load.counterweights.push_back(
        {.at_m = 0.12, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 0, .diameter_m = 0.04});
    load.cooker.surfaces = {{.name = "coals",
                             .shape = BoxShape{{0.1, -0.2, -0.3}, {0.6, 0.2, -0.2}},
                             .fire = true,
                             .temperature_k = {},
                             .keep_m = 0.05},
                            {.name = "bowl",
                             .shape = RevolvedShape{{0.34, 0, 0}, {{0.1, -0.35}, {0.3, -0.2}, {0.3, 0.2}}},
                             .fire = false,
                             .temperature_k = {},
                             .keep_m = 0.025},
                            {.name = "ground",
                             .shape = PlaneShape{{0, 0, -0.6}, Vec3::UnitZ()},
                             .fire = false,
                             .temperature_k = {},
                             .keep_m = 0.025}};
    return load;
}

std::string seen(const Assembly& load, const Vec3& from, const Vec3& at, double turn = 0) {
    const auto sighting = sighted(load, {from, (at - from).normalized()}, turn);
    return sighting ? thing_name(sighting->thing, load) : "nothing";
}

TEST(Scene, HasAPieceOfEverything) {
    const Assembly load = load_in_cooker();
    SceneMaker maker;
    const Scene scene = maker.scene(load, analyse(load));
    for (const Matter matter :
         {Matter::skin, Matter::bone, Matter::rod, Matter::fork, Matter::weight, Matter::motor,
          Matter::support, Matter::coal, Matter::ember, Matter::wall, Matter::ground, Matter::envelope}) {
        const auto found = std::find_if(scene.pieces.begin(), scene.pieces.end(),
                                        [&](const Piece& p) { return p.matter == matter; });
        ASSERT_NE(found, scene.pieces.end()) << static_cast<int>(matter);
        EXPECT_GT(found->shape->triangle_count(), 0U);
    }
    EXPECT_TRUE(scene.around().contains(Vec3(0.7, 0, 0)));
    EXPECT_TRUE(scene.around().contains(Vec3(0.34, 0, -0.33)));
}

TEST(Scene, MovesShareWhatWasMade) {
    const Assembly load = load_in_cooker();
    SceneMaker maker;
    const auto skin = [](const Scene& scene) {
        return *std::find_if(scene.pieces.begin(), scene.pieces.end(),
                             [](const Piece& p) { return p.matter == Matter::skin; });
    };
    const Piece before = skin(maker.scene(load, analyse(load)));
    Assembly moved = load;
    moved.items[0].pose = Pose(Eigen::Translation3d(0.2, 0, 0));
    const Piece after = skin(maker.scene(moved, analyse(moved)));
    EXPECT_EQ(before.shape, after.shape);
    EXPECT_FALSE(before.pose.isApprox(after.pose));
}

TEST(Scene, TheSkinsColoursTellItsDistanceFromTheRod) {
    Assembly load = load_in_cooker();
    load.items[0].pose = Pose(Eigen::Translation3d(0.34, 0.010, -0.020));
    const Analysis analysis = analyse(load);
    SceneMaker maker;
    EXPECT_FALSE(maker.scene(load, analysis).field);
    const Scene scene = maker.scene(load, analysis, Colouring::radius);
    ASSERT_TRUE(scene.field);
    EXPECT_EQ(scene.field->dimension, Dimension::length);
    double least = HUGE_VAL, most = 0;
    for (const Piece& piece : scene.pieces) {
        if (piece.matter != Matter::skin) {
            EXPECT_FALSE(piece.values) << "only the skin";
            continue;
        }
        ASSERT_TRUE(piece.values);
        ASSERT_EQ(piece.values->size(), piece.shape->corners.size());
        for (std::size_t c = 0; c < piece.values->size(); ++c) {
            const auto& at = piece.shape->corners[c].at;
            const double expected = std::hypot(at[1] + 0.010, at[2] - 0.020);
            EXPECT_NEAR((*piece.values)[c], expected, 1e-6);
            least = std::min(least, expected);
            most = std::max(most, expected);
        }
    }
    EXPECT_NEAR(scene.field->from, least, 1e-6);
    EXPECT_NEAR(scene.field->to, most, 1e-6);
    // The corner at y = 50, z = -50 mm goes to 60 and -70.
    EXPECT_NEAR(most, std::hypot(0.060, 0.070), 1e-6);
}

TEST(Scene, ColoursFollowAMove) {
    Assembly load = load_in_cooker();
    SceneMaker maker;
    const double before = maker.scene(load, analyse(load), Colouring::radius).field.value().to;
    load.items[0].pose = Pose(Eigen::Translation3d(0.34, 0.030, 0));
    EXPECT_GT(maker.scene(load, analyse(load), Colouring::radius).field.value().to, before + 0.02);
    load.items.clear();
    EXPECT_FALSE(maker.scene(load, analyse(load), Colouring::radius).field) << "nothing to colour";
}

TEST(Scene, SightMeetsTheNearestThing) {
    const Assembly load = load_in_cooker();
    EXPECT_EQ(seen(load, {0.34, -2, 0}, {0.34, 0, 0}), "roast");
    EXPECT_EQ(seen(load, {0.6, -2, 0}, {0.6, 0, 0}), "rod");
    EXPECT_EQ(seen(load, {0.23, -2, 0}, {0.23, 0, 0}), "fork 1");
    EXPECT_EQ(seen(load, {0.12, 0.07, 2}, {0.12, 0.07, 0}), "counterweight 1");
    EXPECT_EQ(seen(load, {-0.04, -2, 0}, {-0.04, 0, 0}), "motor");
    EXPECT_EQ(seen(load, {0.66, -2, -0.05}, {0.66, 0, -0.05}), "far bearing");
    EXPECT_EQ(seen(load, {0.34, -1, 0.5}, {0.34, -0.15, -0.2}), "coals");
    EXPECT_EQ(seen(load, {0.34, -2, 0.12}, {0.34, 0, 0.12}), "bowl")
        << "its far side, as the near one is cut away";
    EXPECT_EQ(seen(load, {0.34, -2, -0.5}, {0.34, 0, -0.6}), "ground");
    EXPECT_EQ(seen(load, {0.34, -2, 0.5}, {0.34, 0, 0.5}), "nothing");
}

TEST(Scene, SightTurnsWithTheRod) {
    const Assembly load = load_in_cooker();
    // The weight hangs at clock 0: toward +Y at turn 0, up after a quarter turn.
    EXPECT_EQ(seen(load, {0.12, -2, 0.07}, {0.12, 0, 0.07}, 0), "bowl");
    EXPECT_EQ(seen(load, {0.12, -2, 0.07}, {0.12, 0, 0.07}, std::numbers::pi / 2), "counterweight 1");
}

TEST(Scene, TellsWhereItWasSeen) {
    const Assembly load = load_in_cooker();
    const auto sighting = sighted(load, {Vec3(0.3, -1, 0.02), Vec3::UnitY()}, 0);
    ASSERT_TRUE(sighting);
    EXPECT_TRUE(sighting->at.isApprox(Vec3(0.3, -0.05, 0.02), 1e-9));
}

}  // namespace
}  // namespace evenspit::viewer
