// SPDX-License-Identifier: MIT
#include "roast/lethality.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "roast/body_foods.h"
#include "units/fahrenheit.h"

namespace evenspit {
namespace {

constexpr double logs_of_hold_times = 7;
constexpr double least_counted_k = fahrenheit_to_k(130);

constexpr HoldTime hold_min(double fahrenheit, double minutes) {
    return {fahrenheit_to_k(fahrenheit), 60 * minutes};
}
constexpr HoldTime hold_s(double fahrenheit, double seconds) {
    return {fahrenheit_to_k(fahrenheit), seconds};
}

constexpr std::array turkey_rows{hold_min(136, 70.8), hold_min(140, 33.7), hold_min(145, 13.8),
                                 hold_min(150, 4.9),  hold_min(155, 1.3),  hold_s(160, 26.9),
                                 hold_s(162, 17.7),   hold_s(164, 11.7)};
constexpr std::array chicken_rows{hold_min(136, 81.4), hold_min(140, 35), hold_min(145, 13),
                                  hold_min(150, 4.2),  hold_s(155, 54.4), hold_s(160, 16.9),
                                  hold_s(162, 10.5)};
constexpr std::array meat_rows{hold_min(130, 121), hold_min(136, 32), hold_min(140, 12),
                               hold_min(145, 4),   hold_s(150, 72),   hold_s(155, 23)};

constexpr auto any_bird_rows = [] {
    auto rows = turkey_rows;
    for (std::size_t i = 0; i < chicken_rows.size(); ++i)
        rows[i].seconds = std::max(rows[i].seconds, chicken_rows[i].seconds);
    return rows;
}();

/// ∫ of the rate 1/D over temperature, K/s, of a stretch in which its logarithm goes in a line.
double integral_of_rate(double low_k, double low_rate, double high_k, double high_rate) {
    const double steepness = std::log(high_rate / low_rate);
    const double mean = std::abs(steepness) < 1e-6 ? (low_rate + high_rate) / 2  // a mean of them either way
                                                   : (high_rate - low_rate) / steepness;
    return mean * (high_k - low_k);
}

}  // namespace

SalmonellaIn salmonella_in(const body::Body& body) {
    const bool bird = counts_as_poultry(body.meat);
    if (!bird) return SalmonellaIn::meat;
    if (body.shape == "turkey") return SalmonellaIn::turkey;
    if (body.shape == "chicken") return SalmonellaIn::chicken;
    return SalmonellaIn::any_bird;
}

std::span<const HoldTime> hold_times(SalmonellaIn in) {
    switch (in) {
        case SalmonellaIn::turkey:
            return turkey_rows;
        case SalmonellaIn::chicken:
            return chicken_rows;
        case SalmonellaIn::any_bird:
            return any_bird_rows;
        case SalmonellaIn::meat:
            break;
    }
    return meat_rows;
}

double decimal_reduction_s(SalmonellaIn in, double temperature_k) {
    const std::span<const HoldTime> rows = hold_times(in);
    const auto above = std::find_if(rows.begin() + 1, rows.end() - 1, [temperature_k](const HoldTime& row) {
        return row.temperature_k >= temperature_k;
    });
    const HoldTime &low = *(above - 1), &high = *above;
    const double along = (temperature_k - low.temperature_k) / (high.temperature_k - low.temperature_k);
    return low.seconds * std::pow(high.seconds / low.seconds, along) / logs_of_hold_times;
}

void SalmonellaLogs::add(double from_k, double to_k, double seconds) {
    const auto [low_k, high_k] = std::minmax(from_k, to_k);
    if (!(high_k >= least_counted_k) || !(seconds > 0)) return;
    if (high_k == low_k) {
        logs_ += seconds / decimal_reduction_s(in_, high_k);
        return;
    }
    double integral = 0, at_k = std::max(low_k, least_counted_k), rate = 1 / decimal_reduction_s(in_, at_k);
    const auto go_on_to = [&](double next_k) {
        const double next_rate = 1 / decimal_reduction_s(in_, next_k);
        integral += integral_of_rate(at_k, rate, next_k, next_rate);
        at_k = next_k;
        rate = next_rate;
    };
    for (const HoldTime& row : hold_times(in_)) {
        if (row.temperature_k > at_k && row.temperature_k < high_k) go_on_to(row.temperature_k);
    }
    go_on_to(high_k);
    logs_ += integral * seconds / (high_k - low_k);
}

double salmonella_logs(SalmonellaIn in, std::span<const double> times_s,
                       std::span<const double> temperatures_k) {
    SalmonellaLogs logs(in);
    for (std::size_t n = 1; n < times_s.size(); ++n)
        logs.add(temperatures_k[n - 1], temperatures_k[n], times_s[n] - times_s[n - 1]);
    return logs.logs();
}

}  // namespace evenspit
