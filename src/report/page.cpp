// SPDX-License-Identifier: MIT
#include "report/page.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

namespace evenspit {
namespace {

constexpr int least_width = 24;
constexpr std::string_view not_known = "not known";

}  // namespace

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

std::string Units::of(double si, Dimension dimension) const {
    return std::isfinite(si) ? format_quantity(sensible(si), dimension, system_) : std::string(not_known);
}

std::string Units::volume(double m3) const {
    constexpr double m3_per_quart = 0.946352946e-3;  // US liquid
    return metric() ? fmt::format("{:.3g} l", 1e3 * m3) : fmt::format("{:.3g} qt", m3 / m3_per_quart);
}

std::string Units::unbalance(double kg_m) const {
    constexpr double kg_m_per_lb_in = 0.45359237 * 0.0254;
    const double shown = sensible(kg_m);
    return metric() ? fmt::format("{:.3g} kg m", shown) : fmt::format("{:.3g} lb in", shown / kg_m_per_lb_in);
}

double Units::sensible(double si) {
    return std::abs(si) < 1e-6 ? 0 : si;
}

std::string percent(double share) {
    if (!std::isfinite(share)) return std::string(not_known);
    const double hundredths = 100 * share;
    return hundredths < 9.95 ? fmt::format("{:.2g} %", hundredths) : fmt::format("{:.0f} %", hundredths);
}

}  // namespace evenspit
