// SPDX-License-Identifier: MIT
#include "units/toml_string.h"

#include <gtest/gtest.h>

namespace evenspit {
namespace {

TEST(TomlString, EscapesWhatTomlWouldMisread) {
    EXPECT_EQ(toml_string("goose"), "\"goose\"");
    EXPECT_EQ(toml_string("a \"b\" \\c"), R"("a \"b\" \\c")");
    EXPECT_EQ(toml_string("a\nb\x1b\x7f"), R"("a\u000ab\u001b\u007f")");
    EXPECT_EQ(toml_string("gänse"), "\"gänse\"");
}

}  // namespace
}  // namespace evenspit
