// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "body/bird.h"
#include "body/shape.h"
#include "files/kept_files.h"
#include "load/table_reader.h"

namespace evenspit {

/// A key of an item's `tape` and what it measures.
struct TapeKey {
    std::string_view key;
    std::optional<double> body::BirdTape::*length_m;
    std::string_view example;
    std::string_view meaning;
};

inline constexpr std::array<TapeKey, 6> tape_keys{
    {{"length", &body::BirdTape::length, R"("37 cm")",
      "Over all, of a bird from the drumsticks' ends to the neck"},
     {"width", &body::BirdTape::width, R"("27 cm")", "Over all, limbs as they lie"},
     {"depth", &body::BirdTape::depth, R"("21 cm")", "Over all, of a bird from back to breast"},
     {"breast_width", &body::BirdTape::breast_width, R"("19 cm")", "Of a bird: across the breast alone"},
     {"girth", &body::BirdTape::girth, R"("66 cm")", "Of a bird: round it where that is most"},
     {"leg_splay", &body::BirdTape::leg_splay, R"("12 cm")",
      "Of a bird: from one drumstick's end to the other"}}};

/// A shape's name as the program writes it, taken as same_name() does; "" for none that it knows.
std::string known_shape(const std::string& written);

/// Makes the parametric body that the keys of a table describe: `shape`, `mass`, `trussed`, `trussing`,
/// `missing`, `stuffing`, `stuffing_density`, `giblets`, `cavity` and `tape`.
///
/// Complains, and returns nothing, where a key is wrong, where
/// two are at odds, where only a bird has what a joint is said to have, and where no such body can be made.
///
/// \param kept where shapes are kept from run to run; null: nowhere
std::optional<body::Body> read_shape(TableReader& given, const KeptFiles* kept);

}  // namespace evenspit
