// SPDX-License-Identifier: MIT
#include <cmath>
#include <cstddef>

#include <fmt/format.h>

#include "geometry/line_reader.h"

namespace evenspit::mesh_readers {

namespace {

// How far from one the length of a normal may be, as printed with few digits.
constexpr double length_slack = 0.02;

bool is_normal(const Vec3& v) {
    return std::abs(v.norm() - 1) < length_slack;
}

}  // namespace

// There is no telling three numbers after a place from a colour but by their length; a colour of length one
// on every line is no likely thing.
Soup read_xyz(const Source& source) {
    Soup soup;
    bool normals = true;
    for (LineReader text(source, '#'); text.next();) {
        const std::size_t n = text.words().size();
        if (n == 1) {
            (void)text.number(0);  // a count; but a word is a fault
            continue;
        }
        if (n < 3) text.refuse(fmt::format("{} values", n), "at least three: x y z");
        soup.points.emplace_back(text.number(0), text.number(1), text.number(2));
        if (!normals) continue;
        const Vec3 normal = n >= 6 ? Vec3(text.number(3), text.number(4), text.number(5)) : Vec3::Zero();
        normals = is_normal(normal);
        soup.normals.push_back(normal);
    }
    if (!normals) soup.normals.clear();
    return soup;
}

// A count, then x y z, mostly with intensity and colour.
Soup read_pts(const Source& source) {
    Soup soup;
    LineReader text(source, '#');
    text.need("the number of points");
    if (text.words().size() != 1)
        text.refuse(fmt::format("{} values", text.words().size()), "the number of points alone");
    const std::int64_t count = text.integer(std::size_t{0});
    // The shortest line is "0 0 0\n".
    if (count < 0 || std::size_t(count) > source.bytes.size() / 6 + 1) {
        text.refuse(fmt::format("{} points", count),
                    fmt::format("no more than the file's {} bytes can hold", source.bytes.size()),
                    "the file is damaged or cut short");
    }
    soup.points.reserve(std::size_t(count));
    for (std::int64_t k = 0; k < count; ++k) {
        text.need(fmt::format("point {} of {}", k + 1, count));
        soup.points.emplace_back(text.number(0), text.number(1), text.number(2));
    }
    return soup;
}

}  // namespace evenspit::mesh_readers
