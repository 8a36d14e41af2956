// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "units/quantity.h"
#include "units/range.h"

namespace evenspit {

/// Whether a key has to be there.
enum class Need { optional, required };

/// How the value of a key is written.
enum class KeyForm {
    text,         ///< any text
    word,         ///< one of LoadKey::words
    words,        ///< a list of some of them, each once
    name,         ///< a name of a list that is kept elsewhere: a model, a body
    flag,         ///< true or false
    number,       ///< without a unit
    quantity,     ///< with a unit; or one of LoadKey::words, if there are any
    quantities,   ///< a list of LoadKey::count of them
    direction,    ///< a list of three numbers, not all zero
    count,        ///< a whole number, from 1
    counts,       ///< a list of them
    marks,        ///< a list of texts that the program wrote
    profile,      ///< a list of points, each [radius, height]
    time_of_day,  ///< "18:30"
    length_unit,  ///< the name of one: "mm"
    file,         ///< the name of a file, from the folder of the file that names it
    files,        ///< one such name, or a list of several
    table,        ///< keys of their own
    tables        ///< any number of such tables
};

/// What counts where a key is not given, in words: "the rod's own section", "{} by {}" with two lengths.
struct InWords {
    std::string text;
    std::vector<std::pair<double, Dimension>> figures{};  ///< SI; in the place of each {}
};

/// What counts where a key is not given: nothing to tell, a quantity in SI or a number, true or false, a
/// word, or something that hangs on other things.
using Usual = std::variant<std::monostate, double, bool, std::string, InWords>;

/// A key of a load file or a model: all that is known of it. Readers, the answer to an unknown key, `keys`
/// and the schema go by this.
struct LoadKey {
    std::string_view name;
    KeyForm form = KeyForm::text;
    std::string_view meaning{};  ///< in a cook's words, without a full stop
    std::string_view example{};  ///< a value as it stands in the file, quotes included; "" for tables
    Need need = Need::optional;
    Dimension dimension = Dimension::number;  ///< of a quantity
    Range range = Range::any;                 ///< of a quantity or a number
    std::size_t count = 0;                    ///< of a list of quantities
    std::vector<std::string> words{};
    Usual usual{};
    std::string_view only_with{};  ///< what has to stand beside it: "scan", "clean = true"
};

/// The keys of one table.
struct KeyTable {
    std::string_view path{};   ///< "item.tape"; "" for what stands above all sections
    std::string_view about{};  ///< what it tells, without a full stop
    bool is_list = false;      ///< [[fork]] rather than [rod]
    std::vector<LoadKey> keys{};
    std::vector<LoadKey> any_other{};  ///< one row if it takes keys of any name: the places of `pull`

    /// The row of a key, null if the table has no such key.
    [[nodiscard]] const LoadKey* find(std::string_view name) const;
};

/// Every table of a load file, in the order in which one writes them.
const std::vector<KeyTable>& load_key_tables();

/// What only files of `models/` have: "material" and its "material.hot", and "model", what each such file
/// begins with.
const std::vector<KeyTable>& model_key_tables();

/// One of all these tables.
///
/// \throws std::logic_error if there is none of that path
const KeyTable& key_table(std::string_view path);

/// The names of the keys that may only stand beside that.
std::vector<std::string_view> keys_only_with(const KeyTable& table, std::string_view what);

/// What counts where the key is not given, as one would write it in those units: "3°", "true", "the rod's own
/// section"; "" where there is nothing to tell.
std::string usual_text(const LoadKey& key, UnitSystem units = UnitSystem::metric);

}  // namespace evenspit
