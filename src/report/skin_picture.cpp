// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <fmt/format.h>

#include "report/chart.h"
#include "report/heat_sheet.h"
#include "report/reader_units.h"
#include "report/roast_pictures.h"
#include "report/roast_words.h"
#include "report/subject_words.h"
#include "report/text_layout.h"

namespace evenspit {
namespace {

constexpr double full_turn = 2 * std::numbers::pi;

/// Share of the way round from 12 o'clock, as the dial's hours run: they go against the clock angle.
double round_share(double clock_rad) {
    const double share = (std::numbers::pi / 2 - clock_rad) / full_turn;
    return share - std::floor(share);
}

struct Stretch {
    double from = std::numeric_limits<double>::max(), to = std::numeric_limits<double>::lowest();
};

Stretch stretch_of_skin(const Item& item) {
    Stretch stretch;
    for (const Vec3& vertex : item.body->body.parts.front().mesh.vertices) {
        const double x = (item.pose * vertex).x();
        stretch.from = std::min(stretch.from, x);
        stretch.to = std::max(stretch.to, x);
    }
    return stretch;
}

/// A curve of shares of the mean, with the mean as a line.
Chart share_chart(std::string title, std::string remark, std::vector<Vec2> points) {
    Chart chart;
    chart.title = std::move(title);
    chart.remark = std::move(remark);
    chart.y = {1, 1, {}};
    for (const Vec2& point : points) chart.y.extend(point.y());
    const double room = std::max(0.05, 0.15 * chart.y.size());
    chart.y.from = std::max(0.0, chart.y.from - room);
    chart.y.to += room;
    chart.y.tick({"%", 0.01}, 4);
    chart.limits.push_back({1, "mean", Role::faint});
    chart.series.push_back({"heat", std::move(points), Role::now, 2});
    return chart;
}

double mean_of(const std::vector<double>& values) {
    double sum = 0;
    for (const double value : values) sum += value;
    return sum / double(values.size());
}

class SkinSheet {
  public:
    SkinSheet(const Assembly& assembly, const cook::CookCourse& course, UnitSystem units)
        : assembly_(assembly), course_(course), units_(units), bands_(HeatBands::over(0.5, 1.5, 0.1)) {}

    std::string document() {
        sheet_.paragraph(assembly_.title, Role::plain, Lettering::title);
        sheet_.paragraph(
            "Heat that the skin takes up till the load comes off, unrolled: along the rod to the right, "
            "o'clock upward as seen from the rod's point. Dark is little, light is much; 100 % is the mean.");
        std::vector<HeatField> fields;
        double least = 1, most = 1;
        for (std::size_t i = 0; i < assembly_.items.size(); ++i) {
            fields.push_back(skin_field(assembly_.items[i], course_.roast.skin_heat[i], squares));
            for (const double share : fields.back().values) {
                if (!std::isfinite(share)) continue;
                least = std::min(least, share);
                most = std::max(most, share);
            }
        }
        // A tip that gets many times the mean would leave the rest in one colour.
        constexpr double brightest = 2;
        bands_ = HeatBands::over(least, std::min(most, brightest), 0.1);
        sheet_.scale(bands_, bands_.count > 10 ? 2 : 1,
                     [](double share) { return fmt::format("{:.0f} %", 100 * share); });
        for (std::size_t i = 0; i < fields.size(); ++i) item(i, fields[i]);
        return sheet_.document();
    }

  private:
    static constexpr std::array<std::size_t, 2> squares{96, 48};

    void item(std::size_t i, const HeatField& field) {
        const Item& item = assembly_.items[i];
        const cook::Evenness& even = course_.evenness[i];
        sheet_.paragraph(fmt::format("{}: even by {}", item_name(assembly_, i), evenness_text(even)));
        if (even.round_j_m2.empty()) return;
        const std::string hot = hot_spot_text(item, even, units_);
        sheet_.paragraph(fmt::format("It {}. The ring marks it.", hot), Role::faint);
        map(item, field, even);
        curves(even);
        sheet_.down(10);
    }

    void map(const Item& item, const HeatField& field, const cook::Evenness& even) {
        constexpr double left = 46, high = 160;
        const double width = sheet_width - left - sheet_side;
        const Frame plot{left, sheet_.y() + 6, width, high};
        sheet_.under(field_svg(field, bands_, {plot.x, plot.bottom()},
                               {width / double(field.count[0]), high / double(field.count[1])}));
        for (const int hour : {12, 9, 6, 3, 0}) {
            const double y = plot.bottom() - hour / 12.0 * high;
            sheet_.put(PictureLine{{{plot.x - 4, y}, {plot.x, y}}, Role::line, 1, 1});
            sheet_.put(sheet_.text(plot.x - 7, y - 7, 1, std::to_string(hour == 0 ? 12 : hour), Role::faint));
        }
        const Stretch stretch = stretch_of_skin(item);
        const AxisUnit unit = Units(units_).axis(Dimension::length);
        const auto x_of = [&](double station_m) {
            return plot.x + (station_m - stretch.from) / (stretch.to - stretch.from) * width;
        };
        double free_from = 0;
        for (const Tick& tick : nice_ticks(stretch.from, stretch.to, unit.si, 6)) {
            const double x = x_of(tick.at);
            PictureText label =
                sheet_.text(x, plot.bottom() + 4, 0.5, tick.text + " " + unit.name, Role::faint);
            label.frame.x = std::min(label.frame.x, sheet_width - 2 - label.frame.width);
            sheet_.put(PictureLine{{{x, plot.bottom()}, {x, plot.bottom() + 4}}, Role::line, 1, 1});
            if (label.frame.x < free_from) continue;
            free_from = label.frame.right() + 6;
            sheet_.put(std::move(label));
        }
        const SpotOnRod spot = hot_spot(item, even);
        ring({x_of(spot.at_m), plot.bottom() - round_share(spot.clock_rad) * high});
        sheet_.down(high + 6 + 4 + line_high);
    }

    /// Dark on a light rim.
    void ring(const Vec2& centre) {
        constexpr int corners = 24;
        std::vector<Vec2> round;
        for (int n = 0; n <= corners; ++n) {
            const double turn = full_turn * n / corners;
            round.emplace_back(centre + 7 * Vec2(std::cos(turn), std::sin(turn)));
        }
        sheet_.put(PictureLine{round, Role::paper, 4, 1});
        sheet_.put(PictureLine{round, Role::now, 2, 1});
    }

    void curves(const cook::Evenness& even) {
        std::vector<Vec2> round, along;
        const double round_mean = mean_of(even.round_j_m2);
        for (std::size_t n = 0; n < even.round_j_m2.size(); ++n) {
            const double clock = (double(n) + 0.5) / double(even.round_j_m2.size()) * full_turn;
            round.emplace_back(12 * round_share(clock), even.round_j_m2[n] / round_mean);
        }
        std::sort(round.begin(), round.end(), [](const Vec2& a, const Vec2& b) { return a.x() < b.x(); });
        Chart dial = share_chart("Round the rod", "% of the mean, by o'clock", std::move(round));
        dial.x = {0, 12, {}};
        for (const int hour : {0, 3, 6, 9, 12})
            dial.x.ticks.push_back({double(hour), std::to_string(hour == 0 ? 12 : hour)});
        lay(dial);
        if (even.along_j_m2.empty()) return;
        const double along_mean = mean_of(even.along_j_m2);
        for (std::size_t n = 0; n < even.along_j_m2.size(); ++n) {
            const double share = (double(n) + 0.5) / double(even.along_j_m2.size());
            along.emplace_back(even.along_from_m + share * (even.along_to_m - even.along_from_m),
                               even.along_j_m2[n] / along_mean);
        }
        const AxisUnit unit = Units(units_).axis(Dimension::length);
        Chart rod = share_chart("Along the rod", "% of the mean, over " + unit.name, std::move(along));
        rod.x = {even.along_from_m, even.along_to_m, {}};
        rod.x.tick(unit, 6);
        lay(rod);
    }

    void lay(const Chart& chart) {
        constexpr double high = 120;
        for (Shape& shape : lay_out(chart, {0, sheet_.y(), sheet_width, high}, svg_letters))
            sheet_.put(std::move(shape));
        sheet_.down(high + 4);
    }

    const Assembly& assembly_;
    const cook::CookCourse& course_;
    UnitSystem units_;
    HeatBands bands_;
    HeatSheet sheet_;
};

}  // namespace

HeatField skin_field(const Item& item, const SkinHeat& heat, std::array<std::size_t, 2> count) {
    const TriangleMesh& mesh = item.body->body.parts.front().mesh;
    const Stretch stretch = stretch_of_skin(item);
    const double length = stretch.to - stretch.from;
    std::vector<double> sum(count[0] * count[1], 0.0), area(sum.size(), 0.0);
    double all_heat = 0, all_area = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        if (!std::isfinite(heat.j_m2[t])) continue;
        const Vec3 a = item.pose * mesh.corner(mesh.triangles[t], 0),
                   b = item.pose * mesh.corner(mesh.triangles[t], 1),
                   c = item.pose * mesh.corner(mesh.triangles[t], 2);
        // In pieces that are smaller than a square, so that none of those is passed over.
        constexpr double most_pieces = 64;
        const double longest = std::max({(b - a).norm(), (c - b).norm(), (a - c).norm()});
        const double radius = std::max(1e-3, std::hypot(((a + b + c) / 3).y(), ((a + b + c) / 3).z()));
        const double square = std::min(length / double(count[0]), full_turn * radius / double(count[1]));
        const int pieces = static_cast<int>(std::clamp(std::ceil(2 * longest / square), 1.0, most_pieces));
        const double piece_m2 = (b - a).cross(c - a).norm() / 2 / (pieces * pieces);
        const auto add = [&](double u, double v) {
            const Vec3 at = a + u / pieces * (b - a) + v / pieces * (c - a);
            const double across = (at.x() - stretch.from) / length * double(count[0]);
            const double up = round_share(std::atan2(at.z(), at.y())) * double(count[1]);
            const std::size_t square_at =
                std::min(static_cast<std::size_t>(std::max(across, 0.0)), count[0] - 1) +
                count[0] * std::min(static_cast<std::size_t>(up), count[1] - 1);
            sum[square_at] += piece_m2 * heat.j_m2[t];
            area[square_at] += piece_m2;
        };
        for (int i = 0; i < pieces; ++i) {
            for (int j = 0; i + j < pieces; ++j) {
                add(i + 1.0 / 3, j + 1.0 / 3);
                if (i + j + 1 < pieces) add(i + 2.0 / 3, j + 2.0 / 3);
            }
        }
        all_heat += piece_m2 * pieces * pieces * heat.j_m2[t];
        all_area += piece_m2 * pieces * pieces;
    }
    HeatField field{count, {}};
    const double mean = all_heat / all_area;
    for (std::size_t n = 0; n < sum.size(); ++n) {
        field.values.push_back(area[n] > 0 ? sum[n] / area[n] / mean
                                           : std::numeric_limits<double>::quiet_NaN());
    }
    return field;
}

std::string skin_svg(const Assembly& assembly, const cook::CookCourse& course, UnitSystem units) {
    return SkinSheet(assembly, course, units).document();
}

}  // namespace evenspit
