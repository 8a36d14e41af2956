// SPDX-License-Identifier: MIT
#include "report/printable_lines.h"

#include <gtest/gtest.h>

namespace evenspit {
namespace {

TEST(PrintableLines, KeepsLinesAndColoursOnly) {
    EXPECT_EQ(printable_lines("a\n\tb\x1b[1;32mgood\x1b[0m\n"), "a\n\tb\x1b[1;32mgood\x1b[0m\n");
    EXPECT_EQ(printable_lines("\x1b[2Ja\x1b]0;t\x07\x1b[3\x1b["), " [2Ja ]0;t  [3 [");
    EXPECT_EQ(printable_lines("a\rb\u009B2J\xFF\x7f"), "a b 2J\uFFFD ");
    EXPECT_EQ(printable_lines(""), "");
}

}  // namespace
}  // namespace evenspit
