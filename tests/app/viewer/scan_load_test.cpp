// SPDX-License-Identifier: MIT
#include "app/viewer/scan_load.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/analysis.h"
#include "geometry/mesh_io.h"
#include "load/load_file.h"
#include "support/meshes.h"
#include "support/temporary_folder.h"
#include "units/error.h"

namespace evenspit::viewer {
namespace {

constexpr const char* models = EVENSPIT_SOURCE_DIR "/models";

TEST(ScanLoad, ReadsBackWithForksAtTheEnds) {
    const test::TemporaryFolder folder;
    const auto scan = folder / "goose's \"best\".ply";
    write_mesh(scan, test::ellipsoid_mesh(150, 80, 70, Vec3::Zero()));
    const Assembly load =
        read_load_text(load_for_scan({.file = scan, .unit = "mm", .from_m = 0.19, .to_m = 0.49}),
                       folder / "new.toml", models);
    ASSERT_EQ(load.items.size(), 1U);
    EXPECT_EQ(load.items[0].name, "goose's \"best\"");
    EXPECT_NEAR(load.items[0].body->bounds.sizes().x(), 0.3, 1e-6);
    ASSERT_EQ(load.forks.size(), 2U);
    EXPECT_LT(load.forks[0].at_m, 0.19);
    EXPECT_GT(load.forks[1].at_m, 0.49);
    const Analysis analysis = analyse(load);
    for (const ForkGrip& fork : analysis.grip.forks)
        EXPECT_GT(fork.tines[0].embedded_m, 0.02) << "the tines reach into the meat";
}

TEST(ScanLoad, WithoutALengthHasNoForks) {
    const std::string text = load_for_scan({.file = "b.ply"});
    EXPECT_THAT(text, testing::Not(testing::HasSubstr("fork")));
    EXPECT_THAT(text, testing::Not(testing::HasSubstr("scan_unit")));
    EXPECT_THAT(load_for_scan({.file = "b.ply", .own_frame = true}), testing::HasSubstr("frame = \"file\""));
}

TEST(ScanLoad, WhatStandsBesideItIsLookedFor) {
    const test::TemporaryFolder folder;
    TriangleMesh open = test::ellipsoid_mesh(0.15, 0.08, 0.07, Vec3::Zero(), 60, 40);
    open.triangles.pop_back();
    write_mesh(folder / "rough.ply", open);
    const auto stage = [](std::string_view) {};
    EXPECT_NO_THROW(clean_scan(folder / "rough.ply", stage, ScanTold{"m", {}}));
    try {
        clean_scan(folder / "rough.ply", stage,
                   ScanTold{"m", {}, scan::RestsOn::automatic, scan::parse_beside("can 73 mm")});
        ADD_FAILURE() << "there is no can";
    } catch (const InputError& error) {
        EXPECT_EQ(error.complaints().front().key, "beside");
    }
}

TEST(ScanLoad, TheDemoIsTheSample) {
    EXPECT_EQ(demo_load(), test::content_of(EVENSPIT_SOURCE_DIR "/samples/harvest-turkey.toml"));
}

}  // namespace
}  // namespace evenspit::viewer
