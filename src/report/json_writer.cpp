// SPDX-License-Identifier: MIT
#include "report/json_writer.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include <fmt/format.h>

namespace evenspit {
namespace {

constexpr std::size_t row_length = 100;

// JSON lets DEL and the controls above it (U+0080 to U+009F) stand in a text as they are; a terminal would
// obey them.
std::string compact(const Json& value) {
    const std::string text = value.dump(-1, ' ', false, Json::error_handler_t::replace);
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0U;
        if (byte == 0x7f) {
            out += "\\u007f";
        } else if (byte == 0xc2 && next >= 0x80 && next < 0xa0) {
            out += fmt::format("\\u{:04x}", next);
            ++i;
        } else {
            out += text[i];
        }
    }
    return out;
}

bool is_plain_list(const Json& value) {
    return value.is_array() &&
           std::none_of(value.begin(), value.end(), [](const Json& e) { return e.is_structured(); });
}

// A list of numbers, or a list of short lists: a vector, a matrix, a curve.
bool goes_in_rows(const Json& value) {
    return is_plain_list(value) ||
           (value.is_array() &&
            std::all_of(value.begin(), value.end(), [](const Json& e) { return is_plain_list(e); }));
}

void write(std::string& out, const Json& value, std::size_t indent);

void write_rows(std::string& out, const Json& list, std::size_t indent) {
    const std::string whole = compact(list);
    if (indent + whole.size() <= row_length) {
        out += whole;
        return;
    }
    std::string row(indent + 2, ' ');
    const std::size_t margin = row.size();
    out += "[\n";
    for (std::size_t i = 0; i < list.size(); ++i) {
        const std::string element = compact(list[i]) + (i + 1 < list.size() ? "," : "");
        if (row.size() > margin && row.size() + 1 + element.size() > row_length) {
            out += row + '\n';
            row.resize(margin);
        }
        if (row.size() > margin) row += ' ';
        row += element;
    }
    out += row + '\n' + std::string(indent, ' ') + ']';
}

void write_object(std::string& out, const Json& object, std::size_t indent) {
    out += "{\n";
    std::size_t left = object.size();
    for (const auto& [key, value] : object.items()) {
        out += std::string(indent + 2, ' ') + compact(key) + ": ";
        write(out, value, indent + 2);
        out += --left > 0 ? ",\n" : "\n";
    }
    out += std::string(indent, ' ') + '}';
}

void write_array(std::string& out, const Json& array, std::size_t indent) {
    out += "[\n";
    for (std::size_t i = 0; i < array.size(); ++i) {
        out += std::string(indent + 2, ' ');
        write(out, array[i], indent + 2);
        out += i + 1 < array.size() ? ",\n" : "\n";
    }
    out += std::string(indent, ' ') + ']';
}

void write(std::string& out, const Json& value, std::size_t indent) {
    if (value.is_object() && !value.empty()) {
        write_object(out, value, indent);
    } else if (!value.is_array() || value.empty()) {
        out += compact(value);
    } else if (goes_in_rows(value)) {
        write_rows(out, value, indent);
    } else {
        write_array(out, value, indent);
    }
}

}  // namespace

// Adding zero turns −0 into 0, which some readers would show with its sign.
void put(Json& object, std::string_view key, double value) {
    if (std::isfinite(value)) object[std::string(key)] = value + 0.0;
}

void put(Json& object, std::string_view key, const std::optional<double>& value) {
    if (value) put(object, key, *value);
}

std::string json_text(const Json& value) {
    std::string out;
    write(out, value, 0);
    return out + '\n';
}

}  // namespace evenspit
