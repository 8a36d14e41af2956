// SPDX-License-Identifier: MIT
#include "load/table_reader.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include <fmt/format.h>

#include "units/listed.h"
#include "units/nearest.h"
#include "units/quote.h"

namespace evenspit {

namespace {

// Each in double quotes.
std::string one_of(std::vector<std::string> names) {
    for (std::string& name : names) name = '"' + name + '"';
    return listed(names, "or");
}

// "mass = …, like "5.9 kg" or "12 lb 8 oz"".
std::string add_key(std::string_view key, Dimension dimension) {
    return fmt::format("add {} = …, like {}", key, unit_examples(dimension));
}

// A path as it is written in the file: "item[2].probe" is a [[item.probe]].
std::string without_counts(std::string_view path) {
    std::string plain;
    bool counting = false;
    for (const char c : path) {
        if (c == '[') counting = true;
        if (!counting) plain += c;
        if (c == ']') counting = false;
    }
    return plain;
}

}  // namespace

void Complaints::add(SourceSpot spot, std::string key, std::string found, std::string expected,
                     std::string mend) {
    Complaint complaint;
    complaint.spot = std::move(spot);
    complaint.key = std::move(key);
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    list_.push_back(std::move(complaint));
}

void Complaints::add(const InputError& error) {
    list_.insert(list_.end(), error.complaints().begin(), error.complaints().end());
}

void Complaints::throw_if_any(const std::string& main_file) const {
    if (list_.empty()) return;
    std::vector<Complaint> ordered = list_;
    const auto order = [&main_file](const Complaint& complaint) {
        const SourceSpot& spot = complaint.spot;
        return std::make_tuple(spot.file != main_file, std::string_view(spot.file), spot.line, spot.column);
    };
    std::stable_sort(ordered.begin(), ordered.end(),
                     [&order](const Complaint& a, const Complaint& b) { return order(a) < order(b); });
    throw InputError(std::move(ordered));
}

std::optional<double> read_quantity(const TomlNode& node, const std::string& path, Dimension dimension,
                                    Range range, Complaints& complaints) {
    // A bare number goes the same way, to be told how to write it.
    if (node.kind != TomlNode::Kind::text && node.kind != TomlNode::Kind::number) {
        complaints.add(node.spot, path, node.shown(), expected_quantity(dimension, range),
                       fmt::format("write it like {}", unit_examples(dimension)));
        return std::nullopt;
    }
    try {
        return parse_quantity_within(node.text, dimension, range);
    } catch (const QuantityError& error) {
        complaints.add(node.spot, path, error.found(), error.expected(), error.mend());
        return std::nullopt;
    }
}

TableReader::TableReader(const TomlNode& table, std::string path, Complaints& complaints)
    : table_(&table), path_(std::move(path)), complaints_(&complaints) {}

std::string TableReader::path_of(std::string_view key) const {
    return path_.empty() ? std::string(key) : fmt::format("{}.{}", path_, key);
}

const TomlNode* TableReader::find(std::string_view key) {
    known_.emplace(key);
    return table_->find(key);
}

const TomlNode* TableReader::find(std::string_view key, Need need, std::string_view expected,
                                  std::string_view mend) {
    const TomlNode* value = find(key);
    if (value == nullptr && need == Need::required) missing(key, std::string(expected), std::string(mend));
    return value;
}

const TomlNode* TableReader::find_text(std::string_view key, Need need) {
    const TomlNode* value = find(key, need, "a text", fmt::format("add {} = \"…\"", key));
    if (value == nullptr || value->kind == TomlNode::Kind::text) return value;
    complain(key, value->shown(), "a text in quotes", "");
    return nullptr;
}

std::optional<double> TableReader::quantity(std::string_view key, Dimension dimension, Range range,
                                            Need need) {
    const TomlNode* value = find(key, need, expected_quantity(dimension, range), add_key(key, dimension));
    return value == nullptr ? std::nullopt
                            : read_quantity(*value, path_of(key), dimension, range, *complaints_);
}

std::optional<double> TableReader::number(std::string_view key, Range range) {
    const TomlNode* value = find(key);
    if (value == nullptr) return std::nullopt;
    const bool finite = value->kind == TomlNode::Kind::number && std::isfinite(value->number);
    if (finite && within(value->number, Dimension::number, range)) return value->number;
    complain(key, value->shown(), expected_quantity(finite ? value->number : 0, Dimension::number, range),
             "write it without a unit and without quotes, like 0.15");
    return std::nullopt;
}

std::optional<std::string> TableReader::text(std::string_view key, Need need) {
    const TomlNode* value = find_text(key, need);
    return value == nullptr ? std::nullopt : std::optional(value->text);
}

std::optional<bool> TableReader::flag(std::string_view key) {
    const TomlNode* value = find(key);
    if (value == nullptr) return std::nullopt;
    if (value->kind == TomlNode::Kind::boolean) return value->boolean;
    complain(key, value->shown(), "true or false, without quotes", "");
    return std::nullopt;
}

std::optional<std::size_t> TableReader::choice_index(std::string_view key,
                                                     const std::vector<std::string>& names, Need need) {
    if (find(key) == nullptr) {
        if (need == Need::required)
            missing(key, one_of(names), fmt::format("add {} = \"{}\"", key, names.front()));
        return std::nullopt;
    }
    const TomlNode* value = find_text(key, need);
    if (value == nullptr) return std::nullopt;
    const auto name = std::find(names.begin(), names.end(), value->text);
    if (name != names.end()) return static_cast<std::size_t>(name - names.begin());
    const auto near = nearest_word(value->text, names);
    complain(key, value->shown(), one_of(names), near ? fmt::format("did you mean \"{}\"?", *near) : "");
    return std::nullopt;
}

std::optional<std::vector<double>> TableReader::quantities(std::string_view key, std::size_t count,
                                                           Dimension dimension, Need need) {
    const std::string expected =
        fmt::format("a list of {} quantities, each {}", count, dimension_name(dimension));
    std::string example = "[";
    for (std::size_t i = 0; i < count; ++i) example += i == 0 ? R"("20 mm")" : R"(, "20 mm")";
    const std::string mend =
        dimension == Dimension::length ? fmt::format("write {} = {}]", key, example) : "";

    const TomlNode* value = find(key, need, expected, mend);
    if (value == nullptr) return std::nullopt;
    if (value->kind != TomlNode::Kind::array || value->elements.size() != count) {
        complain(key, value->shown(), expected, mend);
        return std::nullopt;
    }
    std::vector<double> quantities;
    for (std::size_t i = 0; i < count; ++i) {
        const std::string path = fmt::format("{}[{}]", path_of(key), i + 1);
        const auto si = read_quantity(value->elements[i], path, dimension, Range::any, *complaints_);
        if (si) quantities.push_back(*si);
    }
    if (quantities.size() != count) return std::nullopt;
    return quantities;
}

std::vector<std::string> TableReader::words(std::string_view key, const std::vector<std::string>& known) {
    const TomlNode* value = find(key);
    if (value == nullptr) return {};
    if (value->kind != TomlNode::Kind::array) {
        complain(key, value->shown(), fmt::format("a list of {}", one_of(known)),
                 fmt::format("write {} = [\"{}\"]", key, known.front()));
        return {};
    }
    std::vector<std::string> words;
    for (std::size_t i = 0; i < value->elements.size(); ++i) {
        const TomlNode& element = value->elements[i];
        const std::string path = fmt::format("{}[{}]", path_of(key), i + 1);
        const bool is_text = element.kind == TomlNode::Kind::text;
        if (!is_text || std::find(known.begin(), known.end(), element.text) == known.end()) {
            const auto near = is_text ? nearest_word(element.text, known) : std::nullopt;
            complaints_->add(element.spot, path, element.shown(), one_of(known),
                             near ? fmt::format("did you mean \"{}\"?", *near) : "");
        } else if (std::find(words.begin(), words.end(), element.text) != words.end()) {
            complaints_->add(element.spot, path, fmt::format("{} once more", element.shown()), "each once",
                             "take it out");
        } else {
            words.push_back(element.text);
        }
    }
    return words;
}

std::optional<Vec2> TableReader::vector2(std::string_view key, Need need) {
    const auto v = quantities(key, 2, Dimension::length, need);
    return v ? std::optional(Vec2((*v)[0], (*v)[1])) : std::nullopt;
}

std::optional<Vec3> TableReader::vector3(std::string_view key, Need need) {
    const auto v = quantities(key, 3, Dimension::length, need);
    return v ? std::optional(Vec3((*v)[0], (*v)[1], (*v)[2])) : std::nullopt;
}

std::optional<std::array<double, 2>> TableReader::stretch(std::string_view key, Need need) {
    const auto v = quantities(key, 2, Dimension::length, need);
    if (!v) return std::nullopt;
    if ((*v)[0] < (*v)[1]) return std::array{(*v)[0], (*v)[1]};
    const auto& ends = find(key)->elements;
    complain(key, fmt::format("[{}, {}]", ends[0].shown(), ends[1].shown()),
             "the smaller first, then the larger", "");
    return std::nullopt;
}

std::optional<TableReader> TableReader::table(std::string_view key, Need need) {
    const TomlNode* value =
        find(key, need, "a table",
             path_.empty() ? fmt::format("add a section [{}]", key) : fmt::format("add {} = {{ … }}", key));
    if (value == nullptr) return std::nullopt;
    if (value->kind == TomlNode::Kind::table) return TableReader(*value, path_of(key), *complaints_);
    complain(key, value->shown(), "one table", path_.empty() ? fmt::format("write [{}]", key) : "");
    return std::nullopt;
}

std::vector<TableReader> TableReader::tables(std::string_view key, std::size_t most) {
    const TomlNode* value = find(key);
    if (value == nullptr || refuse_crowd(key, most)) return {};
    const bool are_tables =
        value->kind == TomlNode::Kind::array &&
        std::all_of(value->elements.begin(), value->elements.end(),
                    [](const TomlNode& element) { return element.kind == TomlNode::Kind::table; });
    if (!are_tables) {
        complain(key, value->shown(), "a list of tables",
                 fmt::format("write [[{}]], with two brackets, for each", without_counts(path_of(key))));
        return {};
    }
    std::vector<TableReader> readers;
    for (std::size_t i = 0; i < value->elements.size(); ++i) {
        readers.emplace_back(value->elements[i], fmt::format("{}[{}]", path_of(key), i + 1), *complaints_);
    }
    return readers;
}

bool TableReader::refuse_crowd(std::string_view key, std::size_t most) {
    const TomlNode* value = find(key);
    if (value == nullptr || value->kind != TomlNode::Kind::array || value->elements.size() <= most)
        return false;
    complain(key, value->shown(), fmt::format("at most {}", most), "take the rest out");
    return true;
}

void TableReader::complain(std::string_view key, std::string found, std::string expected, std::string mend) {
    const TomlNode* value = table_->find(key);
    complaints_->add(value == nullptr ? table_->spot : value->spot, path_of(key), std::move(found),
                     std::move(expected), std::move(mend));
}

void TableReader::missing(std::string_view key, std::string expected, std::string mend) {
    if (!forgive_missing_)
        complaints_->add(table_->spot, path_of(key), "nothing", std::move(expected), std::move(mend));
}

void TableReader::know(std::initializer_list<std::string_view> keys) {
    for (const std::string_view key : keys) known_.emplace(key);
}

void TableReader::refuse_unknown() {
    const std::vector<std::string> known(known_.begin(), known_.end());
    for (const TomlEntry& entry : table_->entries) {
        if (known_.contains(entry.key)) continue;
        const auto near = nearest_word(entry.key, known);
        complaints_->add(
            entry.spot, path_of(entry.key), "an unknown key",
            near ? fmt::format("'{}'", *near) : fmt::format("one of: {}", fmt::join(known, ", ")),
            near ? fmt::format("did you mean '{}'?", *near) : "");
    }
}

}  // namespace evenspit
