// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/plan_report.h"

namespace evenspit {
namespace {

// Pixels.
constexpr double width = 720, left = 150, right = 40, panel = 96, between = 26, top = 56, bottom = 48;

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                // Control characters are no part of an XML document.
                out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
        }
    }
    return out;
}

std::string told(const ComparedFigure& figure, double value) {
    if (figure.share) return fmt::format("{:.3g} %", 100 * value);
    if (figure.dimension == Dimension::number) return fmt::format("{:.3g}", value);
    return format_quantity(value, figure.dimension, UnitSystem::metric);
}

struct Chart {
    const Sweep& sweep;
    std::string out;

    [[nodiscard]] double x(std::size_t i) const {
        const double from = sweep.numbers.front(), to = sweep.numbers.back();
        const double share = to != from ? (sweep.numbers[i] - from) / (to - from) : 0.5;
        return left + share * (width - left - right);
    }

    void text(double at_x, double at_y, std::string_view anchor, std::string_view words,
              std::string_view more = "") {
        out += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\"{}>{}</text>\n", at_x, at_y,
                           anchor, more, escaped(words));
    }

    /// One figure over the values; where it is not known the curve has a gap.
    void add_panel(const ComparedFigure& figure, double y0) {
        double least = 0, most = 0;
        bool first = true;
        for (const auto& value : figure.values) {
            if (!value) continue;
            least = first ? *value : std::min(least, *value);
            most = first ? *value : std::max(most, *value);
            first = false;
        }
        const double room = most > least ? most - least : 1;
        const auto y = [&](double value) { return y0 + panel - (value - least) / room * panel; };
        out += fmt::format(
            "<rect x=\"{}\" y=\"{:.1f}\" width=\"{}\" height=\"{}\" fill=\"none\" stroke=\"#999\"/>\n", left,
            y0, width - left - right, panel);
        text(left - 8, y0 + panel / 2 + 4, "end", figure.label, " font-weight=\"bold\"");
        text(left - 8, y0 + 10, "end", told(figure, most));
        text(left - 8, y0 + panel, "end", told(figure, least));
        std::string points, dots;
        const auto flush = [&] {
            if (!points.empty()) {
                out += fmt::format(
                    "<polyline points=\"{}\" fill=\"none\" stroke=\"#1b6ca8\" stroke-width=\"2\"/>\n",
                    points);
            }
            points.clear();
        };
        for (std::size_t i = 0; i < figure.values.size(); ++i) {
            if (!figure.values[i]) {
                flush();
                continue;
            }
            points += fmt::format("{}{:.1f},{:.1f}", points.empty() ? "" : " ", x(i), y(*figure.values[i]));
            dots += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{}\" fill=\"{}\"/>\n", x(i),
                                y(*figure.values[i]), figure.best[i] ? 5 : 3,
                                figure.best[i] ? "#c0392b" : "#1b6ca8");
        }
        flush();
        out += dots;
    }
};

}  // namespace

std::string sweep_svg(const Sweep& sweep, const std::vector<ComparedLoad>& loads) {
    std::vector<ComparedFigure> figures = compared_figures(loads);
    std::erase_if(figures, [](const ComparedFigure& figure) { return !figure.differs; });
    const double height = top + static_cast<double>(figures.size()) * (panel + between) + bottom;
    Chart chart{sweep, fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" "
                                   "viewBox=\"0 0 {0} {1}\" font-family=\"sans-serif\" font-size=\"12\">\n"
                                   "<rect width=\"{0}\" height=\"{1}\" fill=\"white\"/>\n",
                                   width, height)};
    chart.text(left, 24, "start", loads.front().assembly.title, " font-size=\"16\"");
    chart.text(left, 42, "start", figures.empty() ? "Nothing changes." : "red: best");
    double y = top;
    for (const ComparedFigure& figure : figures) {
        chart.add_panel(figure, y);
        y += panel + between;
    }
    // A label for each value, or as many as have room.
    const std::size_t step = 1 + sweep.labels.size() / 9;
    for (std::size_t i = 0; i < sweep.labels.size(); i += step) {
        chart.text(chart.x(i), y - between + 16, "middle", sweep.labels[i]);
    }
    chart.text((left + width - right) / 2, y - between + 36, "middle", sweep.key, " font-weight=\"bold\"");
    return chart.out + "</svg>\n";
}

}  // namespace evenspit
