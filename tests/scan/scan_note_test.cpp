// SPDX-License-Identifier: MIT
#include "scan/scan_note.h"

#include <gmock/gmock.h>

namespace evenspit::scan {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

TEST(ScanNote, NamesTheUnitThatWasTaken) {
    EXPECT_EQ(words_of(note::UnitTaken{0.001, 0.31}),
              "No unit was given: taken as millimetres, which makes the body 310 mm across.");
    EXPECT_THAT(words_of(note::UnitTaken{1, 0.254}, UnitSystem::us),
                AllOf(HasSubstr("taken as metres"), HasSubstr("10 in across")));
}

TEST(ScanNote, TellsLengthsInTheReadersUnits) {
    const ScanNote apart = note::ScansApart{0.00254, 0.0012};
    EXPECT_THAT(words_of(apart), HasSubstr("lie 2.5 mm off each other where their points scatter by 1.2 mm"));
    EXPECT_THAT(words_of(apart, UnitSystem::us), AllOf(HasSubstr("lie 1/8 in off"), Not(HasSubstr("mm"))));
    EXPECT_THAT(words_of(note::LittleRoomForCavity{0.0003, 0.0005}), HasSubstr("300 of 500 cm3"));
    EXPECT_THAT(words_of(note::LittleRoomForCavity{0.0003, 0.0005}, UnitSystem::us),
                HasSubstr("18 of 31 in3"));
}

TEST(ScanNote, CountsTheHolesThatWereFilled) {
    EXPECT_EQ(words_of(note::HolesFilled{1}),
              "The scan had a hole: it was filled, and the rest is kept as it came.");
    EXPECT_EQ(words_of(note::HolesFilled{5}),
              "The scan had 5 holes: they were filled, and the rest is kept as it came.");
}

TEST(ScanNote, TellsWhatWasCutAwayAndWhatAnAppClosed) {
    EXPECT_THAT(words_of(note::CarrierCut{RestsOn::rack, 0.03}),
                AllOf(HasSubstr("rest on a rack, 30 mm high"), HasSubstr("rests on board")));
    EXPECT_THAT(words_of(note::CarrierCut{RestsOn::tin, 0.04}), HasSubstr("a tin or a plate, 40 mm high"));
    EXPECT_THAT(words_of(note::CarrierUnseen{RestsOn::stand}), HasSubstr("No stand was found"));
    EXPECT_THAT(words_of(note::ClosedByApp{0.24}),
                AllOf(HasSubstr("No camera saw 24 % of this surface"), HasSubstr("turned over")));
}

TEST(ScanNote, TellsSidesAsTheBodyHasThem) {
    using Side = note::SideUnseen::Side;
    EXPECT_EQ(words_of(note::SideUnseen{Side::back, true}),
              "The back was not seen: turn the bird over and scan again, and give that scan too.");
    EXPECT_EQ(words_of(note::SideUnseen{Side::neck, false}),
              "The end at +x was not seen: turn the roast over and scan again, and give that scan too.");
    EXPECT_THAT(words_of(note::SideUnseen{Side::left, true}), HasSubstr("The left side"));
    EXPECT_THAT(words_of(note::SideUnseen{Side::left, false}), HasSubstr("side at -y"));
}

TEST(ScanNote, AsksWhatABodyRestsOnAndWhetherItIsHollow) {
    EXPECT_THAT(words_of(note::RestHidden{0.025}),
                AllOf(HasSubstr("The lowest 25 mm were hidden"), HasSubstr("board, rack, stand or tin"),
                      HasSubstr("held lower")));
    EXPECT_THAT(words_of(note::MaybeHollow{}),
                AllOf(HasSubstr("hollow beneath"), HasSubstr("a little hollow"), HasSubstr("kind ribs"),
                      HasSubstr("both scans")));
}

TEST(ScanNote, AsksWhetherItIsABird) {
    EXPECT_EQ(
        words_of(note::BirdOrRoast{true}),
        "It may be a bird or another roast, and is taken for a bird. Say which: kind bird, or kind roast.");
    EXPECT_THAT(words_of(note::BirdOrRoast{false}), HasSubstr("taken for no bird"));
}

TEST(ScanNote, TellsWhatNotFindingACarrierMeans) {
    EXPECT_EQ(words_of(note::CarrierUnseen{RestsOn::stand}),
              "No stand was found under the body: how far down the body goes is a guess.");
    EXPECT_EQ(words_of(note::CarrierUnseen{RestsOn::rack}),
              "No rack was found under the body: it is closed as if it lay on the board.");
}

TEST(ScanNote, DoubtsTheWeightOfABirdAndOfMeat) {
    EXPECT_THAT(
        words_of(note::DensityDoubted{630, 800, 1250, false}),
        AllOf(HasSubstr("630 kg/m³ where meat has 800 kg/m³ to 1250 kg/m³"), HasSubstr("board or plate")));
    EXPECT_THAT(words_of(note::DensityDoubted{630, 742, 1081, true}),
                AllOf(HasSubstr("where a drawn bird has 742 kg/m³ to 1080 kg/m³"), HasSubstr("stuffed")));
    EXPECT_THAT(
        words_of(note::DensityDoubted{630, 800, 1250, false}, UnitSystem::us),
        AllOf(HasSubstr("39.3 lb/ft³ where meat has 49.9 lb/ft³ to 78 lb/ft³"), Not(HasSubstr("kg"))));
}

TEST(ScanNote, TellsWhatTheWeightChanged) {
    EXPECT_THAT(words_of(note::WeightTells{-0.12, 0.21, 0.042}),
                AllOf(HasSubstr("12 % smaller"), HasSubstr("right to 4.2 %"), HasSubstr("alone to 21.0 %")));
    EXPECT_THAT(words_of(note::WeightTells{0.03, 0.09, 0.04}), HasSubstr("3 % larger"));
}

TEST(ScanNote, TellsWhereTheAxesOfWhatIsNoBirdComeFrom) {
    using Axes = note::NoBird::Axes;
    EXPECT_EQ(words_of(note::NoBird{Axes::of_file}), "No bird fits this scan: it has no named parts.");
    EXPECT_THAT(words_of(note::NoBird{Axes::principal}), HasSubstr("its axes are its principal axes"));
    EXPECT_THAT(words_of(note::NoBird{Axes::one_was_named}), HasSubstr("what was not named of its axes"));
}

}  // namespace
}  // namespace evenspit::scan
