// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "load/assembly.h"
#include "load/reading.h"

namespace evenspit {

/// The keys of an [[item]] that only a parametric body has, beside `shape` itself.
const std::vector<std::string_view>& shape_keys();

/// Makes the parametric body of an [[item]] that has a `shape`, and tells the item what that shape is;
/// nothing where there are complaints.
std::optional<Body> read_shape_body(TableReader& given, Item& item);

}  // namespace evenspit
