// SPDX-License-Identifier: MIT
#include "units/nearest.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

namespace evenspit {
namespace {

TEST(EditDistance, CountsTheFourSlips) {
    EXPECT_EQ(edit_distance("mass", "mass"), 0U);
    EXPECT_EQ(edit_distance("mass", "mas"), 1U);    // left out
    EXPECT_EQ(edit_distance("mass", "masss"), 1U);  // doubled
    EXPECT_EQ(edit_distance("mass", "mess"), 1U);   // another letter
    EXPECT_EQ(edit_distance("mass", "amss"), 1U);   // swapped
    EXPECT_EQ(edit_distance("mass", "MASS"), 0U);   // case
    EXPECT_EQ(edit_distance("", "abc"), 3U);
    EXPECT_EQ(edit_distance("kitten", "sitting"), 3U);  // the textbook pair
    EXPECT_EQ(edit_distance("ca", "abc"), 3U);          // 2 only if a swapped pair could be split again
}

TEST(EditDistance, IsSymmetricAndZeroOnlyForTheSame) {
    const bool held = rc::check("edit distance is symmetric", [] {
        const auto word = rc::gen::container<std::string>(rc::gen::inRange('a', 'e'));
        const std::string a = *word;
        const std::string b = *word;
        RC_ASSERT(edit_distance(a, b) == edit_distance(b, a));
        RC_ASSERT((edit_distance(a, b) == 0) == (a == b));
        RC_ASSERT(edit_distance(a, b) <= std::max(a.size(), b.size()));
    });
    EXPECT_TRUE(held);
}

TEST(NearestWord, OffersWhatWasMeant) {
    const std::vector<std::string> keys = {"width", "length", "supports", "usable"};
    EXPECT_EQ(nearest_word("lenght", keys), "length");
    EXPECT_EQ(nearest_word("Width", keys), "width");
    EXPECT_EQ(nearest_word("support", keys), "supports");
}

TEST(NearestWord, OffersNothingForAnotherWord) {
    EXPECT_EQ(nearest_word("colour", {"width", "length"}), std::nullopt);
    EXPECT_EQ(nearest_word("x", {}), std::nullopt);
    EXPECT_EQ(nearest_word(std::string(1000, 'a'), {"a"}), std::nullopt);
}

TEST(NearestWord, OffersTheEarlierOfEquals) {
    EXPECT_EQ(nearest_word("bat", {"cat", "hat"}), "cat");
    EXPECT_EQ(nearest_word("bat", {"hat", "cat"}), "hat");
}

TEST(SameName, OverlooksCaseAndHowWordsAreJoined) {
    EXPECT_TRUE(same_name("Leg of lamb", "leg-of-lamb"));
    EXPECT_TRUE(same_name("leg_of_lamb", "leg of lamb"));
    EXPECT_TRUE(same_name("", ""));
    EXPECT_FALSE(same_name("leg of lamb", "leg of lambs"));
    EXPECT_FALSE(same_name("legoflamb", "leg of lamb"));
}

}  // namespace
}  // namespace evenspit
