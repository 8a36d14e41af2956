// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "body/shape.h"
#include "load/table_reader.h"

namespace evenspit {

/// The keys of an [[item]] that only a parametric body has, beside `shape` itself.
const std::vector<std::string_view>& shape_keys();

/// Makes the parametric body that the keys of a table describe: `shape`, `mass`, `trussed`, `trussing`,
/// `missing`, `stuffing`, `stuffing_density`, `giblets`, `cavity` and `tape`.
///
/// A shape's name is taken as same_name() does. Complains, and returns nothing, where a key is wrong, where
/// two are at odds, where only a bird has what a joint is said to have, and where no such body can be made.
std::optional<Body> read_shape(TableReader& given);

}  // namespace evenspit
