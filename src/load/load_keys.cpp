// SPDX-License-Identifier: MIT
#include "load/load_keys.h"

#include <algorithm>
#include <stdexcept>

#include <fmt/format.h>

#include "load/key_rows.h"
#include "units/quantity.h"

namespace evenspit {
namespace {

using namespace key_rows;

std::string in_units(const InWords& words, UnitSystem units) {
    std::string text = words.text;
    std::size_t from = 0;
    for (const auto& [si, dimension] : words.figures) {
        const std::string figure = format_quantity(si, dimension, units);
        const std::size_t at = text.find("{}", from);
        if (at == std::string::npos) throw std::logic_error("more figures than places in: " + words.text);
        text.replace(at, 2, figure);
        from = at + figure.size();
    }
    return text;
}

KeyTable top_table() {
    return {.path = "",
            .about = "Above all sections",
            .keys = {
                in_words("the file's name", plain("title", KeyForm::text, R"("Harvest supper turkey")",
                                                  "What the load is called in results")),
                needed(plain("rod", KeyForm::table, "", "The rod")),
                needed(plain("motor", KeyForm::table, "", "The motor")),
                plain("cooker", KeyForm::table, "", "The cooker; without one no clearance is computed"),
                plain("item", KeyForm::tables, "",
                      "What is roasted, one section each; only loose pieces in a basket go without"),
                plain("fork", KeyForm::tables, "", "The forks, one section each"),
                plain("bracket", KeyForm::tables, "", "The spine brackets, one section each"),
                plain("basket", KeyForm::tables, "", "The wire baskets, one section each"),
                plain("counterweight", KeyForm::tables, "", "The counterweights on the rod"),
                plain("stock", KeyForm::table, "", "What lies ready for plan and roll to use"),
                plain("cook", KeyForm::table, "", "The cook; without it usual losses count"),
                plain("spread", KeyForm::table, "", "How far off hands and scales may be"),
                plain("roll_test", KeyForm::tables, "", "How the load came to rest when it was rolled"),
            }};
}

template <typename Tables>
void append(std::vector<KeyTable>& all, Tables tables) {
    for (KeyTable& table : tables) all.push_back(std::move(table));
}

}  // namespace

const LoadKey* KeyTable::find(std::string_view name) const {
    const auto at =
        std::find_if(keys.begin(), keys.end(), [name](const LoadKey& key) { return key.name == name; });
    if (at != keys.end()) return &*at;
    return any_other.empty() ? nullptr : &any_other.front();
}

const std::vector<KeyTable>& load_key_tables() {
    static const std::vector<KeyTable> tables = [] {
        std::vector<KeyTable> all{top_table()};
        append(all, rig_tables());
        append(all, cooker_tables());
        append(all, item_tables());
        append(all, cook_tables());
        append(all, spread_tables());
        return all;
    }();
    return tables;
}

const std::vector<KeyTable>& model_key_tables() {
    static const std::vector<KeyTable> tables = model_tables();
    return tables;
}

const KeyTable& key_table(std::string_view path) {
    for (const std::vector<KeyTable>* const tables : {&load_key_tables(), &model_key_tables()}) {
        for (const KeyTable& table : *tables) {
            if (table.path == path) return table;
        }
    }
    throw std::logic_error(fmt::format("no table of keys is called '{}'", path));
}

std::vector<std::string_view> keys_only_with(const KeyTable& table, std::string_view what) {
    std::vector<std::string_view> names;
    for (const LoadKey& key : table.keys) {
        if (key.only_with == what) names.push_back(key.name);
    }
    return names;
}

std::string usual_text(const LoadKey& key, UnitSystem units) {
    if (const auto* si = std::get_if<double>(&key.usual)) return format_quantity(*si, key.dimension, units);
    if (const auto* flag = std::get_if<bool>(&key.usual)) return *flag ? "true" : "false";
    if (const auto* word = std::get_if<std::string>(&key.usual)) return *word;
    if (const auto* words = std::get_if<InWords>(&key.usual)) return in_units(*words, units);
    return "";
}

}  // namespace evenspit
