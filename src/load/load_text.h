// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace evenspit {

/// Where a value stands in a TOML file: names of keys and, for elements of lists, their place counted from 1.
using KeyPath = std::vector<std::string>;

/// Reads a path as people write it: "fork.1.at", "item[2].line.from.1", "rod.width".
///
/// \throws InputError if a part of it is empty or a bracket is not closed
KeyPath parse_key_path(std::string_view text);

/// "item[2].line.from[1]", as messages name keys.
std::string key_path_text(const KeyPath& path);

/// The text of a TOML file that can be changed in places. What is not changed, comments, order, spacing and
/// line ends, stays byte for byte.
///
/// Lists of tables are known in both spellings: sections `[[fork]]`, and `fork = [ { … } ]`. Values are given
/// and returned as they stand in the file, quotes included. Every change is made at once.
class LoadText {
  public:
    /// \throws InputError if the text is not TOML; `file` is what the message calls it
    LoadText(std::string text, std::string file);

    [[nodiscard]] const std::string& text() const { return text_; }

    /// The value that stands at a path, as written; nothing if the key is not there (or comes from a model).
    [[nodiscard]] std::optional<std::string> find(const KeyPath& path) const;
    /// Whether a value or a section stands at a path.
    [[nodiscard]] bool has(const KeyPath& path) const;
    /// How many elements the list at a path has, 0 if there is none.
    [[nodiscard]] std::size_t count(const KeyPath& list) const;

    /// Writes a value: over the one that stands there, or as a new key behind the last one of its table.
    ///
    /// \throws InputError if there is no such table, or the result is no TOML
    void set(const KeyPath& path, std::string_view value);

    /// Appends a table to a list at the file's top level: as a section behind the last one of the same name
    /// (else behind the last one of `after`, else at the end), or inside the brackets of an inline list.
    ///
    /// \throws InputError if the result is no TOML
    void append(const std::string& list, const std::vector<std::pair<std::string, std::string>>& keys,
                const std::string& after);

    /// Takes an element of a list of tables out. A section stays in the file as a comment; an element of an
    /// inline list is removed. Elements behind it move up.
    ///
    /// \throws InputError if there is no such element, or the result is no TOML
    void take_out(const std::string& list, std::size_t index);

  private:
    enum class Kind { value, list, inline_table, section };

    /// Anything with a path: bytes [begin, end) of the text. A section ends behind its last own key's line.
    struct Piece {
        KeyPath path;
        Kind kind = Kind::value;
        std::size_t begin = 0, end = 0;
    };
    class Scanner;

    [[nodiscard]] const Piece* piece(const KeyPath& path) const;
    /// Where a section ends with all the sections that lie within it.
    [[nodiscard]] std::size_t end_of_section(const KeyPath& path) const;
    void replace(std::size_t begin, std::size_t end, std::string_view by);
    void replace_value(const Piece& old, std::string_view value);
    void insert_key(const Piece& table, const std::string& key, std::string_view value);
    [[nodiscard]] std::string line_end() const;
    void scan();

    std::string text_;
    std::string file_;
    std::vector<Piece> pieces_;
};

}  // namespace evenspit
