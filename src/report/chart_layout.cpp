// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <utility>

#include "report/chart.h"

namespace evenspit {
namespace {

// Points; times the scale, pixels.
constexpr double side = 10;      // free at the left and right of a frame
constexpr double title_top = 3;  // from the frame's top
constexpr double small_top = 5;
constexpr double tick_gap = 4;  // between letters and what they belong to
constexpr double plot_left = 46, plot_top = 24, plot_right = 12, plot_bottom = 22;
constexpr double nearest_points = 0.75;  // points of a line that fall together would make it swell

/// What a picture of words and lines is put together with.
class Sheet {
  public:
    Sheet(const MeasureLetters& letters, double scale) : letters_(letters), scale_(scale) {}

    [[nodiscard]] double px(double points) const { return points * scale_; }
    [[nodiscard]] Vec2 size(std::string_view text, Lettering lettering = Lettering::small) const {
        return letters_(text, lettering);
    }
    /// The frame of a text whose place at its anchor is known.
    [[nodiscard]] Frame frame(double x, double top, double anchor, std::string_view text,
                              Lettering lettering = Lettering::small) const {
        const Vec2 s = size(text, lettering);
        return {x - anchor * s.x(), top, s.x(), s.y()};
    }
    [[nodiscard]] bool is_free(const Frame& frame) const {
        return std::none_of(taken_.begin(), taken_.end(),
                            [&](const Frame& other) { return frame.overlaps(other); });
    }
    /// Whatever lies there already.
    void put(const Frame& frame, double anchor, std::string text, Role role,
             Lettering lettering = Lettering::small) {
        taken_.push_back(frame);
        picture_.emplace_back(PictureText{frame, anchor, std::move(text), role, lettering});
    }
    bool put_if_free(const Frame& frame, double anchor, const std::string& text, Role role) {
        if (!is_free(frame)) return false;
        put(frame, anchor, text, role);
        return true;
    }
    void line(std::vector<Vec2> points, Role role, double width, double opacity = 1) {
        if (points.size() > 1)
            picture_.emplace_back(PictureLine{std::move(points), role, px(width), opacity});
    }
    void polygon(std::vector<Vec2> corners, Role role, double opacity = 1, bool joined = false) {
        if (corners.size() > 2)
            picture_.emplace_back(PicturePolygon{std::move(corners), role, opacity, joined});
    }
    void dot(const Vec2& centre, double radius, Role role) {
        picture_.emplace_back(PictureDot{centre, px(radius), role});
    }
    void rectangle(const Frame& f, Role role, double opacity = 1) { polygon(corners_of(f), role, opacity); }
    void outline(const Frame& f, Role role) {
        std::vector<Vec2> round = corners_of(f);
        round.push_back(round.front());
        line(std::move(round), role, 1);
    }
    Picture take() { return std::move(picture_); }

  private:
    static std::vector<Vec2> corners_of(const Frame& f) {
        return {{f.x, f.y}, {f.right(), f.y}, {f.right(), f.bottom()}, {f.x, f.bottom()}};
    }

    const MeasureLetters& letters_;
    double scale_;
    Picture picture_;
    std::vector<Frame> taken_;
};

class ChartLayout {
  public:
    ChartLayout(const Chart& chart, const Frame& frame, const MeasureLetters& letters, double scale)
        : chart_(chart), frame_(frame), sheet_(letters, scale), plot_(plot_of(frame, scale)) {}

    Picture picture() {
        if (plot_.width <= 0 || plot_.height <= 0) return {};
        heads();
        sheet_.rectangle(plot_, Role::paper);
        upright_axis();
        level_axis();
        for (const Fill& fill : chart_.fills) {
            std::vector<Vec2> corners;
            for (const Vec2& p : fill.corners) corners.push_back(at(p));
            sheet_.polygon(clipped_polygon(corners, plot_), fill.role, fill.opacity, fill.joined);
        }
        for (const Limit& limit : chart_.limits) {
            dashed({at({chart_.x.from, limit.at}), at({chart_.x.to, limit.at})}, limit.role, 1.5);
        }
        for (const Series& series : chart_.series) draw(series);
        for (const Mark& mark : chart_.marks) draw(mark);
        for (const Mark& mark : chart_.marks) word(mark);
        for (const Limit& limit : chart_.limits) word(limit);
        return sheet_.take();
    }

  private:
    [[nodiscard]] Vec2 at(const Vec2& p) const {
        const auto share = [](const Axis& axis, double v) {
            if (axis.size() > 0) return (v - axis.from) / axis.size();
            return std::isfinite(v) ? 0.5 : v;
        };
        const double up = share(chart_.y, p.y());
        return {plot_.x + share(chart_.x, p.x()) * plot_.width,
                plot_.y + (chart_.y.downward ? up : 1 - up) * plot_.height};
    }

    void heads() {
        const Frame title = sheet_.frame(frame_.x + sheet_.px(side), frame_.y + sheet_.px(title_top), 0,
                                         chart_.title, Lettering::title);
        sheet_.put(title, 0, chart_.title, Role::plain, Lettering::title);
        title_bottom_ = title.bottom();
        for (const std::string& words : {chart_.remark, chart_.short_remark}) {
            const Frame remark =
                sheet_.frame(frame_.right() - sheet_.px(side), frame_.y + sheet_.px(small_top), 1, words);
            if (words.empty() || remark.x < title.right() + sheet_.px(8)) continue;
            sheet_.put(remark, 1, words, Role::faint);
            return;
        }
    }

    void upright_axis() {
        for (const Tick& tick : chart_.y.ticks) {
            const Vec2 left = at({chart_.x.from, tick.at}), right = at({chart_.x.to, tick.at});
            sheet_.line({left, right}, Role::line, 1, tick.at == 0 ? 1 : 0.45);
            Frame letters = sheet_.frame(left.x() - sheet_.px(tick_gap),
                                         left.y() - sheet_.size(tick.text).y() / 2, 1, tick.text);
            // Close to the plot's top the title is over it.
            letters.y = std::max(letters.y, title_bottom_);
            sheet_.put_if_free(letters, 1, tick.text, Role::faint);
        }
    }

    void level_axis() {
        double free_from = frame_.x;
        for (const Tick& tick : chart_.x.ticks) {
            const Vec2 foot(at({tick.at, 0}).x(), plot_.bottom());
            sheet_.line({foot, {foot.x(), foot.y() - sheet_.px(4)}}, Role::line, 1);
            if (tick.text.empty()) continue;
            Frame letters = sheet_.frame(foot.x(), foot.y() + sheet_.px(3), 0.5, tick.text);
            letters.x = std::clamp(letters.x, frame_.x, std::max(frame_.x, frame_.right() - letters.width));
            // A little room, or figures would run into one.
            if (letters.x < free_from) continue;
            if (sheet_.put_if_free(letters, 0.5, tick.text, Role::faint))
                free_from = letters.right() + 2 * sheet_.px(tick_gap);
        }
    }

    void dashed(const std::vector<Vec2>& points, Role role, double width) {
        for (const std::vector<Vec2>& piece : clipped_line(points, plot_)) {
            for (std::vector<Vec2>& dash : dashes(piece, sheet_.px(6), sheet_.px(4)))
                sheet_.line(std::move(dash), role, width);
        }
    }

    void draw(const Series& series) {
        std::vector<Vec2> points;
        for (const Vec2& p : series.points) {
            const Vec2 point = at(p);
            if (points.empty() || !point.allFinite() || !points.back().allFinite() ||
                (point - points.back()).norm() > nearest_points)
                points.push_back(point);
        }
        if (series.dashed) return dashed(points, series.role, series.width);
        for (std::vector<Vec2>& piece : clipped_line(points, plot_))
            sheet_.line(std::move(piece), series.role, series.width);
    }

    void draw(const Mark& mark) {
        const Vec2 here = at(mark.at);
        if (!here.allFinite()) return;
        if (mark.upright) sheet_.line({{here.x(), plot_.bottom()}, {here.x(), plot_.y}}, mark.role, 1, 0.35);
        const double half = sheet_.px(5);
        switch (mark.shape) {
            case MarkShape::none:
                break;
            case MarkShape::dot:
                sheet_.dot(here, 3, mark.role);
                break;
            case MarkShape::large_dot:
                sheet_.dot(here, 4.5, mark.role);
                break;
            case MarkShape::support:
                sheet_.polygon({here,
                                {here.x() + half, here.y() + 1.6 * half},
                                {here.x() - half, here.y() + 1.6 * half}},
                               mark.role);
                break;
        }
    }

    // A word's frame, moved into the plot.
    [[nodiscard]] Frame inside(Frame letters) const {
        const double left = plot_.x + sheet_.px(2);
        letters.x = std::clamp(letters.x, left, std::max(left, plot_.right() - letters.width));
        letters.y = std::clamp(letters.y, plot_.y, std::max(plot_.y, plot_.bottom() - letters.height));
        return letters;
    }

    void first_free(const std::vector<std::pair<Vec2, double>>& places, const std::string& text, Role role) {
        for (const auto& [top, anchor] : places) {
            const Frame letters = inside(sheet_.frame(top.x(), top.y(), anchor, text));
            // A little room at both sides, or words would run into one.
            const double room = sheet_.px(tick_gap);
            if (!sheet_.is_free({letters.x - room, letters.y, letters.width + 2 * room, letters.height}))
                continue;
            return sheet_.put(letters, anchor, text, role);
        }
    }

    // Where it is meant to stand, or else mirrored, or else further off.
    void word(const Mark& mark) {
        const Vec2 here = at(mark.at);
        if (mark.text.empty() || !here.allFinite()) return;
        const double high = sheet_.size(mark.text).y(), gap = sheet_.px(3);
        const double off = mark.anchor == 0.5 ? 0 : sheet_.px(7);
        const double x = here.x() + (mark.anchor == 1 ? -off : off), other = 2 * here.x() - x;
        const double over = here.y() - high - gap, under = here.y() + gap;
        const double near = mark.under ? under : over, far = mark.under ? over : under;
        const double away = mark.under ? high : -high;
        first_free({{{x, near}, mark.anchor},
                    {{x, far}, mark.anchor},
                    {{other, near}, 1 - mark.anchor},
                    {{other, far}, 1 - mark.anchor},
                    {{x, near + away}, mark.anchor},
                    {{x, far - away}, mark.anchor}},
                   mark.text, mark.role);
    }

    void word(const Limit& limit) {
        const double y = at({0, limit.at}).y(), over = y - sheet_.size(limit.label).y();
        if (y < plot_.y || y > plot_.bottom()) return;
        const double left = plot_.x + sheet_.px(4), right = plot_.right() - sheet_.px(4),
                     middle = plot_.x + plot_.width / 2;
        first_free({{{left, y}, 0},
                    {{left, over}, 0},
                    {{right, y}, 1},
                    {{right, over}, 1},
                    {{middle, y}, 0.5},
                    {{middle, over}, 0.5}},
                   limit.label, limit.role);
    }

    const Chart& chart_;
    Frame frame_;
    Sheet sheet_;
    Frame plot_;
    double title_bottom_ = 0;
};

class BarLayout {
  public:
    BarLayout(const BarChart& chart, const Frame& frame, const MeasureLetters& letters, double scale)
        : chart_(chart), frame_(frame), sheet_(letters, scale) {
        for (const BarGroup& group : chart.groups) {
            bars_ += group.bars.size();
            for (const Bar& bar : group.bars) longest_ = std::max(longest_, bar.length);
        }
    }

    Picture picture() {
        const double left = frame_.x + sheet_.px(side);
        put(left, frame_.y + sheet_.px(title_top), chart_.title, Role::plain, Lettering::title);
        if (bars_ == 0 || longest_ <= 0) {
            put(left, frame_.y + sheet_.px(26), chart_.nothing, Role::faint);
            return sheet_.take();
        }
        put(left, frame_.bottom() - sheet_.px(18), chart_.key, Role::faint);
        const double room = frame_.height - sheet_.px(44), tallest = sheet_.px(17);
        const auto groups = static_cast<double>(chart_.groups.size());
        const double row = std::min(room / (static_cast<double>(bars_) + groups), tallest);
        const Frame first{left, frame_.y + sheet_.px(25), frame_.width - sheet_.px(2 * side), row};
        // Many groups would write over each other with a line for each bar.
        if (row >= sheet_.px(11)) {
            line_per_bar(first);
        } else {
            line_per_group({first.x, first.y, first.width, std::min(room / groups, tallest)});
        }
        return sheet_.take();
    }

  private:
    void put(double x, double y, const std::string& text, Role role, Lettering lettering = Lettering::small) {
        sheet_.put(sheet_.frame(x, y, 0, text, lettering), 0, text, role, lettering);
    }

    void line_per_bar(const Frame& first) {
        const double bar_x = first.x + sheet_.px(44), widest = first.width - sheet_.px(126);
        double y = first.y;
        for (const BarGroup& group : chart_.groups) {
            put(first.x, y, group.name, Role::faint);
            at_the_right(chart_.note_lead + group.note, first, y, Role::faint);
            y += first.height;
            for (const Bar& bar : group.bars) {
                const double width = bar.length / longest_ * widest;
                put(first.x + sheet_.px(6), y, bar.name, Role::plain);
                draw(bar, {bar_x, y, width, first.height});
                put(bar_x + width + sheet_.px(4), y, bar.word, bar.role);
                y += first.height;
            }
        }
    }

    // The bars side by side; in words what is wrong with one of them, or the group's note.
    void line_per_group(const Frame& first) {
        const double bar_x = first.x + sheet_.px(40), widest = first.width - sheet_.px(112);
        double y = first.y;
        for (const BarGroup& group : chart_.groups) {
            const double high = sheet_.size(group.name).y();
            const double slot = widest / static_cast<double>(std::max<std::size_t>(group.bars.size(), 1));
            for (std::size_t i = 0; i < group.bars.size(); ++i) {
                const Bar& bar = group.bars[i];
                draw(bar, {bar_x + static_cast<double>(i) * slot, y,
                           bar.length / longest_ * (slot - sheet_.px(3)), first.height});
            }
            // Where even these lines are lower than letters, every second one is left without words.
            if (sheet_.is_free({first.x, y, first.width, high})) {
                put(first.x, y, group.name, Role::faint);
                const auto bad = std::find_if(group.bars.begin(), group.bars.end(),
                                              [](const Bar& bar) { return bar.role == Role::care; });
                if (bad != group.bars.end()) {
                    at_the_right(bad->word, first, y, bad->role);
                } else {
                    at_the_right(group.note, first, y, Role::faint);
                }
            }
            y += first.height;
        }
    }

    // Left out where it would reach into the group's name.
    void at_the_right(const std::string& text, const Frame& row, double y, Role role) {
        const Frame letters = sheet_.frame(row.right(), y, 1, text);
        if (letters.x > row.x + sheet_.px(44)) sheet_.put_if_free(letters, 1, text, role);
    }

    /// \param row where the whole bar is drawn
    void draw(const Bar& bar, const Frame& row) {
        const double top = row.y + sheet_.px(3), height = row.height - sheet_.px(5);
        if (height <= 0 || bar.length <= 0) return;
        sheet_.outline({row.x, top, row.width, height}, Role::line);
        double x = row.x;
        for (const BarPiece& piece : bar.pieces) {
            const Frame box{x, top, piece.length / bar.length * row.width, height};
            if (box.width <= 0) continue;
            switch (piece.filling) {
                case Filling::solid:
                    sheet_.rectangle(box, Role::now, 0.75);
                    break;
                case Filling::hatched:
                    sheet_.rectangle(box, Role::care, 0.35);
                    for (double s = x + sheet_.px(2); s < box.right(); s += sheet_.px(4)) {
                        sheet_.line({{s, top}, {std::max(x, s - sheet_.px(4)), box.bottom()}}, Role::care,
                                    1.2);
                    }
                    break;
                case Filling::hollow:
                    sheet_.outline(box, Role::plain);
                    break;
            }
            x += box.width;
        }
    }

    const BarChart& chart_;
    Frame frame_;
    Sheet sheet_;
    std::size_t bars_ = 0;
    double longest_ = 0;
};

}  // namespace

Frame plot_of(const Frame& frame, double scale) {
    return {frame.x + scale * plot_left, frame.y + scale * plot_top,
            frame.width - scale * (plot_left + plot_right), frame.height - scale * (plot_top + plot_bottom)};
}

Picture lay_out(const Chart& chart, const Frame& frame, const MeasureLetters& letters, double scale) {
    return ChartLayout(chart, frame, letters, scale).picture();
}

Picture lay_out(const BarChart& chart, const Frame& frame, const MeasureLetters& letters, double scale) {
    return BarLayout(chart, frame, letters, scale).picture();
}

}  // namespace evenspit
