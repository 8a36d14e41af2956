// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "geometry/types.h"
#include "load/key_words.h"
#include "load/load_keys.h"
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

/// Nor is more of anything counted, like the rods that one motor turns. Common practice, no source.
inline constexpr int most_counted = 200;

/// Nothing about a spit that one measures with a tape is longer: rods of the largest pits have 2.5 m. Common
/// practice, no source. More is a slip of the pen, m for mm, and would take very long to compute.
inline constexpr double longest_m = 5;

/// A quantity in SI, or a complaint and nothing. Lengths go up to `longest_m` either way.
std::optional<double> read_quantity(const TomlNode& node, const std::string& path, Dimension dimension,
                                    Range range, Complaints& complaints);

/// Reads one table key by key, as its rows in the table of keys say: what each may hold, whether it has to be
/// there, and what counts where it is not. refuse_unknown() complains about keys that have no row.
///
/// Every reader returns nothing when the key is absent or wrong; what is wrong, and a required key that is
/// absent, is added to the complaints. Holds references: table and complaints must outlive it.
///
/// \throws std::logic_error from every reader for a key that has no row, or one of another form: a reader
/// asks for what `keys` and the schema know nothing of
class TableReader {
  public:
    /// \param keys what the table may hold
    /// \param path how messages name the table: "rod", "item[1]"; "" for the file itself
    TableReader(const TomlNode& table, const KeyTable& keys, std::string path, Complaints& complaints);

    [[nodiscard]] const TomlNode& node() const { return *table_; }
    [[nodiscard]] const KeyTable& keys() const { return *keys_; }
    [[nodiscard]] const std::string& path() const { return path_; }
    [[nodiscard]] std::string path_of(std::string_view key) const;

    /// After this an absent key is passed over: the model that may hold it was not found, and that has been
    /// told.
    void forgive_missing() { forgive_missing_ = true; }

    /// Whether the key is there.
    [[nodiscard]] bool has(std::string_view key) const { return find(key) != nullptr; }
    /// The value of a key, null if absent.
    [[nodiscard]] const TomlNode* find(std::string_view key) const;

    std::optional<double> quantity(std::string_view key);
    std::optional<double> number(std::string_view key);
    std::optional<std::string> text(std::string_view key);
    /// A whole number, from 1.
    std::optional<int> count(std::string_view key);
    std::optional<bool> flag(std::string_view key);
    /// One of a few words.
    template <typename E>
    std::optional<E> choice(std::string_view key, const KeyWords<E>& words) {
        return choice_of(key, words, words);
    }
    /// One of those of the key's words that go with what else is said.
    ///
    /// \pre `own` is some of `words`, not empty
    template <typename E>
    std::optional<E> choice_of(std::string_view key, const KeyWords<E>& words, const KeyWords<E>& own) {
        const std::optional<std::size_t> index = choice_index(key, names_of(words), names_of(own));
        return index ? std::optional<E>(own[*index].second) : std::nullopt;
    }
    /// What is there, else what usually counts; that, too, where it is wrong, which has been told.
    double quantity_or_usual(std::string_view key);
    double number_or_usual(std::string_view key);
    int count_or_usual(std::string_view key);
    bool flag_or_usual(std::string_view key);
    template <typename E>
    E choice_or_usual(std::string_view key, const KeyWords<E>& words) {
        const std::optional<E> said = choice(key, words);
        const std::string& usual = usual_word(key);
        for (const auto& [name, value] : words) {
            if (!said && name == usual) return value;
        }
        return said.value();
    }

    /// A list of quantities, as many as the key's row says.
    std::optional<std::vector<double>> quantities(std::string_view key);
    /// A list of known words; each unknown or repeated one is told. Empty when absent.
    std::vector<std::string> words(std::string_view key);
    std::optional<Vec2> vector2(std::string_view key);  ///< lengths, m
    std::optional<Vec3> vector3(std::string_view key);  ///< lengths, m
    /// Two lengths, the first less than the second, m.
    std::optional<std::array<double, 2>> stretch(std::string_view key);
    /// A table.
    std::optional<TableReader> table(std::string_view key);
    /// A list of tables, `[[key]]` or `key = [ { … } ]`. Empty when absent, and when it is longer than
    /// `most`, which is told in one complaint.
    std::vector<TableReader> tables(std::string_view key, std::size_t most = most_tables);
    /// Complains if a list is longer than `most`, and tells whether it is.
    bool refuse_crowd(std::string_view key, std::size_t most = most_tables);

    /// Complains about a value of this table.
    void complain(std::string_view key, std::string found, std::string expected, std::string mend);
    /// Complains that a key is not there.
    void missing(std::string_view key, std::string expected, std::string mend);

    /// Complains if a quantity is not there that its row does not ask for: other keys do.
    void require(std::string_view key);

    /// Complains about every key that has no row, with the nearest one that has.
    void refuse_unknown();

    [[nodiscard]] Complaints& complaints() const { return *complaints_; }

  private:
    [[nodiscard]] const LoadKey& row(std::string_view key) const;
    [[nodiscard]] const LoadKey& row(std::string_view key, KeyForm form) const;
    [[nodiscard]] const std::string& usual_word(std::string_view key) const;
    [[nodiscard]] const KeyTable& keys_of(std::string_view key) const;
    [[nodiscard]] std::string add_table(std::string_view key) const;
    const TomlNode* find_or_miss(std::string_view key, std::string_view expected, std::string_view mend);
    const TomlNode* find_text(std::string_view key);
    std::optional<std::size_t> choice_index(std::string_view key, const std::vector<std::string>& words,
                                            const std::vector<std::string>& names);

    const TomlNode* table_;
    const KeyTable* keys_;
    std::string path_;
    Complaints* complaints_;
    bool forgive_missing_ = false;
};

}  // namespace evenspit
