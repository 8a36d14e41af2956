// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

namespace evenspit {

/// Keys stay in the order in which they were put.
using Json = nlohmann::ordered_json;

/// Sets a number; one that is not finite, or absent, is left out. No −0.
void put(Json& object, std::string_view key, double value);
void put(Json& object, std::string_view key, const std::optional<double>& value);

/// A JSON value as text, made to be read: one key a line, but lists of numbers and of number pairs in rows.
///
/// Numbers have the fewest digits that read back as the same double. Bytes that are no UTF-8 become U+FFFD.
/// Ends with a line break.
std::string json_text(const Json& value);

}  // namespace evenspit
