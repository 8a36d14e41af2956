// SPDX-License-Identifier: MIT
// What hands expect beside moving things: a tape measure, gaps, a skin that clears, edges that can be
// dragged, loads of before.
#include <cmath>
#include <filesystem>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "app/viewer/stage.h"
#include "report/reader_units.h"

namespace evenspit::viewer {
namespace {

using evenspit::test::TemporaryFolder;
using evenspit::test::write_sample_load;
using test::Stage;

constexpr const char* turkey = EVENSPIT_SOURCE_DIR "/samples/harvest-turkey.toml";

class HandyTest : public testing::Test {
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
    void click_at(const Vec3& world) {
        const Vec3 at = stage_.shown(world);
        stage_.click(at.x(), at.y());
    }
};

TEST_F(HandyTest, TheTapeMeasuresFromPlaceToPlaceAndTurnsWithTheLoad) {
    stage_.click("Front");
    stage_.key(Key::a);
    ASSERT_TRUE(desk().tape().on());
    // The nearest line of the ellipsoid seen from the front, and a place on it 80 mm on.
    click_at({0.30, -0.06, 0.0});
    ASSERT_EQ(desk().tape().ends().size(), 1U) << stage_.screen();
    click_at({0.38, -0.06, 0.0});
    ASSERT_EQ(desk().tape().ends().size(), 2U);
    EXPECT_EQ(desk().selected(), Thing{}) << "nothing is chosen meanwhile";
    const Vec3 run = desk().tape().ends()[1].at - desk().tape().ends()[0].at;
    EXPECT_NEAR(std::abs(run.x()), 0.08, 0.012);
    const Units units(UnitSystem::metric);
    EXPECT_TRUE(stage_.says(units.length(run.norm()) + ", " + units.length(std::abs(run.x())) +
                            " of it along the rod"))
        << stage_.screen();
    EXPECT_TRUE(desk().tape().ends()[0].turns);
    const Vec3 before = desk().tape().ends()[0].now(0), after = desk().tape().ends()[0].now(1);
    EXPECT_NEAR((turned_rod(1) * before - after).norm(), 0, 1e-12);
    click_at({0.34, -0.06, 0.0});
    EXPECT_EQ(desk().tape().ends().size(), 1U) << "a third place begins anew";
    stage_.key(Key::escape);
    EXPECT_FALSE(desk().tape().on());
}

TEST_F(HandyTest, WhatStandsStillIsMeasuredInTheRoom) {
    Tape tape;
    tape.take(true);
    tape.point({0.3, 0.1, -0.2}, false, 0.7);
    tape.point({0.3, 0.1, 0.0}, true, 0.7);
    EXPECT_EQ(tape.ends()[0].now(2), Vec3(0.3, 0.1, -0.2));
    EXPECT_NEAR((tape.ends()[1].now(0.7) - Vec3(0.3, 0.1, 0.0)).norm(), 0, 1e-12);
    EXPECT_GT((tape.ends()[1].now(2) - Vec3(0.3, 0.1, 0.0)).norm(), 0.01);
}

TEST_F(HandyTest, EveryGapIsShownWithWhatIsToBeKept) {
    stage_.open(turkey);
    const auto named = [&] {
        int count = 0;
        for (const SurfaceGap& gap : desk().analysis().clearance.surfaces)
            count += stage_.says("to " + gap.name + ", ") ? 1 : 0;
        return count;
    };
    EXPECT_LE(named(), 1) << "the tightest alone";
    const auto before = stage_.system.picture();
    stage_.key(Key::w);
    ASSERT_GT(desk().analysis().clearance.surfaces.size(), 2U);
    EXPECT_EQ(named(), static_cast<int>(desk().analysis().clearance.surfaces.size())) << stage_.screen();
    EXPECT_TRUE(stage_.says(", keep " +
                            Units(UnitSystem::metric).length(desk().analysis().clearance.surfaces[0].keep_m)))
        << stage_.screen();
    EXPECT_NE(before, stage_.system.picture());
    stage_.key(Key::w);
    EXPECT_LE(named(), 1);
}

TEST_F(HandyTest, TheSkinClearsByDegrees) {
    stage_.open(turkey);
    stage_.click("Places");
    EXPECT_FALSE(desk().settings().through_skin);
    stage_.bring("how clear the skin is", 1100, 150, 700);
    const Area slider = stage_.find("how clear the skin is", true)->area;
    const auto pull = [&](double to) {
        const double y = slider.y + 18;
        stage_.drag({slider.x + 7, y, 0}, {slider.x + 7 + to * (slider.width - 14), y, 0});
    };
    const auto whole = stage_.system.picture();
    pull(0.5);
    EXPECT_TRUE(desk().settings().through_skin);
    EXPECT_NEAR(desk().settings().skin_opacity, 0.5, 0.05);
    const auto half = stage_.system.picture();
    EXPECT_NE(half, whole);
    pull(0.9);
    EXPECT_NE(stage_.system.picture(), half);
    EXPECT_GE(desk().settings().skin_opacity, least_skin);
    pull(0);
    EXPECT_FALSE(desk().settings().through_skin);
}

TEST_F(HandyTest, EdgesBetweenPanelsAreDraggedAndRememberedAndGoBack) {
    const Layout first = stage_.viewer.layout();
    const double y = first.side.y + 300;
    stage_.drag({first.side.x, y, 0}, {first.side.x - 150, y, 0});
    EXPECT_NEAR(stage_.viewer.layout().side.width, first.side.width + 150, 3);
    EXPECT_TRUE(desk().camera().azimuth() != 99) << "the scene has not been turned";
    const double x = 300;
    stage_.drag({x, first.charts.y, 0}, {x, first.charts.y - 80, 0});
    EXPECT_NEAR(stage_.viewer.layout().charts.height, first.charts.height + 80, 3);
    const Settings again = settings_from(settings_text(desk().settings()));
    EXPECT_NEAR(again.splits.side, desk().settings().splits.side, 1e-9);
    EXPECT_NEAR(again.splits.charts, desk().settings().splits.charts, 1e-9);
    // However far it is pulled, all parts keep their room.
    const Layout wide = stage_.viewer.layout();
    stage_.drag({wide.side.x, y, 0}, {5, y, 0});
    EXPECT_GE(stage_.viewer.layout().scene.width, 300);
    const Layout now = stage_.viewer.layout();
    stage_.system.pass(1);
    stage_.click(now.side.x, y);
    stage_.click(now.side.x, y);
    EXPECT_EQ(stage_.viewer.layout().side.width, first.side.width) << "a double click puts it back";
}

TEST_F(HandyTest, PicturesComeInAnySizeWithPanelsAndWithout) {
    const auto width_of = [](const std::filesystem::path& file) {
        const std::string bytes = evenspit::test::content_of(file);
        // PNG, RFC 2083: the width stands after the signature and the head of the first chunk.
        std::size_t width = 0;
        for (std::size_t i = 16; i < 20; ++i) width = width * 256 + static_cast<unsigned char>(bytes.at(i));
        return width;
    };
    stage_.move(5, 5);
    const auto before = stage_.system.picture();
    stage_.click("More");
    stage_.click("Picture of any size");
    stage_.type("width x height", "900");
    EXPECT_TRUE(stage_.says("like 1600x900")) << stage_.screen();
    EXPECT_EQ(stage_.find("Save it", true), nullptr) << "of that size there is none";
    stage_.type("width x height", "900x700");
    stage_.click("Save it");
    ASSERT_TRUE(std::filesystem::exists(folder_ / "load.png")) << stage_.screen();
    EXPECT_EQ(width_of(folder_ / "load.png"), 900U);
    stage_.click("More");
    stage_.click("Picture of any size");
    stage_.click("The window");
    stage_.click("1920x1080");
    stage_.click("Save it");
    ASSERT_TRUE(std::filesystem::exists(folder_ / "load-2.png")) << stage_.screen();
    EXPECT_EQ(width_of(folder_ / "load-2.png"), 1920U);
    desk().wish(CloseNotice{});
    stage_.move(5, 5);
    EXPECT_EQ(stage_.system.picture(), before) << "on the screen nothing has changed";
}

TEST(Handy, APanelOverTheAxesKeepsItsClicks) {
    const TemporaryFolder folder;
    Stage stage({1280, 800});
    stage.open(write_sample_load(folder));
    stage.key(Key::num_1);
    const Vec3 before = stage.viewer.desk().camera().forward();
    ASSERT_TRUE(stage.says("Got it"));
    stage.click("Got it");
    EXPECT_TRUE(stage.viewer.desk().camera().forward().isApprox(before)) << "the axes lie under the hints";
}

TEST_F(HandyTest, LoadsOfBeforeAreToldWithTheirFolders) {
    stage_.key(Key::o, {.control = true});
    EXPECT_TRUE(stage_.says("/" + file_.parent_path().filename().string())) << stage_.screen();
}

/// The words of a hint that shows, "" for none.
std::string hint_on(const Stage& stage) {
    for (const Written& written : stage.viewer.ui().written()) {
        if (written.layer == Layer::hint) return written.text;
    }
    return "";
}

TEST(Hint, GivesWayToWhatAPressDoesUntilThePointerHasLeft) {
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(EVENSPIT_SOURCE_DIR "/samples/harvest-turkey.toml");
    const Area inside = stage.find("Inside", true)->area;
    const double x = inside.x + 5, y = inside.y + 5;
    stage.move(x, y);
    const std::string words = hint_on(stage);
    EXPECT_NE(words, "") << stage.screen();
    stage.click(x, y);
    EXPECT_EQ(hint_on(stage), "");
    stage.move(x + 2, y);
    EXPECT_EQ(hint_on(stage), "");
    stage.move(640, 400);
    stage.move(x, y);
    EXPECT_EQ(hint_on(stage), words);
}

}  // namespace
}  // namespace evenspit::viewer
