// SPDX-License-Identifier: MIT
#include "report/reader_units.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

#include "units/unit_table.h"

namespace evenspit {

std::string Units::of(double si, Dimension dimension) const {
    if (!std::isfinite(si)) return "not known";
    const double shown = sensible(si);
    // Weighed and measured as roughly as torques are.
    constexpr int force_digits = 2;
    switch (dimension) {
        case Dimension::length:
            return length_text(shown, system_);
        case Dimension::mass:
            return mass_text(shown, system_);
        case Dimension::torque:
            return torque_text(shown, system_);
        case Dimension::share:
            return share_text(si);
        case Dimension::force:
            return format_quantity(shown, dimension, system_, force_digits);
        default:
            return format_quantity(shown, dimension, system_);
    }
}

std::string Units::of(const std::optional<double>& si, Dimension dimension) const {
    return si && std::isfinite(*si) ? of(*si, dimension) : std::string(no_figure);
}

std::string Units::length_or_more(double si) const {
    return length_text(sensible(si), system_, {}, Rounding::up);
}

std::string Units::slack(double si, Limits limits) const {
    return slack_text(sensible(si), system_, limits);
}

std::string Units::slack(const std::optional<double>& si, Limits limits) const {
    return si && std::isfinite(*si) ? slack(*si, limits) : std::string(no_figure);
}

std::string Units::given(double si, Dimension dimension) const {
    if (!std::isfinite(si)) return "not known";
    if (dimension == Dimension::length) return length(si);
    // Ounces are engraved in quarters, not in tenths.
    if (dimension == Dimension::mass && !metric()) return weight(si);
    return format_quantity(sensible(si), dimension, system_);
}

std::string Units::temperature(double kelvin, Limits limits) const {
    if (!std::isfinite(kelvin)) return "not known";
    const auto told = [this](double k, int decimals) {
        const double value =
            metric() ? k - unit_factors::celsius_zero_k : k * 1.8 - unit_factors::fahrenheit_zero_shift;
        const double tens = decimals == 0 ? 1 : decimals == 1 ? 10 : 100;
        // Adding 0 leaves no sign on it.
        return fmt::format("{:.{}f} {}", std::round(value * tens) / tens + 0.0, decimals,
                           metric() ? "°C" : "°F");
    };
    const auto like_a_limit = [&](int decimals) {
        return std::any_of(limits.begin(), limits.end(), [&](double limit) {
            return limit != kelvin && told(limit, decimals) == told(kelvin, decimals);
        });
    };
    return told(kelvin, !like_a_limit(0) ? 0 : !like_a_limit(1) ? 1 : 2);
}

std::string Units::degrees(double kelvin) const {
    return metric() ? fmt::format("{:.0f} °C", kelvin) : fmt::format("{:.0f} °F", 1.8 * kelvin);
}

std::string Units::minutes(double seconds) {
    if (!std::isfinite(seconds)) return "not known";
    const double all = std::round(seconds / 60), hours = std::floor(all / 60), rest = all - 60 * hours;
    if (hours == 0) return fmt::format("{:.0f} min", rest);
    return rest == 0 ? fmt::format("{:.0f} h", hours) : fmt::format("{:.0f} h {:.0f} min", hours, rest);
}

std::string Units::volume(double m3) const {
    constexpr double m3_per_quart = 0.946352946e-3;  // US liquid
    return metric() ? fmt::format("{:.3g} l", 1e3 * m3) : fmt::format("{:.3g} qt", m3 / m3_per_quart);
}

std::string Units::rough_mass(double si) const {
    constexpr int digits = 2;
    return format_quantity(sensible(si), Dimension::mass, system_, digits);
}

std::string Units::rough_length(double si) const {
    const double step = metric() ? 0.01 : unit_factors::inch;
    return length(step * std::round(si / step));
}

std::string Units::unbalance(double kg_m) const {
    constexpr double kg_m_per_lb_in = 0.45359237 * 0.0254;
    constexpr int digits = 2;  // as torques
    const double shown = sensible(kg_m) / (metric() ? 1 : kg_m_per_lb_in);
    return format_quantity(shown, Dimension::number, system_, digits) + (metric() ? " kg m" : " lb in");
}

std::string Units::share(const std::optional<double>& of_one, Limits limits) {
    return of_one && std::isfinite(*of_one) ? share_text(*of_one, limits) : std::string(no_figure);
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

std::string Stations::operator()(double station_m) const {
    const std::string told = units_.length(station_m), from = from_mark(station_m);
    return from.empty() ? told : fmt::format("{} ({})", told, from);
}

std::string Stations::from_mark(double station_m) const {
    if (!mark_m_ || !std::isfinite(station_m)) return "";
    const double past_m = station_m - *mark_m_;
    const std::string told = units_.length(std::abs(past_m));
    if (told == units_.length(0)) return "at the mark";
    return told + (past_m > 0 ? " past the mark" : " before the mark");
}

}  // namespace evenspit
