// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <limits>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "geometry/line_reader.h"

namespace evenspit::mesh_readers {

namespace {

/// How many vertices the file has.
std::int64_t count_vertices(const Source& source) {
    std::int64_t count = 0;
    for (LineReader text(source, '#'); text.next();) count += text.words()[0] == "v" ? 1 : 0;
    return count;
}

/// \param count of the file's vertices, where it is known; else a face may name any that may still come
/// \return nothing if a face named one that did not come, so that the count is needed to say which
std::optional<Soup> read_with(const Source& source, std::optional<std::int64_t> count) {
    constexpr auto most = std::int64_t{std::numeric_limits<std::int32_t>::max()};
    Soup soup;
    std::int64_t greatest = -1;  // vertex that a face named
    std::vector<std::int32_t> corners;
    bool face_goes_on = false;
    LineReader text(source, '#');
    const auto add_point = [&](double x, double y, double z) {
        if (std::int64_t(soup.points.size()) >= most) text.refuse("too many vertices", "fewer than 2^31");
        soup.points.emplace_back(x, y, z);
    };
    const auto add_corner = [&](std::int64_t name) {
        const auto seen = std::int64_t(soup.points.size());
        const std::int64_t index = name < 0 ? seen + name : name - 1;  // −1 is the last vertex so far
        if (name == 0 || index < 0 || index >= count.value_or(most)) {
            text.refuse(fmt::format("vertex {} in a face", name),
                        fmt::format("one of the file's {}", count ? *count : count_vertices(source)));
        }
        greatest = std::max(greatest, index);
        corners.push_back(std::int32_t(index));
    };
    std::array<double, 3> numbers{};
    std::array<std::int64_t, 3> names{};
    for (;;) {
        if (!face_goes_on && text.three_numbers("v ", numbers)) {
            add_point(numbers[0], numbers[1], numbers[2]);
            continue;
        }
        if (!face_goes_on && text.three_wholes("f ", names)) {
            corners.clear();
            for (const std::int64_t name : names) add_corner(name);
            soup.add_polygon(corners);
            continue;
        }
        if (!text.next()) break;
        const auto& words = text.words();
        std::size_t first = 0;
        if (!face_goes_on) {
            if (words[0] == "v") add_point(text.number(1), text.number(2), text.number(3));
            if (words[0] != "f") continue;
            corners.clear();
            first = 1;
        }
        // A backslash at the end of a line joins the next one to it.
        face_goes_on = words.back() == "\\";
        // vertex, or vertex/texture/normal with the latter two empty or not
        for (std::size_t w = first; w + std::size_t(face_goes_on) < words.size(); ++w)
            add_corner(text.integer(words[w].substr(0, words[w].find('/'))));
        if (!face_goes_on) soup.add_polygon(corners);
    }
    if (face_goes_on) text.need("the rest of a face");
    if (greatest >= std::int64_t(soup.points.size())) return std::nullopt;
    return soup;
}

}  // namespace

// Vertices and faces; normals, textures, groups, lines and whatever else a line may start with do not bear on
// the shape. A face may name vertices that come later.
Soup read_obj(const Source& source) {
    if (std::optional<Soup> soup = read_with(source, std::nullopt)) return *std::move(soup);
    return read_with(source, count_vertices(source)).value();
}

}  // namespace evenspit::mesh_readers
