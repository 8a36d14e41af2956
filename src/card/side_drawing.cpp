// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "card/drawing.h"
#include "card/drawn_parts.h"
#include "load/thing.h"
#include "report/rod_line_words.h"
#include "report/text_layout.h"
#include "scene/scene.h"
#include "units/tell.h"

namespace evenspit::card {
namespace {

/// A place along the rod with its name.
struct Station {
    double at_m = 0;
    std::string name, figure;
};

std::string_view unit_word(UnitSystem units) {
    return units == UnitSystem::metric ? " mm" : " in";
}

/// "190" of "190 mm": the caption tells the unit of all.
std::string bare_figure(double m, UnitSystem units) {
    std::string text = length_text(m, units);
    if (text.ends_with(unit_word(units))) text.resize(text.size() - unit_word(units).size());
    return text;
}

class SideDrawing {
  public:
    SideDrawing(const DrawnLoad& drawn, const DrawingRoom& room)
        : drawn_(drawn), load_(drawn.load), room_(room) {
        sheet_.width_pt = room.width_pt;
    }

    Sheet drawn() {
        const double letter = room_.letter_pt;
        caption();
        const double row_pt = 2.5 * letter, lead_pt = 1.3 * letter;
        const std::vector<Station> above = stations_above(), below = stations_below();
        const double top = caption_pt() + (above.empty() ? 0.4 * letter : row_pt + lead_pt);
        set_scale(top);
        draw_cooker(sheet_, load_.cooker, LookedAt::from_front, 0, scale_, window_);
        rod();
        meat();
        hardware();
        if (!above.empty()) labels(above, caption_pt(), window_.y, true);
        labels(below, window_.bottom() + lead_pt, window_.bottom(), false);
        sheet_.height_pt = window_.bottom() + lead_pt + row_pt;
        return std::move(sheet_);
    }

  private:
    [[nodiscard]] double caption_pt() const { return 1.7 * room_.letter_pt; }

    void caption() {
        const double letter = room_.letter_pt;
        const std::string figures =
            fmt::format("{} from the rod's square end", drawn_.units == UnitSystem::metric ? "mm" : "inches");
        std::string words = fmt::format("From the front, to scale. Figures: {}.", figures);
        if (room_.measure(words, letter, false) > room_.width_pt) words = fmt::format("In {}.", figures);
        sheet_.text(room_.measure, {0, above_line * letter}, 0,
                    cut_to(room_.measure, words, letter, false, room_.width_pt), letter, false, 0.2);
    }

    /// The drawing is as wide as the room; where that makes it too high, less of the cooker shows.
    void set_scale(double top) {
        constexpr double past_m = 0.012;
        const double letter = room_.letter_pt, motor_pt = 3.2 * letter;
        const double reach = reach_m(drawn_) + past_m;
        double up = reach, down = reach;
        for (const SurfaceGap& gap : drawn_.analysis.clearance.surfaces) {
            if (!std::isfinite(gap.on_surface.z())) continue;
            up = std::max(up, gap.on_surface.z() + past_m);
            down = std::max(down, -gap.on_surface.z() + past_m);
        }
        const double most_pt = room_.most_height_pt - top - 4 * letter;
        double pt_per_m = (room_.width_pt - motor_pt - letter) / load_.rod.length_m;
        if (pt_per_m * (up + down) > most_pt) {
            const double most_m = std::max(most_pt / pt_per_m / 2, reach);
            up = std::min(up, most_m);
            down = std::min(down, most_m);
        }
        pt_per_m = std::min(pt_per_m, most_pt / (up + down));
        // Where the height holds it back it stands in the middle.
        const double left = (room_.width_pt - motor_pt - letter - pt_per_m * load_.rod.length_m) / 2;
        scale_ = {{left + motor_pt, top + pt_per_m * up}, pt_per_m};
        window_ = {0, top, room_.width_pt, pt_per_m * (up + down)};
    }

    void box(double from_m, double to_m, double low_m, double high_m, std::optional<double> fill,
             const Stroke& stroke) {
        const Vec2 a = scale_({from_m, high_m}), b = scale_({to_m, low_m});
        sheet_.rectangle({a.x(), a.y(), b.x() - a.x(), b.y() - a.y()}, fill, stroke);
    }

    void rod() {
        const Rod& rod = load_.rod;
        const double half = std::max(rod.width_m / 2, 0.8 / scale_.pt_per_m);
        const double point = std::min(4 * rod.width_m, rod.length_m / 4);
        std::vector<Vec2> ring;
        for (const Vec2& p : {Vec2(0, -half), Vec2(rod.length_m - point, -half), Vec2(rod.length_m, 0),
                              Vec2(rod.length_m - point, half), Vec2(0, half)})
            ring.push_back(scale_(p));
        sheet_.shapes.emplace_back(SheetPath{{std::move(ring)}, true, 1.0, Stroke{0.8, 0}});
        // The motor stands where the rod seats; its size is not known.
        const double seat = rod.supports_m[0];
        const double letter = room_.letter_pt;
        const Vec2 end = scale_({0, 0});
        const Frame motor{end.x() - 2.4 * letter, end.y() - 1.6 * letter, 2.2 * letter, 3.2 * letter};
        sheet_.rectangle(motor, 0.93, Stroke{0.8, 0.2});
        sheet_.text(room_.measure, {motor.x + motor.width, motor.y - 0.4 * letter}, 1, "motor",
                    0.85 * letter);
        for (const double at : {seat, rod.supports_m[1]}) {
            const Vec2 tip = scale_({at, -half});
            std::vector<Vec2> foot{tip, tip + Vec2(-4, 8), tip + Vec2(4, 8)};
            sheet_.shapes.emplace_back(SheetPath{{std::move(foot)}, true, 1.0, Stroke{0.8, 0}});
        }
    }

    void meat() {
        for (std::size_t i = 0; i < drawn_.from_front.size(); ++i) {
            SheetPath path{{}, true, meat_grey, Stroke{1.2, 0}};
            for (const std::vector<Vec2>& ring : drawn_.from_front[i]) {
                path.rings.emplace_back();
                for (const Vec2& p : ring) path.rings.back().push_back(scale_(p));
            }
            if (!path.rings.empty()) sheet_.shapes.emplace_back(std::move(path));
            const auto [from, to] = stretch_on_rod(load_.items[i]);
            const double half = std::max(load_.rod.width_m / 2, 0.8 / scale_.pt_per_m);
            for (const double z : {-half, half})
                sheet_.line(scale_({from, z}), scale_({to, z}), {0.7, 0.25, true});
        }
    }

    /// Its frame and a few wires, as high as it is seen from the side.
    void basket(const Fork& basket) {
        const auto [from, to] = fork_stretch(basket);
        const Cage& cage = basket.cage;
        const double half = cage.round ? cage.width_m / 2
                                       : std::abs(std::cos(basket.clock_rad)) * cage.width_m / 2 +
                                             std::abs(std::sin(basket.clock_rad)) * cage.height_m / 2;
        for (const double z : {-half, half}) sheet_.line(scale_({from, z}), scale_({to, z}), {1.2, 0});
        constexpr int frames = 6;
        for (int k = 0; k <= frames; ++k) {
            const double x = from + (to - from) * k / frames;
            sheet_.line(scale_({x, -half}), scale_({x, half}), {k == 0 || k == frames ? 1.2 : 0.5, 0.3});
        }
    }

    void hardware() {
        for (const Fork& fork : load_.forks) {
            if (fork.kind == ForkKind::basket) {
                basket(fork);
                continue;
            }
            for (const Tine& tine : fork.tines) {
                const PinLine line = pin_line(fork, tine);
                const double root = line.root.z(), tip = line.tip.z();
                const double width = std::max(1.2, tine.diameter_m * scale_.pt_per_m);
                sheet_.line(scale_({fork.at_m, 0}), scale_({fork.at_m, root}), {width, 0});
                sheet_.line(scale_({fork.at_m, root}), scale_({line.tip.x(), tip}), {width, 0});
            }
            box(fork.at_m - scene::hub_length_m / 2, fork.at_m + scene::hub_length_m / 2,
                -scene::hub_radius_m, scene::hub_radius_m, 0.0, {0.6, 0});
        }
        for (const Counterweight& weight : load_.counterweights) {
            const double half = weight.diameter_m / 2, z = weight.radius_m * std::sin(weight.clock_rad);
            sheet_.line(scale_({weight.at_m, 0}), scale_({weight.at_m, z}), {1.2, 0});
            box(weight.at_m - half, weight.at_m + half, z - half, z + half, 0.6, {1, 0});
        }
    }

    [[nodiscard]] Station station(double at_m, std::string name) const {
        return {at_m, std::move(name), bare_figure(at_m, drawn_.units)};
    }

    [[nodiscard]] std::vector<Station> stations_above() const {
        std::vector<Station> all;
        for (std::size_t f = 0; f < load_.forks.size(); ++f)
            all.push_back(station(load_.forks[f].at_m, fork_name(load_.forks, f)));
        for (std::size_t c = 0; c < load_.counterweights.size(); ++c)
            all.push_back(station(load_.counterweights[c].at_m, fmt::format("weight {}", c + 1)));
        return in_order(std::move(all));
    }

    /// Where the rod goes in and comes out, as hands find it.
    [[nodiscard]] std::vector<Station> stations_below() const {
        std::vector<Station> all{station(0, "square end")};
        for (const Item& item : load_.items) {
            const auto felt = felt_line(item);
            const auto [from, to] = stretch_on_rod(item);
            std::array<double, 2> at{from, to};
            std::array<std::string, 2> names{"meat from", "meat to"};
            if (felt) {
                for (std::size_t end = 0; end < 2; ++end) at[end] = on_rod(item, felt->ends[end].x_m);
                std::sort(at.begin(), at.end());
                if (felt->openings) names = {"vent", "neck"};
                if (felt->openings && item.seat.facing == Facing::drive) std::swap(names[0], names[1]);
            }
            for (std::size_t end = 0; end < 2; ++end) all.push_back(station(at[end], names[end]));
        }
        all.push_back(station(load_.rod.length_m, "point"));
        return in_order(std::move(all));
    }

    /// Station of a place of an item's rod line. The line is the rod's axis.
    static double on_rod(const Item& item, double x_m) {
        const double from = item.body->bounds.min().x(), to = item.body->bounds.max().x();
        const Vec2 across =
            item.seat.line.from + (x_m - from) / (to - from) * (item.seat.line.to - item.seat.line.from);
        return (item.pose * Vec3(x_m, across.x(), across.y())).x();
    }

    static std::vector<Station> in_order(std::vector<Station> all) {
        std::stable_sort(all.begin(), all.end(),
                         [](const Station& a, const Station& b) { return a.at_m < b.at_m; });
        return all;
    }

    /// A row of names with their figures, each with a line to its place.
    void labels(const std::vector<Station>& stations, double row_y, double edge_y, bool above) {
        double letter = room_.letter_pt;
        std::vector<double> wanted, widths, at;
        constexpr double smallest_pt = 4, gap_letters = 0.7;
        for (; at.empty() && letter >= smallest_pt; letter -= 0.25) {
            wanted.clear();
            widths.clear();
            for (const Station& s : stations) {
                wanted.push_back(scale_({s.at_m, 0}).x());
                widths.push_back(std::max(room_.measure(s.name, 0.92 * letter, false),
                                          room_.measure(s.figure, 1.1 * letter, true)));
            }
            at = spread_out(wanted, widths, gap_letters * letter, 0, room_.width_pt);
            if (!at.empty()) break;
        }
        if (at.empty()) return;
        for (std::size_t i = 0; i < stations.size(); ++i) {
            const double name_y = row_y + above_line * letter, figure_y = name_y + 1.2 * letter;
            sheet_.text(room_.measure, {at[i], name_y}, 0.5, stations[i].name, 0.92 * letter);
            sheet_.text(room_.measure, {at[i], figure_y}, 0.5, stations[i].figure, 1.1 * letter, true);
            const double touch_y = above ? figure_y + 0.34 * letter : row_y - 0.1 * letter;
            const Stroke thin{0.5, 0.3};
            const Vec2 edge(wanted[i], edge_y);
            sheet_.line({at[i], touch_y}, edge, thin);
            sheet_.line(edge, {wanted[i], scale_({0, (above ? 1 : -1) * load_.rod.width_m / 2}).y()}, thin);
        }
    }

    const DrawnLoad& drawn_;
    const Assembly& load_;
    const DrawingRoom& room_;
    Sheet sheet_;
    Scale scale_;
    Frame window_;
};

}  // namespace

Sheet side_drawing(const DrawnLoad& drawn, const DrawingRoom& room) {
    return SideDrawing(drawn, room).drawn();
}

}  // namespace evenspit::card
