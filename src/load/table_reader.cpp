// SPDX-License-Identifier: MIT
#include "load/table_reader.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
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
        const double si = parse_quantity_within(node.text, dimension, range);
        if (dimension != Dimension::length || std::abs(si) <= longest_m) return si;
        complaints.add(node.spot, path, node.shown(), fmt::format("{:.0f} m at most", longest_m),
                       "check the number and its unit");
        return std::nullopt;
    } catch (const QuantityError& error) {
        complaints.add(node.spot, path, error.found(), error.expected(), error.mend());
        return std::nullopt;
    }
}

TableReader::TableReader(const TomlNode& table, const KeyTable& keys, std::string path,
                         Complaints& complaints)
    : table_(&table), keys_(&keys), path_(std::move(path)), complaints_(&complaints) {}

std::string TableReader::path_of(std::string_view key) const {
    return path_.empty() ? std::string(key) : fmt::format("{}.{}", path_, key);
}

const LoadKey& TableReader::row(std::string_view key) const {
    const LoadKey* const row = keys_->find(key);
    if (row == nullptr)
        throw std::logic_error(fmt::format("the table of keys lacks '{}' of [{}]", key, keys_->path));
    return *row;
}

const LoadKey& TableReader::row(std::string_view key, KeyForm form) const {
    const LoadKey& found = row(key);
    if (found.form != form)
        throw std::logic_error(fmt::format(
            "'{}' of [{}] is read as something else than the table of keys says", key, keys_->path));
    return found;
}

const std::string& TableReader::usual_word(std::string_view key) const {
    return std::get<std::string>(row(key, KeyForm::word).usual);
}

const KeyTable& TableReader::keys_of(std::string_view key) const {
    return key_table(keys_->path.empty() ? std::string(key) : fmt::format("{}.{}", keys_->path, key));
}

std::string TableReader::add_table(std::string_view key) const {
    if (!path_.empty()) return fmt::format("add {} = {{ … }}", key);
    const LoadKey* const model = keys_of(key).find("model");
    if (model == nullptr) return fmt::format("add a section [{}]", key);
    return fmt::format(
        "add a section [{}], and under it model = {} (evenspit models lists them), or figures "
        "of your own (evenspit keys {} tells which)",
        key, model->example, key);
}

const TomlNode* TableReader::find(std::string_view key) const {
    static_cast<void>(row(key));
    return table_->find(key);
}

const TomlNode* TableReader::find_or_miss(std::string_view key, std::string_view expected,
                                          std::string_view mend) {
    const TomlNode* value = find(key);
    if (value == nullptr && row(key).need == Need::required)
        missing(key, std::string(expected), std::string(mend));
    return value;
}

const TomlNode* TableReader::find_text(std::string_view key) {
    const TomlNode* value = find_or_miss(key, "a text", fmt::format("add {} = \"…\"", key));
    if (value == nullptr || value->kind == TomlNode::Kind::text) return value;
    complain(key, value->shown(), "a text in quotes", "");
    return nullptr;
}

std::optional<double> TableReader::quantity(std::string_view key) {
    const LoadKey& known = row(key, KeyForm::quantity);
    const TomlNode* value =
        find_or_miss(key, expected_quantity(known.dimension, known.range), add_key(key, known.dimension));
    return value == nullptr ? std::nullopt
                            : read_quantity(*value, path_of(key), known.dimension, known.range, *complaints_);
}

std::optional<double> TableReader::number(std::string_view key) {
    const Range range = row(key, KeyForm::number).range;
    const TomlNode* value = find(key);
    if (value == nullptr) return std::nullopt;
    const bool finite = value->kind == TomlNode::Kind::number && std::isfinite(value->number);
    if (finite && within(value->number, Dimension::number, range)) return value->number;
    complain(key, value->shown(), expected_quantity(finite ? value->number : 0, Dimension::number, range),
             "write it without a unit and without quotes, like 0.15");
    return std::nullopt;
}

std::optional<int> TableReader::count(std::string_view key) {
    static_cast<void>(row(key, KeyForm::count));
    const TomlNode* value = find(key);
    if (value == nullptr) return std::nullopt;
    const bool whole = value->kind == TomlNode::Kind::number && value->number >= 1 &&
                       value->number <= most_counted && value->number == std::floor(value->number);
    if (whole) return static_cast<int>(value->number);
    complain(key, value->shown(), fmt::format("a whole number from 1 to {}", most_counted),
             fmt::format("write {} = 2, without a unit and without quotes", key));
    return std::nullopt;
}

std::optional<std::string> TableReader::text(std::string_view key) {
    const TomlNode* value = find_text(key);
    return value == nullptr ? std::nullopt : std::optional(value->text);
}

std::optional<bool> TableReader::flag(std::string_view key) {
    static_cast<void>(row(key, KeyForm::flag));
    const TomlNode* value = find(key);
    if (value == nullptr) return std::nullopt;
    if (value->kind == TomlNode::Kind::boolean) return value->boolean;
    complain(key, value->shown(), "true or false, without quotes", "");
    return std::nullopt;
}

double TableReader::quantity_or_usual(std::string_view key) {
    return quantity(key).value_or(std::get<double>(row(key).usual));
}
double TableReader::number_or_usual(std::string_view key) {
    return number(key).value_or(std::get<double>(row(key).usual));
}
int TableReader::count_or_usual(std::string_view key) {
    return count(key).value_or(static_cast<int>(std::get<double>(row(key).usual)));
}
bool TableReader::flag_or_usual(std::string_view key) {
    return flag(key).value_or(std::get<bool>(row(key).usual));
}

std::optional<std::size_t> TableReader::choice_index(std::string_view key,
                                                     const std::vector<std::string>& words,
                                                     const std::vector<std::string>& names) {
    if (row(key, KeyForm::word).words != words)
        throw std::logic_error(fmt::format("'{}' of [{}] is read with other words than the table of keys has",
                                           key, keys_->path));
    if (find(key) == nullptr) {
        if (row(key).need == Need::required)
            missing(key, one_of(names), fmt::format("add {} = \"{}\"", key, names.front()));
        return std::nullopt;
    }
    const TomlNode* value = find_text(key);
    if (value == nullptr) return std::nullopt;
    const auto name = std::find(names.begin(), names.end(), value->text);
    if (name != names.end()) return static_cast<std::size_t>(name - names.begin());
    const auto near = nearest_word(value->text, names);
    complain(key, value->shown(), one_of(names), near ? fmt::format("did you mean \"{}\"?", *near) : "");
    return std::nullopt;
}

std::optional<std::vector<double>> TableReader::quantities(std::string_view key) {
    const LoadKey& known = row(key, KeyForm::quantities);
    const std::size_t count = known.count;
    const std::string expected =
        fmt::format("a list of {} quantities, each {}", count, dimension_name(known.dimension));
    std::string example = "[";
    for (std::size_t i = 0; i < count; ++i) example += i == 0 ? R"("20 mm")" : R"(, "20 mm")";
    const std::string mend =
        known.dimension == Dimension::length ? fmt::format("write {} = {}]", key, example) : "";

    const TomlNode* value = find_or_miss(key, expected, mend);
    if (value == nullptr) return std::nullopt;
    if (value->kind != TomlNode::Kind::array || value->elements.size() != count) {
        complain(key, value->shown(), expected, mend);
        return std::nullopt;
    }
    std::vector<double> quantities;
    for (std::size_t i = 0; i < count; ++i) {
        const std::string path = fmt::format("{}[{}]", path_of(key), i + 1);
        const auto si = read_quantity(value->elements[i], path, known.dimension, Range::any, *complaints_);
        if (si) quantities.push_back(*si);
    }
    if (quantities.size() != count) return std::nullopt;
    return quantities;
}

std::vector<std::string> TableReader::words(std::string_view key) {
    const std::vector<std::string>& known = row(key, KeyForm::words).words;
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

std::optional<Vec2> TableReader::vector2(std::string_view key) {
    const auto v = quantities(key);
    return v ? std::optional(Vec2(v->at(0), v->at(1))) : std::nullopt;
}

std::optional<Vec3> TableReader::vector3(std::string_view key) {
    const auto v = quantities(key);
    return v ? std::optional(Vec3(v->at(0), v->at(1), v->at(2))) : std::nullopt;
}

std::optional<std::array<double, 2>> TableReader::stretch(std::string_view key) {
    const auto v = quantities(key);
    if (!v) return std::nullopt;
    if (v->at(0) < v->at(1)) return std::array{(*v)[0], (*v)[1]};
    const auto& ends = find(key)->elements;
    complain(key, fmt::format("[{}, {}]", ends[0].shown(), ends[1].shown()),
             "the smaller first, then the larger", "");
    return std::nullopt;
}

std::optional<TableReader> TableReader::table(std::string_view key) {
    static_cast<void>(row(key, KeyForm::table));
    const TomlNode* value = find_or_miss(key, "a table", add_table(key));
    if (value == nullptr) return std::nullopt;
    if (value->kind == TomlNode::Kind::table)
        return TableReader(*value, keys_of(key), path_of(key), *complaints_);
    complain(key, value->shown(), "one table", path_.empty() ? fmt::format("write [{}]", key) : "");
    return std::nullopt;
}

std::vector<TableReader> TableReader::tables(std::string_view key, std::size_t most) {
    static_cast<void>(row(key, KeyForm::tables));
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
        readers.emplace_back(value->elements[i], keys_of(key), fmt::format("{}[{}]", path_of(key), i + 1),
                             *complaints_);
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
    // What comes from a model is right there, and at odds with what the load file says beside it.
    if (value != nullptr && value->spot.file != table_->spot.file) {
        mend += fmt::format("{}write {} = … beside model = …: it overrules the model's",
                            mend.empty() ? "" : "; or ", key);
        found += ", from the model";
        value = nullptr;
    }
    complaints_->add(value == nullptr ? table_->spot : value->spot, path_of(key), std::move(found),
                     std::move(expected), std::move(mend));
}

void TableReader::missing(std::string_view key, std::string expected, std::string mend) {
    if (!forgive_missing_)
        complaints_->add(table_->spot, path_of(key), "nothing", std::move(expected), std::move(mend));
}

void TableReader::require(std::string_view key) {
    const LoadKey& known = row(key, KeyForm::quantity);
    if (find(key) != nullptr) return;
    missing(key, expected_quantity(known.dimension, known.range), add_key(key, known.dimension));
}

void TableReader::refuse_unknown() {
    std::vector<std::string> known;
    for (const LoadKey& key : keys_->keys) known.emplace_back(key.name);
    std::sort(known.begin(), known.end());
    for (const TomlEntry& entry : table_->entries) {
        if (keys_->find(entry.key) != nullptr) continue;
        const auto near = nearest_word(entry.key, known);
        complaints_->add(
            entry.spot, path_of(entry.key), "an unknown key",
            near ? fmt::format("'{}'", *near) : fmt::format("one of: {}", fmt::join(known, ", ")),
            near ? fmt::format("did you mean '{}'?", *near) : "");
    }
}

}  // namespace evenspit
