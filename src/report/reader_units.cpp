// SPDX-License-Identifier: MIT
#include "report/reader_units.h"

#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

namespace evenspit {

std::string Units::of(double si, Dimension dimension) const {
    return std::isfinite(si) ? format_quantity(sensible(si), dimension, system_) : "not known";
}

std::string Units::of(const std::optional<double>& si, Dimension dimension) const {
    return si && std::isfinite(*si) ? of(*si, dimension) : std::string(no_figure);
}

std::string Units::volume(double m3) const {
    constexpr double m3_per_quart = 0.946352946e-3;  // US liquid
    return metric() ? fmt::format("{:.3g} l", 1e3 * m3) : fmt::format("{:.3g} qt", m3 / m3_per_quart);
}

std::string Units::unbalance(double kg_m) const {
    constexpr double kg_m_per_lb_in = 0.45359237 * 0.0254;
    const double shown = sensible(kg_m);
    return metric() ? fmt::format("{:.3g} kg m", shown) : fmt::format("{:.3g} lb in", shown / kg_m_per_lb_in);
}

std::string Units::share(const std::optional<double>& of_one) {
    return of_one && std::isfinite(*of_one) ? share_text(*of_one) : std::string(no_figure);
}

AxisUnit Units::axis(Dimension dimension) const {
    const auto one = [dimension](const char* name) {
        return AxisUnit{name, parse_quantity(std::string("1 ") + name, dimension)};
    };
    switch (dimension) {
        case Dimension::number:
            return {};
        case Dimension::length:
            return one(metric() ? "mm" : "in");
        case Dimension::torque:
            return one(metric() ? "N m" : "lbf in");
        case Dimension::mass:
            return one(metric() ? "kg" : "lb");
        default:
            throw std::logic_error("no chart has an axis of that kind");
    }
}

double Units::sensible(double si) {
    return std::abs(si) < 1e-6 ? 0 : si;
}

}  // namespace evenspit
