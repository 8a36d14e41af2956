// SPDX-License-Identifier: MIT
#include "app/viewer/charts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <utility>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "analysis/placed.h"
#include "load/thing.h"

namespace evenspit::viewer {
namespace {

using std::numbers::pi;

struct Range {
    double from = 0, to = 1;
    void extend(double v) {
        from = std::min(from, v);
        to = std::max(to, v);
    }
    [[nodiscard]] double size() const { return std::max(to - from, 1e-12); }
};

/// A step of 1, 2 or 5 times a power of ten that cuts a range into about `pieces`.
double round_step(double size, int pieces) {
    const double raw = size / std::max(1, pieces);
    const double power = std::pow(10, std::floor(std::log10(raw)));
    for (const double step : {1.0, 2.0, 5.0}) {
        if (step * power >= raw) return step * power;
    }
    return 10 * power;
}

/// What a tick of such steps is called: "0.3", "1000".
std::string tick_text(double value) {
    return fmt::format("{:.6g}", value);
}

/// One chart: a frame with a heading, axes, and lines in its own measures.
class Chart {
  public:
    Chart(Ui& ui, ImDrawList& list, const Area& area, double opacity)
        : ui_(ui),
          list_(list),
          area_(area),
          plot_{area.x + ui.px(46), area.y + ui.px(24), area.width - ui.px(58), area.height - ui.px(46)},
          opacity_(opacity) {}

    Range x, y;
    bool down = false;  ///< y grows downward

    [[nodiscard]] ImVec2 at(double vx, double vy) const {
        const double sx = (vx - x.from) / x.size(), sy = (vy - y.from) / y.size();
        return {static_cast<float>(plot_.x + sx * plot_.width),
                static_cast<float>(plot_.y + (down ? sy : 1 - sy) * plot_.height)};
    }

    void title(std::string_view text) {
        title_end_ = area_.x + ui_.px(10) + ui_.size_of(ui_.regular(), text).x;
        ui_.letters(list_, ui_.regular(), area_.x + ui_.px(10), area_.y + ui_.px(3), text, Ink::plain,
                    opacity_);
    }
    /// Beside the title, at the right, if there is room.
    void remark(std::string_view text, Ink ink = Ink::faint) {
        const float width = ui_.size_of(ui_.small(), text).x;
        if (area_.x + area_.width - width - ui_.px(18) < title_end_) return;
        ui_.letters(list_, ui_.small(), area_.x + area_.width - width - ui_.px(10), area_.y + ui_.px(5), text,
                    ink, opacity_);
    }

    /// \param words what a value is called on the axis
    template <typename Words>
    void axes(double x_step, double y_step, const Words& x_words, const Words& y_words) {
        const auto corner = [](double cx, double cy) {
            return ImVec2(static_cast<float>(cx), static_cast<float>(cy));
        };
        list_.AddRectFilled(corner(plot_.x, plot_.y), corner(plot_.x + plot_.width, plot_.y + plot_.height),
                            IM_COL32(255, 255, 255, 255));
        for (double v = std::ceil(y.from / y_step - 1e-9) * y_step; v <= y.to + 1e-9 * y_step; v += y_step) {
            const ImVec2 a = at(x.from, v);
            list_.AddLine(a, at(x.to, v), colour_of(Ink::line, std::abs(v) < 1e-9 * y_step ? 1.0 : 0.45),
                          ui_.px(1));
            const std::string text = y_words(v);
            const ImVec2 size = ui_.size_of(ui_.small(), text);
            ui_.letters(list_, ui_.small(), a.x - size.x - ui_.px(4), a.y - size.y / 2, text, Ink::faint,
                        opacity_);
        }
        for (double v = std::ceil(x.from / x_step - 1e-9) * x_step; v <= x.to + 1e-9 * x_step; v += x_step) {
            const double low = down ? y.to : y.from;
            const ImVec2 a = at(v, low);
            list_.AddLine(a, {a.x, a.y - ui_.px(4)}, colour_of(Ink::line), ui_.px(1));
            const std::string text = x_words(v);
            const ImVec2 size = ui_.size_of(ui_.small(), text);
            const double left = std::clamp<double>(a.x - size.x / 2, area_.x, area_.x + area_.width - size.x);
            ui_.letters(list_, ui_.small(), left, plot_.y + plot_.height + ui_.px(3), text, Ink::faint,
                        opacity_);
        }
    }

    void curve(const std::vector<ImVec2>& points, Ink ink, double width, bool dashed = false) {
        clip();
        const ImU32 colour = colour_of(ink, opacity_);
        if (!dashed) {
            list_.AddPolyline(points.data(), static_cast<int>(points.size()), colour, 0, ui_.px(width));
        } else {
            for (std::size_t i = 0; i + 1 < points.size(); i += 2)
                list_.AddLine(points[i], points[i + 1], colour, ui_.px(width));
        }
        list_.PopClipRect();
    }
    void dashes(double from, double to, double vy, Ink ink, double width = 1.5) {
        const float run = ui_.px(6), gap = ui_.px(4);
        const ImVec2 a = at(from, vy), b = at(to, vy);
        for (float left = a.x; left < b.x; left += run + gap) {
            list_.AddLine({left, a.y}, {std::min(left + run, b.x), a.y}, colour_of(ink, opacity_),
                          ui_.px(width));
        }
    }
    void fill(ImVec2 a, ImVec2 b, Ink ink, double opacity) {
        list_.AddRectFilled({std::min(a.x, b.x), std::min(a.y, b.y)},
                            {std::max(a.x, b.x), std::max(a.y, b.y)}, colour_of(ink, opacity * opacity_));
    }
    void word(ImVec2 at_px, std::string_view text, Ink ink, double anchor = 0) {
        const ImVec2 size = ui_.size_of(ui_.small(), text);
        const double left = std::clamp<double>(at_px.x - anchor * size.x, plot_.x + ui_.px(2),
                                               std::max(plot_.x + ui_.px(2), plot_.x + plot_.width - size.x));
        const double top = std::clamp<double>(at_px.y, plot_.y, plot_.y + plot_.height - size.y);
        clip();
        ui_.letters(list_, ui_.small(), left, top, text, ink, opacity_);
        unclip();
    }
    void clip() {
        list_.PushClipRect(
            {static_cast<float>(plot_.x), static_cast<float>(plot_.y)},
            {static_cast<float>(plot_.x + plot_.width), static_cast<float>(plot_.y + plot_.height)}, true);
    }
    void unclip() { list_.PopClipRect(); }
    [[nodiscard]] ImDrawList& list() const { return list_; }
    [[nodiscard]] const Area& plot() const { return plot_; }
    [[nodiscard]] double opacity() const { return opacity_; }

  private:
    Ui& ui_;
    ImDrawList& list_;
    Area area_, plot_;
    double opacity_;
    double title_end_ = 0;
};

/// What all four charts share.
struct Strip {
    Ui& ui;
    const Desk& desk;
    ImDrawList& list;
    double opacity;

    [[nodiscard]] const Analysis& now() const { return desk.answers().analysis(); }
    [[nodiscard]] const Assembly& load() const { return desk.answers().assembly(); }
    [[nodiscard]] UnitSystem units() const { return desk.settings().units; }
    [[nodiscard]] bool metric() const { return units() == UnitSystem::metric; }
    [[nodiscard]] std::string words(double si, Dimension d) const { return format_quantity(si, d, units()); }

    void torque(const Area& area) const {
        Chart chart(ui, list, area, opacity);
        const Balance& balance = now().balance;
        const Motor& motor = load().motor;
        chart.x = {0, 360};
        chart.y = {0, 1e-6};
        const auto extend = [&chart](const Balance& b) {
            for (const auto& [deg, torque] : b.curve) chart.y.extend(torque);
        };
        extend(balance);
        if (desk.session().pinned()) extend(desk.session().pinned()->analysis.balance);
        // A limit far above the curve is named; one within sight is drawn.
        const bool rated_near = motor.rated_torque_n_m < 2.5 * chart.y.to;
        const bool stall_near = motor.stall_torque_n_m < 2 * chart.y.to;
        if (rated_near) chart.y.extend(motor.rated_torque_n_m);
        if (stall_near) chart.y.extend(motor.stall_torque_n_m);
        chart.y.to += 0.12 * chart.y.size();
        chart.y.from -= 0.04 * chart.y.size();

        chart.title("Torque over a turn");
        // US torques come in pound-inches here, as everywhere.
        const double unit = metric() ? 1 : 0.1129848290276167;
        const auto y_words = [unit](double v) { return tick_text(std::abs(v) < 1e-9 ? 0 : v / unit); };
        const auto x_words = [](double v) { return fmt::format("{:.0f}°", std::abs(v)); };
        using Words = std::function<std::string(double)>;
        chart.axes(90, round_step(chart.y.size() / unit, 4) * unit, Words(x_words), Words(y_words));
        if (balance.curve.empty()) return;
        if (chart.y.from < 0) {
            chart.clip();
            chart.fill(chart.at(0, 0), chart.at(360, chart.y.from), Ink::care, 0.10);
            chart.unclip();
            // Where the load drives now, the strip above says so, and the letters would lie over the mark.
            if (now().turning.overruns && torque_at(balance, desk.turn().angle_rad) >= 0) {
                // On the side where the load is not.
                const bool right = desk.turn().angle_rad < pi;
                chart.word(chart.at(right ? 356 : 4, chart.y.from + 0.13 * chart.y.size()),
                           "below 0 the load drives the gears", Ink::care, right ? 1 : 0);
            }
        }
        const auto limit = [&](double torque, const char* name, Ink ink) {
            chart.dashes(0, 360, torque, ink);
            chart.word(chart.at(4, torque), fmt::format("{} {}", name, words(torque, Dimension::torque)),
                       ink);
        };
        if (rated_near) limit(motor.rated_torque_n_m, "rated", Ink::care);
        if (stall_near) limit(motor.stall_torque_n_m, "stalls at", Ink::stop);
        if (!rated_near) {
            chart.remark(fmt::format("{}, rated {} ↑", metric() ? "N m" : "lbf in",
                                     words(motor.rated_torque_n_m, Dimension::torque)));
        } else {
            chart.remark(metric() ? "N m" : "lbf in");
        }
        const auto points = [&chart](const Balance& b) {
            std::vector<ImVec2> result;
            for (const auto& [deg, torque] : b.curve) result.push_back(chart.at(deg, torque));
            result.push_back(chart.at(360, b.curve.front()[1]));
            return result;
        };
        if (desk.session().pinned() && !desk.session().pinned()->analysis.balance.curve.empty()) {
            // Every other stretch of five degrees.
            std::vector<ImVec2> sparse;
            const std::vector<ImVec2> all = points(desk.session().pinned()->analysis.balance);
            for (std::size_t i = 0; i < all.size(); i += std::max<std::size_t>(1, all.size() / 72))
                sparse.push_back(all[i]);
            chart.curve(sparse, Ink::pinned, 2, true);
        }
        chart.curve(points(balance), Ink::accent, 2.2);
        const double turn = desk.turn().angle_rad;
        const double torque = torque_at(balance, turn);
        const ImVec2 here = chart.at(turn * 180 / pi, torque);
        list.AddLine(chart.at(turn * 180 / pi, chart.y.from), chart.at(turn * 180 / pi, chart.y.to),
                     colour_of(Ink::strong, 0.35 * opacity), ui.px(1));
        list.AddCircleFilled(here, ui.px(4.5), colour_of(Ink::strong, opacity), 20);
        chart.word({here.x + ui.px(7), here.y - ui.px(16)}, "now " + words(torque, Dimension::torque),
                   Ink::strong);
    }

    void radius(const Area& area) const {
        Chart chart(ui, list, area, opacity);
        const Rod& rod = load().rod;
        const Clearance& clearance = now().clearance;
        chart.x = {0, rod.length_m};
        chart.y = {0, 0.02};
        for (const auto& [x, r] : clearance.profile) chart.y.extend(r);
        const std::vector<std::vector<Vec2>>& walls = desk.walls();
        for (const std::vector<Vec2>& wall : walls) {
            for (const Vec2& at : wall) {
                // Walls beside the load, not those that the rod runs through.
                if (clearance.outline.radius_at(at.x()) > 0) chart.y.extend(std::min(at.y(), 0.5));
            }
        }
        chart.y.to *= 1.12;
        chart.title("Radius along the rod");
        chart.remark(metric() ? "mm, walls as lines" : "in, walls as lines");
        const double unit = metric() ? 1e-3 : 0.0254;
        using Words = std::function<std::string(double)>;
        const Words plain = [unit](double v) { return tick_text(std::abs(v) < 1e-12 ? 0 : v / unit); };
        chart.axes(round_step(chart.x.size() / unit, 4) * unit, round_step(chart.y.size() / unit, 4) * unit,
                   plain, plain);
        chart.clip();
        // Smoothed edges would show as seams between neighbours.
        const ImDrawListFlags flags =
            std::exchange(list.Flags, list.Flags & ~ImDrawListFlags_AntiAliasedFill);
        for (const OutlinePiece& piece : clearance.outline.pieces) {
            list.AddQuadFilled(chart.at(piece.x0, 0), chart.at(piece.x0, piece.r0),
                               chart.at(piece.x1, piece.r1), chart.at(piece.x1, 0),
                               colour_of(Ink::accent, 0.22 * opacity));
        }
        list.Flags = flags;
        chart.unclip();
        if (desk.session().pinned()) {
            std::vector<ImVec2> pinned;
            const auto& all = desk.session().pinned()->analysis.clearance.profile;
            for (std::size_t i = 0; i < all.size(); i += std::max<std::size_t>(1, all.size() / 80))
                pinned.push_back(chart.at(all[i][0], all[i][1]));
            chart.curve(pinned, Ink::pinned, 2, true);
        }
        std::vector<ImVec2> profile;
        const OutlinePiece* before = nullptr;
        for (const OutlinePiece& piece : clearance.outline.pieces) {
            if (before != nullptr && before->x1 < piece.x0) {
                chart.curve(profile, Ink::accent, 1.6);
                profile.clear();
            }
            // Points that fall together would make the line swell.
            for (const ImVec2 point : {chart.at(piece.x0, piece.r0), chart.at(piece.x1, piece.r1)}) {
                if (profile.empty() ||
                    std::hypot(point.x - profile.back().x, point.y - profile.back().y) > 0.75F)
                    profile.push_back(point);
            }
            before = &piece;
        }
        chart.curve(profile, Ink::accent, 1.6);
        double named_at = -1;
        for (std::size_t s = 0; s < std::min(walls.size(), load().cooker.surfaces.size()); ++s) {
            std::vector<ImVec2> line;
            for (const Vec2& at : walls[s]) line.push_back(chart.at(at.x(), at.y()));
            const bool fire = load().cooker.surfaces[s].fire;
            chart.curve(line, fire ? Ink::stop : Ink::plain, fire ? 2.2 : 1.6);
            if (line.empty() || walls[s].size() < 2) continue;
            const std::size_t middle = line.size() / 2;
            // Two fires at one height share a name.
            if (!fire || std::abs(walls[s][middle].y() - named_at) < 0.02) continue;
            named_at = walls[s][middle].y();
            ImVec2 at = line[middle];
            at.y -= ui.px(16);
            chart.word(at, fmt::format("{} (fire)", load().cooker.surfaces[s].name), Ink::stop, 0.5);
        }
    }

    void sag(const Area& area) const {
        Chart chart(ui, list, area, opacity);
        const RodResult& rod = now().rod;
        chart.x = {0, load().rod.length_m};
        chart.y = {0, 1e-4};
        chart.down = true;
        const auto extend = [&chart](const RodResult& r) {
            for (const auto& [x, down] : r.sag) chart.y.extend(down);
        };
        extend(rod);
        if (desk.session().pinned()) extend(desk.session().pinned()->analysis.rod);
        if (chart.y.to > 0.6 * limits::sag_care_m) chart.y.extend(limits::sag_care_m);
        chart.y.to += 0.18 * chart.y.size();
        chart.y.from -= 0.10 * chart.y.size();
        chart.title("Sag of the rod");
        chart.remark(metric() ? "mm down" : "in down");
        const double unit = metric() ? 1e-3 : 0.0254;
        using Words = std::function<std::string(double)>;
        const Words plain = [unit](double v) { return tick_text(std::abs(v) < 1e-12 ? 0 : v / unit); };
        chart.axes(round_step(chart.x.size() / unit, 3) * unit, round_step(chart.y.size() / unit, 3) * unit,
                   plain, plain);
        const auto points = [&chart](const RodResult& r) {
            std::vector<ImVec2> result;
            for (const auto& [x, down] : r.sag) result.push_back(chart.at(x, down));
            return result;
        };
        if (chart.y.to >= limits::sag_care_m) {
            chart.dashes(chart.x.from, chart.x.to, limits::sag_care_m, Ink::care);
            chart.word(chart.at(chart.x.from, limits::sag_care_m),
                       "care " + words(limits::sag_care_m, Dimension::length), Ink::care);
        }
        if (desk.session().pinned())
            chart.curve(points(desk.session().pinned()->analysis.rod), Ink::pinned, 2, true);
        chart.curve(points(rod), Ink::accent, 2.2);
        for (const double support : load().rod.supports_m) {
            const ImVec2 foot = chart.at(support, 0);
            const float s = ui.px(5);
            list.AddTriangleFilled(foot, {foot.x + s, foot.y + 1.6F * s}, {foot.x - s, foot.y + 1.6F * s},
                                   colour_of(Ink::plain, opacity));
        }
        chart.word(chart.at(rod.sag_at_m, rod.sag_max_m), words(rod.sag_max_m, Dimension::length),
                   Ink::strong, 0.5);
    }

    void grip(const Area& area) const {
        const Grip& grip = now().grip;
        const auto left = area.x + ui.px(10);
        ui.letters(list, ui.regular(), left, area.y + ui.px(3), "Grip per tine", Ink::plain, opacity);
        std::size_t tines = 0;
        double longest = 0.01;
        for (std::size_t f = 0; f < grip.forks.size(); ++f) {
            tines += grip.forks[f].tines.size();
            for (const Tine& tine : load().forks[f].tines) longest = std::max(longest, tine.length_m);
        }
        if (tines == 0) {
            ui.letters(list, ui.small(), left, area.y + ui.px(26), "No forks on the rod.", Ink::faint,
                       opacity);
            return;
        }
        const double room = area.height - ui.px(44);
        const double row = std::min<double>(room / static_cast<double>(tines + grip.forks.size()), ui.px(17));
        const Area rows{left, area.y + ui.px(25), area.width - ui.px(20), row};
        // Many forks would write over each other with a line for each tine.
        if (row >= ui.px(11)) {
            line_per_tine(rows, longest);
        } else {
            const double high = std::min<double>(room / static_cast<double>(grip.forks.size()), ui.px(17));
            line_per_fork({rows.x, rows.y, rows.width, high}, longest);
        }
        ui.letters(list, ui.small(), left, area.y + area.height - ui.px(18), "flesh ■  bone ▨  hollow □",
                   Ink::faint, opacity);
    }

    // What is told beside a tine, and how.
    struct TineWord {
        std::string text;
        Ink ink;
    };
    [[nodiscard]] TineWord tine_word(const TineGrip& tine) const {
        if (tine.in_bone_m > limits::bone_care_m) return {"in bone", Ink::care};
        if (tine.cover_min_m && *tine.cover_min_m < limits::cover_care_m)
            return {"cover " + words(*tine.cover_min_m, Dimension::length), Ink::care};
        return {words(tine.in_flesh_m(), Dimension::length), Ink::plain};
    }

    [[nodiscard]] std::string holds(std::size_t fork) const {
        return words(now().grip.forks[fork].torque_capacity_n_m, Dimension::torque);
    }

    void line_per_tine(const Area& first, double longest) const {
        const double bar_x = first.x + ui.px(44), bar_width = first.width - ui.px(126);
        double y = first.y;
        for (std::size_t f = 0; f < now().grip.forks.size(); ++f) {
            ui.letters(list, ui.small(), first.x, y, fork_name(f), Ink::faint, opacity);
            right_aligned("holds " + holds(f), first, y, Ink::faint);
            y += first.height;
            for (std::size_t t = 0; t < now().grip.forks[f].tines.size(); ++t) {
                const TineGrip& tine = now().grip.forks[f].tines[t];
                const double width = load().forks[f].tines[t].length_m / longest * bar_width;
                ui.letters(list, ui.small(), first.x + ui.px(6), y, fmt::format("tine {}", t + 1), Ink::plain,
                           opacity);
                tine_bar(tine, load().forks[f].tines[t].length_m, {bar_x, y, width, first.height});
                const TineWord word = tine_word(tine);
                ui.letters(list, ui.small(), bar_x + width + ui.px(4), y, word.text, word.ink, opacity);
                y += first.height;
            }
        }
    }

    // The tines' bars side by side; in words what is wrong with one of them, or what the fork holds.
    void line_per_fork(const Area& first, double longest) const {
        const double bar_x = first.x + ui.px(40), bar_width = first.width - ui.px(112);
        double y = first.y;
        for (std::size_t f = 0; f < now().grip.forks.size(); ++f) {
            ui.letters(list, ui.small(), first.x, y, fork_name(f), Ink::faint, opacity);
            TineWord word{holds(f), Ink::faint};
            const auto& tines = now().grip.forks[f].tines;
            const double slot = bar_width / static_cast<double>(std::max<std::size_t>(tines.size(), 1));
            for (std::size_t t = 0; t < tines.size(); ++t) {
                const double length_m = load().forks[f].tines[t].length_m;
                const double width = length_m / longest * (slot - ui.px(3));
                tine_bar(tines[t], length_m, {bar_x + static_cast<double>(t) * slot, y, width, first.height});
                if (word.ink != Ink::care && tine_word(tines[t]).ink == Ink::care) word = tine_word(tines[t]);
            }
            right_aligned(word.text, first, y, word.ink);
            y += first.height;
        }
    }

    // Left out where it would reach into the fork's name.
    void right_aligned(const std::string& text, const Area& row, double y, Ink ink) const {
        const double x = row.x + row.width - ui.size_of(ui.small(), text).x;
        if (x > row.x + ui.px(44)) ui.letters(list, ui.small(), x, y, text, ink, opacity);
    }

    /// \param row where the whole tine is drawn, from hub to tip
    void tine_bar(const TineGrip& tine, double length_m, const Area& row) const {
        const auto corner = [](double x, double y) {
            return ImVec2(static_cast<float>(x), static_cast<float>(y));
        };
        const double top = row.y + ui.px(3), bottom = row.y + row.height - ui.px(2);
        list.AddRect(corner(row.x, top), corner(row.x + row.width, bottom), colour_of(Ink::line, opacity));
        double x = row.x;
        const auto stretch = [&](double length, int kind) {
            const double width = length / length_m * row.width;
            if (width <= 0) return;
            if (kind == 0) {
                list.AddRectFilled(corner(x, top), corner(x + width, bottom),
                                   colour_of(Ink::accent, 0.75 * opacity));
            } else if (kind == 1) {
                list.AddRectFilled(corner(x, top), corner(x + width, bottom),
                                   colour_of(Ink::care, 0.35 * opacity));
                for (double s = x + ui.px(2); s < x + width; s += ui.px(4)) {
                    list.AddLine(corner(s, top), corner(std::max(x, s - ui.px(4)), bottom),
                                 colour_of(Ink::care, opacity), ui.px(1.2));
                }
            } else {
                list.AddRect(corner(x, top), corner(x + width, bottom), colour_of(Ink::plain, opacity));
            }
            x += width;
        };
        stretch(tine.in_flesh_m(), 0);
        stretch(tine.in_bone_m, 1);
        stretch(tine.in_cavity_m, 2);
    }
};

}  // namespace

void draw_charts(Ui& ui, const Desk& desk, const Area& area) {
    if (!desk.has_answer()) return;
    const Strip strip{ui, desk, *ImGui::GetWindowDrawList(), desk.answers().stale() ? 0.45 : 1.0};
    constexpr std::array<double, 4> shares = {0.29, 0.29, 0.20, 0.22};
    double x = area.x;
    const auto next = [&](double share) {
        const Area cell{x, area.y, share * area.width, area.height};
        x += cell.width;
        return cell;
    };
    strip.torque(next(shares[0]));
    strip.radius(next(shares[1]));
    strip.sag(next(shares[2]));
    strip.grip(next(shares[3]));
}

}  // namespace evenspit::viewer
