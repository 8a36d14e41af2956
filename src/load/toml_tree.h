// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "units/error.h"

namespace evenspit {

struct TomlEntry;

/// A value of a TOML file with its place. A plain copy of what the file says, free of the library that read
/// it.
struct TomlNode {
    enum class Kind { text, number, boolean, time, array, table };

    Kind kind = Kind::table;
    SourceSpot spot;   ///< of the value
    std::string text;  ///< a text; of a number or time: how it reads
    double number = 0;
    bool boolean = false;
    std::vector<TomlNode> elements;  ///< of an array
    std::vector<TomlEntry> entries;  ///< of a table

    /// The value of that key of a table, null if there is none.
    [[nodiscard]] const TomlNode* find(std::string_view key) const;
    /// What stands there, for a message: "'8 mm'", "13", "true", "a list of 3 values", "a table".
    [[nodiscard]] std::string shown() const;
};

/// A key of a table and what it holds.
struct TomlEntry {
    std::string key;
    SourceSpot spot;  ///< of the key
    TomlNode value;
};

/// Reads a TOML 1.0 file.
///
/// The file is taken for hostile: at most 1 MiB, keys and values nested at most 16 deep.
///
/// \throws InputError if it cannot be opened, is a directory, is too large, or is not TOML (line and column
/// are told).
TomlNode read_toml(const std::filesystem::path& file);

/// The same for a text; `file` is what messages call it.
TomlNode parse_toml(std::string_view text, const std::string& file);

}  // namespace evenspit
