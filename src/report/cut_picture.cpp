// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <optional>

#include <fmt/format.h>

#include "report/heat_sheet.h"
#include "report/reader_units.h"
#include "report/roast_pictures.h"
#include "report/roast_words.h"
#include "report/subject_words.h"
#include "report/text_layout.h"

namespace evenspit {
namespace {

HeatField field_of(const RoastCut& cut, UnitSystem units) {
    HeatField field{cut.count, {}};
    for (const float kelvin : cut.temperature_k)
        field.values.push_back(on_scale(static_cast<double>(kelvin), units));
    return field;
}

/// A cut that is to be drawn: what there is of it, and where that begins.
struct DrawnCut {
    const RoastCut* cut = nullptr;
    HeatField field;
    HeatField::Window window;
    double square_m = 0;

    [[nodiscard]] double width_m() const { return square_m * double(window.to[0] - window.from[0]); }
    [[nodiscard]] double height_m() const { return square_m * double(window.to[1] - window.from[1]); }
    /// A place in the cut's plane, in squares of what is drawn.
    [[nodiscard]] Vec2 in_squares(const Vec2& at) const {
        return {(at.x() - cut->from[0]) / square_m - double(window.from[0]),
                (at.y() - cut->from[1]) / square_m - double(window.from[1])};
    }
};

DrawnCut drawn_cut(const RoastCut& cut, std::size_t coarser, UnitSystem units) {
    DrawnCut drawn{&cut, field_of(cut, units).coarser(coarser), {}, cut.spacing_m * double(coarser)};
    drawn.window = drawn.field.window();
    HeatField cropped{{drawn.window.to[0] - drawn.window.from[0], drawn.window.to[1] - drawn.window.from[1]},
                      {}};
    for (std::size_t up = drawn.window.from[1]; up < drawn.window.to[1]; ++up) {
        for (std::size_t across = drawn.window.from[0]; across < drawn.window.to[0]; ++across)
            cropped.values.push_back(drawn.field.at(across, up));
    }
    drawn.field = std::move(cropped);
    return drawn;
}

class CutSheet {
  public:
    CutSheet(const Assembly& assembly, const RoastCourse& course, const std::vector<RoastCut>& cuts,
             UnitSystem units)
        : assembly_(assembly), course_(course), units_(units) {
        // So many squares at most, or files get large.
        constexpr std::size_t most_squares = 60'000;
        std::size_t all = 0;
        for (const RoastCut& cut : cuts) all += cut.count[0] * cut.count[1];
        std::size_t coarser = 1;
        while (all / (coarser * coarser) > most_squares) ++coarser;
        for (const RoastCut& cut : cuts) {
            DrawnCut drawn = drawn_cut(cut, coarser, units);
            if (!drawn.field.values.empty()) rows_[{cut.item, cut.time_s}].push_back(std::move(drawn));
        }
        for (auto& [key, row] : rows_) {
            std::stable_sort(row.begin(), row.end(), [](const DrawnCut& a, const DrawnCut& b) {
                return a.cut->lengthwise > b.cut->lengthwise;
            });
        }
    }

    std::string document() {
        sheet_.paragraph(assembly_.title, Role::plain, Lettering::title);
        if (rows_.empty()) {
            sheet_.paragraph("No cut was taken.");
            return sheet_.document();
        }
        const HeatBands bands = shared_bands();
        sheet_.paragraph(legend());
        sheet_.scale(bands, told_bands(bands),
                     [this](double value) { return fmt::format("{:.0f} {}", value, degree_sign(units_)); });
        const double scale = px_per_m();
        for (const auto& [key, row] : rows_) {
            const auto& [item, time_s] = key;
            const std::string when = time_s > off_s() ? "resting, " : "";
            sheet_.paragraph(
                fmt::format("{}, {}after {}", item_name(assembly_, item), when, Units::minutes(time_s)));
            double x = sheet_side, tallest = 0;
            for (const DrawnCut& cut : row) {
                draw(cut, bands, x, scale);
                x += scale * cut.width_m() + gap;
                tallest = std::max(tallest, scale * cut.height_m());
            }
            sheet_.down(tallest + line_high + 12);
        }
        return sheet_.document();
    }

  private:
    static constexpr double gap = 20;

    [[nodiscard]] double off_s() const { return off_moment(course_).time_s; }

    /// What the lines are: temperatures that rules ask of these items.
    [[nodiscard]] std::vector<double> rules_k() const {
        std::vector<double> rules;
        for (const RoastPlace& place : course_.places) {
            const bool drawn = std::any_of(rows_.begin(), rows_.end(),
                                           [&](const auto& row) { return row.first.first == place.item; });
            if (drawn && place.safe_k && std::find(rules.begin(), rules.end(), *place.safe_k) == rules.end())
                rules.push_back(*place.safe_k);
        }
        std::sort(rules.begin(), rules.end());
        return rules;
    }
    [[nodiscard]] std::string legend() const {
        std::string words = "Temperature inside: dark is cold, light is hot. ";
        for (const double rule_k : rules_k())
            words += fmt::format("Blue line: {}, what is safe. ", Units(units_).temperature(rule_k));
        return words + "Dashes: the rod.";
    }

    [[nodiscard]] HeatBands shared_bands() const {
        double least = std::numeric_limits<double>::max(), most = std::numeric_limits<double>::lowest();
        for (const auto& [key, row] : rows_) {
            for (const DrawnCut& cut : row) {
                for (const double value : cut.field.values) {
                    if (!std::isfinite(value)) continue;
                    least = std::min(least, value);
                    most = std::max(most, value);
                }
            }
        }
        return HeatBands::over(least, most, units_ == UnitSystem::metric ? 5 : 10);
    }
    [[nodiscard]] static std::size_t told_bands(const HeatBands& bands) { return bands.count > 12 ? 4 : 2; }

    /// One scale for all, so that the widest row fits and none is taller than a hand.
    [[nodiscard]] double px_per_m() const {
        constexpr double tallest_px = 240;
        double scale = std::numeric_limits<double>::max();
        for (const auto& [key, row] : rows_) {
            double wide = 0;
            for (const DrawnCut& cut : row) {
                wide += cut.width_m();
                scale = std::min(scale, tallest_px / cut.height_m());
            }
            scale = std::min(scale, (sheet_width - 2 * sheet_side - gap * double(row.size() - 1)) / wide);
        }
        return scale;
    }

    void draw(const DrawnCut& cut, const HeatBands& bands, double x, double scale) {
        const double square = scale * cut.square_m;
        const Vec2 corner(x, sheet_.y() + scale * cut.height_m());
        sheet_.under(field_svg(cut.field, bands, corner, {square, square}));
        for (const double rule_k : rules_k()) {
            sheet_.under(
                level_svg(level_line(cut.field, on_scale(rule_k, units_)), corner, {square, square}));
        }
        rod(cut, corner, square);
        const bool bird = assembly_.items[cut.cut->item].bird;
        std::string name = cut.cut->lengthwise ? "lengthwise" : "across";
        if (bird) name += cut.cut->lengthwise ? ", neck right, breast up" : ", breast up";
        const double room = scale * cut.width_m() + gap - 6;
        const int letters = std::max(2, static_cast<int>(room / svg_letters("0", Lettering::small).x()));
        sheet_.put(sheet_.text(x, corner.y() + 2, 0, shortened(name, letters), Role::faint));
    }

    void rod(const DrawnCut& cut, const Vec2& corner, double square) {
        const Item& item = assembly_.items[cut.cut->item];
        const RodLine& line = item.seat.line;
        const Box3& bounds = item.body->bounds;
        const auto at = [&](const Vec2& place) {
            const Vec2 s = cut.in_squares(place);
            return Vec2(corner.x() + square * s.x(), corner.y() - square * s.y());
        };
        const double from = bounds.min().x(), to = bounds.max().x();
        if (!(to > from)) return;
        if (cut.cut->lengthwise) {
            // Dark on a light rim: it runs through meat and through the hollow.
            const std::vector<Vec2> ends{at({from, line.from.y()}), at({to, line.to.y()})};
            sheet_.put(PictureLine{ends, Role::paper, 2.4, 0.6});
            for (std::vector<Vec2>& dash : dashes(ends, 6, 4))
                sheet_.put(PictureLine{std::move(dash), Role::strong, 1.1, 1});
            return;
        }
        const Vec2 here = line.from + (cut.cut->at_m - from) / (to - from) * (line.to - line.from);
        sheet_.put(PictureDot{at(here), 3, Role::paper});
        sheet_.put(PictureDot{at(here), 1.8, Role::strong});
    }

    const Assembly& assembly_;
    const RoastCourse& course_;
    UnitSystem units_;
    std::map<std::pair<std::size_t, double>, std::vector<DrawnCut>> rows_;
    HeatSheet sheet_;
};

}  // namespace

std::vector<RoastCut> cuts_at(const RoastCourse& course, const std::vector<double>& times_s) {
    std::vector<const RoastCut*> wanted;
    for (const double time_s : times_s) {
        std::map<std::pair<std::size_t, bool>, const RoastCut*> best;
        for (const RoastCut& cut : course.cuts) {
            const RoastCut*& known = best[{cut.item, cut.lengthwise}];
            if (known == nullptr || std::abs(cut.time_s - time_s) < std::abs(known->time_s - time_s))
                known = &cut;
        }
        for (const auto& entry : best) {
            const RoastCut* const cut = entry.second;
            const bool twice = std::any_of(wanted.begin(), wanted.end(), [cut](const RoastCut* other) {
                return other->item == cut->item && other->lengthwise == cut->lengthwise &&
                       other->time_s == cut->time_s;
            });
            if (!twice) wanted.push_back(cut);
        }
    }
    std::vector<RoastCut> cuts;
    cuts.reserve(wanted.size());
    for (const RoastCut* cut : wanted) cuts.push_back(*cut);
    return cuts;
}

std::string cut_svg(const Assembly& assembly, const RoastCourse& course, const std::vector<RoastCut>& cuts,
                    UnitSystem units) {
    return CutSheet(assembly, course, cuts, units).document();
}

}  // namespace evenspit
