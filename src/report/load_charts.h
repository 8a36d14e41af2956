// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "analysis/analysis.h"
#include "report/chart.h"
#include "report/reader_units.h"

namespace evenspit {

/// A load with its answers, as charts show it.
struct ChartedLoad {
    const Assembly& load;
    const Analysis& now;
    const Analysis* earlier = nullptr;  ///< an earlier state to compare with; may be null
    Units units;
};

/// Where a load is on its turn.
struct TurnNow {
    double turn_rad = 0;  ///< 0 ≤ a < 2π
    double torque_n_m = 0;
};

/// Motor torque over a turn, degrees to N m, with the motor's limits where they are near; series "now" and
/// "earlier".
Chart torque_chart(const ChartedLoad& charted, const std::optional<TurnNow>& turn = {});

/// Swept radius along the rod, m to m, beside the walls; series "now", "earlier", "with sag" (let down by as
/// much as the rod sags) where that can be seen, and one for each surface by its name. What strikes is red.
///
/// \param walls how near each of the load's surfaces comes to the rod's axis: (station, distance), m
Chart radius_chart(const ChartedLoad& charted, const std::vector<std::vector<Vec2>>& walls = {});

/// Sag along the rod, m to m, with its supports and the sag that asks for care if it is near; series "now"
/// and "earlier".
Chart sag_chart(const ChartedLoad& charted);

/// What each tine is in, m, and what is wrong with it; what each fork holds.
BarChart grip_chart(const ChartedLoad& charted);

}  // namespace evenspit
