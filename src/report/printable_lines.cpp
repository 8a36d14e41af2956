// SPDX-License-Identifier: MIT
#include "report/printable_lines.h"

#include <algorithm>

#include "report/text_layout.h"

namespace evenspit {
namespace {

// What may stay of a text's beginning: a line end, a tab, or the command that changes the colour (ECMA-48,
// SGR); "" if it is none of them.
std::string_view kept(std::string_view text) {
    if (text.starts_with('\n') || text.starts_with('\t')) return text.substr(0, 1);
    if (!text.starts_with("\x1b[")) return {};
    const std::size_t end = text.find_first_not_of("0123456789;", 2);
    return end != std::string_view::npos && text[end] == 'm' ? text.substr(0, end + 1) : std::string_view();
}

}  // namespace

std::string printable_lines(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const std::string_view stays = kept(text);
        out += stays;
        text.remove_prefix(stays.size());
        // Up to the next place where something may stay; the sign that is here by now does not.
        const std::size_t rest = text.empty() || !stays.empty() ? 0 : 1;
        const std::size_t end = std::min(text.find_first_of("\n\t\x1b", rest), text.size());
        out += printable(text.substr(0, end));
        text.remove_prefix(end);
    }
    return out;
}

}  // namespace evenspit
