// SPDX-License-Identifier: MIT
#include "units/error.h"

#include <cstddef>

#include "units/told_complaints.h"

namespace evenspit {

namespace {

std::string lines_of(const std::vector<Complaint>& complaints) {
    std::string text;
    for (const std::string& line : told_complaints(complaints)) text += (text.empty() ? "" : "\n") + line;
    return text;
}

void append(std::string& text, std::string_view separator, std::string_view piece) {
    if (piece.empty()) return;
    if (!text.empty()) text += separator;
    text += piece;
}

}  // namespace

std::string Complaint::text() const {
    std::string place = spot.file;
    if (spot.line > 0) {
        append(place, ":", std::to_string(spot.line));
        if (spot.column > 0) append(place, ":", std::to_string(spot.column));
    }
    append(place, ": ", key);

    std::string what;
    if (!found.empty()) what = "found " + found;
    if (!expected.empty()) append(what, "; ", "expected " + expected);
    append(what, "; ", mend);

    append(place, ": ", what);
    return place;
}

std::vector<std::string> told_complaints(const std::vector<Complaint>& complaints) {
    constexpr std::size_t most = 20;
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < complaints.size() && i < most; ++i) lines.push_back(complaints[i].text());
    if (complaints.size() > most)
        lines.push_back("and " + std::to_string(complaints.size() - most) + " more; mend these first");
    return lines;
}

InputError::InputError(std::vector<Complaint> complaints)
    : std::runtime_error(lines_of(complaints)), complaints_(std::move(complaints)) {}

InputError::InputError(Complaint complaint) : InputError(std::vector<Complaint>{std::move(complaint)}) {}

}  // namespace evenspit
