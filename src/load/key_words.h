// SPDX-License-Identifier: MIT
// The words that keys of a load file take, each list in one place, the usual one first.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "body/trussing.h"
#include "load/roll_test.h"
#include "rig/fire_kinds.h"
#include "rig/rig.h"
#include "scan/scan_settings.h"

namespace evenspit {

template <typename E>
using KeyWords = std::vector<std::pair<std::string, E>>;

/// What a [[cooker.surface]] is made from.
enum class SurfaceKind { plane, box, revolved, mesh };

const KeyWords<Section>& section_words();
const KeyWords<MotorKind>& motor_kind_words();
const KeyWords<Facing>& facing_words();
const KeyWords<SurfaceKind>& surface_kind_words();
const KeyWords<WallKind>& wall_words();
const KeyWords<FuelKind>& fuel_words();
const KeyWords<CoalPlace>& coal_words();
const KeyWords<bool>& vents_words();               ///< whether they are left as they are
const KeyWords<body::Trussing>& trussing_words();  ///< of all that can be tied
/// Those that a shape knows, as body::trussings() has them.
KeyWords<body::Trussing> trussing_words_of(const std::string& shape);
const KeyWords<bool>& cavity_words();  ///< whether it is empty
const KeyWords<scan::RestsOn>& rests_on_words();
const KeyWords<scan::RoastKind>& roast_kind_words();  ///< what a scan shows
/// What counts where none of these is told: what a scan shows and lies on is looked for.
inline constexpr std::string_view as_it_looks = "as it looks";
const KeyWords<bool>& frame_words();  ///< whether the file's own axes count

/// The words alone.
template <typename E>
std::vector<std::string> names_of(const KeyWords<E>& words) {
    std::vector<std::string> names;
    names.reserve(words.size());
    for (const auto& [name, value] : words) names.push_back(name);
    return names;
}

/// The word for a value, "" if there is none.
template <typename E>
std::string word_for(const KeyWords<E>& words, E value) {
    for (const auto& [name, known] : words) {
        if (known == value) return name;
    }
    return "";
}

}  // namespace evenspit
