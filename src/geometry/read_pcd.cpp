// SPDX-License-Identifier: MIT
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <liblzf/lzf.h>
#include <limits>
#include <optional>
#include <string>

#include <fmt/format.h>

#include "geometry/line_reader.h"

namespace evenspit::mesh_readers {

namespace {

struct Field {
    std::string name;
    std::size_t size = 4;   // bytes
    char type = 'F';        // I, U or F
    std::size_t count = 1;  // values a point
    std::size_t start = 0;  // bytes before it in a point
    std::size_t word = 0;   // values before it in a point
};

enum class Coding { text, binary, compressed };

struct Header {
    std::vector<Field> fields;
    std::size_t points = 0;
    std::size_t point_size = 0;   // bytes
    std::size_t point_words = 0;  // values
    Coding coding = Coding::text;

    [[nodiscard]] const Field* find(std::string_view name) const {
        for (const Field& field : fields) {
            if (field.name == name) return &field;
        }
        return nullptr;
    }
};

// Leaves the reader on the line DATA. Entries may come in any order; DATA is the last.
Header read_header(LineReader& text) {
    Header header;
    std::optional<std::size_t> points, width, height;
    const auto whole = [&](std::size_t word) {
        const std::int64_t value = text.integer(word);
        if (value < 0 || value > std::numeric_limits<std::int32_t>::max())
            text.refuse(fmt::format("{}", value), "0 to 2147483647");
        return std::size_t(value);
    };
    const auto one_a_field = [&] {
        if (text.words().size() != header.fields.size() + 1) {
            text.refuse(fmt::format("{} values", text.words().size() - 1),
                        fmt::format("one for each of {} fields", header.fields.size()));
        }
    };
    for (;;) {
        text.need("DATA");
        const auto& words = text.words();
        if (words[0] == "FIELDS" || words[0] == "COLUMNS") {
            for (std::size_t w = 1; w < words.size(); ++w) header.fields.push_back({std::string(words[w])});
        } else if (words[0] == "SIZE") {
            one_a_field();
            for (std::size_t w = 1; w < words.size(); ++w) header.fields[w - 1].size = whole(w);
        } else if (words[0] == "TYPE") {
            one_a_field();
            for (std::size_t w = 1; w < words.size(); ++w) header.fields[w - 1].type = words[w][0];
        } else if (words[0] == "COUNT") {
            one_a_field();
            for (std::size_t w = 1; w < words.size(); ++w) header.fields[w - 1].count = whole(w);
        } else if (words[0] == "WIDTH") {
            width = whole(1);
        } else if (words[0] == "HEIGHT") {
            height = whole(1);
        } else if (words[0] == "POINTS") {
            points = whole(1);
        } else if (words[0] == "DATA") {
            if (words.size() == 2 && same_word(words[1], "ascii")) {
                header.coding = Coding::text;
            } else if (words.size() == 2 && same_word(words[1], "binary")) {
                header.coding = Coding::binary;
            } else if (words.size() == 2 && same_word(words[1], "binary_compressed")) {
                header.coding = Coding::compressed;
            } else {
                text.refuse(words.size() == 2 ? in_quotes(words[1]) : "no coding",
                            "ascii, binary or binary_compressed");
            }
            break;
        } else if (words[0] != "VERSION" && words[0] != "VIEWPOINT") {
            text.refuse(in_quotes(words[0]), "a line of a PCD header");
        }
    }
    if (!points && width) points = *width * height.value_or(1);
    if (!points) text.refuse("no number of points", "POINTS, or WIDTH and HEIGHT");
    header.points = *points;
    for (Field& field : header.fields) {
        field.start = header.point_size;
        field.word = header.point_words;
        if (field.size != 1 && field.size != 2 && field.size != 4 && field.size != 8)
            text.refuse(fmt::format("a field of {} bytes", field.size), "1, 2, 4 or 8");
        if (field.count > 4096) text.refuse(fmt::format("a field of {} values", field.count), "at most 4096");
        header.point_size += field.size * field.count;
        header.point_words += field.count;
    }
    for (const char* axis : {"x", "y", "z"}) {
        const Field* const field = header.find(axis);
        if (!field || field->count != 1)
            text.refuse(fmt::format("points without a field '{}'", axis), "x, y and z");
        if (field->type != 'F' && field->type != 'I' && field->type != 'U')
            text.refuse("a field of type " + in_quotes({&field->type, 1}), "F, I or U");
    }
    if (header.coding == Coding::text) return header;
    for (const char* name : {"x", "y", "z", "normal_x", "normal_y", "normal_z"}) {
        const Field* const field = header.find(name);
        if (field && field->type == 'F' && field->size < 4) {
            text.refuse(fmt::format("a field '{}' of type F of {} byte{}", name, field->size,
                                    field->size == 1 ? "" : "s"),
                        "4 or 8");
        }
    }
    return header;
}

template <class T>
double number_at(const char* bytes) {
    T value;
    std::memcpy(&value, bytes, sizeof value);
    return double(value);
}

double number_at(const char* bytes, const Field& field) {
    if (field.type == 'F') return field.size == 8 ? number_at<double>(bytes) : number_at<float>(bytes);
    const bool is_signed = field.type == 'I';
    switch (field.size) {
        case 1:
            return is_signed ? number_at<std::int8_t>(bytes) : number_at<std::uint8_t>(bytes);
        case 2:
            return is_signed ? number_at<std::int16_t>(bytes) : number_at<std::uint16_t>(bytes);
        case 4:
            return is_signed ? number_at<std::int32_t>(bytes) : number_at<std::uint32_t>(bytes);
        default:
            return is_signed ? number_at<std::int64_t>(bytes) : number_at<std::uint64_t>(bytes);
    }
}

constexpr std::size_t lzf_expansion =
    88;  // of LZF, the coding of packed points: three bytes tell of 264 at most

std::string unpack(std::string_view packed, std::size_t size, const Source& source) {
    std::string bytes(size, '\0');
    const unsigned int told = lzf_decompress(packed.data(), static_cast<unsigned int>(packed.size()),
                                             bytes.data(), static_cast<unsigned int>(size));
    if (told != size) {
        refuse(source, 0, "compressed points that cannot be unpacked", "",
               "the file is damaged: save or copy it again");
    }
    return bytes;
}

}  // namespace

Soup read_pcd(const Source& source) {
    LineReader text(source, '#');
    const Header header = read_header(text);
    const std::array<const Field*, 3> axes{header.find("x"), header.find("y"), header.find("z")};
    std::array<const Field*, 3> normal{header.find("normal_x"), header.find("normal_y"),
                                       header.find("normal_z")};
    if (!normal[0] || !normal[1] || !normal[2] || normal[0]->count * normal[1]->count * normal[2]->count != 1)
        normal = {};
    Soup soup;
    // Also keeps the product of points and their size from wrapping round. `expansion`: what a byte of the
    // file can become.
    const auto too_many = [&](std::size_t least, std::size_t expansion = 1) {
        if (header.points <= (source.bytes.size() * expansion + 1) / least) return;
        refuse(source, 0, fmt::format("{} points in the header", header.points),
               fmt::format("no more than the file's {} bytes can hold", source.bytes.size()),
               "the file is damaged or cut short");
    };

    if (header.coding == Coding::text) {
        too_many(2 * header.point_words);
        soup.points.reserve(header.points);
        for (std::size_t p = 0; p < header.points; ++p) {
            text.need([&] { return fmt::format("point {} of {}", p + 1, header.points); });
            const auto take = [&](const std::array<const Field*, 3>& fields) {
                return Vec3(text.number(fields[0]->word), text.number(fields[1]->word),
                            text.number(fields[2]->word));
            };
            soup.points.push_back(take(axes));
            if (normal[0]) soup.normals.push_back(take(normal));
        }
        return soup;
    }

    std::string_view body = source.bytes.substr(std::min(text.position(), source.bytes.size()));
    too_many(header.point_size, header.coding == Coding::compressed ? lzf_expansion : 1);
    const std::size_t size = header.points * header.point_size;
    std::string unpacked;
    // Packed points stand field by field, unpacked ones point by point.
    bool by_field = false;
    if (header.coding == Coding::compressed) {
        by_field = true;
        if (body.size() < 8) {
            refuse(source, 0, "the end of the file", "compressed points",
                   "the file is cut short: save or copy it again");
        }
        const auto packed = std::size_t(number_at<std::uint32_t>(body.data()));
        const auto full = std::size_t(number_at<std::uint32_t>(body.data() + 4));
        body.remove_prefix(8);
        if (packed > body.size() || full != size || size / lzf_expansion > packed) {
            refuse(source, 0, fmt::format("{} points, packed in {} bytes", header.points, body.size()),
                   fmt::format("{} bytes that unpack to {}", packed, size),
                   "the file is damaged or cut short");
        }
        unpacked = unpack(body.substr(0, packed), size, source);
        body = unpacked;
    } else {
        if (body.size() < size) {
            refuse(source, 0, fmt::format("{} bytes of points", body.size()), fmt::format("{}", size),
                   "the file is cut short: save or copy it again");
        }
    }
    soup.points.reserve(header.points);
    for (std::size_t p = 0; p < header.points; ++p) {
        const auto take = [&](const std::array<const Field*, 3>& fields) {
            Vec3 v;
            for (int k = 0; k < 3; ++k) {
                const Field& field = *fields[std::size_t(k)];
                const std::size_t at = by_field ? header.points * field.start + p * field.size
                                                : p * header.point_size + field.start;
                v[k] = number_at(body.data() + at, field);
            }
            return v;
        };
        soup.points.push_back(take(axes));
        if (normal[0]) soup.normals.push_back(take(normal));
    }
    return soup;
}

}  // namespace evenspit::mesh_readers
