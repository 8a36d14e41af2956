// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/report.h"

namespace evenspit {

/// Tables of a load file, or keys of them, to be told: "item", "item.tape", "rod.width"; "" for all tables.
///
/// A table comes with those inside it.
struct KeyWish {
    std::string path;
};

/// What a wish may name: every table and every key of a load file and of the files of `models/`.
std::vector<std::string> key_paths();

/// The keys as a cook reads them: an example, what it means, what it may hold, what counts without it, this
/// in the reader's units.
///
/// \pre the path is "" or one of key_paths()
std::string keys_text(const KeyWish& wish, const TextOptions& options);

/// The same as one JSON object.
std::string keys_json(const KeyWish& wish);

/// A JSON Schema (draft 2020-12) of a load file: of what its TOML says, as JSON.
std::string load_schema();

}  // namespace evenspit
