// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>

#include <fmt/format.h>

#include "geometry/line_reader.h"
#include "geometry/weld.h"

namespace evenspit::mesh_readers {

namespace {

constexpr std::size_t header_size = 80;
constexpr std::size_t facet_size = 50;            // normal, three corners, two bytes of attributes
constexpr std::size_t most_facets = 715'827'882;  // whose corners 32-bit indices can still name

static_assert(std::endian::native == std::endian::little, "binary STL is read as it lies in memory");

std::uint32_t claimed_facets(std::string_view bytes) {
    std::uint32_t count = 0;
    std::memcpy(&count, bytes.data() + header_size, sizeof count);
    return count;
}

// Binary headers are free text and many say "solid", so the size decides before the header does.
bool is_binary(std::string_view bytes) {
    if (bytes.size() >= header_size + 4 &&
        bytes.size() == header_size + 4 + facet_size * claimed_facets(bytes)) {
        return true;
    }
    const std::size_t first = bytes.find_first_not_of(" \t\r\n");
    return first == bytes.npos || !same_word(bytes.substr(first, 5), "solid") ||
           bytes.find('\0') != bytes.npos;
}

using Corners = std::array<std::array<float, 3>, 3>;

// Which corner of a triangle lies at a place, −1 if none does. Nothing equals what is not a number; of what
// is infinite the joiner knows that it is like no other.
int corner_at(const std::array<float, 3>& place, const Corners& corners) {
    for (int k = 0; k < 3; ++k) {
        if (place == corners[std::size_t(k)] && std::isfinite(place[0] + place[1] + place[2])) return k;
    }
    return -1;
}

// Facets that are looked at together: their corners are on the way from memory before they are asked for.
struct Batch {
    static constexpr std::size_t most = 32;
    struct Corner {
        int before = -1;            // the corner of the facet before that lies there
        std::size_t looked_up = 0;  // else
    };
    std::array<Corners, most + 1> corners{};  // the last of the batch before comes first
    std::array<std::array<Corner, 3>, most> found;

    void look_ahead(const char* facets, std::size_t count, bool first, const PointJoiner& join) {
        for (std::size_t f = 0; f < count; ++f) {
            Corners& own = corners[f + 1];
            std::memcpy(own.data(), facets + facet_size * f + 12, sizeof own);
            for (std::size_t k = 0; k < 3; ++k) {
                Corner& corner = found[f][k];
                // Most triangles share corners with the one before, which is sooner seen than sought.
                corner.before = first && f == 0 ? -1 : corner_at(own[k], corners[f]);
                if (corner.before < 0) corner.looked_up = join.look_ahead(own[k]);
            }
        }
    }
};

Soup read_binary(const Source& source) {
    const std::string_view bytes = source.bytes;
    if (bytes.size() < header_size + 4) {
        refuse(source, 0, fmt::format("{} bytes", bytes.size()), "an STL file, which has 84 at least",
               "the file is cut short");
    }
    const std::size_t count = claimed_facets(bytes);
    const std::size_t size = header_size + 4 + facet_size * count;
    if (bytes.size() != size) {
        refuse(source, 0, fmt::format("{} bytes for {} triangles", bytes.size(), count),
               fmt::format("{} bytes", size),
               bytes.size() < size ? "the file is cut short: save or copy it again"
                                   : "the file is damaged: save it again");
    }
    if (count > most_facets) {
        refuse(source, 0, fmt::format("{} triangles", count), fmt::format("at most {}", most_facets));
    }
    Soup soup;
    // A closed surface has half as many corners as triangles (Euler).
    const std::size_t expected = count / 2 + 2;
    soup.points.reserve(expected);
    soup.triangles.reserve(count);
    PointJoiner join(soup.points, expected);
    Batch batch;
    Triangle before{};
    for (std::size_t done = 0; done < count; done += Batch::most) {
        const std::size_t here = std::min(Batch::most, count - done);
        batch.look_ahead(bytes.data() + header_size + 4 + facet_size * done, here, done == 0, join);
        for (std::size_t f = 0; f < here; ++f) {
            Triangle triangle{};
            for (std::size_t k = 0; k < 3; ++k) {
                const Batch::Corner& corner = batch.found[f][k];
                triangle[k] = corner.before >= 0
                                  ? before[std::size_t(corner.before)]
                                  : join.find_or_add(batch.corners[f + 1][k], corner.looked_up);
            }
            soup.triangles.push_back(triangle);
            before = triangle;
        }
        batch.corners[0] = batch.corners[here];
    }
    soup.joined = 3 * count - soup.points.size();
    soup.apart = true;
    return soup;
}

// The text as one stream of words; the free names after solid and endsolid are jumped over.
class Words {
  public:
    explicit Words(const Source& source) : text_(source, 0) {}

    // The next word, empty at the end.
    std::string_view next() {
        if (at_ >= text_.words().size()) {
            at_ = 0;
            if (!text_.next()) return {};
        }
        return text_.words()[at_++];
    }
    void skip_line() { at_ = text_.words().size(); }
    double number(std::string_view expected) {
        const std::string_view word = next();
        if (word.empty()) text_.need(expected);
        return text_.number(word);
    }
    void expect(std::string_view expected) {
        const std::string_view word = next();
        if (word.empty()) text_.need(expected);
        if (!same_word(word, expected)) text_.refuse(in_quotes(word), fmt::format("'{}'", expected));
    }
    [[nodiscard]] const LineReader& text() const { return text_; }

  private:
    LineReader text_;
    std::size_t at_ = 0;
};

Soup read_text(const Source& source) {
    Soup soup;
    Words words(source);
    bool in_solid = false;
    for (std::string_view word = words.next(); !word.empty(); word = words.next()) {
        if (!in_solid) {
            if (!same_word(word, "solid")) words.text().refuse(in_quotes(word), "'solid'");
            in_solid = true;
            words.skip_line();
        } else if (same_word(word, "endsolid")) {
            in_solid = false;
            words.skip_line();
        } else if (same_word(word, "facet")) {
            // The normal says nothing that the corners do not, and some files have none.
            words.skip_line();
            words.expect("outer");
            words.expect("loop");
            if (soup.triangles.size() == most_facets) {
                words.text().refuse("one triangle more", fmt::format("at most {}", most_facets));
            }
            const auto first = std::int32_t(soup.points.size());
            for (int k = 0; k < 3; ++k) {
                words.expect("vertex");
                const double x = words.number("a coordinate");
                const double y = words.number("a coordinate");
                soup.points.emplace_back(x, y, words.number("a coordinate"));
            }
            words.expect("endloop");
            words.expect("endfacet");
            soup.triangles.push_back({first, first + 1, first + 2});
        } else {
            words.text().refuse(in_quotes(word), "'facet' or 'endsolid'");
        }
    }
    if (in_solid) {
        words.text().refuse("the end of the file", "'endsolid'",
                            "the file is cut short: save or copy it again");
    }
    return soup;
}

}  // namespace

Soup read_stl(const Source& source) {
    return is_binary(source.bytes) ? read_binary(source) : read_text(source);
}

}  // namespace evenspit::mesh_readers
