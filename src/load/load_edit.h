// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>

#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// A quantity as a load file holds it, without quotes: "347 mm", "15 deg", "0.3 kg". Reads back to exactly
/// the same double; in the shortest such text of the usual unit, else in SI.
///
/// For lengths, masses and angles.
///
/// \throws std::invalid_argument for another dimension or a value that is not finite
std::string exact_quantity(double si, Dimension dimension);

/// The text of a load file in which the places of things are those of `after`: seats of items (`at`,
/// `facing`, `turn`, `line`), forks (`at`, `points`, `clock`) and counterweights. Only what differs
/// from `before` is touched; comments and order are kept. A counterweight of the same mass and diameter is
/// moved where it stands in the file; one that is gone stays as a comment.
///
/// Roll tests that `after` has beyond those of `before` are added; one of something that has been moved stays
/// as a comment.
///
/// Reading the result gives seats, forks and counterweights equal to those of `after` to the last bit.
///
/// \pre `before` was read from `text`; items and forks of both are the same but for their places
/// \throws InputError if the text is not TOML
std::string edited_load(const std::string& text, const Assembly& before, const Assembly& after);

/// The text of a load file that moves from one folder to another: paths in it (scans, meshes of cooker
/// surfaces) that are relative to the old folder are made relative to the new one.
std::string moved_load(const std::string& text, const std::string& file, const std::filesystem::path& from,
                       const std::filesystem::path& to);

}  // namespace evenspit
