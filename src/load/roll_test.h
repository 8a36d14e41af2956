// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <numbers>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "rig/rig.h"

namespace evenspit {

struct Assembly;

/// What the rod lies on in a roll test.
enum class RollsOn { bushings, journals, rollers };

/// Who reads a clock no better than that has not looked. Common practice, no source.
inline constexpr double widest_reading_rad = std::numbers::pi / 4;

/// The words of a load file for it, the usual one first.
const std::vector<std::pair<std::string, RollsOn>>& rolls_on_words();

/// A weight hung on the rod for a roll test and taken off again.
struct HungWeight {
    double mass_kg = 0;
    double radius_m = 0;  ///< of its centre of mass from the rod's axis
    double clock_rad = 0;

    bool operator==(const HungWeight&) const = default;
};

/// The loaded rod, free of the motor, laid on two level supports: it comes to rest heavy side down. Table
/// `[[roll_test]]` of a load file.
struct RollTest {
    std::optional<double> down_rad{};  ///< clock that was at the bottom at rest; absent: it stayed anywhere
    RollsOn on = RollsOn::bushings;
    std::optional<HungWeight> hung{};           ///< with it on, the load stayed wherever it was put
    std::vector<std::size_t> counterweights{};  ///< those that were on, from 0, in order
    /// How well the clock was read, one standard deviation. Common practice, no source.
    double read_rad = 5 * std::numbers::pi / 180;
    /// What was on the rod and where, one mark for each item, fork and counterweight that was on; empty: not
    /// noted.
    std::vector<std::string> as_rolled{};
    /// false: something was moved after it.
    bool counts = true;

    bool operator==(const RollTest&) const = default;
};

/// One short mark for each item, each fork and each of those counterweights; a mark changes when its thing is
/// moved, by more than a thousandth of a millimetre or of a milliradian, or weighs another gram.
std::vector<std::string> rolled_marks(const Assembly& assembly,
                                      const std::vector<std::size_t>& counterweights);

/// What was moved since a test, as a message names it: "turkey", "fork 2", "what is on the rod" where things
/// came or went; "" where nothing was, or where the test does not note what was on.
std::string moved_since(const RollTest& test, const Assembly& assembly);

/// Whether a test that counts says something of the load.
bool was_rolled(const Assembly& assembly);

/// Why a rod does not roll on that: an edged one does so only on round bushings or journals. "" if it does.
///
/// \param on absent: nobody said
std::string why_it_locks(const Rod& rod, std::optional<RollsOn> on);

}  // namespace evenspit
