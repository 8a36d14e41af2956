// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>

#include "report/json_parts.h"
#include "report/page.h"
#include "report/plan_report.h"
#include "report/reader_units.h"
#include "report/split_table.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "units/listed.h"

namespace evenspit {
namespace {

/// A figure as its row or column tells it, the best marked.
std::string told(const plan::ComparedFigure& figure, std::size_t load, const Units& units) {
    const std::optional<double>& value = figure.values[load];
    std::string words = figure.share ? Units::share(value)
                        : figure.dimension == Dimension::number
                            ? (value ? fmt::format("{:.0f}", *value) : std::string(no_figure))
                        // Lengths that are compared are gaps and sags.
                        : figure.dimension == Dimension::length ? units.slack(value)
                                                                : units.of(value, figure.dimension);
    return words + (figure.best[load] ? " *" : "  ");
}

Json compared_json(const std::vector<plan::ComparedLoad>& loads,
                   const std::vector<plan::ComparedFigure>& figures, std::size_t i) {
    Json json;
    json["name"] = loads[i].name;
    json["load"] = load_json(loads[i].assembly);
    json["verdict"] = level_name(loads[i].analysis.verdict);
    for (const plan::ComparedFigure& figure : figures) put(json, figure.key, figure.values[i]);
    json["best"] = Json::array();
    for (const plan::ComparedFigure& figure : figures) {
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
                     const std::vector<plan::ComparedLoad>& loads) {
    const std::vector<plan::ComparedFigure> figures = plan::compared_figures(loads);
    std::string out = csv_cell(first_head) + ",verdict";
    for (const plan::ComparedFigure& figure : figures) out += fmt::format(",{}", figure.key);
    out += '\n';
    for (std::size_t i = 0; i < loads.size(); ++i) {
        out += fmt::format("{},{}", names[i], level_name(loads[i].analysis.verdict));
        for (const plan::ComparedFigure& figure : figures) {
            out += figure.values[i] ? fmt::format(",{}", *figure.values[i] + 0.0) : ",";
        }
        out += '\n';
    }
    return out;
}

/// One column of a sweep's table, from head to foot.
/// The key above its column, where it is long only its last word: it is told in full above the table.
std::string key_head(const std::string& key) {
    constexpr int most = 24;
    if (display_width(key) <= most) return key;
    const std::size_t dot = key.rfind('.');
    return shortened(dot == std::string::npos ? key : "…" + key.substr(dot), most);
}

/// The values of the key, the verdicts, and the figures that differ. How many findings stop is left out: they
/// are named.
std::vector<SplitColumn> swept_columns(const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads,
                                       const Units& units) {
    std::vector<SplitColumn> columns(2);
    columns[0].head = {.head = key_head(sweep.key), .to_the_right = true};
    columns[0].cells = sweep.labels;
    columns[1].head.head = "verdict";
    for (const plan::ComparedLoad& load : loads)
        columns.back().cells.emplace_back(level_name(load.analysis.verdict));
    for (const plan::ComparedFigure& figure : plan::compared_figures(loads)) {
        if (!figure.differs || figure.key == "stops") continue;
        columns.push_back({{std::string(figure.head), true}, {}});
        for (std::size_t i = 0; i < loads.size(); ++i) columns.back().cells.push_back(told(figure, i, units));
    }
    return columns;
}

/// All that stops a load, each thing once, the worst first.
std::vector<std::string> stops_of(const plan::ComparedLoad& load) {
    std::vector<std::string> parts;
    for (const Finding& finding : load.analysis.findings) {
        if (finding.level != Level::stop) continue;
        std::string part = subject_text(finding, load.assembly);
        if (std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(std::move(part));
    }
    return parts;
}

/// What stops at which values; those in a row that are stopped by the same share a line.
void tell_stops(Page& page, const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads) {
    bool first = true;
    for (std::size_t from = 0; from < loads.size();) {
        const std::vector<std::string> stops = stops_of(loads[from]);
        const auto same = [&stops](const plan::ComparedLoad& load) {
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
std::string sweep_head(const plan::Sweep& sweep) {
    return sweep.unit.empty() ? sweep.key : fmt::format("{} [{}]", sweep.key, sweep.unit);
}

}  // namespace

std::string comparison_text(const std::vector<plan::ComparedLoad>& loads, const TextOptions& options) {
    const Units units(options.units);
    const std::vector<plan::ComparedFigure> figures = plan::compared_figures(loads);
    std::vector<Column> columns{{"figure"}};
    for (const plan::ComparedLoad& load : loads) columns.push_back({printable(load.name), true, true});
    const auto rows = [&](bool differing) {
        Table table(columns);
        for (const plan::ComparedFigure& figure : figures) {
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
    for (const plan::ComparedLoad& load : loads)
        verdicts.push_back(std::string(level_name(load.analysis.verdict)) + "  ");
    verdict.add_row(std::move(verdicts));
    page.table(verdict);
    const bool any =
        std::any_of(figures.begin(), figures.end(), [](const plan::ComparedFigure& f) { return f.differs; });
    const bool all =
        std::all_of(figures.begin(), figures.end(), [](const plan::ComparedFigure& f) { return f.differs; });
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

std::string comparison_json(const std::vector<plan::ComparedLoad>& loads) {
    const std::vector<plan::ComparedFigure> figures = plan::compared_figures(loads);
    Json json;
    json["tool"] = tool_json();
    json["loads"] = Json::array();
    for (std::size_t i = 0; i < loads.size(); ++i) json["loads"].push_back(compared_json(loads, figures, i));
    return json_text(json);
}

std::string comparison_csv(const std::vector<plan::ComparedLoad>& loads) {
    std::vector<std::string> names;
    names.reserve(loads.size());
    for (const plan::ComparedLoad& load : loads) names.push_back(csv_cell(load.name));
    return csv_rows("load", names, loads);
}

std::string sweep_text(const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads,
                       const TextOptions& options) {
    const Units units(options.units);
    const std::vector<SplitColumn> columns = swept_columns(sweep, loads, units);
    Page page(options);
    page.paragraph(fmt::format("{} ({}), {} from {} to {}", loads.front().assembly.title,
                               loads.front().assembly.file, sweep.key, sweep.labels.front(),
                               sweep.labels.back()));
    page.gap();
    for (std::size_t from = 1; from < columns.size();) {
        // As many columns as there is room for, the value of the key before them.
        std::size_t to = from + 1;
        while (to < columns.size() && width_of_part(columns, from, to + 1) <= page.room()) ++to;
        if (from > 1) page.gap();
        page.table(part_of_table(columns, from, to));
        from = to;
    }
    page.paragraph(columns.size() > 2 ? "* best; what does not change is left out" : "Nothing changes.",
                   Page::margin);
    tell_stops(page, sweep, loads);
    return page.text();
}

std::string sweep_json(const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads) {
    const std::vector<plan::ComparedFigure> figures = plan::compared_figures(loads);
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

std::string sweep_csv(const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads) {
    std::vector<std::string> names;
    for (const double number : sweep.numbers) names.push_back(fmt::format("{:.12g}", number));
    return csv_rows(sweep_head(sweep), names, loads);
}

}  // namespace evenspit
