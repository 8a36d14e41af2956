// SPDX-License-Identifier: MIT
#include <array>
#include <limits>
#include <vector>

#include <fmt/format.h>

#include "geometry/line_reader.h"

namespace evenspit::mesh_readers {

namespace {

// The counts come on the keyword's line or on the next, and the keyword itself may be missing.
struct Counts {
    std::int64_t vertices, faces;
};

Counts read_header(LineReader& text) {
    text.need("the keyword OFF");
    std::size_t at = 0;
    if (const std::string_view keyword = text.words()[0]; keyword.ends_with("OFF")) {
        // Prefixes tell what follows x y z on a vertex line, which does not matter here, and of which
        // dimension a vertex is, which does.
        if (keyword.find_first_of("4n") != keyword.npos) {
            text.refuse(in_quotes(keyword), "vertices of three coordinates");
        }
        for (const std::string_view word : text.words()) {
            if (same_word(word, "BINARY")) {
                text.refuse("a binary OFF", "a text", "save it as text OFF or as PLY");
            }
        }
        at = 1;
        if (text.words().size() == 1) {
            text.need("the numbers of vertices, faces and edges");
            at = 0;
        }
    }
    return {text.integer(at), text.integer(at + 1)};
}

}  // namespace

Soup read_off(const Source& source) {
    LineReader text(source, '#');
    const Counts counts = read_header(text);
    const std::size_t left = source.bytes.size() - std::min(text.position(), source.bytes.size());
    // The shortest vertex line is "0 0 0\n", the shortest face line "0\n"; the last may lack its end.
    const auto fits = [left](std::int64_t n, std::size_t line) {
        return n >= 0 && n <= std::numeric_limits<std::int32_t>::max() && std::size_t(n) <= left / line + 1;
    };
    if (!fits(counts.vertices, 6) || !fits(counts.faces, 2)) {
        text.refuse(fmt::format("{} vertices and {} faces", counts.vertices, counts.faces),
                    fmt::format("no more than the file's {} bytes can hold", source.bytes.size()),
                    "the file is damaged or cut short");
    }

    Soup soup;
    soup.points.reserve(std::size_t(counts.vertices));
    std::array<double, 3> numbers{};
    for (std::int64_t v = 0; v < counts.vertices; ++v) {
        if (text.three_numbers("", numbers)) {
            soup.points.emplace_back(numbers[0], numbers[1], numbers[2]);
            continue;
        }
        text.need([&] { return fmt::format("vertex {} of {}", v + 1, counts.vertices); });
        soup.points.emplace_back(text.number(0), text.number(1), text.number(2));
    }
    std::vector<std::int32_t> corners;
    const auto add_corner = [&](std::int64_t index) {
        if (index < 0 || index >= counts.vertices) {
            text.refuse(fmt::format("vertex {} in a face", index),
                        fmt::format("0 to {}", counts.vertices - 1));
        }
        corners.push_back(std::int32_t(index));
    };
    std::array<std::int64_t, 3> names{};
    for (std::int64_t f = 0; f < counts.faces; ++f) {
        corners.clear();
        if (text.three_wholes("3 ", names)) {
            for (const std::int64_t name : names) add_corner(name);
            soup.add_polygon(corners);
            continue;
        }
        text.need([&] { return fmt::format("face {} of {}", f + 1, counts.faces); });
        const std::int64_t n = text.integer(std::size_t{0});
        if (n < 0 || std::size_t(n) >= text.words().size()) {
            text.refuse(fmt::format("a face of {} corners with {} after it", n, text.words().size() - 1),
                        "as many vertices as corners");
        }
        for (std::size_t k = 1; k <= std::size_t(n); ++k) add_corner(text.integer(k));
        soup.add_polygon(corners);  // what follows on the line is a colour
    }
    return soup;
}

}  // namespace evenspit::mesh_readers
