// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <initializer_list>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "geometry/types.h"
#include "load/toml_tree.h"
#include "units/error.h"
#include "units/quantity.h"
#include "units/range.h"

namespace evenspit {

/// The complaints of one pass over a load file and all it names.
class Complaints {
  public:
    void add(SourceSpot spot, std::string key, std::string found, std::string expected, std::string mend);
    void add(const InputError& error);

    [[nodiscard]] std::size_t count() const { return list_.size(); }

    /// \throws InputError with all of them if there are any: those of `main_file` first, by line and column,
    /// then the others.
    void throw_if_any(const std::string& main_file) const;

  private:
    std::vector<Complaint> list_;
};

/// No list of tables in a load file is longer: 200 items, forks, counterweights, surfaces … are more than any
/// rod holds, and far from what would take long. Common practice, no source.
inline constexpr std::size_t most_tables = 200;

/// Whether a key has to be there.
enum class Need { optional, required };

/// A quantity in SI, or a complaint and nothing.
std::optional<double> read_quantity(const TomlNode& node, const std::string& path, Dimension dimension,
                                    Range range, Complaints& complaints);

/// Reads one table key by key. Each key that was asked for counts as known; refuse_unknown() complains about
/// the rest.
///
/// Every reader returns nothing when the key is absent or wrong; what is wrong, and a required key that is
/// absent, is added to the complaints. Holds references: table and complaints must outlive it.
class TableReader {
  public:
    /// \param path how messages name the table: "rod", "item[1]"; "" for the file itself
    TableReader(const TomlNode& table, std::string path, Complaints& complaints);

    [[nodiscard]] const TomlNode& node() const { return *table_; }
    [[nodiscard]] const std::string& path() const { return path_; }
    [[nodiscard]] std::string path_of(std::string_view key) const;

    /// After this an absent key is passed over: the model that may hold it was not found, and that has been
    /// told.
    void forgive_missing() { forgive_missing_ = true; }

    /// Whether the key is there. Marks it as known.
    [[nodiscard]] bool has(std::string_view key) { return find(key) != nullptr; }
    /// The value of a key, null if absent. Marks it as known.
    const TomlNode* find(std::string_view key);

    std::optional<double> quantity(std::string_view key, Dimension dimension, Range range = Range::any,
                                   Need need = Need::optional);
    std::optional<double> number(std::string_view key, Range range = Range::any);
    std::optional<std::string> text(std::string_view key, Need need = Need::optional);
    std::optional<bool> flag(std::string_view key);
    /// One of a few words.
    template <typename E>
    std::optional<E> choice(std::string_view key, const std::vector<std::pair<std::string, E>>& words,
                            Need need = Need::optional) {
        std::vector<std::string> names;
        names.reserve(words.size());
        for (const auto& [name, value] : words) names.push_back(name);
        const std::optional<std::size_t> index = choice_index(key, names, need);
        return index ? std::optional<E>(words[*index].second) : std::nullopt;
    }
    /// A list of exactly `count` quantities.
    std::optional<std::vector<double>> quantities(std::string_view key, std::size_t count,
                                                  Dimension dimension, Need need = Need::optional);
    /// A list of known words; each unknown or repeated one is told. Empty when absent.
    std::vector<std::string> words(std::string_view key, const std::vector<std::string>& known);
    std::optional<Vec2> vector2(std::string_view key, Need need = Need::optional);  ///< lengths, m
    std::optional<Vec3> vector3(std::string_view key, Need need = Need::optional);  ///< lengths, m
    /// Two lengths, the first less than the second, m.
    std::optional<std::array<double, 2>> stretch(std::string_view key, Need need = Need::optional);
    /// A table.
    std::optional<TableReader> table(std::string_view key, Need need = Need::optional);
    /// A list of tables, `[[key]]` or `key = [ { … } ]`. Empty when absent, and when it is longer than
    /// `most`, which is told in one complaint.
    std::vector<TableReader> tables(std::string_view key, std::size_t most = most_tables);
    /// Complains if a list is longer than `most`, and tells whether it is.
    bool refuse_crowd(std::string_view key, std::size_t most = most_tables);

    /// Complains about a value of this table.
    void complain(std::string_view key, std::string found, std::string expected, std::string mend);
    /// Complains that a key is not there.
    void missing(std::string_view key, std::string expected, std::string mend);

    /// Marks keys as known without reading them.
    void know(std::initializer_list<std::string_view> keys);
    /// Complains about every key that was not asked for, with the nearest one that was.
    void refuse_unknown();

    [[nodiscard]] Complaints& complaints() const { return *complaints_; }

  private:
    const TomlNode* find(std::string_view key, Need need, std::string_view expected, std::string_view mend);
    const TomlNode* find_text(std::string_view key, Need need);
    std::optional<std::size_t> choice_index(std::string_view key, const std::vector<std::string>& names,
                                            Need need);

    const TomlNode* table_;
    std::string path_;
    Complaints* complaints_;
    bool forgive_missing_ = false;
    std::set<std::string, std::less<>> known_;
};

}  // namespace evenspit
