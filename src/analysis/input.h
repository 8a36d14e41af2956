// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>

#include "load/thing.h"

namespace evenspit {

/// Something a person sets or measures, which may be off.
struct Input {
    enum class Kind {
        line_from,  ///< where the rod crosses the plane of the item's least x
        line_to,    ///< … of its greatest x
        centre,     ///< of an item's mass
        item_mass,
        station,
        turn,
        scan_scale,
        bearing_strength,
        tie,
        fork_station,
        fork_clock,
        counterweight_station,
        counterweight_radius,
        counterweight_clock,
        counterweight_mass,
        friction,
        motor,
        yield_strength,
        rod_measures,
        cooker_measures
    };
    Kind kind = Kind::friction;
    Thing about{};

    bool operator==(const Input&) const = default;
};

}  // namespace evenspit
