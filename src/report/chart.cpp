// SPDX-License-Identifier: MIT
#include "report/chart.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace evenspit {
namespace {

// A step of 1, 2 or 5 times a power of ten that cuts a range into about as many pieces.
double round_step(double size, int pieces) {
    const double raw = size / std::max(1, pieces);
    const double power = std::pow(10, std::floor(std::log10(raw)));
    for (const double step : {1.0, 2.0, 5.0}) {
        if (step * power >= raw) return step * power;
    }
    return 10 * power;
}

std::string without_zeros(std::string text) {
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

// As many digits as tell neighbours apart: "0.3", "1000", "2.5e-09".
std::string tick_text(double value, double step) {
    if (value == 0) return "0";
    constexpr double largest = 1e7, smallest = 1e-6;
    const auto places = [](double v) { return static_cast<int>(std::floor(std::log10(std::abs(v)) + 1e-9)); };
    if (std::abs(value) < largest && step >= smallest)
        return without_zeros(fmt::format("{:.{}f}", value, std::max(0, -places(step))));
    return fmt::format("{:.{}e}", value, std::max(0, places(value) - places(step)));
}

std::vector<Tick> ticks_at(double from, double to, double step, double unit) {
    constexpr double slack = 1e-9;  // of a step: ends that are meant to have a tick
    std::vector<Tick> ticks;
    for (double n = std::ceil(from / step - slack); n <= to / step + slack; ++n) {
        const double value = n * step + 0.0;
        ticks.push_back({value * unit, tick_text(value, step)});
    }
    return ticks;
}

}  // namespace

std::vector<Tick> nice_ticks(double from, double to, double unit, int pieces) {
    const double a = from / unit, b = to / unit, size = b - a;
    // Digits of a double that are left to tell neighbours apart.
    constexpr double least_share = 1e-12, least_size = 1e-300;
    if (!std::isfinite(size) || size < least_size || size < least_share * std::max(std::abs(a), std::abs(b)))
        return {};
    // One tick alone tells no scale: the range may lie about a single multiple of a coarse step.
    constexpr std::size_t tell_a_scale = 2;
    std::vector<Tick> ticks;
    for (int finer = pieces; ticks.size() < tell_a_scale; finer *= 2)
        ticks = ticks_at(a, b, round_step(size, finer), unit);
    return ticks;
}

void Axis::extend(double value) {
    if (!std::isfinite(value)) return;
    from = std::min(from, value);
    to = std::max(to, value);
}

std::optional<double> value_at(const Series& series, double x) {
    for (std::size_t i = 1; i < series.points.size(); ++i) {
        const Vec2 &a = series.points[i - 1], &b = series.points[i];
        if (!a.allFinite() || !b.allFinite() || x < a.x() || x > b.x()) continue;
        const double run = b.x() - a.x();
        return run > 0 ? a.y() + (x - a.x()) / run * (b.y() - a.y()) : a.y();
    }
    return std::nullopt;
}

const Series* Chart::find(std::string_view name) const {
    const auto found =
        std::find_if(series.begin(), series.end(), [&](const Series& s) { return s.name == name; });
    return found == series.end() ? nullptr : &*found;
}

}  // namespace evenspit
