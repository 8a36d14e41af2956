// SPDX-License-Identifier: MIT
#include "body/region.h"

#include <gtest/gtest.h>

#include "body/bird_shape.h"
#include "body/joint.h"

namespace evenspit::body {
namespace {

TEST(Region, EachPieceOfABirdIsOfAKind) {
    for (const Region& region : bird_regions()) EXPECT_NE(region.kind, RegionKind::other) << region.name;
}

TEST(Region, GoesByTheWholeName) {
    EXPECT_EQ(region_kind("left thigh"), RegionKind::leg);
    EXPECT_EQ(region_kind("right drumstick"), RegionKind::leg);
    EXPECT_EQ(region_kind("hind legs"), RegionKind::leg);
    EXPECT_EQ(region_kind("cavity wall"), RegionKind::cavity_wall);
    EXPECT_EQ(region_kind("necklace"), RegionKind::other);
    EXPECT_EQ(region_kind("wall"), RegionKind::other);
    EXPECT_EQ(region_kind(""), RegionKind::other);
}

TEST(Region, EachSideHasItsMirrorImage) {
    EXPECT_EQ(
        mirrored_regions(named_regions({"left ear", "tail", "right ear", "right wing", "ear", "left tail"})),
        (std::vector<std::uint8_t>{2, 1, 0, 3, 4, 5}));
}

TEST(Region, KeepsNamesThatItDoesNotKnow) {
    const std::vector<std::string> names{"handle", "tail"};
    EXPECT_EQ(region_names(named_regions(names)), names);
}

// The pieces that are cut have no flesh of their own.
TEST(Region, JointsHaveFacesAndBoneEnds) {
    const Body leg = make_joint({.kind = "leg of lamb", .mass_kg = 2.5});
    int faces = 0, ends = 0;
    for (const Region& region : leg.region_table) {
        faces += region.kind == RegionKind::cut_face ? 1 : 0;
        ends += region.kind == RegionKind::bone_end ? 1 : 0;
    }
    EXPECT_EQ(faces, 1);
    EXPECT_EQ(ends, 1);
    for (const PartShare& share : leg.shares) {
        EXPECT_NE(share.region.kind, RegionKind::cut_face);
        EXPECT_NE(share.region.kind, RegionKind::bone_end);
    }
}

}  // namespace
}  // namespace evenspit::body
