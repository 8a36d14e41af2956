// SPDX-License-Identifier: MIT
#include "report/key_report.h"

#include <algorithm>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "load/load_keys.h"
#include "load/toml_tree.h"
#include "report/text_layout.h"

namespace evenspit {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

TEST(KeyReport, TellsATableWithThoseInsideIt) {
    const std::string fork = keys_text({"fork"}, {});
    EXPECT_THAT(fork, StartsWith("[[fork]] A fork"));
    EXPECT_THAT(fork, AllOf(HasSubstr("\n[fork.clamp] "), HasSubstr("\n[[fork.tine]] ")));
    EXPECT_THAT(fork, HasSubstr("  clock = \"210 deg\"\n"
                                "      How the whole fork is turned on the rod. An angle; default 0°.\n"));
    EXPECT_THAT(fork, Not(HasSubstr("[rod]")));
    const TextOptions wide{.width = 200};
    EXPECT_THAT(keys_text({"rod.width"}, wide),
                AllOf(HasSubstr("  width = \"8 mm\"\n"), HasSubstr("Needed: a length above zero."),
                      Not(HasSubstr("length ="))));
    EXPECT_THAT(keys_text({"rod.section"}, wide), HasSubstr("\"square\", \"round\" or \"hexagon\""));
}

TEST(KeyReport, TellsDefaultsInTheReadersUnits) {
    const TextOptions metric{.width = 200}, us{.units = UnitSystem::us, .width = 200};
    EXPECT_THAT(keys_text({"cooker.surface.keep"}, metric), HasSubstr("default 25 mm, 50 mm from fire"));
    EXPECT_THAT(keys_text({"cooker.surface.keep"}, us), HasSubstr("default 0.984 in, 1.97 in from fire"));
    EXPECT_THAT(keys_text({"cooker.slot"}, us), AllOf(HasSubstr("in by "), Not(HasSubstr("mm; "))));
    EXPECT_THAT(keys_text({"rod.temperature"}, us), HasSubstr("else 500 °F"));
    EXPECT_THAT(keys_text({"rod.temperature"}, metric), HasSubstr("else 260 °C"));
    EXPECT_THAT(keys_text({"spread.rod_line"}, us), HasSubstr(" in."));
    // No default is told in metric units to a reader of others.
    EXPECT_THAT(keys_text({""}, {.units = UnitSystem::us, .width = 1000}),
                Not(testing::ContainsRegex("default [0-9.]+ (mm|kg|g|°C|m)[.;,]")));
    EXPECT_THAT(keys_text({"motor.rods"}, metric), HasSubstr("A whole number from 1; default 1."));
}

TEST(KeyReport, TellsAllInLinesThatFit) {
    for (const int width : {60, 80}) {
        std::istringstream lines(keys_text({""}, {.width = width}));
        int count = 0;
        for (std::string line; std::getline(lines, line); ++count)
            EXPECT_LE(display_width(line), width) << line;
        EXPECT_GT(count, 300);
    }
    const std::string all = keys_text({""}, {});
    for (const KeyTable& table : load_key_tables()) {
        for (const LoadKey& key : table.keys) {
            if (key.example.empty()) continue;
            EXPECT_THAT(all, HasSubstr("  " + std::string(key.name) + " = "));
        }
    }
    // Files of models have keys of their own, which are told on demand.
    EXPECT_THAT(all, Not(HasSubstr("[material]")));
    EXPECT_THAT(keys_text({"material"}, {}), HasSubstr("[[material.hot]]"));
}

TEST(KeyReport, NoExampleIsBrokenInsideAValue) {
    std::istringstream lines(keys_text({"fork.tine"}, {.width = 40}) + keys_text({"stock"}, {.width = 40}));
    for (std::string line; std::getline(lines, line);) {
        if (!line.starts_with("  ") || line.starts_with("      ")) continue;
        EXPECT_EQ(std::count(line.begin(), line.end(), '"') % 2, 0) << line;
    }
}

TEST(KeyReport, EveryExampleIsToml) {
    for (const KeyTable& table : load_key_tables()) {
        for (const LoadKey& key : table.keys) {
            if (key.example.empty()) continue;
            const std::string line = std::string(key.name) + " = " + std::string(key.example);
            EXPECT_NO_THROW(static_cast<void>(parse_toml(line, "example"))) << line;
        }
    }
}

TEST(KeyReport, IsDataToo) {
    const json all = json::parse(keys_json({""}));
    EXPECT_EQ(all["tables"].size(), load_key_tables().size());
    const json play = json::parse(keys_json({"motor.play"}))["tables"][0]["keys"][0];
    EXPECT_EQ(play["key"], "motor.play");
    EXPECT_EQ(play["form"], "quantity");
    EXPECT_EQ(play["measures"], "an angle");
    EXPECT_THAT(play["units"], Contains("deg"));
    EXPECT_NEAR(play["default"].get<double>(), 3 * 3.14159265358979 / 180, 1e-12);
    EXPECT_EQ(play["default_text"], "3°");
    EXPECT_EQ(play["needed"], false);
    EXPECT_EQ(json::parse(keys_json({"cook.pull"}))["tables"][0]["keys"][0]["key"], "cook.pull.PLACE");
}

TEST(KeyReport, ThePathsAreThoseThatCanBeAskedFor) {
    const std::vector<std::string> paths = key_paths();
    EXPECT_THAT(paths, AllOf(Contains("item"), Contains("item.tape"), Contains("item.tape.girth"),
                             Contains("title"), Contains("material.hot")));
    for (const std::string& path : paths) EXPECT_FALSE(keys_text({path}, {}).empty()) << path;
}

// --- the schema ---

/// The schema of a table, from the file's on.
const json& schema_of(const json& schema, std::string_view path) {
    const json* at = &schema;
    while (!path.empty()) {
        const std::string_view key = path.substr(0, path.find('.'));
        at = &at->at("properties").at(std::string(key));
        if (at->value("type", "") == "array") at = &at->at("items");
        path.remove_prefix(std::min(path.size(), key.size() + 1));
    }
    return *at;
}

TEST(LoadSchema, HasTheKeysOfTheTableAndNoOthers) {
    const json schema = json::parse(load_schema());
    EXPECT_EQ(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    for (const KeyTable& table : load_key_tables()) {
        SCOPED_TRACE(std::string(table.path));
        const json& told = schema_of(schema, table.path);
        std::vector<std::string> there, wanted;
        for (const auto& [key, value] : told["properties"].items()) there.push_back(key);
        for (const LoadKey& key : table.keys) wanted.emplace_back(key.name);
        EXPECT_THAT(there, testing::UnorderedElementsAreArray(wanted));
        const json& others = told["additionalProperties"];
        EXPECT_TRUE(table.any_other.empty() ? others == json(false) : others.is_object()) << others;
    }
}

TEST(LoadSchema, SaysWhatHasToStandBesideWhat) {
    const json schema = json::parse(load_schema());
    EXPECT_THAT(schema["required"], testing::UnorderedElementsAre("rod", "motor"));
    EXPECT_EQ(schema["anyOf"][0]["required"], json({"item"}));
    EXPECT_EQ(schema["anyOf"][1]["required"], json({"basket"})) << "of loose pieces";
    const json& item = schema_of(schema, "item");
    EXPECT_THAT(item["required"], testing::ElementsAre("at"));
    EXPECT_EQ(item["dependentRequired"]["tape"], json({"shape"}));
    EXPECT_EQ(item["oneOf"].size(), 2U);
    EXPECT_EQ(schema_of(schema, "item")["properties"]["turn"]["default"], "0°");
}

}  // namespace
}  // namespace evenspit
