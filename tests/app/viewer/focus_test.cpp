// SPDX-License-Identifier: MIT
#include "app/viewer/focus.h"

#include <gtest/gtest.h>

namespace evenspit::viewer {
namespace {

using Way = FocusRing::Way;

/// Two rows of two buttons: 1 2 over 3 4; a dialogue of 10 and 11 over them if it is open.
void frame(FocusRing& ring, bool dialogue = false) {
    ring.begin_frame();
    ring.add({1, {0, 0, 10, 10}});
    ring.add({2, {20, 0, 10, 10}});
    ring.add({3, {0, 20, 10, 10}});
    ring.add({4, {20, 20, 10, 10}});
    if (!dialogue) return;
    ring.add({10, {0, 50, 10, 10}, Layer::dialog});
    ring.add({11, {20, 50, 10, 10}, Layer::dialog});
}

void frames(FocusRing& ring, bool dialogue = false) {
    frame(ring, dialogue);
    frame(ring, dialogue);
}

TEST(FocusRing, LeavesTheKeysToTheSceneUntilAsked) {
    FocusRing ring;
    frames(ring);
    EXPECT_FALSE(ring.has_keys());
    ring.swap();
    EXPECT_TRUE(ring.has_keys());
    EXPECT_EQ(ring.focused(), 1U);
    ring.swap();
    EXPECT_FALSE(ring.has_keys());
}

TEST(FocusRing, StepsRoundAndRound) {
    FocusRing ring;
    frames(ring);
    for (const FocusRing::Id id : {1U, 2U, 3U, 4U, 1U}) {
        ring.step(1);
        EXPECT_EQ(ring.focused(), id);
    }
    ring.step(-1);
    EXPECT_EQ(ring.focused(), 4U);
}

TEST(FocusRing, BeginsInADialogueAtWhatItIsFor) {
    FocusRing ring;
    frames(ring);
    const auto with_name = [&] {
        frame(ring, true);
        ring.add({12, {40, 50, 10, 10}, Layer::dialog, true, true});
    };
    with_name();
    with_name();
    EXPECT_EQ(ring.focused(), 12U);
    ring.step(1);
    EXPECT_EQ(ring.focused(), 10U) << "nothing keeps the keys there";
    with_name();
    EXPECT_EQ(ring.focused(), 10U);
}

TEST(FocusRing, GoesWhereArrowsPoint) {
    FocusRing ring;
    frames(ring);
    ring.swap();
    ring.go(Way::down);
    EXPECT_EQ(ring.focused(), 3U);
    ring.go(Way::right);
    EXPECT_EQ(ring.focused(), 4U);
    ring.go(Way::right);
    EXPECT_EQ(ring.focused(), 4U) << "nothing is further right";
    ring.go(Way::up);
    EXPECT_EQ(ring.focused(), 2U);
}

TEST(FocusRing, APressBesideAllChoosesNothingInADialogue) {
    FocusRing ring;
    frames(ring);
    frames(ring, true);
    ASSERT_EQ(ring.focused(), 10U);
    ring.point(0);
    frames(ring, true);
    EXPECT_EQ(ring.focused(), 0U) << "Enter or the space bar would press what nobody chose";
    EXPECT_TRUE(ring.has_keys()) << "the scene does not get them either";
    ring.step(1);
    EXPECT_EQ(ring.focused(), 10U);
    // What is gone gives the keys to the first.
    ring.step(1);
    ring.begin_frame();
    ring.add({10, {0, 50, 10, 10}, Layer::dialog});
    ring.begin_frame();
    EXPECT_EQ(ring.focused(), 10U);
}

TEST(FocusRing, ADialogueTakesTheKeysAndGivesThemBack) {
    FocusRing ring;
    frames(ring);
    ring.step(1);
    ring.step(1);
    ASSERT_EQ(ring.focused(), 2U);
    frames(ring, true);
    EXPECT_TRUE(ring.in_dialog());
    EXPECT_EQ(ring.focused(), 10U);
    ring.step(1);
    ring.step(1);
    EXPECT_EQ(ring.focused(), 10U) << "it never leaves the dialogue";
    ring.leave();
    EXPECT_EQ(ring.focused(), 10U);
    frames(ring);
    EXPECT_EQ(ring.focused(), 2U);
    EXPECT_TRUE(ring.has_keys());
}

TEST(FocusRing, LosesWhatIsGone) {
    FocusRing ring;
    frames(ring);
    ring.step(-1);
    ASSERT_EQ(ring.focused(), 4U);
    ring.begin_frame();
    ring.add({1, {0, 0, 10, 10}});
    ring.begin_frame();
    EXPECT_FALSE(ring.has_keys());
}

}  // namespace
}  // namespace evenspit::viewer
