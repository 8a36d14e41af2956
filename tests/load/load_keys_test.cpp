// SPDX-License-Identifier: MIT
#include "load/load_keys.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "load/load_fixture.h"
#include "load/spread_keys.h"
#include "load/table_reader.h"

namespace evenspit {
namespace {

using test::small_load;
using test::with;
using testing::Contains;
using testing::Field;
using testing::HasSubstr;
using testing::Not;

constexpr bool is_table(KeyForm form) {
    return form == KeyForm::table || form == KeyForm::tables;
}

std::string joined(const KeyTable& table, std::string_view key) {
    return table.path.empty() ? std::string(key) : fmt::format("{}.{}", table.path, key);
}

TEST(LoadKeys, EveryTableIsNamedByTheOneRoundIt) {
    std::set<std::string> named{""};
    for (const KeyTable& table : load_key_tables()) {
        for (const LoadKey& key : table.keys) {
            if (!is_table(key.form)) continue;
            named.insert(joined(table, key.name));
            EXPECT_EQ(key_table(joined(table, key.name)).is_list, key.form == KeyForm::tables) << key.name;
        }
    }
    std::set<std::string> there;
    for (const KeyTable& table : load_key_tables()) there.emplace(table.path);
    EXPECT_EQ(named, there);
    EXPECT_THROW(static_cast<void>(key_table("gear")), std::logic_error);
}

TEST(LoadKeys, EveryKeyIsThereOnceAndSaysWhatItMeans) {
    for (const KeyTable& table : load_key_tables()) {
        EXPECT_FALSE(table.about.empty()) << table.path;
        std::set<std::string_view> names;
        for (const LoadKey& key : table.keys) {
            SCOPED_TRACE(joined(table, key.name));
            EXPECT_TRUE(names.insert(key.name).second);
            EXPECT_FALSE(key.meaning.empty());
            EXPECT_NE(key.meaning.back(), '.');
            // What may also be written in one line has an example of that; sections speak for themselves.
            EXPECT_TRUE(is_table(key.form) || !key.example.empty());
        }
    }
}

// Every other key that one may have stands beside it, so that nothing but its own value is wrong.
TEST(LoadKeys, DefaultsReadBackAsWhatCounts) {
    int read = 0;
    for (const KeyTable& table : load_key_tables()) {
        for (const LoadKey& key : table.keys) {
            const auto* const usual = std::get_if<double>(&key.usual);
            if (usual == nullptr) continue;
            SCOPED_TRACE(joined(table, key.name));
            ++read;
            const double told = parse_quantity(usual_text(key), key.dimension);
            EXPECT_NEAR(told, *usual, 1e-9 * (1 + std::abs(*usual)));
        }
    }
    EXPECT_GT(read, 20);
}

TEST(LoadKeys, AReaderCannotAskForWhatTheTableLacks) {
    const TomlNode node = parse_toml("width = \"8 mm\"\n", "rod.toml");
    Complaints complaints;
    TableReader rod(node, key_table("rod"), "rod", complaints);
    EXPECT_DOUBLE_EQ(rod.quantity("width").value_or(0), 0.008);
    EXPECT_THROW(rod.quantity("girth"), std::logic_error);
    EXPECT_THROW(static_cast<void>(rod.has("girth")), std::logic_error);
    EXPECT_THROW(rod.flag("width"), std::logic_error) << "read as something else";
    EXPECT_THROW(rod.choice("section", facing_words()), std::logic_error) << "other words";
    EXPECT_EQ(complaints.count(), 0U);
}

// --- every key is read: each gets a value that it cannot have, and the answer has to be about that key ---

struct Place {
    std::string load;   ///< that has the table
    std::string after;  ///< the key is put behind this; "" for the load's top
    std::string path;   ///< how messages name the table
    bool in_line = false;
};

const std::string shaped = with(small_load, "scan = \"box.off\"\nscan_unit = \"mm\"\nmass = \"3.6 kg\"",
                                "shape = \"turkey\"\nmass = \"5 kg\"");
const std::string raw = with(small_load, "scan_unit = \"mm\"", "clean = true");

/// Tables that the small load lacks, or holds in one line.
std::optional<Place> special_place(std::string_view path) {
    if (path.empty()) return Place{small_load, "", ""};
    if (path == "item.tape")
        return Place{with(shaped, "at = \"340 mm\"", "at = \"340 mm\"\ntape = { }"), "tape = { ",
                     "item[1].tape", true};
    if (path == "item.line") return Place{small_load, "line = { ", "item[1].line", true};
    if (path == "item.probe")
        return Place{small_load + "\n[[item.probe]]\n", "[[item.probe]]\n", "item[1].probe[1]"};
    if (path == "fork.clamp")
        return Place{with(small_load, "mass = \"160 g\"", "mass = \"160 g\"\nclamp = { }"), "clamp = { ",
                     "fork[1].clamp", true};
    if (path == "bracket" || path == "basket") {
        const std::string section = fmt::format("[[{}]]\n", path);
        return Place{small_load + "\n" + section, section, fmt::format("{}[1]", path)};
    }
    if (path == "bracket.clamp" || path == "basket.clamp") {
        const std::string name(path.substr(0, path.find('.')));
        return Place{small_load + fmt::format("\n[[{}]]\nclamp = {{ }}\n", name), "clamp = { ",
                     fmt::format("{}[1].clamp", name), true};
    }
    if (path == "fork.tine") return Place{small_load, "tine = [ { ", "fork[1].tine[1]", true};
    if (path == "stock.counterweights")
        return Place{small_load, "counterweights = [ { ", "stock.counterweights[1]", true};
    if (path == "cook.baste")
        return Place{with(small_load, "serve =", "baste = { }\nserve ="), "baste = { ", "cook.baste", true};
    if (path == "roll_test")
        return Place{small_load + "\n[[roll_test]]\n", "[[roll_test]]\n", "roll_test[1]"};
    if (path == "spread") return Place{small_load + "\n[spread]\n", "[spread]\n", "spread"};
    return std::nullopt;
}

/// A load in which that key may stand.
Place place_of(const KeyTable& table, const LoadKey& key) {
    if (const auto special = special_place(table.path)) return *special;
    const std::string_view beside = key.only_with;
    if (table.path == "cooker.surface") {
        const std::string shape =
            key.name == "shape" ? "" : fmt::format("{}\n", beside.empty() ? R"(shape = "box")" : beside);
        return {small_load + "\n[[cooker.surface]]\n# other\nname = \"other\"\n" + shape, "# other\n",
                "cooker.surface[3]"};
    }
    const std::string& load = beside == "shape" || beside == "no scan" ? shaped
                              : beside == "clean = true"               ? raw
                                                                       : small_load;
    return {load, table.is_list ? fmt::format("[[{}]]\n", table.path) : fmt::format("[{}]\n", table.path),
            table.is_list ? fmt::format("{}[1]", table.path) : std::string(table.path)};
}

/// The text without the line, or the element of an inline table, that gives the key behind `from`.
std::string without_key(std::string text, const Place& place, std::string_view key) {
    const std::size_t from = place.after.empty() ? 0 : text.find(place.after) + place.after.size();
    const std::size_t end =
        place.in_line ? text.find('}', from) : std::min(text.find("\n[", from), text.size());
    const std::string wanted = place.in_line ? fmt::format("{} = ", key) : fmt::format("\n{} = ", key);
    std::size_t at = text.find(wanted, from == 0 ? 0 : from - 1);
    if (from == 0 && text.starts_with(fmt::format("{} = ", key))) at = 0;
    if (at == std::string::npos || at >= end) return text;
    const std::size_t begin = place.in_line || at == 0 ? at : at + 1;
    if (!place.in_line) return text.erase(begin, text.find('\n', begin) + 1 - begin);
    // Up to the comma behind the value, which may be a list.
    std::size_t stop = begin;
    for (int depth = 0; stop < end && (depth > 0 || text[stop] != ','); ++stop)
        depth += text[stop] == '[' ? 1 : text[stop] == ']' ? -1 : 0;
    text.erase(begin, (stop < end ? stop + 1 : stop) - begin);
    // The last one of the table leaves a comma that TOML forbids there.
    const std::size_t comma = text.find_last_not_of(' ', text.find('}', from) - 1);
    return text[comma] == ',' ? text.erase(comma, 1) : text;
}

class EveryKey : public test::LoadTest {};

TEST_F(EveryKey, IsRead) {
    int tried = 0;
    for (const KeyTable& table : load_key_tables()) {
        for (const LoadKey& key : table.keys) {
            const std::string name(key.name);
            // Sections of a list that the load has already cannot be one value more.
            if (key.form == KeyForm::tables && key.example.empty()) continue;
            if (key.form == KeyForm::table && key.example.empty()) continue;
            const Place place = place_of(table, key);
            std::string text = without_key(place.load, place, name);
            const std::string& after = place.after;
            const std::size_t at = after.empty() ? 0 : text.find(after);
            ASSERT_NE(at, std::string::npos) << joined(table, name);
            // A date can be the value of no key.
            const bool more = place.in_line && text[text.find_first_not_of(' ', at + after.size())] != '}';
            text.insert(at + after.size(), place.in_line
                                               ? fmt::format("{} = 1979-05-27{}", name, more ? ", " : " ")
                                               : fmt::format("{} = 1979-05-27\n", name));
            SCOPED_TRACE(text);
            const std::string path = place.path.empty() ? name : fmt::format("{}.{}", place.path, name);
            const std::vector<Complaint> told = complaints(text);
            EXPECT_THAT(told, Contains(testing::AllOf(Field(&Complaint::key, path),
                                                      Field(&Complaint::found, Not("an unknown key")),
                                                      Field(&Complaint::found, HasSubstr("1979-05-27")))))
                << "nobody reads " << path;
            ++tried;
        }
    }
    EXPECT_GT(tried, 100);
}

TEST_F(EveryKey, ThatIsUnknownIsAnsweredFromTheTable) {
    for (const KeyTable& table : load_key_tables()) {
        for (const LoadKey& key : table.keys) {
            if (table.path != "rod" && table.path != "cook" && table.path != "spread") continue;
            const Place place = place_of(table, key);
            std::string text = place.load;
            const std::string slip = std::string(key.name) + "q";
            text.insert(text.find(place.after) + place.after.size(), slip + " = 1\n");
            EXPECT_THAT(complaints(text),
                        Contains(testing::AllOf(
                            Field(&Complaint::found, "an unknown key"),
                            Field(&Complaint::mend, fmt::format("did you mean '{}'?", key.name)))))
                << joined(table, key.name);
        }
    }
}

TEST_F(EveryKey, OfASpreadHasItsFigure) {
    EXPECT_EQ(key_table("spread").keys.size(), spread_keys.size() + 2) << "bearing_strength and none beside";
}

}  // namespace
}  // namespace evenspit
