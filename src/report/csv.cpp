// SPDX-License-Identifier: MIT
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "report/chance_words.h"
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

void add_band(std::string& out, const Curve& curve, const Band& band) {
    out += fmt::format("curve,{0},{1}_p5,{1}_p95\n", curve.x, curve.y);
    for (const auto& [x, low, high] : band)
        out += fmt::format("{},{},{},{}\n", curve.name, x + 0.0, low + 0.0, high + 0.0);
}

void add_spread(std::string& out, const std::vector<FigureSpread>& spread) {
    out += "curve,figure,p5,p50,p95\n";
    for (const FigureSpread& f : spread)
        out +=
            fmt::format("spread,{},{},{},{}\n", figure_key(f.figure), f.p5 + 0.0, f.p50 + 0.0, f.p95 + 0.0);
}

}  // namespace

std::string csv_report(const Analysis& analysis) {
    std::string out;
    add_table(out, {"torque", "turn_deg", "motor_torque_n_m"}, analysis.balance.curve);
    add_table(out, {"sag", "station_m", "sag_m"}, analysis.rod.sag);
    add_table(out, {"moment", "station_m", "bending_moment_n_m"}, analysis.rod.moment);
    add_table(out, {"radius", "station_m", "swept_radius_m"}, analysis.clearance.profile);
    if (!analysis.mounted) return out;
    add_band(out, {"torque band", "turn_deg", "motor_torque_n_m"}, analysis.mounted->torque);
    add_band(out, {"radius band", "station_m", "swept_radius_m"}, analysis.mounted->profile);
    add_spread(out, analysis.mounted->spread);
    return out;
}

}  // namespace evenspit
