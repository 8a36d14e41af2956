// SPDX-License-Identifier: MIT
#include "report/roll_report.h"

#include <numbers>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/loads.h"
#include "report/roll_words.h"

namespace evenspit {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(RollWords, TellHowSeldomSomethingIs) {
    EXPECT_EQ(rarity_text(0.00025), "1 of 4000 loads");
    EXPECT_EQ(rarity_text(1e-9), "less than 1 of a million loads");
}

TEST(RollWords, AFindingTellsWhatToDo) {
    Finding f{.level = Level::care, .code = Code::roll_test, .value = 0.0001, .facts = RollFacts{1, true}};
    EXPECT_THAT(roll_finding_text(f), AllOf(HasSubstr("Roll test 2 contradicts"),
                                            HasSubstr("1 of 10000 loads"), HasSubstr("roll the load again")));
    f.facts = RollFacts{0, false};
    EXPECT_THAT(roll_finding_text(f), HasSubstr("Roll test 1 fits no way"));
    f.level = Level::ready;
    f.facts = RollFacts{0, true};
    EXPECT_THAT(roll_finding_text(f), HasSubstr("judged as roll test 1 found it"));
}

/// A box, and where its rod and its weight are believed to be.
class RollImplies : public testing::Test {
  protected:
    RollImplies() : load_(test::good_load()) {
        trim_.believed = load_;
        trim_.shifts = {{{Input::Kind::line_to, {Thing::Kind::item, 0}}, 1.5},
                        {{Input::Kind::line_from, {Thing::Kind::item, 0}}, 1.4},
                        {{Input::Kind::centre, {Thing::Kind::item, 0}}, 0.9},
                        {{Input::Kind::station, {Thing::Kind::item, 0}}, 0.1}};
        trim_.believed.items[0].seat.line = {{0, -0.0061}, {0, -0.0061}};
        trim_.believed.items[0].off.centre = {0, 0.001, 0.0031};
    }
    Assembly load_;
    Trim trim_;
};

TEST_F(RollImplies, TheRodAndTheWeightInTheItemsOwnWords) {
    EXPECT_THAT(implied_words(load_, trim_, UnitSystem::metric),
                ElementsAre("the rod runs 6 mm nearer the bottom of roast than you meant",
                            "the weight lies 3 mm nearer the top of roast than its shape says"));
    load_.items[0].bird = true;
    EXPECT_THAT(
        implied_words(load_, trim_, UnitSystem::metric),
        ElementsAre("the rod runs 6 mm nearer the back of roast than you meant",
                    "the weight lies 3 mm nearer the breast of roast than its shape says (look whether the "
                    "cavity is empty)"));
}

TEST_F(RollImplies, NothingOfWhatIsSmall) {
    for (InputShift& shift : trim_.shifts) shift.deviations = 0.4;
    EXPECT_THAT(implied_words(load_, trim_, UnitSystem::metric), IsEmpty());
}

}  // namespace
}  // namespace evenspit
