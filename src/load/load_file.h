// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string_view>

#include "files/kept_files.h"
#include "load/assembly.h"

namespace evenspit {

/// Reads a load file and all it names (models, scans), makes the bodies, and puts everything together.
///
/// Paths in the file are relative to it; `model = "name"` is looked up in `models`. Every complaint of the
/// file is collected before giving up, so that a cook mends them in one go.
///
/// \param kept where shapes are kept from run to run; null: nowhere. They are the same to the last bit.
/// \throws InputError naming file, line, column, key, what was found, what was expected and how to mend it:
/// not TOML, unknown keys
///         (with the nearest known one), a bare number where a unit is due, the wrong dimension, values out
///         of range, contradictory keys, missing keys, files that are not there, meshes that bound no solid.
Assembly read_load(const std::filesystem::path& file, const std::filesystem::path& models,
                   const KeptFiles* kept = nullptr);

/// The same for a text that would stand in `file`: messages name that file, and paths are relative to it. The
/// file itself is not touched and need not be there.
Assembly read_load_text(std::string_view text, const std::filesystem::path& file,
                        const std::filesystem::path& models, const KeptFiles* kept = nullptr);

}  // namespace evenspit
