// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenspit {

/// Least number of letters to insert, delete, change, or swap with their neighbour to get from one word to
/// the other; no letter is touched twice (optimal string alignment, a restricted Damerau–Levenshtein
/// distance). Bytes count, ASCII case does not.
///
/// Time and memory grow with the product of the lengths.
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The candidate that a typist most likely meant by `word`: the least edit distance, the earlier one of
/// equals.
///
/// Nothing when even the nearest is too far to be a slip: more than a third of the longer word's letters (at
/// least one). A word longer than 64 letters is no slip of anything.
std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& candidates);

/// Whether two names mean the same: case does not count, and spaces and underscores are as hyphens, as in
/// "Leg of lamb" and "leg-of-lamb".
bool same_name(std::string_view a, std::string_view b);

}  // namespace evenspit
