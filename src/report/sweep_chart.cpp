// SPDX-License-Identifier: MIT
#include <algorithm>
#include <limits>

#include "report/chart.h"
#include "report/plan_report.h"
#include "report/reader_units.h"

namespace evenspit {
namespace {

// Pixels.
constexpr double width = 720, head = 52, panel = 142, foot = 26;

/// One figure over the values; where it is not known the curve has a gap.
Chart figure_chart(const plan::Sweep& sweep, const plan::ComparedFigure& figure, const Units& units) {
    constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
    const AxisUnit unit = figure.share ? AxisUnit{"%", 0.01} : units.axis(figure.dimension);
    Chart chart;
    chart.title = figure.label;
    chart.remark = unit.name;
    const auto [first, last] = std::minmax(sweep.numbers.front(), sweep.numbers.back());
    chart.x = {first, last, {}};
    for (std::size_t i = 0; i < sweep.numbers.size(); ++i)
        chart.x.ticks.push_back({sweep.numbers[i], sweep.labels[i]});
    chart.y = {std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest(), {}};
    Series series{"now", {}, Role::now, 2};
    for (std::size_t i = 0; i < figure.values.size(); ++i) {
        series.points.emplace_back(sweep.numbers[i], figure.values[i].value_or(unknown));
        if (!figure.values[i]) continue;
        chart.y.extend(*figure.values[i]);
        chart.marks.push_back({.at = series.points.back(),
                               .text = "",
                               .role = figure.best[i] ? Role::stop : Role::now,
                               .shape = figure.best[i] ? MarkShape::large_dot : MarkShape::dot});
    }
    chart.series.push_back(std::move(series));
    const double room = 0.08 * chart.y.size();
    chart.y.from -= room;
    chart.y.to += room;
    chart.y.tick(unit, 4);
    return chart;
}

PictureText words(double x, double y, double anchor, std::string text, Lettering lettering) {
    const Vec2 size = svg_letters(text, lettering);
    return {{x - anchor * size.x(), y, size.x(), size.y()}, anchor, std::move(text), Role::plain, lettering};
}

}  // namespace

std::string sweep_svg(const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads,
                      UnitSystem units) {
    std::vector<plan::ComparedFigure> figures = plan::compared_figures(loads);
    std::erase_if(figures, [](const plan::ComparedFigure& figure) { return !figure.differs; });
    Picture picture;
    picture.emplace_back(words(10, 8, 0, loads.front().assembly.title, Lettering::title));
    picture.emplace_back(
        words(10, 28, 0, figures.empty() ? "Nothing changes." : "red: best", Lettering::small));
    double y = head;
    for (const plan::ComparedFigure& figure : figures) {
        for (Shape& shape :
             lay_out(figure_chart(sweep, figure, Units(units)), {0, y, width, panel}, svg_letters))
            picture.push_back(std::move(shape));
        y += panel;
    }
    picture.emplace_back(words(width / 2, y + 4, 0.5, sweep.key, Lettering::small));
    return svg_document(picture, width, y + foot);
}

}  // namespace evenspit
