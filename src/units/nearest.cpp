// SPDX-License-Identifier: MIT
#include "units/nearest.h"

#include <algorithm>

namespace evenspit {

namespace {

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

constexpr std::size_t longest_word = 64;

}  // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
    // Three rows of the table are enough: a swap looks back two.
    std::vector<std::size_t> two_back(b.size() + 1), back(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) back[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t change = lower(a[i - 1]) == lower(b[j - 1]) ? 0 : 1;
            row[j] = std::min({back[j] + 1, row[j - 1] + 1, back[j - 1] + change});
            if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1])) {
                row[j] = std::min(row[j], two_back[j - 2] + 1);
            }
        }
        two_back.swap(back);
        back.swap(row);
    }
    return back[b.size()];
}

std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& candidates) {
    if (word.size() > longest_word) return std::nullopt;
    std::optional<std::string> nearest;
    std::size_t least = 0;
    for (const std::string& candidate : candidates) {
        const std::size_t distance = edit_distance(word, candidate);
        const std::size_t allowed = std::max<std::size_t>(1, std::max(word.size(), candidate.size()) / 3);
        if (distance > allowed || (nearest && distance >= least)) continue;
        nearest = candidate;
        least = distance;
    }
    return nearest;
}

bool same_name(std::string_view a, std::string_view b) {
    const auto plain = [](char c) { return c == ' ' || c == '_' ? '-' : lower(c); };
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [&plain](char p, char q) { return plain(p) == plain(q); });
}

}  // namespace evenspit
