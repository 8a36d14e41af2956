// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "rig/rig.h"

namespace evenspit {

struct Assembly;

/// What is spoken of: one thing of a load. Everything counts from 0, in the order of the load file.
struct Thing {
    enum class Kind { none, item, limb, fork, tine, counterweight, rod, motor, support, surface };
    Kind kind = Kind::none;
    std::size_t index = 0;  ///< which item, fork, counterweight, support or surface
    std::size_t part = 0;   ///< a tine: which of the fork; a limb: which of Body::swung of the item

    bool operator==(const Thing&) const = default;
};

/// Where a fork or a bracket stands in a load file: [[fork]] and [[bracket]] are counted each by itself,
/// from 1.
struct ForkSection {
    std::string_view name;
    std::size_t number = 1;
};
ForkSection fork_section(const std::vector<Fork>& forks, std::size_t index);

/// What a fork, its tines or a counterweight are called in the middle of a sentence: "fork 1", "bracket 2";
/// "tine", "leg".
std::string fork_name(const std::vector<Fork>& forks, std::size_t index);
std::string_view tine_word(const std::vector<Fork>& forks, std::size_t index);
std::string counterweight_name(std::size_t index);

/// What it is called in the middle of a sentence: "turkey", "goose, left wing swung out", "fork 1", "tine 2
/// of fork 1", "leg 1 of bracket 1", "coal bed"; "" for a thing that the load does not have.
std::string thing_name(const Thing& thing, const Assembly& assembly);

}  // namespace evenspit
