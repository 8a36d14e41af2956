// SPDX-License-Identifier: MIT
// Somebody new: from an empty home to a load that is planned, rolled, trimmed and saved, with a card, by
// pointer and keys alone and without a file in hand.
#include <algorithm>
#include <filesystem>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/viewer/stage.h"
#include "card/card_file.h"
#include "load/load_file.h"

namespace evenspit::viewer {
namespace {

using evenspit::test::content_of;
using test::Stage;
using testing::HasSubstr;
using testing::StartsWith;

class FirstTimeTest : public testing::Test {
  protected:
    Stage stage_{{1280, 800}};

    void answer(const std::string& name) {
        stage_.bring(name, 640, 110, 640);
        stage_.click(name);
    }
    void answer(const std::string& name, const std::string& text) {
        stage_.bring(name, 640, 110, 640);
        stage_.type(name, text);
    }
    void press(const std::string& name) {
        stage_.bring(name, 1100, 150, 780);
        stage_.click(name);
    }
    void fill(const std::string& name, const std::string& text) {
        stage_.bring(name, 1100, 150, 780);
        stage_.type(name, text);
    }
    [[nodiscard]] Desk& desk() { return stage_.viewer.desk(); }
};

TEST_F(FirstTimeTest, FromNothingToALoadOnTheFireWithItsCard) {
    // The first start shows the demo, and hints.
    desk().begin();
    stage_.viewer.settle();
    ASSERT_TRUE(desk().has_answer()) << stage_.screen();
    EXPECT_TRUE(stage_.says("Got it"));
    stage_.click("Got it");

    // A load of one's own.
    stage_.click("New");
    answer("chicken");
    answer("What the kitchen scale says", "1.8 kg");
    answer("square-8mm");
    answer("mains-gearmotor");
    answer("kettle-57");
    answer("two-tine-short");
    stage_.click("Make the load");
    ASSERT_EQ(stage_.load().items.size(), 1U) << stage_.screen();
    ASSERT_EQ(stage_.load().items[0].name, "chicken") << stage_.screen();
    ASSERT_TRUE(desk().analysis().mounted) << "checked, with its chances";
    EXPECT_TRUE(stage_.says("mountings")) << stage_.screen();

    // Somebody's hand slips, and the plan puts it right: its ghost is looked at, then taken.
    desk().wish(Select{{Thing::Kind::item, 0}});
    stage_.viewer.settle();
    for (int i = 0; i < 3; ++i) stage_.give(KeyPressed{Key::up, true, {.shift = true, .alt = true}});
    const double spoilt = desk().analysis().balance.gravity_torque_peak_n_m;
    stage_.click("Plan");
    press("Seek a better setting");
    ASSERT_TRUE(stage_.says("★ recommended")) << stage_.screen();
    const auto ghosts = [&] {
        const auto& pieces = desk().scene().pieces;
        return std::count_if(pieces.begin(), pieces.end(),
                             [](const Piece& piece) { return piece.matter == Matter::ghost; });
    };
    EXPECT_GT(ghosts(), 0) << "where it would go";
    press("Take it");
    EXPECT_EQ(ghosts(), 0) << "it is there now";
    EXPECT_LT(desk().analysis().balance.gravity_torque_peak_n_m, spoilt);

    // Rolled before the fire is lit, and trimmed.
    stage_.click("Roll");
    fill("at the bottom", "200 deg");
    press("Put it down");
    ASSERT_EQ(stage_.load().roll_tests.size(), 1U) << stage_.screen();
    press("Trim");
    EXPECT_FALSE(desk().trimming().running());
    ASSERT_TRUE(desk().trimming().found()) << stage_.screen();

    // Its cook, at the end.
    stage_.click("Cook");
    ASSERT_TRUE(desk().cooking().found()) << stage_.screen();
    press("Done");
    ASSERT_NE(desk().moment(), nullptr);
    EXPECT_LT(desk().moment()->load.items[0].matter->mass_kg, 1.8);
    press("As written");

    // Saved under a name, and the card beside it.
    stage_.key(Key::s, {.control = true});
    const std::filesystem::path file = stage_.home / "sunday.toml";
    stage_.type(file.string());
    ASSERT_TRUE(std::filesystem::exists(file)) << stage_.screen();
    EXPECT_THAT(content_of(file), HasSubstr("[[roll_test]]"));
    const std::filesystem::path models = EVENSPIT_SOURCE_DIR "/models";
    const Assembly saved = read_load(file, models);
    EXPECT_EQ(saved.counterweights.size(), stage_.load().counterweights.size());
    EXPECT_EQ(saved.roll_tests.size(), 1U);
    stage_.key(Key::k, {.control = true});
    stage_.click("Write");
    const std::filesystem::path card = stage_.home / "sunday-card.pdf";
    ASSERT_TRUE(std::filesystem::exists(card)) << stage_.screen();
    EXPECT_THAT(content_of(card), StartsWith("%PDF-"));
    EXPECT_EQ(content_of(card), card::card_file(saved, {}).bytes) << "as `card` writes it of the saved load";
    EXPECT_FALSE(desk().session().unsaved());
    stage_.key(Key::q, {.control = true});
    EXPECT_TRUE(desk().ended()) << "nothing is left to ask about";
}

}  // namespace
}  // namespace evenspit::viewer
