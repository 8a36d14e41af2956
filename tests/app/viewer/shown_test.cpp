// SPDX-License-Identifier: MIT
// What is shown of a load and what is not: the cloud of mountings, things hidden one by one, the line round
// what is chosen; and the work that goes on beside.
#include <algorithm>
#include <array>
#include <filesystem>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "app/viewer/keys.h"
#include "app/viewer/stage.h"
#include "app/viewer/view.h"
#include "card/card_file.h"
#include "geometry/mesh_io.h"
#include "load/key_words.h"
#include "load/load_file.h"
#include "report/chance_words.h"
#include "report/reader_units.h"

namespace evenspit::viewer {
namespace {
using evenspit::test::content_of;
using evenspit::test::TemporaryFolder;
using evenspit::test::write_sample_load;
using test::Stage;

class ShownTest : public testing::Test {
  protected:
    TemporaryFolder folder_;
    std::filesystem::path file_ = write_sample_load(folder_);
    Stage stage_;

    void SetUp() override {
        desk().settings().welcomed = true;
        stage_.open(file_);
        ASSERT_TRUE(desk().has_answer());
    }
    [[nodiscard]] Desk& desk() { return stage_.viewer.desk(); }
    /// How many pixels of the scene two pictures do not share.
    [[nodiscard]] int changed(const std::vector<std::uint8_t>& a, const std::vector<std::uint8_t>& b) {
        const Area scene = stage_.viewer.layout().scene;
        const auto width = static_cast<std::size_t>(stage_.system.picture_size().width);
        int count = 0;
        for (auto y = std::size_t(scene.y); y < std::size_t(scene.y + scene.height); ++y) {
            for (auto x = std::size_t(scene.x); x < std::size_t(scene.x + scene.width); ++x) {
                const std::size_t i = 3 * (y * width + x);
                int off = 0;
                for (std::size_t c = 0; c < 3; ++c)
                    off = std::max(off, std::abs(int(a[i + c]) - int(b[i + c])));
                count += off > 24 ? 1 : 0;
            }
        }
        return count;
    }
};

TEST_F(ShownTest, MountingsShowWhereTheRodMayLieAndHowOftenItIsReady) {
    const auto before = stage_.system.picture();
    stage_.key(Key::m);
    ASSERT_TRUE(desk().cloud().found()) << stage_.screen();
    ASSERT_EQ(desk().cloud().found()->size(), Cloud::drawn);
    EXPECT_TRUE(stage_.says(chance_sentence(desk().analysis().mounted.value().chance))) << stage_.screen();
    EXPECT_TRUE(stage_.says("1 of 64")) << stage_.screen();
    EXPECT_GT(changed(before, stage_.system.picture()), 500) << "lines are drawn over the body";
    // It plays by itself, one after the other.
    EXPECT_TRUE(desk().cloud().playing());
    const std::size_t at = desk().cloud().at();
    desk().tick(stage_.system.now() + Cloud::each_s + 0.01);
    EXPECT_EQ(desk().cloud().at(), at + 1);
    stage_.click("Pause");
    EXPECT_FALSE(desk().cloud().playing());
    const std::size_t held = desk().cloud().at();
    desk().tick(stage_.system.now() + 10);
    EXPECT_EQ(desk().cloud().at(), held);
    EXPECT_TRUE(stage_.says(Units(UnitSystem::metric).length((*desk().cloud().found())[held].rods[0].off_m)))
        << stage_.screen();
    // A move has mountings of its own.
    const Vec3 was = desk().cloud().found()->front().centre;
    desk().wish(Select{{Thing::Kind::item, 0}});
    stage_.viewer.settle();
    stage_.key(Key::up, {.alt = true});
    ASSERT_TRUE(desk().cloud().found());
    EXPECT_FALSE(was.isApprox(desk().cloud().found()->front().centre));
    stage_.click("Put away");
    EXPECT_FALSE(desk().cloud().on());
    EXPECT_FALSE(stage_.says("of 64"));
}

TEST_F(ShownTest, ThingsAreHiddenAndShownOneByOne) {
    stage_.click("Places");
    stage_.click("Front");
    const auto whole = stage_.system.picture();
    const Thing item{Thing::Kind::item, 0};
    const std::string name = thing_name(item, stage_.load());
    stage_.click(name);  // the last on the screen of that name: in the list of what is shown
    EXPECT_TRUE(desk().hidden().has(item)) << stage_.screen();
    EXPECT_GT(changed(whole, stage_.system.picture()), 3000);
    // What is not there cannot be pointed at: behind it the rod shows.
    const Vec3 at = stage_.shown({0.34, 0, 0});
    stage_.move(at.x(), at.y());
    EXPECT_TRUE(stage_.says("rod")) << stage_.screen();
    stage_.give(PointerLeft{});
    stage_.click("Show everything");
    stage_.give(PointerLeft{});
    EXPECT_TRUE(desk().hidden().empty());
    EXPECT_LT(changed(whole, stage_.system.picture()), 500);
    // By keys: what is chosen, and all.
    desk().wish(Select{{Thing::Kind::fork, 0}});
    stage_.viewer.settle();
    stage_.key(Key::h);
    EXPECT_TRUE(desk().hidden().has({Thing::Kind::tine, 0, 1})) << "tines go with their fork";
    stage_.key(Key::h);
    EXPECT_FALSE(desk().hidden().has({Thing::Kind::fork, 0}));
    stage_.click("rod and motor");
    EXPECT_TRUE(desk().hidden().has({Thing::Kind::motor}));
    EXPECT_TRUE(desk().hidden().has({Thing::Kind::support, 1}));
    stage_.key(Key::h, {.shift = true});
    EXPECT_TRUE(desk().hidden().empty());
}

TEST_F(ShownTest, WhatIsChosenHasALineRoundIt) {
    stage_.click("Front");
    const auto before = stage_.system.picture();
    desk().wish(Select{{Thing::Kind::fork, 0}});
    stage_.viewer.settle();
    const auto after = stage_.system.picture();
    // Beside the hub's rim, where there was no hub.
    const Vec3 hub = stage_.shown({stage_.load().forks[0].at_m, 0, 0});
    const auto width = static_cast<std::size_t>(stage_.system.picture_size().width);
    int rim = 0;
    for (int y = -60; y <= 60; ++y) {
        for (int x = -60; x <= 60; ++x) {
            const std::size_t i = 3 * (std::size_t(hub.y() + y) * width + std::size_t(hub.x() + x));
            // The line's own dark blue-green.
            const bool line =
                after[i] < 40 && after[i + 1] > 60 && after[i + 1] < 110 && after[i + 2] > after[i + 1];
            rim += line && (before[i] != after[i] || before[i + 1] != after[i + 1]) ? 1 : 0;
        }
    }
    EXPECT_GT(rim, 60);
}

TEST_F(ShownTest, TheCardIsThatOfTheVerb) {
    stage_.key(Key::k, {.control = true});
    ASSERT_TRUE(stage_.says("Write the card")) << stage_.screen();
    stage_.click("For a phone");
    stage_.click("PDF");
    stage_.click("Write");
    const std::filesystem::path card = folder_ / "load-card.pdf";
    ASSERT_TRUE(std::filesystem::exists(card)) << stage_.screen();
    EXPECT_TRUE(stage_.says("load-card.pdf")) << stage_.screen();
    const Assembly load = read_load(file_, EVENSPIT_SOURCE_DIR "/models");
    EXPECT_EQ(content_of(card), card::card_file(load, {}).bytes);
    // What is there is not written over without a question.
    desk().wish(WriteCard{card, false});
    stage_.viewer.settle();
    EXPECT_TRUE(stage_.says("load-card.pdf exists. Write over it?")) << stage_.screen();
    stage_.click("Cancel");
    EXPECT_FALSE(desk().carding().running());
    // What cannot be written is told.
    desk().wish(WriteCard{folder_ / "no such folder/card.html", false});
    stage_.viewer.settle();
    EXPECT_TRUE(stage_.says("The card was not written")) << stage_.screen();
}

TEST_F(ShownTest, AFilmGoesOnWhileOneLooksAndCanBeStopped) {
    stage_.system.resize({640, 480}, 1);
    desk().wish(SavePicture{SavePicture::What::film});
    for (int i = 0; i < 40 && (!desk().film() || desk().film()->first < 2); ++i) {
        stage_.viewer.step();
    }
    ASSERT_TRUE(desk().film());
    EXPECT_LT(desk().film()->first, 40) << "a few pictures a round, not all of them";
    stage_.viewer.step();
    stage_.viewer.step();
    EXPECT_TRUE(stage_.says("of 72 pictures")) << stage_.screen();
    desk().wish(CancelFilm{});
    stage_.viewer.settle();
    EXPECT_FALSE(desk().film());
    EXPECT_FALSE(std::filesystem::exists(folder_ / "load-turn")) << "nothing is left behind";
}

TEST(LeastSize, IsAPhonesOrALowWindows) {
    EXPECT_EQ(least_size({1280, 800}), (Extent{960, 600}));
    EXPECT_EQ(least_size({1280, 900}), (Extent{390, 600})) << "high enough to be made narrow";
    EXPECT_EQ(least_size({500, 900}), (Extent{390, 844})) << "so narrow it must stay high";
    EXPECT_EQ(least_size({390, 844}), (Extent{390, 844}));
    EXPECT_EQ(least_size({960, 600}), (Extent{960, 600}));
}

TEST(Shown, AScanIsDrawnWithoutALoadFileAndLeavesNothingBehind) {
    const TemporaryFolder folder;
    const Assembly load =
        read_load(EVENSPIT_SOURCE_DIR "/samples/leg-of-lamb.toml", EVENSPIT_SOURCE_DIR "/models");
    const TriangleMesh& mesh = load.items[0].body->body.parts.front().mesh;
    folder.write("leg.ply", labelled_ply(mesh, {}, {}));
    const std::size_t before = folder.entries();
    const SnapshotResult drawn =
        snapshot(folder / "leg.ply", EVENSPIT_SOURCE_DIR "/models", {.size = {640, 480}});
    EXPECT_GT(drawn.png.size(), 10'000U);
    EXPECT_EQ(folder.entries(), before);
}

}  // namespace
}  // namespace evenspit::viewer
