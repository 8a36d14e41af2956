// SPDX-License-Identifier: MIT
#include "report/plan_report.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "report/chance_words.h"
#include "report/change_words.h"
#include "report/finding_words.h"
#include "report/json_parts.h"
#include "report/page.h"
#include "report/plan_words.h"
#include "report/reader_units.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "units/listed.h"

namespace evenspit {
namespace {

Json point(const Vec2& p) {
    return Json::array({p.x() + 0.0, p.y() + 0.0});
}
std::string_view facing_word(Facing facing) {
    return facing == Facing::point ? "point" : "drive";
}

Json answer_json(const Assembly& assembly, const Plan& plan, std::size_t index) {
    const PlanAnswer& answer = plan.answers[index];
    Json json;
    json["name"] = answer_key(answer.kind);
    json["recommended"] = index == plan.recommended;
    json["verdict"] = level_name(answer.analysis.verdict);
    if (answer.analysis.mounted) json["chance"] = chance_json(answer.analysis.mounted->chance);
    if (!answer.changes.empty()) json["changes"] = changes_json(answer.changes);
    json["stops"] = answer.stops;
    json["cares"] = answer.cares;
    json["items"] = Json::array();
    for (std::size_t i = 0; i < answer.arrangement.seats.size(); ++i) {
        const Seat& seat = answer.arrangement.seats[i];
        Json item;
        item["name"] = load_of(answer, assembly).items[i].name;
        item["line"] = {{"from_m", point(seat.line.from)}, {"to_m", point(seat.line.to)}};
        put(item, "turn_deg", written_degrees(seat.turn_rad));
        put(item, "at_m", seat.at_m);
        item["facing"] = facing_word(seat.facing);
        json["items"].push_back(std::move(item));
    }
    json["forks"] = Json::array();
    for (const Fork& fork : answer.arrangement.forks) {
        Json entry;
        put(entry, "at_m", fork.at_m);
        entry["points"] = facing_word(fork.points);
        put(entry, "clock_deg", written_degrees(fork.clock_rad));
        json["forks"].push_back(std::move(entry));
    }
    json["counterweights"] = Json::array();
    for (const Counterweight& weight : answer.arrangement.counterweights)
        json["counterweights"].push_back(counterweight_json(weight));
    put(json, "gravity_torque_peak_n_m", answer.analysis.balance.gravity_torque_peak_n_m);
    put(json, "gravity_torque_worst_n_m", answer.gravity_torque_worst_n_m);
    put(json, "motor_torque_peak_n_m", answer.analysis.balance.motor_torque_peak_n_m);
    put(json, "motor_use", answer.analysis.balance.motor_use);
    put(json, "gap_min_m", answer.analysis.clearance.gap_min_m);
    put(json, "grip_torque_use", answer.analysis.grip.torque_use);
    put(json, "yield_use", answer.analysis.rod.yield_use);
    put(json, "effort", answer.effort);
    json["worth_its_effort"] = answer.worth_its_effort;
    json["why"] = answer_why(assembly, plan, index, UnitSystem::metric);
    json["steps"] = answer_steps(assembly, plan, index, UnitSystem::metric);
    return json;
}

std::string verdict_words(const PlanAnswer& answer) {
    std::string words(level_name(answer.analysis.verdict));
    const int times = answer.stops > 0 ? answer.stops : answer.cares;
    return times > 0 ? words + fmt::format(" × {}", times) : words;
}

/// In how many of 100 mountings it is ready.
std::string ready_words(const PlanAnswer& answer) {
    return answer.analysis.mounted ? of_100_text(answer.analysis.mounted->chance.ready)
                                   : std::string(no_figure);
}

/// A figure as its row or column tells it, the best marked.
std::string told(const ComparedFigure& figure, std::size_t load, const Units& units) {
    const std::optional<double>& value = figure.values[load];
    std::string words = figure.share ? Units::share(value)
                        : figure.dimension == Dimension::number
                            ? (value ? fmt::format("{:.0f}", *value) : std::string(no_figure))
                        // Lengths that are compared are gaps and sags.
                        : figure.dimension == Dimension::length ? units.slack(value)
                                                                : units.of(value, figure.dimension);
    return words + (figure.best[load] ? " *" : "  ");
}

Json compared_json(const std::vector<ComparedLoad>& loads, const std::vector<ComparedFigure>& figures,
                   std::size_t i) {
    Json json;
    json["name"] = loads[i].name;
    json["load"] = load_json(loads[i].assembly);
    json["verdict"] = level_name(loads[i].analysis.verdict);
    for (const ComparedFigure& figure : figures) put(json, figure.key, figure.values[i]);
    json["best"] = Json::array();
    for (const ComparedFigure& figure : figures) {
        if (figure.best[i]) json["best"].push_back(figure.key);
    }
    return json;
}

// A text as a cell. What a spreadsheet would run as a formula gets an apostrophe in front, which makes it a
// text there.
std::string csv_cell(std::string_view words) {
    const bool formula =
        !words.empty() && std::string_view("=+-@\t\r").find(words[0]) != std::string_view::npos;
    const std::string text = fmt::format("{}{}", formula ? "'" : "", words);
    if (text.find_first_of(",\"\n\r") == std::string_view::npos) return text;
    std::string cell = "\"";
    for (const char c : text) cell += c == '"' ? std::string("\"\"") : std::string(1, c);
    return cell + '"';
}

std::string csv_rows(std::string_view first_head, const std::vector<std::string>& names,
                     const std::vector<ComparedLoad>& loads) {
    const std::vector<ComparedFigure> figures = compared_figures(loads);
    std::string out = csv_cell(first_head) + ",verdict";
    for (const ComparedFigure& figure : figures) out += fmt::format(",{}", figure.key);
    out += '\n';
    for (std::size_t i = 0; i < loads.size(); ++i) {
        out += fmt::format("{},{}", names[i], level_name(loads[i].analysis.verdict));
        for (const ComparedFigure& figure : figures) {
            out += figure.values[i] ? fmt::format(",{}", *figure.values[i] + 0.0) : ",";
        }
        out += '\n';
    }
    return out;
}

/// One column of a sweep's table, from head to foot.
struct SweptColumn {
    Column head;
    std::vector<std::string> cells;
};

/// The key above its column, where it is long only its last word: it is told in full above the table.
std::string key_head(const std::string& key) {
    constexpr int most = 24;
    if (display_width(key) <= most) return key;
    const std::size_t dot = key.rfind('.');
    return shortened(dot == std::string::npos ? key : "…" + key.substr(dot), most);
}

/// The values of the key, the verdicts, and the figures that differ. How many findings stop is left out: they
/// are named.
std::vector<SweptColumn> swept_columns(const Sweep& sweep, const std::vector<ComparedLoad>& loads,
                                       const Units& units) {
    std::vector<SweptColumn> columns(2);
    columns[0].head = {.head = key_head(sweep.key), .to_the_right = true};
    columns[0].cells = sweep.labels;
    columns[1].head.head = "verdict";
    for (const ComparedLoad& load : loads)
        columns.back().cells.emplace_back(level_name(load.analysis.verdict));
    for (const ComparedFigure& figure : compared_figures(loads)) {
        if (!figure.differs || figure.key == "stops") continue;
        columns.push_back({{std::string(figure.head), true}, {}});
        for (std::size_t i = 0; i < loads.size(); ++i) columns.back().cells.push_back(told(figure, i, units));
    }
    return columns;
}

/// The first column and some of the others.
Table table_of(const std::vector<SweptColumn>& columns, std::size_t from, std::size_t to) {
    std::vector<std::size_t> shown{0};
    for (std::size_t c = from; c < to; ++c) shown.push_back(c);
    std::vector<Column> heads;
    for (const std::size_t c : shown) heads.push_back(columns[c].head);
    Table table(std::move(heads));
    for (std::size_t row = 0; row < columns[0].cells.size(); ++row) {
        std::vector<std::string> cells;
        for (const std::size_t c : shown) cells.push_back(columns[c].cells[row]);
        table.add_row(std::move(cells));
    }
    return table;
}

int width_of(const std::vector<SweptColumn>& columns, std::size_t from, std::size_t to) {
    constexpr int roomy = 10'000;
    int widest = 0;
    for (const std::string& line : table_of(columns, from, to).lines(roomy))
        widest = std::max(widest, display_width(line));
    return widest;
}

/// All that stops a load, each thing once, the worst first.
std::vector<std::string> stops_of(const ComparedLoad& load) {
    std::vector<std::string> parts;
    for (const Finding& finding : load.analysis.findings) {
        if (finding.level != Level::stop) continue;
        std::string part = subject_text(finding, load.assembly);
        if (std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(std::move(part));
    }
    return parts;
}

/// What stops at which values; those in a row that are stopped by the same share a line.
void tell_stops(Page& page, const Sweep& sweep, const std::vector<ComparedLoad>& loads) {
    bool first = true;
    for (std::size_t from = 0; from < loads.size();) {
        const std::vector<std::string> stops = stops_of(loads[from]);
        const auto same = [&stops](const ComparedLoad& load) {
            const std::vector<std::string> others = stops_of(load);
            return others.size() == stops.size() &&
                   std::is_permutation(others.begin(), others.end(), stops.begin());
        };
        std::size_t to = from + 1;
        while (to < loads.size() && same(loads[to])) ++to;
        if (!stops.empty()) {
            if (first) page.heading("What stops");
            first = false;
            page.marked(to - from == 1 ? sweep.labels[from]
                                       : fmt::format("{} to {}", sweep.labels[from], sweep.labels[to - 1]),
                        Ink::bad, listed(stops, "and"));
        }
        from = to;
    }
}

/// What a sweep asks about.
std::string sweep_head(const Sweep& sweep) {
    return sweep.unit.empty() ? sweep.key : fmt::format("{} [{}]", sweep.key, sweep.unit);
}

}  // namespace

std::string plan_text(const Assembly& assembly, const Plan& plan, const TextOptions& options) {
    const Units units(options.units);
    Page page(options);
    const PlanAnswer& best = plan.answers[plan.recommended];
    const auto tell_answer = [&](std::size_t i) {
        page.paragraph(answer_why(assembly, plan, i, options.units), Page::margin);
        int number = 0;
        for (const std::string& step : answer_steps(assembly, plan, i, options.units))
            page.marked(fmt::format("{}.", ++number), Ink::plain, step);
    };
    page.paragraph(printable(fmt::format("{} ({})", assembly.title, assembly.file)));
    page.gap();
    const Assembly after = with_arrangement(load_of(best, assembly), best.arrangement);
    const bool hopeless = best.stops > 0;
    if (hopeless) {
        page.paragraph(plan.recommended == 0
                           ? "Nothing is better than the load as it stands, and that cannot go on."
                           : "However it is set up, this load cannot go on.");
        if (!plan.limits.empty()) {
            page.heading("What stands in the way, and what would help");
            for (const PlanLimit& limit : plan.limits)
                page.marked("-", Ink::plain, limit_text(limit, after, options.units));
        }
    } else if (plan.recommended == 0) {
        page.paragraph("Leave it as it is.");
    } else {
        page.paragraph(fmt::format("Recommended: {}, {}", plan.recommended, answer_name(best.kind)));
        tell_answer(plan.recommended);
    }
    if (best.analysis.mounted) {
        page.paragraph(chance_sentence(best.analysis.mounted->chance), Page::margin);
        if (!hopeless && best.analysis.mounted->chance.ready < limits::worthy_chance)
            page.paragraph(more_care_text(plan.more_care), Page::margin);
    }
    page.heading("Answers, by what there is to do");
    Table table({{"", true},
                 {"answer"},
                 {"effort", true},
                 {"torque", true},
                 {"motor", true},
                 {"gap", true},
                 {"ready", true},
                 {"verdict"}});
    for (std::size_t i = 0; i < plan.answers.size(); ++i) {
        const PlanAnswer& a = plan.answers[i];
        table.add_row({fmt::format("{}{}", i == plan.recommended ? "> " : "", i),
                       std::string(answer_name(a.kind)),
                       fmt::format("{:g}{}", a.effort, a.worth_its_effort ? " *" : "  "),
                       units.of(std::optional(a.analysis.balance.gravity_torque_peak_n_m), Dimension::torque),
                       Units::share(std::optional(a.analysis.balance.motor_use)),
                       units.slack(a.analysis.clearance.gap_min_m), ready_words(a), verdict_words(a)});
    }
    page.table(table);
    page.paragraph(
        "> recommended; * nothing else brings as little torque for as little effort; ready: of 100 mountings",
        Page::margin);
    std::string worst;
    for (std::size_t i = 0; i < plan.answers.size(); ++i) {
        worst +=
            fmt::format("{} {}: {}", i == 0 ? "" : ",", i,
                        units.of(std::optional(plan.answers[i].gravity_torque_worst_n_m), Dimension::torque));
    }
    page.paragraph(fmt::format("torque as check finds it; at the worst of a whole cook{}", worst),
                   Page::margin);
    for (std::size_t i = 0; i < plan.answers.size() && !hopeless; ++i) {
        if (i == plan.recommended && i != 0) continue;
        page.heading(answer_title(plan, i));
        tell_answer(i);
    }
    const auto tell = [&](Level level, std::string_view mark, Ink ink) {
        for (const Finding& finding : best.analysis.findings) {
            if (finding.level == level) page.marked(mark, ink, finding_text(finding, after, options.units));
        }
    };
    if (best.stops + best.cares > 0) {
        page.heading(plan.recommended == 0 ? "To fix" : "Left to fix with what is recommended");
        tell(Level::stop, "STOP", Ink::bad);
        tell(Level::care, "CARE", Ink::caution);
    }
    return page.text();
}

std::string plan_json(const Assembly& assembly, const Plan& plan) {
    Json json;
    json["tool"] = tool_json();
    json["load"] = load_json(assembly);
    json["verdict"] = level_name(plan.answers[plan.recommended].analysis.verdict);
    json["recommended"] = plan.recommended;
    json["plan"] = Json::array();
    for (std::size_t i = 0; i < plan.answers.size(); ++i) {
        json["plan"].push_back(answer_json(assembly, plan, i));
    }
    json["limits"] = Json::array();
    const PlanAnswer& best = plan.answers[plan.recommended];
    const Assembly bound = with_arrangement(load_of(best, assembly), best.arrangement);
    for (const PlanLimit& limit : plan.limits) {
        json["limits"].push_back(
            {{"topic", topic_of(limit)}, {"message", limit_text(limit, bound, UnitSystem::metric)}});
    }
    return json_text(json);
}

std::string comparison_text(const std::vector<ComparedLoad>& loads, const TextOptions& options) {
    const Units units(options.units);
    const std::vector<ComparedFigure> figures = compared_figures(loads);
    std::vector<Column> columns{{"figure"}};
    for (const ComparedLoad& load : loads) columns.push_back({printable(load.name), true, true});
    const auto rows = [&](bool differing) {
        Table table(columns);
        for (const ComparedFigure& figure : figures) {
            if (figure.differs != differing) continue;
            std::vector<std::string> cells{std::string(figure.label)};
            for (std::size_t i = 0; i < loads.size(); ++i) cells.push_back(told(figure, i, units));
            table.add_row(std::move(cells));
        }
        return table;
    };
    Page page(options);
    std::vector<std::string> verdicts{"verdict"};
    Table verdict(columns);
    for (const ComparedLoad& load : loads)
        verdicts.push_back(std::string(level_name(load.analysis.verdict)) + "  ");
    verdict.add_row(std::move(verdicts));
    page.table(verdict);
    const bool any =
        std::any_of(figures.begin(), figures.end(), [](const ComparedFigure& f) { return f.differs; });
    const bool all =
        std::all_of(figures.begin(), figures.end(), [](const ComparedFigure& f) { return f.differs; });
    page.gap();
    if (any) {
        page.paragraph("Different (* better)");
        page.table(rows(true));
    }
    if (any && !all) page.gap();
    if (!all) {
        page.paragraph("Alike");
        page.table(rows(false));
    }
    return page.text();
}

std::string comparison_json(const std::vector<ComparedLoad>& loads) {
    const std::vector<ComparedFigure> figures = compared_figures(loads);
    Json json;
    json["tool"] = tool_json();
    json["loads"] = Json::array();
    for (std::size_t i = 0; i < loads.size(); ++i) json["loads"].push_back(compared_json(loads, figures, i));
    return json_text(json);
}

std::string comparison_csv(const std::vector<ComparedLoad>& loads) {
    std::vector<std::string> names;
    names.reserve(loads.size());
    for (const ComparedLoad& load : loads) names.push_back(csv_cell(load.name));
    return csv_rows("load", names, loads);
}

std::string sweep_text(const Sweep& sweep, const std::vector<ComparedLoad>& loads,
                       const TextOptions& options) {
    const Units units(options.units);
    const std::vector<SweptColumn> columns = swept_columns(sweep, loads, units);
    Page page(options);
    page.paragraph(fmt::format("{} ({}), {} from {} to {}", loads.front().assembly.title,
                               loads.front().assembly.file, sweep.key, sweep.labels.front(),
                               sweep.labels.back()));
    page.gap();
    for (std::size_t from = 1; from < columns.size();) {
        // As many columns as there is room for, the value of the key before them.
        std::size_t to = from + 1;
        while (to < columns.size() && width_of(columns, from, to + 1) <= page.room()) ++to;
        if (from > 1) page.gap();
        page.table(table_of(columns, from, to));
        from = to;
    }
    page.paragraph(columns.size() > 2 ? "* best; what does not change is left out" : "Nothing changes.",
                   Page::margin);
    tell_stops(page, sweep, loads);
    return page.text();
}

std::string sweep_json(const Sweep& sweep, const std::vector<ComparedLoad>& loads) {
    const std::vector<ComparedFigure> figures = compared_figures(loads);
    Json json;
    json["tool"] = tool_json();
    json["sweep"] = {{"key", sweep.key}, {"unit", sweep.unit}};
    json["loads"] = Json::array();
    for (std::size_t i = 0; i < loads.size(); ++i) {
        Json entry;
        put(entry, "value", sweep.numbers[i]);
        entry.update(compared_json(loads, figures, i));
        json["loads"].push_back(std::move(entry));
    }
    return json_text(json);
}

std::string sweep_csv(const Sweep& sweep, const std::vector<ComparedLoad>& loads) {
    std::vector<std::string> names;
    for (const double number : sweep.numbers) names.push_back(fmt::format("{:.12g}", number));
    return csv_rows(sweep_head(sweep), names, loads);
}

std::string fit_text(const Assembly& assembly, const Fit& fit, const TextOptions& options) {
    const Units units(options.units);
    Page page(options);
    page.paragraph(printable(fmt::format("{} ({})", assembly.title, assembly.file)));
    page.gap();
    const auto mass = [&](const std::optional<double>& kg) { return units.of(kg, Dimension::mass); };
    if (fit.largest_ready_kg) {
        page.paragraph(fmt::format("Up to {} is ready, set up as planned.", mass(fit.largest_ready_kg)));
        const std::string why = fit_stop_text(fit.not_ready_by, assembly, options.units);
        if (!why.empty()) page.paragraph(fmt::format("What asks for care above that: {}", why));
    } else if (fit.largest_kg) {
        page.paragraph("No mass that was tried is ready without care.");
    }
    if (fit.largest_kg && fit.largest_kg != fit.largest_ready_kg) {
        page.paragraph(fmt::format("Up to {} can turn, with care.", mass(fit.largest_kg)));
    } else if (!fit.largest_kg) {
        page.paragraph("No mass that was tried can turn.");
    }
    const std::string stop = fit_stop_text(fit.stopped_by, assembly, options.units);
    if (!stop.empty()) {
        page.paragraph(fmt::format("{}: {}", fit.largest_kg ? "What stops more" : "What stops it", stop));
    } else if (fit.largest_kg) {
        page.paragraph("Nothing stops it up to there; more was not tried.");
    }
    page.gap();
    Table table({{"mass", true},
                 {"verdict"},
                 {"ready", true},
                 {"motor", true},
                 {"gap", true},
                 {"grip", true},
                 {"rod", true}});
    for (const FitRow& row : fit.rows) {
        table.add_row({units.of(row.mass_kg, Dimension::mass),
                       std::string(row.verdict ? level_name(*row.verdict) : "no such body"),
                       row.chance ? of_100_text(row.chance->ready) : std::string(no_figure),
                       Units::share(row.motor_use), units.slack(row.gap_min_m),
                       Units::share(row.grip_torque_use), Units::share(row.yield_use)});
    }
    page.table(table);
    if (std::any_of(fit.rows.begin(), fit.rows.end(),
                    [](const FitRow& row) { return row.chance.has_value(); }))
        page.paragraph("ready: of 100 mountings", Page::margin);
    return page.text();
}

std::string fit_json(const Assembly& assembly, const Fit& fit) {
    Json json;
    json["tool"] = tool_json();
    json["load"] = load_json(assembly);
    Json& told = json["fit"];
    told = Json::object();
    put(told, "largest_mass_kg", fit.largest_kg);
    put(told, "largest_ready_mass_kg", fit.largest_ready_kg);
    const auto put_stop = [&assembly](Json& object, const FitStop& stop) {
        const std::string words = fit_stop_text(stop, assembly, UnitSystem::metric);
        if (!words.empty()) object["stopped_by"] = words;
    };
    put_stop(told, fit.stopped_by);
    told["masses"] = Json::array();
    for (const FitRow& row : fit.rows) {
        Json entry;
        put(entry, "mass_kg", row.mass_kg);
        if (row.verdict) entry["verdict"] = level_name(*row.verdict);
        if (row.chance) entry["chance"] = chance_json(*row.chance);
        put(entry, "motor_use", row.motor_use);
        put(entry, "gap_min_m", row.gap_min_m);
        put(entry, "grip_torque_use", row.grip_torque_use);
        put(entry, "yield_use", row.yield_use);
        put_stop(entry, row.stopped_by);
        told["masses"].push_back(std::move(entry));
    }
    return json_text(json);
}

}  // namespace evenspit
