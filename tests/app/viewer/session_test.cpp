// SPDX-License-Identifier: MIT
#include "app/viewer/session.h"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "load/load_file.h"
#include "units/quantity.h"

namespace evenspit::viewer {
namespace {

using test::content_of;
using test::TemporaryFolder;
using test::write_sample_load;
using testing::HasSubstr;

class SessionTest : public testing::Test {
  protected:
    TemporaryFolder folder_;
    std::filesystem::path file_ = write_sample_load(folder_, {.extra = "# the cook's own words\n"});
    Session session_{read_load(file_, {}), content_of(file_), file_};

    [[nodiscard]] double at() const { return session_.assembly().items[0].seat.at_m; }
    void slide(double at_m, const char* gesture = "") {
        Seat seat = session_.assembly().items[0].seat;
        seat.at_m = at_m;
        EXPECT_FALSE(session_.edit(SetSeat{0, seat}, gesture));
    }
};

TEST_F(SessionTest, UndoesAndDoesAgain) {
    EXPECT_EQ(session_.undo_name(), "");
    slide(0.350);
    slide(0.360);
    EXPECT_EQ(session_.undo_name(), "slide roast");
    session_.undo();
    EXPECT_EQ(at(), 0.350);
    session_.undo();
    EXPECT_EQ(at(), 0.340);
    session_.undo();
    EXPECT_EQ(at(), 0.340) << "nothing before the beginning";
    EXPECT_EQ(session_.redo_name(), "slide roast");
    session_.redo();
    session_.redo();
    session_.redo();
    EXPECT_EQ(at(), 0.360);
    session_.undo();
    slide(0.370);
    EXPECT_EQ(session_.redo_name(), "") << "a new step takes the place of what was undone";
}

TEST_F(SessionTest, OneGestureIsOneStep) {
    slide(0.350, "drag");
    slide(0.355, "drag");
    slide(0.360, "drag");
    session_.end_gesture();
    slide(0.365, "drag");
    session_.undo();
    EXPECT_EQ(at(), 0.360);
    session_.undo();
    EXPECT_EQ(at(), 0.340);
}

TEST_F(SessionTest, RefusalsAndNothingNewLeaveNoStep) {
    const std::uint64_t revision = session_.revision();
    EXPECT_TRUE(session_.edit(SetFork{0, 5, Facing::point, 0}));
    slide(0.340);
    EXPECT_EQ(session_.undo_name(), "");
    EXPECT_EQ(session_.revision(), revision);
    slide(0.341);
    EXPECT_GT(session_.revision(), revision);
}

TEST_F(SessionTest, KnowsWhatIsNotSaved) {
    EXPECT_FALSE(session_.unsaved());
    slide(0.350);
    EXPECT_TRUE(session_.unsaved());
    session_.undo();
    EXPECT_FALSE(session_.unsaved()) << "back where the file has it";
    session_.redo();
    session_.saved(session_.text(), file_);
    EXPECT_FALSE(session_.unsaved());
    session_.undo();
    EXPECT_TRUE(session_.unsaved()) << "undo goes on behind a save";
    EXPECT_THAT(session_.text(), HasSubstr("at = \"340 mm\""));
}

TEST_F(SessionTest, TextKeepsTheCooksWordsAndReadsBack) {
    slide(parse_quantity("347 mm", Dimension::length));
    const std::string text = session_.text();
    EXPECT_THAT(text, HasSubstr("# the cook's own words"));
    EXPECT_THAT(text, HasSubstr("at = \"347 mm\""));
    const Assembly again = read_load_text(text, file_, {});
    EXPECT_TRUE(same_arrangement(arrangement_of(again), arrangement_of(session_.assembly())));
}

TEST_F(SessionTest, PinsAndRecovers) {
    session_.pin(analyse(session_.assembly()));
    Sitting moved = sitting_of(session_.assembly());
    moved.places.seats[0].at_m = 0.4;
    EXPECT_TRUE(session_.recover(moved));
    EXPECT_EQ(at(), 0.4);
    EXPECT_EQ(session_.undo_name(), "take up what was not saved");
    EXPECT_EQ(session_.pinned()->places.seats[0].at_m, 0.34);
    EXPECT_FALSE(session_.recover(Sitting{}));
    session_.unpin();
    EXPECT_FALSE(session_.pinned());
}

TEST_F(SessionTest, ARollTestIsAStepAndGoesIntoTheText) {
    ASSERT_FALSE(session_.edit(AddRollTest{{.down_rad = 0.5}}));
    EXPECT_EQ(session_.undo_name(), "put down a roll test");
    ASSERT_EQ(session_.assembly().roll_tests.size(), 1U);
    EXPECT_EQ(moved_since(session_.assembly().roll_tests[0], session_.assembly()), "");
    EXPECT_TRUE(session_.unsaved());
    const Assembly again = read_load_text(session_.text(), file_, {});
    ASSERT_EQ(again.roll_tests.size(), 1U);
    EXPECT_TRUE(again.roll_tests[0].counts);
    EXPECT_NEAR(again.roll_tests[0].down_rad.value(), 0.5, 1e-12);
    session_.undo();
    EXPECT_TRUE(session_.assembly().roll_tests.empty());
    EXPECT_FALSE(session_.unsaved());
    session_.redo();
    EXPECT_EQ(session_.assembly().roll_tests.size(), 1U);
}

TEST_F(SessionTest, WhatIsMovedAfterARollTestMakesItVoid) {
    const auto counts = [&] { return session_.assembly().roll_tests.at(0).counts; };
    ASSERT_FALSE(session_.edit(AddRollTest{{.down_rad = 0.5}}));
    slide(0.350, "drag");
    EXPECT_FALSE(counts());
    EXPECT_EQ(moved_since(session_.assembly().roll_tests[0], session_.assembly()), "roast");
    slide(0.340, "drag");
    EXPECT_TRUE(counts()) << "a drag that ends where it began has moved nothing";
    slide(0.350);
    session_.undo();
    EXPECT_TRUE(counts());
    Counterweight weight{.at_m = 0.1, .mass_kg = 0.2, .radius_m = 0.05, .clock_rad = 3, .diameter_m = 0.03};
    EXPECT_FALSE(session_.edit(AddWeight{weight}));
    EXPECT_TRUE(counts()) << "a weight that came later is known by itself";
}

TEST_F(SessionTest, ARollTestThatCannotBeIsRefused) {
    EXPECT_TRUE(session_.edit(AddRollTest{{.down_rad = NAN}}));
    EXPECT_TRUE(session_.edit(AddRollTest{{.hung = HungWeight{0, 0.08, 1}}}));
    EXPECT_TRUE(session_.edit(AddRollTest{{.hung = HungWeight{0.3, 0, 1}}}));
    Assembly edged = session_.assembly();
    edged.rod.bushing = false;
    const auto rollers = applied(edged, AddRollTest{{.down_rad = 0.5, .on = RollsOn::rollers}});
    ASSERT_TRUE(std::holds_alternative<Refusal>(rollers));
    EXPECT_THAT(std::get<Refusal>(rollers).reason, HasSubstr("bushings"));
    EXPECT_TRUE(session_.assembly().roll_tests.empty());
}

}  // namespace
}  // namespace evenspit::viewer
