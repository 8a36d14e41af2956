// SPDX-License-Identifier: MIT
#include "card/card_sheet.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "report/report.h"

namespace evenspit::card {
namespace {

constexpr double margin_pt = 27;  // 9.5 mm: printers leave some 5 mm blank
constexpr double between_columns_pt = 16;
constexpr double leading = 1.17;

/// Something that is not torn apart at the end of a column.
struct Block {
    Sheet sheet;
    double before_pt = 0;    ///< room above, but at a column's top
    bool with_next = false;  ///< a heading does not end a column
};

/// How a card is tried.
struct Try {
    double letter_pt = 10;
    bool all_steps = true;
    double side_share = 0.2;  ///< of the page's height, for the drawing from the front
    double dial_pt = 150;     ///< how wide the clock face is at most
};

/// Large letters before all steps, and either before large drawings.
std::vector<Try> tries() {
    std::vector<Try> all;
    constexpr double half_pt = 0.5, largest_pt = 11.5, steps_from_pt = 9.5, smallest_pt = 6;
    const auto add = [&all](double letter_pt, bool all_steps) {
        for (const auto& [share, dial] :
             {std::pair{0.28, 150.0}, {0.24, 150.0}, {0.20, 120.0}, {0.17, 110.0}})
            all.push_back({letter_pt, all_steps, share, dial});
    };
    for (double size = largest_pt; size >= steps_from_pt; size -= half_pt) add(size, true);
    for (double size = steps_from_pt; size >= smallest_pt; size -= half_pt) add(size, false);
    return all;
}

class Composer {
  public:
    Composer(const Card& card, const DrawnLoad& drawn, const Paper& paper, const MeasureText& measure)
        : card_(card), drawn_(drawn), paper_(paper), measure_(measure) {}

    Sheet composed() {
        const std::vector<Try> all = tries();
        for (const Try& one : all) {
            if (auto sheet = tried(one, false)) return std::move(*sheet);
        }
        return std::move(*tried(all.back(), true));
    }

  private:
    /// \param cut whether what finds no room is left out; then there always is a sheet
    std::optional<Sheet> tried(const Try& how, bool cut) {
        how_ = how;
        letter_ = how.letter_pt;
        sheet_ = {paper_.width_pt, paper_.height_pt, {}};
        double y = head();
        y = side(y);
        const double bottom = foot();
        column_pt_ = (paper_.width_pt - 2 * margin_pt - between_columns_pt) / 2;
        return flowed(blocks(), y + 0.6 * letter_, bottom, cut) ? std::optional(std::move(sheet_))
                                                                : std::nullopt;
    }

    [[nodiscard]] double width() const { return paper_.width_pt - 2 * margin_pt; }

    double head() {
        constexpr double title_pt = 17, mark_pt = 15;
        double y = margin_pt;
        std::vector<std::string> title = lines_of(measure_, card_.title, title_pt, true, width());
        constexpr std::size_t most_lines = 2;
        if (title.size() > most_lines) {
            title.resize(most_lines);
            title.back() = cut_to(measure_, title.back() + " …", title_pt, true, width());
        }
        for (const std::string& line : title) {
            sheet_.text(measure_, {margin_pt, y + above_line * title_pt}, 0, line, title_pt, true);
            y += 1.15 * title_pt;
        }
        y += 3;
        const std::string mark(level_mark(card_.verdict));
        const double mark_width = measure_(mark, mark_pt, true) + 12, mark_height = 1.5 * mark_pt;
        // White on black is seen without colours.
        const bool dark = card_.verdict != Level::ready;
        sheet_.rectangle({margin_pt, y, mark_width, mark_height}, dark ? 0.0 : 1.0, Stroke{1.5, 0});
        sheet_.text(measure_, {margin_pt + mark_width / 2, y + 1.1 * mark_pt}, 0.5, mark, mark_pt, true,
                    dark ? 1.0 : 0.0);
        constexpr double words_pt = 11.5;
        const std::vector<std::string> words =
            lines_of(measure_, card_.verdict_words, words_pt, true, width() - mark_width - 8);
        const double all = leading * words_pt * double(words.size());
        double at = y + std::max(0.0, (mark_height - all) / 2);
        for (const std::string& line : words) {
            sheet_.text(measure_, {margin_pt + mark_width + 8, at + above_line * words_pt}, 0, line, words_pt,
                        true);
            at += leading * words_pt;
        }
        return std::max(y + mark_height, at) + 8;
    }

    double side(double y) {
        const DrawingRoom room{measure_, width(), how_.side_share * paper_.height_pt,
                               std::clamp(letter_, 9.0, 10.5)};
        const Sheet drawing = side_drawing(drawn_, room);
        sheet_.add(drawing, {margin_pt, y});
        return y + drawing.height_pt;
    }

    double foot() {
        constexpr double size = 7.5;
        const double y = paper_.height_pt - margin_pt;
        const std::string file = cut_to(measure_, card_.file, size, false, width() / 2);
        sheet_.text(measure_, {margin_pt, y}, 0, file, size, false, 0.3);
        sheet_.text(measure_, {paper_.width_pt - margin_pt, y}, 1, card_.made_by, size, false, 0.3);
        return y - above_line * size - 4;
    }

    std::vector<Block> blocks() {
        std::vector<Block> all;
        all.push_back(dial());
        int number = 0;
        for (const CardSection& section : card_.sections) {
            const bool tasks = !section.steps.empty();
            all.push_back(
                heading(tasks ? fmt::format("{}. {}", ++number, section.heading) : section.heading));
            int left_out = 0;
            for (const CardStep& step : section.steps) {
                if (how_.all_steps || !step.may_be_left_out) {
                    all.push_back(entry(step.when, step.what, true));
                } else {
                    ++left_out;
                }
            }
            if (!section.blanks.empty()) all.push_back(blanks(section.blanks));
            if (left_out > 0)
                all.push_back(
                    entry("", fmt::format("{} more: {} tells all.", left_out, section.told_by), false));
            for (const std::string& note : section.notes) all.push_back(entry("", note, false));
        }
        return all;
    }

    Block dial() {
        const double side_pt = std::min(0.6 * column_pt_, how_.dial_pt);
        const DrawingRoom room{measure_, side_pt, side_pt, std::clamp(letter_, 9.0, 10.5)};
        Block block{dial_drawing(drawn_, room)};
        const double x = side_pt + 4, size = letter_;
        double y = 0.4 * letter_;
        const auto put = [&](const std::string& words, bool bold) {
            for (const std::string& line : lines_of(measure_, words, size, bold, column_pt_ - x)) {
                block.sheet.text(measure_, {x, y + above_line * size}, 0, line, size, bold);
                y += leading * size;
            }
            y += 0.25 * size;
        };
        put("From the rod's point, at the start", true);
        for (const std::string& words : card_.dial) put(words, false);
        block.sheet.height_pt = std::max(block.sheet.height_pt, y);
        return block;
    }

    Block heading(const std::string& words) {
        Block block;
        const double size = 1.1 * letter_;
        block.sheet.text(measure_, {0, above_line * size}, 0, words, size, true);
        block.sheet.line({0, 1.12 * size}, {column_pt_, 1.12 * size}, {1, 0});
        block.sheet.height_pt = 1.3 * size;
        block.before_pt = 0.5 * letter_;
        block.with_next = true;
        return block;
    }

    /// A box or a dash, a time in bold, words.
    Block entry(const std::string& when, const std::string& what, bool box) {
        Block block;
        const double box_pt = 0.85 * letter_, indent = box ? 1.35 * letter_ : 0.9 * letter_;
        if (box) {
            block.sheet.rectangle({0.5, 0.12 * letter_, box_pt, box_pt}, std::nullopt, Stroke{0.9, 0});
        } else {
            block.sheet.text(measure_, {0, above_line * letter_}, 0, "–", letter_);
        }
        double y = 0;
        std::string left = what;
        if (!when.empty()) {
            const double lead = measure_(when, letter_, true), gap = 0.6 * letter_;
            const std::vector<std::string> beside =
                lines_of(measure_, what, letter_, false, column_pt_ - indent - lead - gap);
            block.sheet.text(measure_, {indent, above_line * letter_}, 0, when, letter_, true);
            // Words go on behind a short time, and under a long one.
            if (lead < 0.45 * column_pt_ && !beside.empty()) {
                block.sheet.text(measure_, {indent + lead + gap, above_line * letter_}, 0, beside.front(),
                                 letter_);
                left = what.substr(std::min(what.size(), beside.front().size()));
            }
            y += leading * letter_;
        }
        for (const std::string& line : lines_of(measure_, left, letter_, false, column_pt_ - indent)) {
            block.sheet.text(measure_, {indent, y + above_line * letter_}, 0, line, letter_);
            y += leading * letter_;
        }
        block.sheet.height_pt = std::max(y, box_pt);
        block.before_pt = 0.22 * letter_;
        return block;
    }

    /// Rules that are long enough for a hand with a pen: 12 mm, in lines 7 mm apart.
    Block blanks(const std::vector<CardBlank>& all) {
        Block block;
        const double rule = 34, line = std::max(20.0, 1.6 * letter_), gap = 3;
        double x = 0, y = 1.5 * letter_;
        for (const CardBlank& blank : all) {
            const double before = measure_(blank.before, letter_, false),
                         after = measure_(blank.after, letter_, false);
            const bool full = x + before + rule + after + 2 * gap > column_pt_;
            if (x > 0 && (full || blank.on_a_new_line)) {
                x = 0;
                y += line;
            }
            block.sheet.text(measure_, {x, y}, 0, blank.before, letter_);
            x += before + gap;
            block.sheet.line({x, y + 1}, {x + rule, y + 1}, {0.8, 0});
            x += rule + gap;
            const double left = column_pt_ - x;
            block.sheet.text(measure_, {x, y}, 0, cut_to(measure_, blank.after, letter_, false, left),
                             letter_);
            x += std::min(after, left) + 2 * gap;
        }
        block.sheet.height_pt = y + 0.4 * letter_;
        return block;
    }

    /// Fills one column, then the other.
    bool flowed(const std::vector<Block>& blocks, double top, double bottom, bool cut) {
        const std::array<double, 2> columns{margin_pt, margin_pt + column_pt_ + between_columns_pt};
        // Whatever finds no room, the last section does: what can hurt someone.
        std::size_t last = blocks.size() - 1;
        while (last > 0 && !blocks[last].with_next) --last;
        double kept_pt = leading * letter_;
        for (std::size_t n = last; n < blocks.size(); ++n)
            kept_pt += blocks[n].before_pt + blocks[n].sheet.height_pt;
        std::size_t column = 0;
        double y = top;
        for (std::size_t n = 0; n < blocks.size(); ++n) {
            if (n == last) kept_pt = 0;
            const Block& block = blocks[n];
            const double before = y > top ? block.before_pt : 0;
            double needed = before + block.sheet.height_pt;
            // Two of what it heads stand under a heading.
            for (std::size_t k = n + 1; block.with_next && k < std::min(n + 3, blocks.size()); ++k) {
                if (k > n + 1 && blocks[k].with_next) break;
                needed += blocks[k].before_pt + blocks[k].sheet.height_pt;
            }
            const double end = bottom - (cut && column == 1 ? kept_pt : 0);
            if (y + needed > end) {
                if (column == 1) {
                    if (!cut || kept_pt == 0) return cut;
                    y = tell_left_out(blocks, n, last, columns[1], y);
                    n = last - 1;
                    continue;
                }
                ++column;
                y = top;
                --n;
                continue;
            }
            sheet_.add(block.sheet, {columns[column], y + before});
            y += before + block.sheet.height_pt;
        }
        return true;
    }

    /// \return where the line ends
    double tell_left_out(const std::vector<Block>& blocks, std::size_t from, std::size_t to, double x,
                         double y) {
        const auto left =
            std::count_if(blocks.begin() + std::ptrdiff_t(from), blocks.begin() + std::ptrdiff_t(to),
                          [](const Block& block) { return !block.with_next; });
        const std::string words = fmt::format("{} more find no room here.", left);
        sheet_.text(measure_, {x, y + above_line * letter_}, 0,
                    cut_to(measure_, words, letter_, true, column_pt_), letter_, true);
        return y + leading * letter_;
    }

    const Card& card_;
    const DrawnLoad& drawn_;
    const Paper& paper_;
    const MeasureText& measure_;
    Sheet sheet_;
    Try how_;
    double letter_ = 10, column_pt_ = 0;
};

}  // namespace

Sheet lay_out(const Card& card, const DrawnLoad& drawn, const Paper& paper, const MeasureText& measure) {
    return Composer(card, drawn, paper, measure).composed();
}

}  // namespace evenspit::card
