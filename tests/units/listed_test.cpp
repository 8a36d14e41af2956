// SPDX-License-Identifier: MIT
#include "units/listed.h"

#include <gtest/gtest.h>

namespace evenspit {

TEST(Listed, PutsTheLastWordBeforeTheLast) {
    EXPECT_EQ(listed({}, "or"), "");
    EXPECT_EQ(listed({"a"}, "or"), "a");
    EXPECT_EQ(listed({"a", "b"}, "and"), "a and b");
    EXPECT_EQ(listed({"a", "b", "c"}, "or"), "a, b or c");
}

}  // namespace evenspit
