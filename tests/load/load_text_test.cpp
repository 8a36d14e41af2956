// SPDX-License-Identifier: MIT
#include "load/load_text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "units/error.h"

namespace evenspit {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

LoadText load(const std::string& text) {
    return {text, "test.toml"};
}

std::string after_setting(const std::string& text, const std::string& path, const std::string& value) {
    LoadText edit = load(text);
    edit.set(parse_key_path(path), value);
    return edit.text();
}

TEST(KeyPath, ReadsDotsAndBrackets) {
    EXPECT_THAT(parse_key_path("fork.1.at"), ElementsAre("fork", "1", "at"));
    EXPECT_THAT(parse_key_path("item[2].line.from[1]"), ElementsAre("item", "2", "line", "from", "1"));
    EXPECT_THAT(parse_key_path("title"), ElementsAre("title"));
}

TEST(KeyPath, RefusesWhatIsNoPath) {
    for (const char* text : {"", ".", "a.", ".a", "a..b", "a[", "a[1", "a]", "a[x]", "a[]", "a[1]b", "[1]"}) {
        EXPECT_THROW(parse_key_path(text), InputError) << text;
    }
}

TEST(KeyPath, PrintsAsMessagesDo) {
    EXPECT_EQ(key_path_text({"item", "2", "line", "from", "1"}), "item[2].line.from[1]");
}

constexpr const char* sample = R"(# a load
title = "Goose"   # its name

[rod]
width = "8 mm"          # across
usable = ["60 mm",      # from
          "620 mm"]     # to

[[fork]]
at = "190 mm"           # the hub
tine = [ { clock = "0 deg", radius = "32 mm" },
         { clock = "180 deg" } ]

# the other one
[[fork]]
at = '510 mm'

[fork.extra]
deep = 1
)";

TEST(LoadText, FindsValuesAsTheyStand) {
    const LoadText text = load(sample);
    const auto at = [&](const char* path) { return text.find(parse_key_path(path)).value_or("none"); };
    EXPECT_EQ(at("title"), "\"Goose\"");
    EXPECT_EQ(at("rod.width"), "\"8 mm\"");
    EXPECT_EQ(at("rod.usable.2"), "\"620 mm\"");
    EXPECT_EQ(at("fork.1.tine.2.clock"), "\"180 deg\"");
    EXPECT_EQ(at("fork.2.at"), "'510 mm'");
    EXPECT_EQ(at("fork.2.extra.deep"), "1");
    EXPECT_EQ(at("fork.3.at"), "none");
    EXPECT_EQ(at("fork"), "none") << "sections are no value";
}

TEST(LoadText, CountsListsInBothSpellings) {
    EXPECT_EQ(load(sample).count({"fork"}), 2U);
    EXPECT_EQ(load(sample).count({"fork", "1", "tine"}), 2U);
    EXPECT_EQ(load(sample).count({"item"}), 0U);
    EXPECT_EQ(load("item = [ { a = 1 }, { a = 2 }, { a = 3 } ]").count({"item"}), 3U);
}

TEST(LoadText, ChangesAValueAndNothingElse) {
    EXPECT_EQ(after_setting("a = 1 # one\nb = 2\n", "b", "3"), "a = 1 # one\nb = 3\n");
    EXPECT_EQ(after_setting("x = [ 1, [ 2, 3 ] ]\n", "x.2.1", "\"two\""), "x = [ 1, [ \"two\", 3 ] ]\n");
    EXPECT_EQ(after_setting("x = { a = 1, b.c = 2 }\n", "x.b.c", "5"), "x = { a = 1, b.c = 5 }\n");
    EXPECT_EQ(after_setting("a.b = 1\r\nc = 2\r\n", "a.b", "7"), "a.b = 7\r\nc = 2\r\n");
    EXPECT_EQ(after_setting("\"a b\" = 1", "a b", "2"), "\"a b\" = 2");
}

TEST(LoadText, KeepsACommentInItsColumn) {
    EXPECT_EQ(after_setting("a = \"7 mm\"     # note\n", "a", "\"123 mm\""), "a = \"123 mm\"   # note\n");
    EXPECT_EQ(after_setting("a = \"123 mm\"   # note\n", "a", "\"7 mm\""), "a = \"7 mm\"     # note\n");
    EXPECT_EQ(after_setting("a = 1 # note\n", "a", "\"long\""), "a = \"long\" # note\n");
}

TEST(LoadText, IsNotFooledByTextsAndComments) {
    const std::string tricky =
        "s = \"\"\"\n[[fork]]\nat = \\\"\"\"\"\"  # ] }\n# [[fork]]\nt = '[{#'\n[rod]\nw = 1\n";
    EXPECT_EQ(load(tricky).count({"fork"}), 0U);
    EXPECT_THAT(after_setting(tricky, "rod.w", "2"), HasSubstr("[rod]\nw = 2\n"));
    EXPECT_THAT(after_setting(tricky, "t", "3"), HasSubstr("t = 3\n[rod]"));
}

TEST(LoadText, AddsAKeyBehindTheLastOfItsTable) {
    EXPECT_EQ(after_setting("[rod]\na = 1  # one\n\n# next\n[motor]\n", "rod.b", "2"),
              "[rod]\na = 1  # one\nb = 2\n\n# next\n[motor]\n");
    EXPECT_EQ(after_setting("[rod]\n[motor]\n", "rod.b", "2"), "[rod]\nb = 2\n[motor]\n");
    EXPECT_EQ(after_setting("[rod]\na = 1", "rod.b", "2"), "[rod]\na = 1\nb = 2\n");
    EXPECT_EQ(after_setting("x = { a = 1 }\n", "x.b", "2"), "x = { a = 1, b = 2 }\n");
    EXPECT_EQ(after_setting("x = {}\n", "x.b", "2"), "x = { b = 2 }\n");
    EXPECT_EQ(after_setting("[[f]]\na = 1\n[[f]]\na = 2\n", "f.1.c.d", "3"),
              "[[f]]\na = 1\nc.d = 3\n[[f]]\na = 2\n");
    EXPECT_EQ(after_setting("[rod]\r\na = 1\r\n", "rod.b", "2"), "[rod]\r\na = 1\r\nb = 2\r\n");
}

TEST(LoadText, RefusesToWriteWhereNothingCanStand) {
    EXPECT_THROW(after_setting(sample, "fork.3.at", "1"), InputError);
    EXPECT_THROW(after_setting(sample, "fork.1", "1"), InputError);
    EXPECT_THROW(after_setting(sample, "rod.usable.3", "1"), InputError);
    EXPECT_THROW(after_setting(sample, "title.x", "1"), InputError);
    EXPECT_THROW(after_setting(sample, "title", "\"open"), InputError) << "the result would be no TOML";
    EXPECT_THROW(load("a = "), InputError);
}

TEST(LoadText, AppendsASectionBehindItsLikes) {
    LoadText text = load(sample);
    text.append("fork", {{"at", "\"1 mm\""}}, "");
    EXPECT_EQ(text.text(), std::string(sample) + "\n[[fork]]\nat = \"1 mm\"\n");

    LoadText behind = load("[[fork]]\nat = 1\n\n[cook]\nx = 1\n");
    behind.append("counterweight", {{"at", "2"}, {"mass", "3"}}, "fork");
    EXPECT_EQ(behind.text(), "[[fork]]\nat = 1\n\n[[counterweight]]\nat = 2\nmass = 3\n\n[cook]\nx = 1\n");

    LoadText alone = load("[cook]\nx = 1");
    alone.append("counterweight", {{"at", "2"}}, "fork");
    EXPECT_EQ(alone.text(), "[cook]\nx = 1\n\n[[counterweight]]\nat = 2\n");
}

TEST(LoadText, AppendsInsideAnInlineList) {
    LoadText text = load("w = [ { at = 1 } ]\n");
    text.append("w", {{"at", "2"}}, "");
    EXPECT_EQ(text.text(), "w = [ { at = 1 }, { at = 2 } ]\n");
    LoadText empty = load("w = []\n");
    empty.append("w", {{"at", "2"}}, "");
    EXPECT_EQ(empty.text(), "w = [ { at = 2 } ]\n");
    EXPECT_EQ(empty.count({"w"}), 1U);
}

TEST(LoadText, AppendsToNothingButLists) {
    for (const char* content : {"w = \"x\"\n", "w = { a = 1 }\n", "w = 13\n"}) {
        LoadText text = load(content);
        EXPECT_THROW(text.append("w", {{"at", "2"}}, ""), InputError) << content;
        EXPECT_EQ(text.text(), content);
    }
}

TEST(LoadText, TakesASectionOutAsAComment) {
    LoadText text = load("[[w]]\nat = 1 # one\n\nm = [\n 2 ]\n# next\n[[w]]\nat = 3\n");
    text.take_out("w", 1);
    EXPECT_EQ(text.text(), "# [[w]]\n# at = 1 # one\n\n# m = [\n#  2 ]\n# next\n[[w]]\nat = 3\n");
    text.take_out("w", 1);
    EXPECT_EQ(text.count({"w"}), 0U);
    EXPECT_THROW(text.take_out("w", 1), InputError);
}

TEST(LoadText, TakesAnElementOutOfAnInlineList) {
    const auto without = [](std::size_t index) {
        LoadText text = load("w = [ { a = 1 }, { a = 2 }, { a = 3 } ]\n");
        text.take_out("w", index);
        return text.text();
    };
    EXPECT_EQ(without(1), "w = [  { a = 2 }, { a = 3 } ]\n");
    EXPECT_EQ(without(2), "w = [ { a = 1 },  { a = 3 } ]\n");
    EXPECT_EQ(without(3), "w = [ { a = 1 }, { a = 2 } ]\n");
}

TEST(LoadText, SeesTheFirstKeyBehindAMarkOfByteOrder) {
    const std::string mark = "\xEF\xBB\xBF";
    EXPECT_EQ(load(mark + "title = \"Goose\"\n").find({"title"}), "\"Goose\"");
    EXPECT_EQ(after_setting(mark + "title = 1\n", "title", "2"), mark + "title = 2\n");
    EXPECT_EQ(after_setting(mark, "title", "2"), mark + "title = 2\n");
    LoadText sections = load(mark + "[[w]]\nat = 1\n");
    sections.take_out("w", 1);
    EXPECT_EQ(sections.text(), mark + "# [[w]]\n# at = 1\n");
}

}  // namespace
}  // namespace evenspit
