// SPDX-License-Identifier: MIT
// A load made from nothing, by hand, in the viewer.
#include <algorithm>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "stage.h"
#include "support/temporary_folder.h"

namespace evenspit::viewer {
namespace {

using test::Stage;
using testing::HasSubstr;
using testing::Not;

void bring(Stage& stage, const std::string& name) {
    stage.bring(name, 640, 100, 560);
}

void press(Stage& stage, const std::string& name) {
    bring(stage, name);
    stage.click(name);
}

void fill(Stage& stage, const std::string& name, const std::string& text) {
    bring(stage, name);
    stage.type(name, text);
}

TEST(NewLoad, IsMadeByHandCheckedAndSaved) {
    Stage stage;
    stage.key(Key::n, {.control = true});
    ASSERT_TRUE(stage.says("A new load")) << stage.screen();
    press(stage, "duck");
    // Questions come as answers ask for them.
    EXPECT_TRUE(stage.says("How is it tied?"));
    EXPECT_FALSE(stage.says("In which unit is the scan?"));
    fill(stage, "What the kitchen scale says", "2.6");
    EXPECT_TRUE(stage.says("a number without a unit"));
    fill(stage, "What the kitchen scale says", "2.6 kg");
    EXPECT_FALSE(stage.says("a number without a unit"));
    // What is missing is told where it is missing.
    stage.click("Make the load");
    EXPECT_TRUE(stage.says("This one needs an answer."));
    press(stage, "square-8mm");
    press(stage, "battery-dc");
    press(stage, "kettle-57");
    press(stage, "two-tine-short");
    stage.click("Make the load");
    ASSERT_TRUE(stage.viewer.desk().has_load()) << stage.screen();
    ASSERT_EQ(stage.load().items.size(), 1U);
    EXPECT_EQ(stage.load().items[0].name, "duck");
    EXPECT_NEAR(stage.load().items[0].body->mass.amount, 2.6, 1e-9);
    EXPECT_EQ(stage.load().forks.size(), 2U);
    EXPECT_TRUE(stage.viewer.desk().has_answer());
    // It was never saved, and is written as it stands.
    const std::filesystem::path file = stage.home / "duck.toml";
    stage.viewer.desk().wish(SaveAs{file, false});
    stage.viewer.settle();
    EXPECT_THAT(evenspit::test::content_of(file), HasSubstr("shape = \"duck\""));
}

TEST(NewLoad, OwnFiguresAreAskedForWhereTheyAreWanted) {
    Stage stage;
    stage.key(Key::n, {.control = true});
    EXPECT_FALSE(stage.says("How long is it, end to end?"));
    // Of rod, motor, cooker and forks the rod's comes first.
    bring(stage, "square-8mm");
    const auto& all = stage.viewer.ui().spoken();
    const auto own =
        std::find_if(all.begin(), all.end(), [](const Spoken& s) { return s.text == "own" && s.usable; });
    ASSERT_NE(own, all.end());
    stage.click(own->area.x + own->area.width / 2, own->area.y + own->area.height / 2);
    EXPECT_TRUE(stage.says("How long is it, end to end?"));
}

TEST(NewLoad, AsksOfARoughScanWhatItLiesOn) {
    Stage stage;
    stage.key(Key::n, {.control = true});
    const auto scan = stage.home.write("bird.ply", "ply");
    stage.give(FilesDropped{{scan}});
    EXPECT_TRUE(stage.says("What did it lie on while it was scanned?")) << stage.screen();
    press(stage, "rack");
    press(stage, "no");
    EXPECT_FALSE(stage.says("What did it lie on while it was scanned?")) << "a closed body lies on nothing";
}

TEST(NewLoad, LimbsThatAreMissingAreChosenByName) {
    Stage stage;
    stage.key(Key::n, {.control = true});
    press(stage, "duck");
    fill(stage, "What the kitchen scale says", "2.6 kg");
    press(stage, "left wing");
    press(stage, "right wing");
    press(stage, "left leg");
    press(stage, "left leg");
    for (const char* name : {"square-8mm", "battery-dc", "kettle-57", "two-tine-short"}) press(stage, name);
    stage.click("Make the load");
    ASSERT_TRUE(stage.viewer.desk().has_load()) << stage.screen();
    EXPECT_THAT(stage.viewer.desk().session().text(), HasSubstr("missing = [\"left wing\", \"right wing\"]"));
}

TEST(NewLoad, TellsWhichAnswerNoSuchBodyHas) {
    Stage stage;
    stage.viewer.desk().wish(MakeLoad{{{"roast", "turkey"},
                                       {"mass", "1 lb"},
                                       {"rod", "square-8mm"},
                                       {"motor", "battery-dc"},
                                       {"cooker", "none"}}});
    stage.viewer.settle();
    EXPECT_TRUE(stage.says("a turkey of 2.5 kg")) << stage.screen();
}

}  // namespace
}  // namespace evenspit::viewer
