// SPDX-License-Identifier: MIT
#include "units/quote.h"

#include <algorithm>

namespace evenspit {

std::string in_quotes(std::string_view text) {
    constexpr std::size_t longest = 60;
    std::size_t end = std::min(text.size(), longest);
    if (end < text.size()) {
        // Not in the middle of a character of several bytes: those that continue one begin with the bits 10.
        while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xc0U) == 0x80U) --end;
    }
    std::string shown = "'";
    for (const char c : text.substr(0, end))
        shown += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
    if (end < text.size()) shown += "…";
    return shown + "'";
}

}  // namespace evenspit
