// SPDX-License-Identifier: MIT
#include "card/sheet.h"

#include <cmath>
#include <numbers>

namespace evenspit::card {
namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// "190" before "mm", "5" before "1/2".
bool stays_together(std::string_view word, std::string_view next) {
    if (word.empty() || next.empty()) return false;
    const bool figure = is_digit(word.back()) && (is_digit(word.front()) || word.front() == '(');
    constexpr std::size_t longest_unit = 7;  // "o'clock"
    return figure && next.size() <= longest_unit;
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t from = text.find_first_not_of(' ', at);
        if (from == std::string_view::npos) break;
        const std::size_t to = std::min(text.find(' ', from), text.size());
        const std::string_view word = text.substr(from, to - from);
        if (!words.empty() && stays_together(words.back().substr(words.back().rfind(' ') + 1), word)) {
            words.back().append(" ").append(word);
        } else {
            words.emplace_back(word);
        }
        at = to;
    }
    return words;
}

/// Where the last letter before `end` begins.
std::size_t letter_before(std::string_view text, std::size_t end) {
    std::size_t at = end - 1;
    while (at > 0 && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U) --at;
    return at;
}

/// As much of a word as fits, at least one letter.
std::size_t fitting(const MeasureText& measure, std::string_view word, double size_pt, bool bold,
                    double width_pt) {
    std::size_t end = word.size();
    while (end > 1 && measure(word.substr(0, end), size_pt, bold) > width_pt) {
        const std::size_t shorter = letter_before(word, end);
        if (shorter == 0) break;
        end = shorter;
    }
    return end;
}

}  // namespace

void Sheet::line(const Vec2& a, const Vec2& b, const Stroke& stroke) {
    shapes.emplace_back(SheetPath{{{a, b}}, false, std::nullopt, stroke});
}

void Sheet::rectangle(const Frame& frame, std::optional<double> fill_grey, std::optional<Stroke> stroke) {
    shapes.emplace_back(SheetPath{{{{frame.x, frame.y},
                                    {frame.right(), frame.y},
                                    {frame.right(), frame.bottom()},
                                    {frame.x, frame.bottom()}}},
                                  true,
                                  fill_grey,
                                  stroke});
}

void Sheet::circle(const Vec2& centre, double radius, std::optional<double> fill_grey,
                   std::optional<Stroke> stroke) {
    constexpr int sides = 72;
    std::vector<Vec2> ring;
    for (int n = 0; n < sides; ++n) {
        const double angle = 2 * std::numbers::pi * n / sides;
        ring.emplace_back(centre + radius * Vec2(std::cos(angle), std::sin(angle)));
    }
    shapes.emplace_back(SheetPath{{std::move(ring)}, true, fill_grey, stroke});
}

Frame Sheet::text(const MeasureText& measure, const Vec2& at, double anchor, std::string_view text,
                  double size_pt, bool bold, double grey) {
    const double width = measure(text, size_pt, bold);
    const Frame room{at.x() - anchor * width, at.y() - above_line * size_pt, width,
                     (above_line + below_line) * size_pt};
    shapes.emplace_back(SheetText{room, std::string(text), size_pt, bold, grey, anchor});
    return room;
}

void Sheet::add(const Sheet& other, const Vec2& by) {
    for (SheetShape shape : other.shapes) {
        if (auto* path = std::get_if<SheetPath>(&shape)) {
            for (std::vector<Vec2>& ring : path->rings) {
                for (Vec2& point : ring) point += by;
            }
        } else {
            Frame& room = std::get<SheetText>(shape).room;
            room.x += by.x();
            room.y += by.y();
        }
        shapes.push_back(std::move(shape));
    }
}

std::vector<std::string> lines_of(const MeasureText& measure, std::string_view text, double size_pt,
                                  bool bold, double width_pt) {
    std::vector<std::string> lines;
    std::string line;
    for (std::string word : words_of(text)) {
        const std::string longer = line.empty() ? word : line + " " + word;
        if (measure(longer, size_pt, bold) <= width_pt) {
            line = longer;
            continue;
        }
        if (!line.empty()) lines.push_back(std::move(line));
        while (measure(word, size_pt, bold) > width_pt) {
            const std::size_t end = fitting(measure, word, size_pt, bold, width_pt);
            if (end >= word.size()) break;
            lines.push_back(word.substr(0, end));
            word.erase(0, end);
        }
        line = word;
    }
    if (!line.empty()) lines.push_back(std::move(line));
    return lines;
}

std::string cut_to(const MeasureText& measure, std::string_view text, double size_pt, bool bold,
                   double width_pt) {
    if (measure(text, size_pt, bold) <= width_pt) return std::string(text);
    std::string shorter(text);
    while (!shorter.empty()) {
        shorter.resize(letter_before(shorter, shorter.size()));
        while (!shorter.empty() && shorter.back() == ' ') shorter.pop_back();
        if (measure(shorter + "…", size_pt, bold) <= width_pt) break;
    }
    return shorter + "…";
}

}  // namespace evenspit::card
