// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "geometry/line_reader.h"

namespace evenspit::mesh_readers {

namespace {

// How far from one the length of a normal may be, as printed with few digits.
constexpr double length_slack = 0.02;

bool is_normal(const Vec3& v) {
    return std::abs(v.norm() - 1) < length_slack;
}

void split(std::string_view word, char separator, std::vector<std::string_view>& fields) {
    for (std::size_t begin = 0; begin <= word.size();) {
        const std::size_t end = std::min(word.find(separator, begin), word.size());
        fields.push_back(word.substr(begin, end - begin));
        begin = end + 1;
    }
}

// The fields of a line, set apart by blanks, semicolons or commas. A comma inside one word of several is a
// decimal comma: it is left where it is, and the number is refused.
void split_line(const std::vector<std::string_view>& words, std::vector<std::string_view>& fields) {
    fields.clear();
    for (const std::string_view word : words) {
        if (word.find(';') != word.npos) {
            split(word, ';', fields);
        } else if (words.size() == 1) {
            split(word, ',', fields);
        } else {
            const bool comma = word.size() > 1 && word.ends_with(',');
            fields.push_back(word.substr(0, word.size() - std::size_t(comma)));
        }
    }
    // "1; 2; 3;" and "1, 2, 3,": nothing comes behind the last separator.
    std::erase_if(fields, [&](std::string_view field) { return field.empty() && words.size() > 1; });
    if (fields.size() > 1 && fields.back().empty()) fields.pop_back();
}

// "x y z …", "X,Y,Z", or "X Y Z" in quotes: the names of the columns.
bool is_heading(const std::vector<std::string_view>& fields) {
    constexpr std::array<std::string_view, 3> names{"x", "y", "z"};
    if (fields.size() < names.size()) return false;
    return std::equal(names.begin(), names.end(), fields.begin(),
                      [](std::string_view name, std::string_view field) {
                          if (field.size() == 3 && field.front() == '"' && field.back() == '"') {
                              field = field.substr(1, 1);
                          }
                          return same_word(name, field);
                      });
}

}  // namespace

// There is no telling three numbers after a place from a colour but by their length; a colour of length one
// on every line is no likely thing.
Soup read_xyz(const Source& source) {
    Soup soup;
    bool normals = true;
    bool heading_may_come = true;
    std::vector<std::string_view> fields;
    for (LineReader text(source, '#'); text.next();) {
        if (text.words()[0].starts_with("//")) continue;
        split_line(text.words(), fields);
        if (std::exchange(heading_may_come, false) && is_heading(fields)) continue;
        const std::size_t n = fields.size();
        const auto number = [&](std::size_t field) { return text.number(fields[field]); };
        if (n == 1) {
            (void)number(0);  // a count; but a word is a fault
            continue;
        }
        if (n < 3) text.refuse(fmt::format("{} values", n), "at least three: x y z");
        soup.points.push_back(Vec3{number(0), number(1), number(2)});  // in this order
        if (!normals) continue;
        const Vec3 normal = n >= 6 ? Vec3(number(3), number(4), number(5)) : Vec3::Zero();
        normals = is_normal(normal);
        soup.normals.push_back(normal);
    }
    if (!normals) soup.normals.clear();
    return soup;
}

// A count, then x y z, mostly with intensity and colour; another count and its points may follow. Some
// programs write no count.
Soup read_pts(const Source& source) {
    Soup soup;
    std::int64_t announced = 0;
    bool counted = false;
    LineReader text(source, '#');
    text.need("the number of points, or a point");
    do {
        if (text.words().size() == 1 && (counted || soup.points.empty())) {
            const std::int64_t count = text.integer(std::size_t{0});
            // The shortest line is "0 0 0\n".
            const auto most = std::int64_t(source.bytes.size() / 6 + 1);
            if (count < 0 || count > most - announced) {
                const std::string before = announced > 0 ? fmt::format(" after {}", announced) : "";
                text.refuse(fmt::format("{} points{}", count, before),
                            fmt::format("no more than the file's {} bytes can hold", source.bytes.size()),
                            "the file is damaged or cut short");
            }
            announced += count;
            // Once only: making room for each of many small scans would copy all points each time.
            if (!counted) soup.points.reserve(std::size_t(count));
            counted = true;
            continue;
        }
        if (counted && std::int64_t(soup.points.size()) >= announced) {
            text.refuse("a point more", fmt::format("{}, as the file counts them", announced),
                        "the file is damaged: save or copy it again");
        }
        soup.points.push_back(Vec3{text.number(0), text.number(1), text.number(2)});
    } while (text.next());
    if (std::int64_t(soup.points.size()) < announced) {
        text.need(fmt::format("point {} of {}", soup.points.size() + 1, announced));
    }
    return soup;
}

}  // namespace evenspit::mesh_readers
