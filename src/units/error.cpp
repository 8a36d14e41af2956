// SPDX-License-Identifier: MIT
#include "units/error.h"

namespace evenspit {

namespace {

std::string lines_of(const std::vector<Complaint>& complaints) {
    std::string text;
    for (const Complaint& complaint : complaints) {
        if (!text.empty()) text += '\n';
        text += complaint.text();
    }
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

InputError::InputError(std::vector<Complaint> complaints)
    : std::runtime_error(lines_of(complaints)), complaints_(std::move(complaints)) {}

InputError::InputError(Complaint complaint) : InputError(std::vector<Complaint>{std::move(complaint)}) {}

}  // namespace evenspit
