// SPDX-License-Identifier: MIT
#include <limits>

#include <fmt/format.h>

#include "geometry/line_reader.h"

namespace evenspit::mesh_readers {

// Vertices and faces; normals, textures, groups, lines and whatever else a line may start with do not bear on
// the shape. Two passes, as a face may name vertices that come later.
Soup read_obj(const Source& source) {
    Soup soup;
    for (LineReader text(source, '#'); text.next();) {
        if (text.words()[0] != "v") continue;
        if (soup.points.size() >= std::size_t(std::numeric_limits<std::int32_t>::max())) {
            text.refuse("too many vertices", "fewer than 2^31");
        }
        soup.points.emplace_back(text.number(1), text.number(2), text.number(3));
    }

    const auto count = std::int64_t(soup.points.size());
    std::int64_t seen = 0;
    std::vector<std::int32_t> corners;
    bool face_goes_on = false;
    LineReader text(source, '#');
    while (text.next()) {
        const auto& words = text.words();
        std::size_t first = 0;
        if (!face_goes_on) {
            if (words[0] == "v") ++seen;
            if (words[0] != "f") continue;
            corners.clear();
            first = 1;
        }
        // A backslash at the end of a line joins the next one to it.
        face_goes_on = words.back() == "\\";
        for (std::size_t w = first; w + std::size_t(face_goes_on) < words.size(); ++w) {
            // vertex, or vertex/texture/normal with the latter two empty or not
            const std::int64_t name = text.integer(words[w].substr(0, words[w].find('/')));
            const std::int64_t index = name < 0 ? seen + name : name - 1;  // −1 is the last vertex so far
            if (name == 0 || index < 0 || index >= count) {
                text.refuse(fmt::format("vertex {} in a face", name),
                            fmt::format("one of the file's {}", count));
            }
            corners.push_back(std::int32_t(index));
        }
        if (!face_goes_on) soup.add_polygon(corners);
    }
    if (face_goes_on) text.need("the rest of a face");
    return soup;
}

}  // namespace evenspit::mesh_readers
