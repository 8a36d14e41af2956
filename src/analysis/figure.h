// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>

namespace evenspit {

/// Names one figure of an analysis by value: what it is and whose.
struct FigureId {
    enum class Kind {
        gravity_torque,
        motor_torque,
        motor_use,
        speed_mean,
        speed_min,
        speed_max,
        irregularity,
        pull,
        knock,
        sag,
        stress,
        yield_use,
        grip_torque_use,
        weight_use,  ///< index: item
        hold_use,
        slide_use,
        clamp_use,      ///< index: fork
        tine_bend_use,  ///< and the next two: part: tine
        tine_in_flesh,
        tine_cover,
        gap_min,
        gap
    };
    Kind kind = Kind::gravity_torque;
    std::size_t index = 0;  ///< which fork or surface
    std::size_t part = 0;   ///< which tine

    bool operator==(const FigureId&) const = default;
};

}  // namespace evenspit
