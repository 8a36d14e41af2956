// SPDX-License-Identifier: MIT
#include "report/key_report.h"

#include <algorithm>
#include <cctype>
#include <cstddef>

#include <fmt/format.h>

#include "load/load_keys.h"
#include "report/json_parts.h"
#include "report/key_forms.h"
#include "report/text_layout.h"
#include "units/listed.h"
#include "units/unit_table.h"

namespace evenspit {
namespace {

std::string key_path(const KeyTable& table, const LoadKey& key) {
    return table.path.empty() ? std::string(key.name) : fmt::format("{}.{}", table.path, key.name);
}

/// As its section is written in the file; a table that may stand in one line, too.
std::string section_head(const KeyTable& table) {
    return table.is_list ? fmt::format("[[{}]]", table.path) : fmt::format("[{}]", table.path);
}

std::string as_sentence(std::string text) {
    if (text.empty()) return text;
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
    return text + '.';
}

/// Each as it stands in the file.
std::string quoted(std::vector<std::string> words, std::string_view last) {
    for (std::string& word : words) word = '"' + word + '"';
    return listed(words, last);
}

/// "" for a section, which speaks for itself.
std::string expected_words(const KeyTable& table, const LoadKey& key) {
    switch (key.form) {
        case KeyForm::text:
            return "a text";
        case KeyForm::word:
            return quoted(key.words, "or");
        case KeyForm::words:
            return "some of " + quoted(key.words, "and");
        case KeyForm::name:
            return "a name that evenspit models lists";
        case KeyForm::flag:
            return "either true or false";
        case KeyForm::number:
            return expected_quantity(Dimension::number, key.range);
        case KeyForm::quantity: {
            const std::string quantity = expected_quantity(key.dimension, key.range);
            return key.words.empty() ? quantity : fmt::format("{}, or {}", quantity, quoted(key.words, "or"));
        }
        case KeyForm::quantities:
            return fmt::format("a list of {}, each {}", key.count, dimension_name(key.dimension));
        case KeyForm::direction:
            return "a list of 3 plain numbers";
        case KeyForm::count:
            return "a whole number from 1";
        case KeyForm::counts:
            return "a list of whole numbers from 1";
        case KeyForm::marks:
            return "a list of texts";
        case KeyForm::profile:
            return "a list of points, each a list of 2 lengths";
        case KeyForm::time_of_day:
            return "a time of the day";
        case KeyForm::length_unit:
            return "a unit of length";
        case KeyForm::file:
            return "the name of a file";
        case KeyForm::files:
            return "the name of a file, or a list of several";
        case KeyForm::table:
        case KeyForm::tables:
            return key.example.empty() ? "" : "see " + section_head(key_table(key_path(table, key)));
    }
    return "";
}

/// Beyond what it means: what it may hold, and what counts without it.
std::string facts_words(const KeyTable& table, const LoadKey& key, UnitSystem units) {
    const std::string expected = expected_words(table, key);
    std::string facts = key.need == Need::optional ? expected
                        : expected.empty()         ? "needed"
                                                   : "needed: " + expected;
    if (const std::string usual = usual_text(key, units); !usual.empty()) facts += "; default " + usual;
    if (!key.only_with.empty()) facts += fmt::format("; only with {}", key.only_with);
    return facts;
}

bool names(const std::string& path, std::string_view wish) {
    return wish.empty() || path == wish || path.starts_with(std::string(wish) + '.');
}

/// The tables that a wish names, each with no more of its keys than it does.
std::vector<KeyTable> wished(const std::string& path) {
    std::vector<KeyTable> found;
    for (const auto* const tables : {&load_key_tables(), &model_key_tables()}) {
        if (tables == &model_key_tables() && path.empty()) continue;
        for (const KeyTable& table : *tables) {
            if (names(std::string(table.path), path)) {
                found.push_back(table);
                continue;
            }
            for (const LoadKey& key : table.keys) {
                const bool of_its_own = key.form == KeyForm::table || key.form == KeyForm::tables;
                if (of_its_own || key_path(table, key) != path) continue;
                KeyTable one = table;
                one.keys = {key};
                found.push_back(std::move(one));
                break;
            }
        }
    }
    return found;
}

void write_lines(std::string& text, const std::string& sentences, int indent, int width) {
    for (const std::string& line : wrapped(sentences, width - indent))
        text += std::string(static_cast<std::size_t>(indent), ' ') + line + '\n';
}

/// Lines broken between values, never inside one: the spaces in quotes stand aside meanwhile.
void write_example(std::string& text, std::string example, int indent, int width) {
    constexpr char aside = '~';
    bool in_quotes = false;
    for (char& c : example) {
        in_quotes = in_quotes != (c == '"');
        if (in_quotes && c == ' ') c = aside;
    }
    const std::size_t from = text.size();
    write_lines(text, example, indent, width);
    std::replace(text.begin() + static_cast<std::ptrdiff_t>(from), text.end(), aside, ' ');
}

void write_key(std::string& text, const KeyTable& table, const LoadKey& key, const TextOptions& options) {
    constexpr int key_indent = 2, indent = 6;
    const bool section = key.example.empty();
    write_example(text,
                  section ? section_head(key_table(key_path(table, key)))
                          : fmt::format("{} = {}", key.name, key.example),
                  key_indent, options.width);
    write_lines(
        text,
        as_sentence(std::string(key.meaning)) + ' ' + as_sentence(facts_words(table, key, options.units)),
        indent, options.width);
}

Json usual_json(const LoadKey& key) {
    if (const auto* si = std::get_if<double>(&key.usual)) return *si;
    if (const auto* flag = std::get_if<bool>(&key.usual)) return *flag;
    if (const auto* word = std::get_if<std::string>(&key.usual)) return *word;
    return {};
}

Json key_json(const KeyTable& table, const LoadKey& key) {
    Json json;
    json["key"] = key_path(table, key);
    json["form"] = form_name(key.form);
    if (key.form == KeyForm::quantity || key.form == KeyForm::quantities) {
        json["measures"] = dimension_name(key.dimension);
        json["units"] = Json::array();
        for (const std::string& unit : common_units(key.dimension))
            if (!unit.empty()) json["units"].push_back(unit);
    }
    if (key.range != Range::any)
        json["range"] = key.range == Range::positive ? "above zero" : "not below zero";
    if (key.count > 0) json["count"] = key.count;
    if (!key.words.empty()) json["words"] = key.words;
    json["needed"] = key.need == Need::required;
    if (const Json usual = usual_json(key); !usual.is_null()) json["default"] = usual;
    if (const std::string usual = usual_text(key); !usual.empty()) json["default_text"] = usual;
    if (!key.only_with.empty()) json["only_with"] = key.only_with;
    json["meaning"] = key.meaning;
    if (!key.example.empty()) json["example"] = key.example;
    return json;
}

}  // namespace

std::vector<std::string> key_paths() {
    std::vector<std::string> paths;
    for (const auto* const tables : {&load_key_tables(), &model_key_tables()}) {
        for (const KeyTable& table : *tables) {
            if (!table.path.empty()) paths.emplace_back(table.path);
            for (const LoadKey& key : table.keys) paths.push_back(key_path(table, key));
        }
    }
    return paths;
}

std::string keys_text(const KeyWish& wish, const TextOptions& options) {
    std::string text;
    for (const KeyTable& table : wished(wish.path)) {
        if (!text.empty()) text += '\n';
        const std::string about(table.about);
        write_lines(text, table.path.empty() ? about : fmt::format("{}  {}", section_head(table), about), 0,
                    options.width);
        for (const LoadKey& key : table.keys) write_key(text, table, key, options);
        for (const LoadKey& key : table.any_other) write_key(text, table, key, options);
    }
    return text;
}

std::string keys_json(const KeyWish& wish) {
    Json json;
    json["tool"] = tool_json();
    json["tables"] = Json::array();
    for (const KeyTable& table : wished(wish.path)) {
        Json told;
        told["table"] = table.path;
        told["list"] = table.is_list;
        told["about"] = table.about;
        told["keys"] = Json::array();
        for (const LoadKey& key : table.keys) told["keys"].push_back(key_json(table, key));
        for (const LoadKey& key : table.any_other) told["keys"].push_back(key_json(table, key));
        json["tables"].push_back(std::move(told));
    }
    return json_text(json);
}

}  // namespace evenspit
