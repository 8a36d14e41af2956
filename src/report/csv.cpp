// SPDX-License-Identifier: MIT
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "report/report.h"

namespace evenspit {
namespace {

struct Curve {
    std::string_view name;
    std::string_view x;
    std::string_view y;
};

void add_table(std::string& out, const Curve& curve, const std::vector<std::array<double, 2>>& points) {
    out += fmt::format("curve,{},{}\n", curve.x, curve.y);
    for (const auto& [x, y] : points) {
        if (std::isfinite(x) && std::isfinite(y))
            out += fmt::format("{},{},{}\n", curve.name, x + 0.0, y + 0.0);
    }
}

}  // namespace

std::string csv_report(const Analysis& analysis) {
    std::string out;
    add_table(out, {"torque", "turn_deg", "motor_torque_n_m"}, analysis.balance.curve);
    add_table(out, {"sag", "station_m", "sag_m"}, analysis.rod.sag);
    add_table(out, {"moment", "station_m", "bending_moment_n_m"}, analysis.rod.moment);
    add_table(out, {"radius", "station_m", "swept_radius_m"}, analysis.clearance.profile);
    return out;
}

}  // namespace evenspit
