// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "body/bird.h"
#include "body/shape.h"
#include "load/table_reader.h"

namespace evenspit {

/// A key of an item's `tape` and what it measures.
struct TapeKey {
    std::string_view key;
    std::optional<double> body::BirdTape::*length_m;
};

inline constexpr std::array<TapeKey, 6> tape_keys{{{"length", &body::BirdTape::length},
                                                   {"width", &body::BirdTape::width},
                                                   {"depth", &body::BirdTape::depth},
                                                   {"breast_width", &body::BirdTape::breast_width},
                                                   {"girth", &body::BirdTape::girth},
                                                   {"leg_splay", &body::BirdTape::leg_splay}}};

/// The keys of an [[item]] that only a parametric body has, beside `shape` itself.
const std::vector<std::string_view>& shape_keys();

/// Makes the parametric body that the keys of a table describe: `shape`, `mass`, `trussed`, `trussing`,
/// `missing`, `stuffing`, `stuffing_density`, `giblets`, `cavity` and `tape`.
///
/// A shape's name is taken as same_name() does. Complains, and returns nothing, where a key is wrong, where
/// two are at odds, where only a bird has what a joint is said to have, and where no such body can be made.
std::optional<body::Body> read_shape(TableReader& given);

}  // namespace evenspit
