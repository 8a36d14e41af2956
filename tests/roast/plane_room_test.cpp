// SPDX-License-Identifier: MIT
#include "rig/plane_room.h"

#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "load/load_file.h"
#include "load/models.h"
#include "roast/cooker_air.h"

namespace evenspit {
namespace {

CookerSurface wall(const std::string& name, const Vec3& point, const Vec3& normal) {
    CookerSurface surface;
    surface.name = name;
    surface.shape = PlaneShape{point, normal.normalized()};
    return surface;
}

/// 0.6 m along the rod, 0.4 m deep, from 0.25 m below the rod to 0.2 m above it; coals on its floor.
Cooker box_cooker() {
    Cooker cooker;
    CookerSurface coals;
    coals.name = "coal bed";
    coals.shape = BoxShape{Vec3(0.2, -0.1, -0.25), Vec3(0.5, 0.1, -0.2)};
    coals.fire = true;
    cooker.surfaces = {coals,
                       wall("left", Vec3(0.05, 0, 0), Vec3(1, 0, 0)),
                       wall("right", Vec3(0.65, 0, 0), Vec3(-1, 0, 0)),
                       wall("front", Vec3(0, -0.2, 0), Vec3(0, 1, 0)),
                       wall("back", Vec3(0, 0.2, 0), Vec3(0, -1, 0)),
                       wall("lid", Vec3(0, 0, 0.2), Vec3(0, 0, -1))};
    return cooker;
}

void take_out(Cooker& cooker, const std::string& name) {
    std::erase_if(cooker.surfaces, [&](const CookerSurface& surface) { return surface.name == name; });
}

TEST(PlaneRoom, OfABoxHasItsWallsAndTheGroundUnderTheCoals) {
    const auto room = plane_room(box_cooker());
    ASSERT_TRUE(room.has_value());
    EXPECT_EQ(room->area_m2[0], 0);
    for (const std::size_t end : {1U, 2U}) EXPECT_NEAR(room->area_m2[end], 0.4 * 0.45, 1e-12);
    for (const std::size_t side : {3U, 4U}) EXPECT_NEAR(room->area_m2[side], 0.6 * 0.45, 1e-12);
    EXPECT_NEAR(room->area_m2[5], 0.6 * 0.4, 1e-12);
    EXPECT_NEAR(room->floor_m2, 0.6 * 0.4, 1e-12);
}

TEST(PlaneRoom, ASlopingLidIsAsLargeAsItIs) {
    Cooker cooker = box_cooker();
    take_out(cooker, "lid");
    cooker.surfaces.push_back(wall("lid", Vec3(0, 0, 0.2), Vec3(0, -1, -2)));
    const auto room = plane_room(cooker);
    ASSERT_TRUE(room.has_value());
    EXPECT_NEAR(room->area_m2[5], 0.6 * 0.4 * std::sqrt(5) / 2, 1e-12);
    // Its ends are as high in the mean as before.
    EXPECT_NEAR(room->area_m2[1], 0.4 * 0.45, 1e-12);
}

TEST(PlaneRoom, AFloorThatIsDrawnIsTheFloor) {
    Cooker cooker = box_cooker();
    cooker.surfaces.push_back(wall("grate", Vec3(0, 0, -0.15), Vec3(0, 0, 1)));
    const auto room = plane_room(cooker);
    ASSERT_TRUE(room.has_value());
    EXPECT_NEAR(room->area_m2[6], 0.6 * 0.4, 1e-12);
    EXPECT_EQ(room->floor_m2, 0);
}

TEST(PlaneRoom, WhatIsOpenSomewhereIsNone) {
    for (const char* name : {"left", "right", "front", "back", "lid", "coal bed"}) {
        Cooker cooker = box_cooker();
        take_out(cooker, name);
        EXPECT_FALSE(plane_room(cooker).has_value()) << name;
    }
}

TEST(PlaneRoom, AWallBehindAnotherBoundsNothing) {
    Cooker cooker = box_cooker();
    cooker.surfaces.push_back(wall("house", Vec3(0, 2, 0), Vec3(0, -1, 0)));
    const auto room = plane_room(cooker);
    ASSERT_TRUE(room.has_value());
    EXPECT_EQ(room->area_m2[6], 0);
}

// The shell and the question whether it burns in the open go by one answer.
TEST(HeatHolders, AreRoundWallsOrElseWhatPlanesShutIn) {
    Cooker cooker = box_cooker();
    EXPECT_TRUE(heat_holders(cooker).walls.empty());
    EXPECT_TRUE(heat_holders(cooker).planes.has_value());
    EXPECT_FALSE(burns_in_the_open(cooker));
    Cooker pit = box_cooker();
    take_out(pit, "front");
    EXPECT_FALSE(heat_holders(pit).any());
    EXPECT_TRUE(burns_in_the_open(pit));
    EXPECT_FALSE(burns_in_the_open(Cooker{})) << "nothing burns";
    // A round wall counts, and planes beside it are ground and furniture.
    const std::size_t round = cooker.surfaces.size();
    cooker.surfaces.push_back(
        {"kettle",
         RevolvedShape{.centre = Vec3::Zero(), .profile = {Vec2(0.3, -0.2), Vec2(0.3, 0.2)}},
         false,
         {},
         0});
    EXPECT_EQ(heat_holders(cooker).walls, std::vector<std::size_t>{round});
    EXPECT_FALSE(heat_holders(cooker).planes);
    // A round fire holds nothing.
    cooker.surfaces.back().fire = true;
    EXPECT_TRUE(heat_holders(cooker).walls.empty());
}

TEST(Shell, OfPlanesHasTheirWallsAndItsLid) {
    const CookerShell shell = shell_of(box_cooker(), 293.15);
    EXPECT_NEAR(shell.area_m2, 2 * 0.18 + 2 * 0.27 + 2 * 0.24, 1e-12);
    EXPECT_NEAR(shell.lid_opening_m2, 0.24, 1e-12);
    EXPECT_TRUE(shell.has_lid);
    Cooker pit = box_cooker();
    take_out(pit, "front");
    EXPECT_EQ(shell_of(pit, 293.15).area_m2, 0);
}

TEST(Shell, OfEveryCookerModelIsShutButForTheOpenPit) {
    const std::filesystem::path models = EVENSPIT_SOURCE_DIR "/models";
    for (const std::string& name : model_names(models, "cooker")) {
        const Assembly load = read_load_text(
            "[rod]\nmodel = \"round-16mm\"\n[motor]\nmodel = \"heavy-gearmotor\"\n"
            "[cooker]\nmodel = \"" +
                name +
                "\"\n[[item]]\nshape = \"boneless roll\"\n"
                "mass = \"1 kg\"\nat = \"340 mm\"\n",
            "load.toml", models);
        EXPECT_EQ(shell_of(load.cooker, 293.15).area_m2 > 0, name != "open-pit") << name;
    }
}

}  // namespace
}  // namespace evenspit
