// SPDX-License-Identifier: MIT
#include "report/page.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace evenspit {
namespace {

constexpr int least_width = 24;

}  // namespace

Ink ink_of(Level level) {
    return level == Level::stop ? Ink::bad : level == Level::care ? Ink::caution : Ink::good;
}

Page::Page(const TextOptions& options)
    : colour_(options.colour), width_(std::max(options.width, least_width)) {}

void Page::paragraph(std::string_view words, int indent) {
    for (const std::string& line : wrapped(printable(words), width_ - indent)) put(indent, line);
}

void Page::heading(std::string_view words) {
    gap();
    for (const std::string& line : wrapped(printable(words), width_)) put(0, inked(line, Ink::bold));
}

void Page::marked(std::string_view mark, Ink ink, std::string_view words, int indent) {
    const std::string shown = printable(mark);
    const int block = indent + display_width(shown) + 2;
    std::string lead = inked(shown, ink) + "  ";
    for (const std::string& line : wrapped(printable(words), width_ - block)) {
        put(lead.empty() ? block : indent, lead + line);
        lead.clear();
    }
}

void Page::figure(std::string_view label, std::string_view words) {
    const bool beside = width_ >= 2 * (margin + label_width);
    const int block = beside ? margin + label_width : 2 * margin;
    std::string lead = printable(label);
    if (label.empty()) {
        lead.assign(beside ? static_cast<std::size_t>(label_width) : margin, ' ');
    } else if (beside) {
        lead.append(static_cast<std::size_t>(std::max(label_width - display_width(lead), 1)), ' ');
    } else {
        put(margin, shortened(lead, room()));
        lead.clear();
    }
    for (const std::string& line : wrapped(printable(words), width_ - block)) {
        put(lead.empty() ? block : margin, lead + line);
        lead.clear();
    }
}

void Page::table(const Table& table) {
    for (const std::string& line : table.lines(room())) put(margin, printable(line));
}

void Page::put(int indent, std::string_view line) {
    text_.append(static_cast<std::size_t>(indent), ' ').append(line) += '\n';
}

std::string Page::inked(std::string_view words, Ink ink) const {
    constexpr std::array<std::string_view, 5> codes = {"", "1", "1;32", "1;33", "1;31"};
    if (!colour_ || ink == Ink::plain) return std::string(words);
    return fmt::format("\x1b[{}m{}\x1b[0m", codes[static_cast<std::size_t>(ink)], words);
}

}  // namespace evenspit
