// SPDX-License-Identifier: MIT
#include "report/change_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "body/bird.h"
#include "plan/loads.h"

namespace evenspit {
namespace {

using testing::ElementsAre;

/// Two ducks of one name with their wings loose, each on two forks.
Assembly two_ducks() {
    const auto duck = [](double at_m) {
        Item item = test::item_of(
            body::make_bird({.species = "duck", .mass_kg = 2.4, .trussing = body::Trussing::legs_tied}),
            {.at_m = at_m});
        item.name = "duck";
        return item;
    };
    Assembly load = test::load_of(duck(0.25));
    load.items.push_back(duck(0.55));
    load.forks.push_back(test::two_tine(0.45, Facing::point));
    load.forks.push_back(test::two_tine(0.65, Facing::drive));
    return load;
}

}  // namespace

TEST(ChangeSteps, TellThingsOfOneNameApart) {
    const Assembly load = two_ducks();
    EXPECT_THAT(
        change_steps({{.kind = LoadChange::Kind::tie, .item = 0}, {.kind = LoadChange::Kind::tie, .item = 1}},
                     load, load, UnitSystem::metric),
        ElementsAre("Tie the wings of duck (item 1) tight to its body.",
                    "Tie the wings of duck (item 2) tight to its body."));
}

// The steps that follow, and the file that is written, count the forks that are left.
TEST(ChangeSteps, TellHowForksAreCountedOnceSomeAreGone) {
    const Assembly load = two_ducks();
    EXPECT_THAT(
        change_steps({{.kind = LoadChange::Kind::leave_out, .item = 0, .forks = {0, 1}}}, load, load,
                     UnitSystem::metric),
        ElementsAre(
            "Leave duck (item 1) off the rod with forks 1 and 2, and roast it on its own. From here on "
            "fork 3 is fork 1 and fork 4 is fork 2."));
    EXPECT_THAT(change_steps({{.kind = LoadChange::Kind::leave_out, .item = 1, .forks = {2, 3}}}, load, load,
                             UnitSystem::metric),
                ElementsAre("Leave duck (item 2) off the rod with forks 3 and 4, and roast it on its own."));
}

TEST(ChangeSteps, SayWhichRod) {
    Assembly before = two_ducks(), after = before;
    after.rod.width_m = 0.010;
    after.rod.length_m = 0.76;
    const std::vector<LoadChange> changes{{.kind = LoadChange::Kind::rod, .rod = "square-10mm"}};
    EXPECT_THAT(change_steps(changes, before, after, UnitSystem::metric),
                ElementsAre("Take another rod: square-10mm, 10 mm wide and 760 mm long."));
    EXPECT_EQ(changes_json(changes)[0]["rod"], "square-10mm");
}

}  // namespace evenspit
