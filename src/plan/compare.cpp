// SPDX-License-Identifier: MIT
#include "plan/compare.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "units/error.h"
#include "units/quote.h"

namespace evenspit::plan {
namespace {

constexpr double different = 1e-3;
constexpr double most_values = 1000;

std::optional<double> findings_of(const ComparedLoad& load, Level level) {
    return static_cast<double>(std::count_if(load.analysis.findings.begin(), load.analysis.findings.end(),
                                             [level](const Finding& f) { return f.level == level; }));
}

ComparedFigure figure(std::string_view key, std::string_view label, std::string_view head,
                      Dimension dimension = Dimension::number) {
    ComparedFigure f;
    f.key = key;
    f.label = label;
    f.head = head;
    f.dimension = dimension;
    return f;
}
ComparedFigure share(std::string_view key, std::string_view label, std::string_view head) {
    ComparedFigure f = figure(key, label, head);
    f.share = true;
    return f;
}

/// Marks what differs and what is best.
void judge(ComparedFigure& f) {
    double least = 0, most = 0;
    bool first = true;
    for (const auto& value : f.values) {
        if (!value) continue;
        least = first ? *value : std::min(least, *value);
        most = first ? *value : std::max(most, *value);
        first = false;
    }
    const double slight = different * std::max(std::abs(least), std::abs(most));
    f.differs = most - least > slight;
    const double best = f.more_is_better ? most : least;
    for (const auto& value : f.values) {
        f.best.push_back(f.differs && value && std::abs(*value - best) <= slight);
    }
}

[[noreturn]] void refuse(std::string found, std::string expected, std::string mend = {}) {
    Complaint complaint;
    complaint.key = "--sweep";
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

struct NumberAndUnit {
    double number = 0;
    std::string_view unit;
};

NumberAndUnit number_and_unit(std::string_view text) {
    const auto trimmed = [](std::string_view t) {
        while (!t.empty() && t.front() == ' ') t.remove_prefix(1);
        while (!t.empty() && t.back() == ' ') t.remove_suffix(1);
        return t;
    };
    text = trimmed(text);
    const std::string_view given = text;
    if (!text.empty() && text.front() == '+') text.remove_prefix(1);
    NumberAndUnit result;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), result.number);
    if (error != std::errc() || !std::isfinite(result.number)) {
        refuse(in_quotes(given), "a number with its unit, like 150mm");
    }
    result.unit = trimmed(text.substr(static_cast<std::size_t>(end - text.data())));
    return result;
}

}  // namespace

std::vector<ComparedFigure> compared_figures(const std::vector<ComparedLoad>& loads) {
    std::vector<ComparedFigure> figures;
    const auto add = [&](ComparedFigure f, const auto& value) {
        for (const ComparedLoad& load : loads) f.values.push_back(value(load));
        judge(f);
        figures.push_back(std::move(f));
    };
    using Value = std::optional<double>;
    using Load = const ComparedLoad&;
    ComparedFigure ready = share("chance_ready", "ready in mountings", "ready");
    ready.more_is_better = true;
    add(std::move(ready), [](Load l) -> Value {
        return l.analysis.mounted ? Value(l.analysis.mounted->chance.ready) : std::nullopt;
    });
    add(share("chance_stop", "stop in mountings", "stopped"), [](Load l) -> Value {
        return l.analysis.mounted ? Value(l.analysis.mounted->chance.stop) : std::nullopt;
    });
    add(figure("stops", "findings that stop", "stop"), [](Load l) { return findings_of(l, Level::stop); });
    add(figure("cares", "findings to fix", "fix"), [](Load l) { return findings_of(l, Level::care); });
    add(figure("mass_kg", "all that turns", "mass", Dimension::mass),
        [](Load l) -> Value { return l.analysis.balance.mass_kg; });
    add(figure("gravity_torque_peak_n_m", "gravity torque", "torque", Dimension::torque),
        [](Load l) -> Value { return l.analysis.balance.gravity_torque_peak_n_m; });
    add(figure("motor_torque_peak_n_m", "motor torque", "motor torque", Dimension::torque),
        [](Load l) -> Value { return l.analysis.balance.motor_torque_peak_n_m; });
    add(share("motor_use", "motor used", "motor"),
        [](Load l) -> Value { return l.analysis.balance.motor_use; });
    add(share("overrun_share", "drives the gears", "gears"),
        [](Load l) -> Value { return l.analysis.turning.overrun_share; });
    add(share("irregularity", "uneven speed", "uneven"),
        [](Load l) { return l.analysis.turning.irregularity; });
    add(share("grip_torque_use", "grip used", "grip"), [](Load l) { return l.analysis.grip.torque_use; });
    ComparedFigure gap = figure("gap_min_m", "least gap", "gap", Dimension::length);
    gap.more_is_better = true;
    add(std::move(gap), [](Load l) { return l.analysis.clearance.gap_min_m; });
    add(figure("sag_max_m", "sag of the rod", "sag", Dimension::length),
        [](Load l) -> Value { return l.analysis.rod.sag_max_m; });
    add(share("yield_use", "rod's strength used", "rod"),
        [](Load l) -> Value { return l.analysis.rod.yield_use; });
    add(share("stall_probability", "chance of a stall", "stall"), [](Load l) -> Value {
        return l.analysis.uncertainty ? Value(l.analysis.uncertainty->stall_probability) : std::nullopt;
    });
    return figures;
}

Sweep parse_sweep(std::string_view text) {
    constexpr const char* like = "like fork.1.at=150mm:250mm:10mm";
    const std::size_t equals = text.find('=');
    if (equals == std::string_view::npos || equals == 0)
        refuse(in_quotes(text), "a key and its values", like);
    std::array<NumberAndUnit, 3> parts;
    std::string_view rest = text.substr(equals + 1);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const std::size_t colon = rest.find(':');
        const bool last = i + 1 == parts.size();
        if (last != (colon == std::string_view::npos)) {
            refuse(in_quotes(text.substr(equals + 1)), "three values: from, to, step", like);
        }
        parts[i] = number_and_unit(rest.substr(0, colon));
        if (!last) rest.remove_prefix(colon + 1);
    }

    Sweep sweep;
    sweep.key = std::string(text.substr(0, equals));
    sweep.path = parse_key_path(sweep.key);
    for (const NumberAndUnit& part : parts) {
        if (part.unit.empty()) continue;
        if (!sweep.unit.empty() && sweep.unit != part.unit)
            refuse(fmt::format("'{}' beside '{}'", sweep.unit, part.unit), "one unit for all three");
        sweep.unit = std::string(part.unit);
    }
    const double from = parts[0].number, to = parts[1].number, step = parts[2].number;
    const double steps = step != 0 ? (to - from) / step : -1;
    if (!(steps >= 0))
        refuse(in_quotes(text.substr(equals + 1)), "a step that leads from the first to the last", like);
    if (steps > most_values) {
        refuse(fmt::format("{:.0f} values", steps + 1), fmt::format("at most {:.0f}", most_values),
               "take a larger step");
    }
    // The end belongs to it, whatever rounding says.
    const auto count = static_cast<std::size_t>(std::floor(steps + 1e-9)) + 1;
    for (std::size_t k = 0; k < count; ++k) {
        const double number = from + static_cast<double>(k) * step;
        const std::string digits = fmt::format("{:.12g}", number);
        sweep.numbers.push_back(number);
        sweep.labels.push_back(sweep.unit.empty() ? digits : fmt::format("{} {}", digits, sweep.unit));
        sweep.values.push_back(sweep.unit.empty() ? digits : fmt::format("\"{}\"", sweep.labels.back()));
    }
    return sweep;
}

}  // namespace evenspit::plan
