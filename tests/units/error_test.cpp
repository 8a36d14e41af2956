// SPDX-License-Identifier: MIT
#include "units/error.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "units/told_complaints.h"

namespace evenspit {
namespace {

// Not braces: g++ 12 takes a Complaint in braces for half built where the test might throw.
Complaint complain(SourceSpot spot, std::string key, std::string found, std::string expected,
                   std::string mend) {
    Complaint complaint;
    complaint.spot = std::move(spot);
    complaint.key = std::move(key);
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    return complaint;
}

TEST(Complaint, TellsPlaceKeyAndAllThreePieces) {
    const Complaint complaint =
        complain({"goose.toml", 12, 8}, "item[1].mass", "'13 in', a length", "a mass", "write it in kg");
    EXPECT_EQ(complaint.text(),
              "goose.toml:12:8: item[1].mass: found '13 in', a length; expected a mass; write it in kg");
}

TEST(Complaint, LeavesOutWhatIsEmpty) {
    EXPECT_EQ((complain({"goose.toml", 0, 0}, "", "nothing", "", "")).text(), "goose.toml: found nothing");
    EXPECT_EQ((complain({"goose.toml", 3, 0}, "", "", "a table", "")).text(),
              "goose.toml:3: expected a table");
    EXPECT_EQ((complain({"", 0, 0}, "mass", "", "", "give one")).text(), "mass: give one");
    EXPECT_EQ(Complaint{}.text(), "");
}

TEST(InputError, HoldsOneLineForEachComplaint) {
    const InputError error(std::vector<Complaint>{complain({"a", 1, 1}, "k", "x", "y", "z"),
                                                  complain({"a", 2, 1}, "l", "u", "v", "w")});
    ASSERT_EQ(error.complaints().size(), 2U);
    EXPECT_EQ(error.complaints()[1].key, "l");
    EXPECT_STREQ(error.what(), "a:1:1: k: found x; expected y; z\na:2:1: l: found u; expected v; w");
}

TEST(InputError, TakesASingleComplaint) {
    const InputError error(complain({"a", 0, 0}, "", "x", "", ""));
    EXPECT_EQ(error.complaints().size(), 1U);
    EXPECT_STREQ(error.what(), "a: found x");
}

TEST(InputError, TellsTheFirstTwentyAndCountsTheRest) {
    std::vector<Complaint> many(21, complain({"a", 1, 1}, "", "x", "", ""));
    many.back().found = "the last";
    EXPECT_EQ(InputError(many).complaints().size(), 21U);
    const std::vector<std::string> told = told_complaints(many);
    ASSERT_EQ(told.size(), 21U);
    EXPECT_EQ(told[19], "a:1:1: found x");
    EXPECT_EQ(told[20], "and 1 more; mend these first");
    const std::string what = InputError(many).what();
    EXPECT_EQ(std::count(what.begin(), what.end(), '\n'), 20);
    EXPECT_TRUE(what.ends_with("\n" + told[20]));
    many.pop_back();
    EXPECT_EQ(told_complaints(many).size(), 20U);
}

}  // namespace
}  // namespace evenspit
