// SPDX-License-Identifier: MIT
#include "load/toml_tree.h"

#include <filesystem>
#include <fstream>
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/temporary_folder.h"
namespace evenspit {
namespace {

using testing::HasSubstr;
using Kind = TomlNode::Kind;

std::string message(const std::string& text) {
    try {
        parse_toml(text, "a.toml");
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

std::string file_message(const std::filesystem::path& file) {
    try {
        read_toml(file);
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

std::string repeated(const std::string& piece, int times) {
    std::string text;
    for (int i = 0; i < times; ++i) text += piece;
    return text;
}

TEST(TomlTree, KeepsValuesAndTheirPlaces) {
    const TomlNode root =
        parse_toml("title = \"goose\"\n[rod]\n  width = 8\n\nshares = [ 0.5,\n true ]\n", "a.toml");
    const TomlNode* title = root.find("title");
    ASSERT_NE(title, nullptr);
    EXPECT_EQ(title->kind, Kind::text);
    EXPECT_EQ(title->text, "goose");
    EXPECT_EQ(title->spot.file, "a.toml");
    EXPECT_EQ(title->spot.line, 1);
    EXPECT_EQ(title->spot.column, 9);

    const TomlNode* rod = root.find("rod");
    ASSERT_NE(rod, nullptr);
    EXPECT_EQ(rod->spot.line, 2);
    ASSERT_EQ(rod->entries.size(), 2U);
    for (const TomlEntry& entry : rod->entries) {
        EXPECT_EQ(entry.spot.line, entry.key == "width" ? 3 : 5);
        EXPECT_EQ(entry.spot.column, entry.key == "width" ? 3 : 1);
    }
    EXPECT_EQ(rod->find("width")->number, 8);
    ASSERT_EQ(rod->find("shares")->elements.size(), 2U);
    EXPECT_EQ(rod->find("shares")->elements[0].number, 0.5);
    EXPECT_TRUE(rod->find("shares")->elements[1].boolean);
    EXPECT_EQ(rod->find("shares")->elements[1].spot.line, 6);
    EXPECT_EQ(root.find("motor"), nullptr);
}

TEST(TomlTree, ShowsWhatStandsThere) {
    const TomlNode root = parse_toml(
        "a = 'x'\nb = 13\nc = 1.5\nd = false\ne = [1]\nf = [1, 2]\ng = {}\nh = 18:30:00", "a.toml");
    EXPECT_EQ(root.find("a")->shown(), "'x'");
    EXPECT_EQ(root.find("b")->shown(), "13");
    EXPECT_EQ(root.find("c")->shown(), "1.5");
    EXPECT_EQ(root.find("d")->shown(), "false");
    EXPECT_EQ(root.find("e")->shown(), "a list of 1 value");
    EXPECT_EQ(root.find("f")->shown(), "a list of 2 values");
    EXPECT_EQ(root.find("g")->shown(), "a table");
    EXPECT_EQ(root.find("h")->shown(), "18:30:00 (a date or time without quotes)");
}

TEST(TomlTree, TakesAnEmptyFile) {
    EXPECT_TRUE(parse_toml("", "a.toml").entries.empty());
}

TEST(TomlTree, TellsWhereTextIsNotToml) {
    EXPECT_THAT(message("a = 1\nb = \n"), HasSubstr("a.toml:2:"));
    EXPECT_THAT(message("a = 1\nb = \n"), HasSubstr("not TOML"));
    EXPECT_THAT(message("a = 1\na = 2\n"), HasSubstr("a.toml:2:"));
    EXPECT_THAT(message("goose\n"), HasSubstr("a.toml:1:"));
    EXPECT_THAT(message("a = \"\xff\xfe\"\n"), HasSubstr("a.toml:1:"));
    EXPECT_THAT(message(std::string("a = 1\0b", 7)), HasSubstr("a.toml:1:"));
}

TEST(TomlTree, RefusesHugeNesting) {
    EXPECT_THAT(message("a = " + repeated("[", 17) + repeated("]", 17)), HasSubstr("nested very deep"));
    EXPECT_EQ(message("a = " + repeated("[", 15) + repeated("]", 15)), "");
    EXPECT_NE(message("a = " + repeated("[", 100000)), "");
    EXPECT_NE(message(repeated("a=[{", 10000)), "");
    EXPECT_THAT(message("\n" + repeated("a.", 100000) + "a = 1"),
                HasSubstr("a.toml:2: found a key with many dots"));
    EXPECT_THAT(message("[" + repeated("a.", 100000) + "a]"), HasSubstr("a key with many dots"));
    // Texts and comments do not hide it, and may hold dots themselves.
    EXPECT_THAT(message("b = '''x''''' # '\n" + repeated("'a'.", 100000) + "a = 1"),
                HasSubstr("a.toml:2: found a key"));
    EXPECT_THAT(message("b = \"\"\"\n\\\"\"\"\"\n" + repeated("a.", 100000) + "a = 1"),
                HasSubstr("a.toml:3: found a key"));
    EXPECT_EQ(message("b = '" + repeated(".", 1000) + "' # " + repeated(".", 1000)), "");
    EXPECT_EQ(message("b = '''\n" + repeated(".", 1000) + "'''"), "");
    EXPECT_EQ(message("b = [" + repeated("1.5, ", 1000) + "]"), "");
}

TEST(TomlTree, RefusesAHugeText) {
    EXPECT_THAT(message(std::string((1U << 20U) + 1, '\n')), HasSubstr("at most 1048576 bytes"));
}

class TomlFile : public testing::Test {
  protected:
    test::TemporaryFolder folder_;
};

TEST_F(TomlFile, IsRead) {
    std::ofstream(folder_ / "a.toml") << "a = 1\n";
    EXPECT_EQ(read_toml(folder_ / "a.toml").find("a")->number, 1);
}

TEST_F(TomlFile, IsRefusedWhereItIsNone) {
    EXPECT_THAT(file_message(folder_ / "none.toml"), HasSubstr("none.toml: found no such file"));
    EXPECT_THAT(file_message(folder_.path()), HasSubstr("found a folder"));
    EXPECT_THAT(file_message("/dev/null"), HasSubstr("found no ordinary file"));
    std::ofstream(folder_ / "large.toml") << std::string(2U << 20U, '\n');
    EXPECT_THAT(file_message(folder_ / "large.toml"), HasSubstr("at most 1048576 bytes"));
}

}  // namespace
}  // namespace evenspit
