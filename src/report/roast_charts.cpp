// SPDX-License-Identifier: MIT
#include "report/roast_charts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "load/thing.h"
#include "report/roast_words.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "rig/plane_room.h"

namespace evenspit {
namespace {

constexpr double unknown_value = std::numeric_limits<double>::quiet_NaN();

struct LineStyle {
    Role role;
    bool dashed;
};

/// Lines that can be told apart without colour too: each is named where it runs.
LineStyle line_style(std::size_t number) {
    constexpr std::array styles{LineStyle{Role::now, false},    LineStyle{Role::earlier, false},
                                LineStyle{Role::plain, true},   LineStyle{Role::now, true},
                                LineStyle{Role::earlier, true}, LineStyle{Role::plain, false}};
    return styles[number % styles.size()];
}

/// Hours, or minutes of a short cook.
///
/// \param unit of the upright axis
void add_time_axis(Chart& chart, double to_s, std::string_view unit) {
    constexpr double short_cook_s = 1.5 * 3600;
    const bool hours = to_s > short_cook_s;
    chart.x = {0, std::max(to_s, 1.0), {}};
    chart.x.tick({hours ? "h" : "min", hours ? 3600.0 : 60.0}, 8);
    chart.remark = fmt::format("{} over {}", unit, hours ? "hours" : "minutes");
}

/// When it comes off: a line, and pale between the earliest and the latest.
void add_off(Chart& chart, const cook::CookCourse& course) {
    if (!course.off_s) return;
    const double bottom = chart.y.from, top = chart.y.to;
    const double low = course.off_s->low, high = std::min(course.off_s->high, chart.x.to);
    if (high > low)
        chart.fills.push_back({{{low, bottom}, {high, bottom}, {high, top}, {low, top}}, Role::faint, 0.12});
    chart.marks.push_back({.at = {course.off_s->middle, bottom + 0.06 * (top - bottom)},
                           .text = "off",
                           .role = Role::plain,
                           .upright = true,
                           .anchor = 0});
}

/// Names a line where it has got that far of its way.
void name_line(Chart& chart, const Series& series, double share, bool under = false) {
    if (series.points.empty()) return;
    const auto n = static_cast<std::size_t>(share * double(series.points.size() - 1));
    chart.marks.push_back(
        {.at = series.points[n], .text = series.name, .role = series.role, .anchor = 0.5, .under = under});
}

/// From 0 through what is needed, with room at the top for words.
void add_share_axis(Chart& chart) {
    constexpr double most = 2;
    chart.y.to = std::min(1.12 * std::max(chart.y.to, 1.0), most);
    chart.y.tick({"%", 0.01}, 5);
}

}  // namespace

Chart temperature_chart(const Assembly& assembly, const cook::CookCourse& course, UnitSystem units) {
    const std::vector<RoastMoment>& moments = course.roast.moments;
    Chart chart;
    chart.title = "Temperatures";
    Series cooker{burns_in_the_open(assembly.cooker) ? "air" : "cooker", {}, Role::faint, 1.6, true};
    for (const RoastMoment& moment : moments) {
        if (!moment.resting) cooker.points.emplace_back(moment.time_s, on_scale(moment.shown_k, units));
    }
    chart.series.push_back(std::move(cooker));
    const bool several = assembly.items.size() > 1;
    for (std::size_t p = 0; p < course.roast.places.size(); ++p) {
        const RoastPlace& place = course.roast.places[p];
        // All places of several items would be a thicket.
        if (several && place.kind != PlaceKind::core && place.kind != PlaceKind::stuffing) continue;
        const LineStyle style = place.kind == PlaceKind::core && !several
                                    ? LineStyle{Role::strong, false}
                                    : line_style(chart.series.size() - 1);
        Series series{place_label(assembly, place), {}, style.role, 2, style.dashed};
        for (const RoastMoment& moment : moments)
            series.points.emplace_back(moment.time_s, on_scale(moment.places_k[p], units));
        chart.series.push_back(std::move(series));
        if (!place.safe_k) continue;
        const double safe = on_scale(*place.safe_k, units);
        const bool known = std::any_of(chart.limits.begin(), chart.limits.end(),
                                       [safe](const Limit& limit) { return limit.at == safe; });
        if (!known)
            chart.limits.push_back({safe, "safe " + Units(units).temperature(*place.safe_k), Role::care});
    }
    chart.y = {std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest(), {}};
    for (const Series& series : chart.series) {
        for (const Vec2& point : series.points) chart.y.extend(point.y());
    }
    for (const Limit& limit : chart.limits) chart.y.extend(limit.at);
    const double room = 0.06 * chart.y.size();
    chart.y.from -= room;
    chart.y.to += 2 * room;
    chart.y.tick({"", 1}, 6);
    add_time_axis(chart, moments.back().time_s, degree_sign(units));
    add_off(chart, course);
    // One after the other along the way, so that their names do not meet.
    for (std::size_t n = 0; n < chart.series.size(); ++n) {
        name_line(chart, chart.series[n],
                  0.12 + 0.72 * double(n) / double(std::max<std::size_t>(chart.series.size() - 1, 1)));
    }
    return chart;
}

Chart weight_chart(const Assembly& assembly, const cook::CookCourse& course, UnitSystem units) {
    const std::vector<RoastMoment>& moments = course.roast.moments;
    const AxisUnit unit = Units(units).axis(Dimension::mass);
    Chart chart;
    chart.title = "Weight";
    chart.y = {std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest(), {}};
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const LineStyle style = line_style(i);
        Series series{printable(item_name(assembly, i)), {}, style.role, 2, style.dashed};
        for (const RoastMoment& moment : moments) {
            series.points.emplace_back(moment.time_s, moment.items[i].matter.mass_kg);
            chart.y.extend(series.points.back().y());
        }
        chart.series.push_back(std::move(series));
    }
    const double room = 0.1 * std::max(chart.y.size(), 0.01 * chart.y.to);
    chart.y.from -= room;
    chart.y.to += room;
    chart.y.tick(unit, 4);
    add_time_axis(chart, moments.back().time_s, unit.name);
    add_off(chart, course);
    for (const Series& series : chart.series) {
        name_line(chart, series, 0.25);
        const auto value = [&](const Vec2& at, double anchor) {
            chart.marks.push_back({.at = at,
                                   .text = Units(units).mass(at.y()),
                                   .role = series.role,
                                   .shape = MarkShape::dot,
                                   .anchor = anchor,
                                   .under = true});
        };
        value(series.points.front(), 0);
        value({off_moment(course.roast).time_s,
               off_moment(course.roast)
                   .items[static_cast<std::size_t>(&series - chart.series.data())]
                   .matter.mass_kg},
              1);
    }
    return chart;
}

Chart use_chart(const Assembly& assembly, const cook::CookCourse& course) {
    Chart chart;
    chart.title = "Used of motor and grip";
    chart.y = {0, 0, {}};
    Series motor{"motor", {}, Role::now, 2}, grip{"grip", {}, Role::earlier, 2},
        tightened{"grip, tightened", {}, Role::earlier, 2, true};
    for (const cook::Along& along : course.along) {
        motor.points.emplace_back(along.time_s, along.motor_use);
        grip.points.emplace_back(along.time_s, grip_use(along).value_or(unknown_value));
        tightened.points.emplace_back(along.time_s, grip_use_tightened(along).value_or(unknown_value));
    }
    chart.series.push_back(std::move(motor));
    const auto any = [](const Series& series) {
        return std::any_of(series.points.begin(), series.points.end(),
                           [](const Vec2& point) { return std::isfinite(point.y()); });
    };
    if (any(grip)) chart.series.push_back(std::move(grip));
    if (!course.retighten.empty() && any(tightened)) chart.series.push_back(std::move(tightened));
    for (const Series& series : chart.series) {
        for (const Vec2& point : series.points) chart.y.extend(point.y());
    }
    add_share_axis(chart);
    chart.limits.push_back({limits::motor_stop, "no more than this", Role::stop});
    chart.limits.push_back({limits::motor_care, "care: motor", Role::care});
    chart.limits.push_back({limits::grip_care, "care: grip", Role::care});
    add_time_axis(chart, course.roast.moments.empty() ? 0 : course.roast.moments.back().time_s, "%");
    add_off(chart, course);
    for (std::size_t n = 0; n < chart.series.size(); ++n)
        name_line(chart, chart.series[n], n == 2 ? 0.9 : 0.3 + 0.2 * double(n), n == 2);
    for (const cook::Retighten& retighten : course.retighten) {
        chart.marks.push_back(
            {.at = {retighten.at_s, 0.94 * chart.y.to},
             .text = (fork_section(assembly.forks, retighten.fork).name != "fork" ? "tighten " : "push in ") +
                     fork_name(assembly.forks, retighten.fork),
             .role = Role::plain,
             .upright = true,
             .anchor = 0});
    }
    return chart;
}

std::string roast_svg(const Assembly& assembly, const cook::CookCourse& course, UnitSystem units) {
    // Pixels. Narrow, so that letters can still be read where the picture fills a phone.
    constexpr double width = 520, head = 50;
    constexpr std::array heights{250.0, 170.0, 200.0};
    const std::array charts{temperature_chart(assembly, course, units), weight_chart(assembly, course, units),
                            use_chart(assembly, course)};
    const std::string title = shortened(printable(assembly.title), 58);
    const Vec2 size = svg_letters(title, Lettering::title);
    Picture picture{PictureText{{10, 8, size.x(), size.y()}, 0, title, Role::plain, Lettering::title}};
    if (course.off_s && course.off_s->high > course.off_s->low) {
        const std::string key = "Grey: when it comes off in 9 of 10 such cooks.";
        const Vec2 room = svg_letters(key, Lettering::small);
        picture.emplace_back(
            PictureText{{10, 28, room.x(), room.y()}, 0, key, Role::faint, Lettering::small});
    }
    double y = head;
    for (std::size_t n = 0; n < charts.size(); ++n) {
        for (Shape& shape : lay_out(charts[n], {0, y, width, heights[n]}, svg_letters))
            picture.push_back(std::move(shape));
        y += heights[n];
    }
    return svg_document(picture, width, y + 4);
}

}  // namespace evenspit
