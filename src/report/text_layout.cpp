// SPDX-License-Identifier: MIT
#include "report/text_layout.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <numeric>
#include <unistr.h>
#include <uniwidth.h>

namespace evenspit {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";  // U+FFFD
constexpr std::string_view ellipsis = "\xE2\x80\xA6";     // U+2026
constexpr int column_gap = 2;

struct Character {
    std::string_view bytes;  // never empty
    char32_t code = 0;
    bool valid = false;
};

// The character that a non-empty text begins with (RFC 3629: no overlong forms, no surrogates).
Character first_character(std::string_view text) {
    ucs4_t code = 0;
    const int length = u8_mbtoucr(&code, reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
    if (length <= 0) return {text.substr(0, 1), 0xFFFD, false};
    return {text.substr(0, static_cast<std::size_t>(length)), code, true};
}

int columns_of(const Character& c) {
    const int columns = uc_width(c.code, "UTF-8");
    return columns < 0 ? 1 : columns;  // of what controls a terminal, which is not printed
}

// The longest beginning of a text that is no wider than `width`.
std::string_view beginning(std::string_view text, double width, const MeasureText& measure) {
    std::size_t end = 0;
    while (end < text.size()) {
        const std::size_t next = end + first_character(text.substr(end)).bytes.size();
        if (measure(text.substr(0, next)) > width) break;
        end = next;
    }
    return text.substr(0, end);
}

double columns(std::string_view text) {
    return display_width(text);
}

bool is_figure(std::string_view word) {
    const std::size_t sign = word.starts_with('-') || word.starts_with('+') ? 1 : 0;
    return word.size() > sign && word[sign] >= '0' && word[sign] <= '9' && word.back() != ',' &&
           word.back() != '.';
}

// The second part of "2 15/16 in".
bool is_fraction(std::string_view word) {
    const std::size_t bar = word.find('/');
    return is_figure(word) && bar != std::string_view::npos && bar + 1 < word.size() &&
           word.find_first_not_of("0123456789/") == std::string_view::npos;
}

// Words as they may be parted at a line's end: a figure keeps the short word behind it, which is its unit, or
// nearly always so ("N m" is two words).
std::vector<std::string> words_of(std::string_view text) {
    constexpr int longest_unit = 6;
    std::vector<std::string> words;
    bool figure_before = false;
    std::size_t at = 0;
    while ((at = text.find_first_not_of(" \n\t", at)) != std::string_view::npos) {
        const std::size_t end = std::min(text.find_first_of(" \n\t", at), text.size());
        const std::string_view word = text.substr(at, end - at);
        const bool newton_before = !words.empty() && words.back().ends_with(" N");
        const bool pound_before = !words.empty() && words.back().ends_with(" lbf");
        if ((figure_before && display_width(word) <= longest_unit &&
             (!is_figure(word) || is_fraction(word))) ||
            (newton_before && word.starts_with('m')) ||
            (pound_before && (word.starts_with("in") || word.starts_with("ft")))) {
            words.back().append(" ").append(word);
        } else {
            words.emplace_back(word);
        }
        figure_before = is_figure(word);
        at = end;
    }
    return words;
}

std::string spaces(int count) {
    return std::string(static_cast<std::size_t>(std::max(count, 0)), ' ');
}

}  // namespace

int display_width(std::string_view text) {
    int width = 0;
    while (!text.empty()) {
        const Character c = first_character(text);
        width += columns_of(c);
        text.remove_prefix(c.bytes.size());
    }
    return width;
}

std::string printable(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const Character c = first_character(text);
        const bool control = c.code < 0x20 || (c.code >= 0x7F && c.code < 0xA0);
        out += !c.valid ? replacement : control ? " " : c.bytes;
        text.remove_prefix(c.bytes.size());
    }
    return out;
}

std::string shortened(std::string_view text, double width, const MeasureText& measure) {
    if (measure(text) <= width) return std::string(text);
    std::string out(beginning(text, width - measure(ellipsis), measure));
    out.erase(out.find_last_not_of(' ') + 1);
    return out.append(ellipsis);
}

std::string shortened(std::string_view text, int width) {
    return shortened(text, width, columns);
}

std::vector<std::string> wrapped(std::string_view text, double width, const MeasureText& measure) {
    std::vector<std::string> lines;
    std::string line;
    for (const std::string& whole : words_of(text)) {
        std::string_view word = whole;
        if (!line.empty() && measure(line + ' ' + whole) > width) {
            lines.push_back(std::move(line));
            line.clear();
        }
        while (measure(word) > width) {
            std::string_view piece = beginning(word, width, measure);
            // Where not even one letter has room it stands all the same.
            if (piece.empty()) piece = first_character(word).bytes;
            if (piece.size() == word.size()) break;
            lines.emplace_back(piece.substr(0, piece.find_last_not_of(' ') + 1));
            word.remove_prefix(piece.size());
            word.remove_prefix(std::min(word.find_first_not_of(' '), word.size()));
        }
        if (!line.empty()) line += ' ';
        line += word;
    }
    if (!line.empty()) lines.push_back(std::move(line));
    return lines;
}

std::vector<std::string> wrapped(std::string_view text, int width) {
    return wrapped(text, width, columns);
}

std::vector<int> Table::natural_widths() const {
    std::vector<int> widths;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        int width = display_width(columns_[c].head);
        for (const auto& row : rows_) width = std::max(width, display_width(row[c]));
        widths.push_back(width);
    }
    return widths;
}

std::string Table::line(const std::vector<std::string>& cells, const std::vector<int>& widths) const {
    std::string out;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        const std::string cell = shortened(cells[c], std::max(widths[c], 1));
        const std::string padding = spaces(widths[c] - display_width(cell));
        if (c > 0) out += spaces(column_gap);
        out += columns_[c].to_the_right ? padding + cell : cell + padding;
    }
    out.erase(out.find_last_not_of(' ') + 1);
    return out;
}

std::vector<std::string> Table::told_in_words(int width) const {
    std::vector<std::string> out;
    for (const auto& row : rows_) {
        std::string words;
        for (std::size_t c = 0; c < columns_.size(); ++c) {
            if (row[c].empty()) continue;
            words += (words.empty() ? "" : ", ") + (c == 0 ? row[c] : columns_[c].head + " " + row[c]);
        }
        std::ranges::move(wrapped(words, width), std::back_inserter(out));
    }
    return out;
}

std::vector<std::string> Table::lines(int width) const {
    constexpr int least_shrunk = 6;
    std::vector<int> widths = natural_widths();
    const int gaps = column_gap * (static_cast<int>(columns_.size()) - 1);
    while (std::accumulate(widths.begin(), widths.end(), gaps) > width) {
        int* widest = nullptr;
        for (std::size_t c = 0; c < columns_.size(); ++c) {
            const bool can =
                columns_[c].may_shrink && widths[c] > std::max(least_shrunk, display_width(columns_[c].head));
            if (can && (widest == nullptr || widths[c] > *widest)) widest = &widths[c];
        }
        if (widest == nullptr) return told_in_words(width);
        --*widest;
    }
    std::vector<std::string> heads;
    for (const Column& column : columns_) heads.push_back(column.head);
    std::vector<std::string> out{line(heads, widths)};
    for (const auto& row : rows_) out.push_back(line(row, widths));
    return out;
}

std::string bars(const std::vector<double>& values) {
    constexpr std::array<std::string_view, 8> heights = {"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
    if (values.empty()) return {};
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    std::string out;
    for (const double value : values) {
        const double share = *most > *least ? (value - *least) / (*most - *least) : 0.5;
        out += heights[std::min(static_cast<std::size_t>(share * 8), heights.size() - 1)];
    }
    return out;
}

}  // namespace evenspit
