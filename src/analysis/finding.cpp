// SPDX-License-Identifier: MIT
#include "analysis/finding.h"

#include <algorithm>

namespace evenspit {
namespace {

struct CodeRow {
    Code code;
    std::string_view name, topic, unit;
};

constexpr std::array<CodeRow, 53> rows = {{
    {Code::motor_torque, "motor-torque", "motor", "1"},
    {Code::stall, "stall", "turning", "N m"},
    {Code::overrun, "overrun", "turning", "N m"},
    {Code::uneven_speed, "uneven-speed", "turning", "1"},
    {Code::rod_stress, "rod-stress", "rod", "1"},
    {Code::rod_sag, "rod-sag", "rod", "m"},
    {Code::no_fork, "no-fork", "grip", ""},
    {Code::no_flesh, "no-flesh", "grip", ""},
    {Code::grip_torque, "grip-torque", "grip", "1"},
    {Code::tine_in_bone, "tine-in-bone", "grip", "m"},
    {Code::tine_cover, "tine-cover", "grip", "m"},
    {Code::tine_out, "tine-out", "grip", "m"},
    {Code::tine_free, "tine-free", "grip", ""},
    {Code::leg_short, "leg-short", "grip", "m"},
    {Code::leg_off_spine, "leg-off-spine", "grip", ""},
    {Code::out_of_basket, "out-of-basket", "grip", "m"},
    {Code::loose_in_basket, "loose-in-basket", "grip", "m"},
    {Code::basket_full, "basket-full", "grip", "1"},
    {Code::gap, "gap", "clearance", "m"},
    {Code::no_cooker, "no-cooker", "clearance", ""},
    {Code::limbs_free, "limbs-free", "body", "m"},
    {Code::giblets, "giblets", "body", "m"},
    {Code::stuffed, "stuffed", "food", ""},
    {Code::density, "density", "density", "kg/m3"},
    {Code::outside_usable, "outside-usable", "place", "m"},
    {Code::one_place, "one-place", "place", "m"},
    {Code::hub_in_meat, "hub-in-meat", "place", "m"},
    {Code::one_fork, "one-fork", "place", "m"},
    {Code::centre_not_between_forks, "centre-not-between-forks", "place", "m"},
    {Code::rod_in_bone, "rod-in-bone", "place", "m"},
    {Code::rod_cover, "rod-cover", "place", "m"},
    {Code::rod_beside, "rod-beside", "place", "m"},
    {Code::nearer_drive, "nearer-drive", "place", "m"},
    {Code::fork_upright, "fork-upright", "place", ""},
    {Code::knock, "knock", "turning", "N m"},
    {Code::together, "together", "chance", "1"},
    {Code::grip_weight, "grip-weight", "grip", "1"},
    {Code::clamp_turns, "clamp-turns", "grip", "1"},
    {Code::clamp_slides, "clamp-slides", "grip", "1"},
    {Code::tine_bends, "tine-bends", "grip", "1"},
    {Code::support_pulls_down, "support-pulls-down", "rod", "N"},
    {Code::roll_test, "roll-test", "balance", "1"},
    {Code::frozen_inside, "frozen-inside", "food", "K"},
    {Code::undercooked, "undercooked", "food", "K"},
    {Code::not_done, "not-done", "food", "s"},
    {Code::by_carry_over, "by-carry-over", "food", "K"},
    {Code::lukewarm, "lukewarm", "food", "s"},
    {Code::cool_cooker, "cool-cooker", "food", "K"},
    {Code::long_wait, "long-wait", "food", "s"},
    {Code::too_much_fuel, "too-much-fuel", "fire", "kg"},
    {Code::too_little_fuel, "too-little-fuel", "fire", "kg"},
    {Code::small_bed, "small-bed", "fire", "m2"},
    {Code::assumption, "assumption", "assumption", ""},
}};

constexpr const CodeRow& row_of(Code code) {
    return rows[static_cast<std::size_t>(code)];
}

constexpr bool in_order() {
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (rows[i].code != static_cast<Code>(i)) return false;
    }
    return static_cast<std::size_t>(Code::assumption) + 1 == rows.size();
}
static_assert(in_order(), "one row for each code, in the order of the enumeration");

}  // namespace

FindingFacts::FindingFacts() = default;
FindingFacts::FindingFacts(const FindingFacts& other) = default;
FindingFacts::FindingFacts(FindingFacts&& other) noexcept = default;
FindingFacts& FindingFacts::operator=(const FindingFacts& other) = default;
FindingFacts& FindingFacts::operator=(FindingFacts&& other) noexcept = default;
FindingFacts::~FindingFacts() = default;

std::string_view level_name(Level level) {
    switch (level) {
        case Level::ready:
            return "ready";
        case Level::care:
            return "care";
        case Level::stop:
            return "stop";
    }
    return "";
}

std::string_view code_name(Code code) {
    return row_of(code).name;
}
bool is_seen_by_hand(Code code) {
    switch (code) {
        case Code::no_fork:
        case Code::no_flesh:
        case Code::tine_in_bone:
        case Code::tine_cover:
        case Code::tine_out:
        case Code::tine_free:
        case Code::leg_short:
        case Code::leg_off_spine:
        case Code::out_of_basket:
        case Code::loose_in_basket:
        case Code::basket_full:
        case Code::roll_test:
            return true;
        default:
            return topic_of(code) == "place";
    }
}
std::string_view topic_of(Code code) {
    return row_of(code).topic;
}
std::string_view unit_of(Code code) {
    return row_of(code).unit;
}

}  // namespace evenspit
