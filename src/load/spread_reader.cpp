// SPDX-License-Identifier: MIT
#include "load/spread_reader.h"

#include <array>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "units/listed.h"
#include "units/metric.h"

namespace evenspit {
namespace {

using enum Dimension;

struct SpreadKey {
    std::string_view key;
    Dimension dimension;
    double Spread::*member;
};

constexpr std::array<SpreadKey, 18> spread_keys{{
    {"rod_line", length, &Spread::rod_line_m},
    {"station", length, &Spread::station_m},
    {"turn", angle, &Spread::turn_rad},
    {"fork_station", length, &Spread::fork_station_m},
    {"fork_clock", angle, &Spread::fork_clock_rad},
    {"counterweight_station", length, &Spread::counterweight_station_m},
    {"counterweight_radius", length, &Spread::counterweight_radius_m},
    {"counterweight_clock", angle, &Spread::counterweight_clock_rad},
    {"counterweight_mass", share, &Spread::counterweight_mass},
    {"mass", share, &Spread::mass},
    {"centre", length, &Spread::centre_m},
    {"scan_scale", share, &Spread::scan_scale},
    {"friction", share, &Spread::friction},
    {"motor", share, &Spread::motor},
    {"yield_strength", share, &Spread::yield_strength},
    {"rod_measures", length, &Spread::rod_measures_m},
    {"cooker_measures", length, &Spread::cooker_measures_m},
    {"limb_loose", share, &Spread::limb_loose},
}};

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
    const auto off = given.quantity(key, dimension, Range::not_negative);
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
    const bool none = given.flag("none").value_or(false);
    if (none && !there.empty()) {
        given.complain("none", fmt::format("none = true beside {}", listed(there, "and")),
                       "none = true alone", "take it out, or the others");
    }
    given.refuse_unknown();
    return none ? Spread::none() : spread;
}

}  // namespace evenspit
