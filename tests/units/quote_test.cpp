// SPDX-License-Identifier: MIT
#include "units/quote.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace evenspit {
namespace {

TEST(InQuotes, ShowsATextOnOneLine) {
    EXPECT_EQ(in_quotes("goose"), "'goose'");
    EXPECT_EQ(in_quotes(""), "''");
    EXPECT_EQ(in_quotes("a\nb\tc\x7f\x1b"), "'a b c  '");
}

TEST(InQuotes, CutsALongTextBetweenCharacters) {
    const std::string x58(58, 'x');
    EXPECT_EQ(in_quotes(x58 + "xx"), fmt::format("'{}xx'", x58));
    EXPECT_EQ(in_quotes(x58 + "xxx"), fmt::format("'{}xx…'", x58));
    EXPECT_EQ(in_quotes(x58 + "xüy"), fmt::format("'{}x…'", x58));
    EXPECT_EQ(in_quotes(x58 + "üy"), fmt::format("'{}ü…'", x58));
}

TEST(InQuotes, SurvivesBytesThatAreNoText) {
    EXPECT_EQ(in_quotes(std::string(100, '\x80')), "'…'");
}

}  // namespace
}  // namespace evenspit
