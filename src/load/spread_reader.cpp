// SPDX-License-Identifier: MIT
#include "load/spread_reader.h"

#include <numbers>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "load/spread_keys.h"
#include "units/listed.h"
#include "units/metric.h"

namespace evenspit {
namespace {

using enum Dimension;

// Nobody is off by more who has measured at all. Common practice, no source.
double most(Dimension dimension) {
    switch (dimension) {
        case length:
            return 0.1;
        case angle:
            return std::numbers::pi / 2;
        default:
            return 1;
    }
}

std::optional<double> read_one(TableReader& given, std::string_view key, Dimension dimension) {
    const auto off = given.quantity(key);
    if (!off || *off <= most(dimension)) return off;
    given.complain(
        key, given.find(key)->shown(),
        fmt::format("{} of at most {}", dimension_name(dimension), metric(most(dimension), dimension)),
        key == "limb_loose" ? "it is the chance that a tie comes undone"
                            : "it is one standard deviation: two times in three it is off by less");
    return std::nullopt;
}

}  // namespace

Spread read_spread(TableReader& given) {
    Spread spread;
    std::vector<std::string> there;
    for (const SpreadKey& known : spread_keys) {
        if (given.has(known.key)) there.emplace_back(known.key);
        if (const auto off = read_one(given, known.key, known.dimension)) spread.*known.member = *off;
    }
    if (given.has("bearing_strength")) there.emplace_back("bearing_strength");
    spread.bearing_strength = read_one(given, "bearing_strength", share);
    const bool none = given.flag_or_usual("none");
    if (none && !there.empty()) {
        given.complain("none", fmt::format("none = true beside {}", listed(there, "and")),
                       "none = true alone", "take it out, or the others");
    }
    given.refuse_unknown();
    return none ? Spread::none() : spread;
}

}  // namespace evenspit
