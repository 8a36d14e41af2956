// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstring>
#include <limits>
#include <optional>
#include <string>
#include <system_error>

#include <Eigen/Eigenvalues>
#include <fmt/format.h>

#include "geometry/line_reader.h"

namespace evenspit::mesh_readers {

namespace {

enum class Type { int8, uint8, int16, uint16, int32, uint32, float32, float64 };

struct TypeName {
    std::string_view name;
    Type type;
};
constexpr std::array<TypeName, 16> type_names{{{"char", Type::int8},
                                               {"uchar", Type::uint8},
                                               {"short", Type::int16},
                                               {"ushort", Type::uint16},
                                               {"int", Type::int32},
                                               {"uint", Type::uint32},
                                               {"float", Type::float32},
                                               {"double", Type::float64},
                                               {"int8", Type::int8},
                                               {"uint8", Type::uint8},
                                               {"int16", Type::int16},
                                               {"uint16", Type::uint16},
                                               {"int32", Type::int32},
                                               {"uint32", Type::uint32},
                                               {"float32", Type::float32},
                                               {"float64", Type::float64}}};

std::size_t size_of(Type type) {
    switch (type) {
        case Type::int8:
        case Type::uint8:
            return 1;
        case Type::int16:
        case Type::uint16:
            return 2;
        case Type::int32:
        case Type::uint32:
        case Type::float32:
            return 4;
        case Type::float64:
            break;
    }
    return 8;
}

struct Property {
    std::string_view name;
    Type type;
    std::optional<Type> count_type;  // of a list
};

struct Element {
    std::string_view name;
    std::int64_t count;
    std::vector<Property> properties;

    [[nodiscard]] int find(std::string_view wanted) const {
        for (std::size_t i = 0; i < properties.size(); ++i) {
            if (properties[i].name == wanted) return int(i);
        }
        return -1;
    }
};

enum class Coding { text, little_endian, big_endian };

struct Header {
    Coding coding = Coding::text;
    std::vector<Element> elements;
    std::optional<Mat3> centre_covariance;
    std::vector<std::string> region_names;
    std::optional<double> scale_sigma;
    std::string bird;
};

Type read_type(const LineReader& text, std::size_t word) {
    if (word >= text.words().size()) text.refuse("a property without a type", "a type and a name");
    for (const TypeName& known : type_names) {
        if (known.name == text.words()[word]) return known.type;
    }
    text.refuse(in_quotes(text.words()[word]), "a type such as 'float' or 'uchar'");
}

// The numbers of centre_covariance_comment().
Mat3 read_covariance(const LineReader& text) {
    constexpr const char* expected = "six numbers of a covariance: xx xy xz yy yz zz";
    constexpr const char* mend = "take the line out; nothing is then known of the centre's error";
    constexpr std::size_t first = 3;
    if (text.words().size() != first + 6) {
        text.refuse(fmt::format("a centre covariance of {} numbers", text.words().size() - first), expected,
                    mend);
    }
    std::array<double, 6> c{};
    for (std::size_t k = 0; k < c.size(); ++k) c[k] = text.number(first + k);
    Mat3 covariance;
    covariance << c[0], c[1], c[2], c[1], c[3], c[4], c[2], c[4], c[5];
    constexpr double rounding = 1e-9;
    // No spread is less than none, whichever way one looks. A norm that overflows leaves nothing to judge by.
    if (!std::isfinite(covariance.norm()) ||
        Eigen::SelfAdjointEigenSolver<Mat3>(covariance, Eigen::EigenvaluesOnly).eigenvalues().minCoeff() <
            -rounding * covariance.norm()) {
        text.refuse("a centre covariance that no spread has", expected, mend);
    }
    return covariance;
}

// The number of scale_sigma_comment().
double read_scale_sigma(const LineReader& text) {
    constexpr std::size_t at = 3;
    const double share = text.words().size() == at + 1 ? text.number(at) : -1;
    if (!(share >= 0 && share < 1)) {
        text.refuse("a scale sigma that no share is", "a number from 0 to 1",
                    "take the line out; nothing is then known of the scale's error");
    }
    return share;
}

// The words of bird_comment(), which has one; other programs may say more of a bird.
void read_bird(const std::vector<std::string_view>& words, std::string& bird) {
    if (words.size() == 3 && words[1] == "bird") bird = std::string(words[2]);
}

// A name of region_comment(). What else other programs may say after the word is passed over.
void read_region_name(const std::vector<std::string_view>& words, std::vector<std::string>& names) {
    constexpr std::size_t most_regions = 256;  // as many as labelled_ply() can number
    constexpr std::size_t first = 3;
    if (words.size() <= first || words[1] != "region") return;
    std::size_t number = 0;
    const std::string_view digits = words[2];
    const auto [end, fault] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
    if (fault != std::errc() || end != digits.data() + digits.size() || number >= most_regions) return;
    if (names.size() <= number) names.resize(number + 1);
    names[number] = std::string(words[first]);
    for (std::size_t w = first + 1; w < words.size(); ++w) names[number].append(" ").append(words[w]);
}

// Leaves the reader on the line end_header.
Header read_header(LineReader& text) {
    text.need("'ply'");
    if (text.words()[0] != "ply") text.refuse(in_quotes(text.words()[0]), "'ply'", "this is no PLY file");
    Header header;
    bool has_format = false;
    for (;;) {
        text.need("'end_header'");
        const auto& words = text.words();
        if (words[0] == "end_header") break;
        if (words[0] == "comment" && words.size() > 2 && words[1] == "centre" && words[2] == "covariance")
            header.centre_covariance = read_covariance(text);
        if (words[0] == "comment" && words.size() > 2 && words[1] == "scale" && words[2] == "sigma")
            header.scale_sigma = read_scale_sigma(text);
        if (words[0] == "comment") read_bird(words, header.bird);
        if (words[0] == "comment") read_region_name(words, header.region_names);
        if (words[0] == "comment" || words[0] == "obj_info") continue;
        if (words[0] == "format" && words.size() == 3) {
            has_format = true;
            if (words[1] == "ascii") {
                header.coding = Coding::text;
            } else if (words[1] == "binary_little_endian") {
                header.coding = Coding::little_endian;
            } else if (words[1] == "binary_big_endian") {
                header.coding = Coding::big_endian;
            } else {
                text.refuse(in_quotes(words[1]), "ascii, binary_little_endian or binary_big_endian");
            }
        } else if (words[0] == "element" && words.size() == 3) {
            const std::int64_t count = text.integer(2);
            if (count < 0 || count > std::numeric_limits<std::int32_t>::max()) {
                text.refuse(fmt::format("{} of {}", count, in_quotes(words[1])), "0 to 2147483647");
            }
            header.elements.push_back({words[1], count, {}});
        } else if (words[0] == "property" && !header.elements.empty() &&
                   (words.size() == 3 || words.size() == 5)) {
            auto& properties = header.elements.back().properties;
            if (words.size() == 3) {
                properties.push_back({words[2], read_type(text, 1), std::nullopt});
            } else {
                if (words[1] != "list") text.refuse(in_quotes(words[1]), "'list'");
                const Type count_type = read_type(text, 2);
                if (count_type == Type::float32 || count_type == Type::float64) {
                    text.refuse(in_quotes(words[2]), "a list counted in whole numbers");
                }
                properties.push_back({words[4], read_type(text, 3), count_type});
            }
        } else {
            text.refuse(in_quotes(words[0]), "a line of a PLY header");
        }
    }
    if (!has_format) {
        text.refuse("no format in the header", "ascii, binary_little_endian or binary_big_endian");
    }
    return header;
}

// The records after the header, one a line.
class TextBody {
  public:
    TextBody(const Source& source, const LineReader& text)
        : text_(text), left_(source.bytes.size() - std::min(text.position(), source.bytes.size())) {}

    // A value takes a character and a space at least.
    [[nodiscard]] bool may_hold(std::int64_t records, const Element& element) const {
        return std::size_t(records) * element.properties.size() <= left_ / 2 + 1;
    }
    void begin_record(const Element& element, std::int64_t i) {
        if (element.properties.empty()) return;
        text_.need(fmt::format("{} {} of {}", harmless(element.name), i + 1, element.count));
        at_ = 0;
    }
    double value(Type) { return text_.number(at_++); }
    [[nodiscard]] bool may_hold_list(std::size_t count, Type) const {
        return count <= text_.words().size() - at_;
    }
    void end_record(const Element& element) {
        if (!element.properties.empty() && at_ != text_.words().size()) {
            text_.refuse(fmt::format("{} values", text_.words().size()),
                         fmt::format("{} for this {}", at_, harmless(element.name)));
        }
    }
    [[noreturn]] void refuse(std::string found, std::string expected) const {
        text_.refuse(std::move(found), std::move(expected));
    }

  private:
    LineReader text_;
    std::size_t left_;
    std::size_t at_ = 0;
};

// The records after the header, byte by byte.
class BinaryBody {
  public:
    BinaryBody(const Source& source, std::size_t start, bool big_endian)
        : source_(source),
          left_(source.bytes.substr(std::min(start, source.bytes.size()))),
          big_endian_(big_endian) {}

    [[nodiscard]] bool may_hold(std::int64_t records, const Element& element) const {
        std::size_t least = 0;
        for (const Property& property : element.properties) {
            least += size_of(property.count_type.value_or(property.type));
        }
        return least == 0 || std::size_t(records) <= left_.size() / least;
    }
    void begin_record(const Element& element, std::int64_t i) {
        element_ = &element;
        record_ = i;
    }
    double value(Type type) {
        switch (type) {
            case Type::int8:
                return take<std::int8_t>();
            case Type::uint8:
                return take<std::uint8_t>();
            case Type::int16:
                return take<std::int16_t>();
            case Type::uint16:
                return take<std::uint16_t>();
            case Type::int32:
                return take<std::int32_t>();
            case Type::uint32:
                return take<std::uint32_t>();
            case Type::float32:
                return double(take<float>());
            case Type::float64:
                break;
        }
        return take<double>();
    }
    [[nodiscard]] bool may_hold_list(std::size_t count, Type type) const {
        return count <= left_.size() / size_of(type);
    }
    void end_record(const Element&) {}
    [[noreturn]] void refuse(std::string found, std::string expected) const {
        mesh_readers::refuse(source_, 0,
                             fmt::format("{} in {} {}", found, harmless(element_->name), record_ + 1),
                             std::move(expected));
    }

  private:
    template <class T>
    T take() {
        std::array<char, sizeof(T)> bytes;
        if (left_.size() < bytes.size()) {
            mesh_readers::refuse(source_, 0,
                                 fmt::format("the end of the file in {} {} of {}", harmless(element_->name),
                                             record_ + 1, element_->count),
                                 "", "the file is cut short: save or copy it again");
        }
        std::copy_n(left_.begin(), bytes.size(), bytes.begin());
        left_.remove_prefix(bytes.size());
        if (big_endian_) std::reverse(bytes.begin(), bytes.end());
        T value;
        std::memcpy(&value, bytes.data(), sizeof value);
        return value;
    }

    const Source& source_;
    std::string_view left_;
    bool big_endian_;
    const Element* element_ = nullptr;
    std::int64_t record_ = 0;
};

// Reads a list into `items`.
template <class Body>
void read_list(Body& body, const Property& property, std::vector<double>& items) {
    const double count = body.value(*property.count_type);
    constexpr double longest = std::numeric_limits<std::uint32_t>::max();
    if (!(count >= 0 && count <= longest) || count != std::floor(count)) {
        body.refuse(fmt::format("a list of {} values", count), "a whole number, 0 or more");
    }
    if (!body.may_hold_list(std::size_t(count), property.type)) {
        body.refuse(fmt::format("a list of {} values", count), "no more than the file holds");
    }
    items.resize(std::size_t(count));
    for (double& item : items) item = body.value(property.type);
}

template <class Body>
void read_vertices(Body& body, const Element& element, Soup& soup) {
    const std::array<int, 3> axes{element.find("x"), element.find("y"), element.find("z")};
    const std::array<int, 3> normal{element.find("nx"), element.find("ny"), element.find("nz")};
    const auto plain = [&](int at) { return at >= 0 && !element.properties[std::size_t(at)].count_type; };
    const bool has_normals = plain(normal[0]) && plain(normal[1]) && plain(normal[2]);
    std::vector<double> values(element.properties.size());
    std::vector<double> list;
    soup.points.reserve(std::size_t(element.count));
    for (std::int64_t i = 0; i < element.count; ++i) {
        body.begin_record(element, i);
        for (std::size_t p = 0; p < values.size(); ++p) {
            if (element.properties[p].count_type) {
                read_list(body, element.properties[p], list);
            } else {
                values[p] = body.value(element.properties[p].type);
            }
        }
        body.end_record(element);
        soup.points.emplace_back(values[std::size_t(axes[0])], values[std::size_t(axes[1])],
                                 values[std::size_t(axes[2])]);
        if (has_normals) {
            soup.normals.emplace_back(values[std::size_t(normal[0])], values[std::size_t(normal[1])],
                                      values[std::size_t(normal[2])]);
        }
    }
}

template <class Body>
void read_faces(Body& body, const Element& element, std::int64_t vertex_count, Soup& soup) {
    const int corners_at = std::max(element.find("vertex_indices"), element.find("vertex_index"));
    const int region_at = element.find("region"), unseen_at = element.find("unseen");
    std::vector<double> list;
    std::vector<std::int32_t> corners;
    soup.triangles.reserve(std::size_t(element.count));
    for (std::int64_t i = 0; i < element.count; ++i) {
        body.begin_record(element, i);
        double region = 0, unseen = 0;
        for (std::size_t p = 0; p < element.properties.size(); ++p) {
            const Property& property = element.properties[p];
            if (!property.count_type) {
                const double value = body.value(property.type);
                if (int(p) == region_at) region = value;
                if (int(p) == unseen_at) unseen = value;
                continue;
            }
            read_list(body, property, list);
            if (int(p) != corners_at) continue;
            corners.clear();
            for (const double index : list) {
                if (!(index >= 0 && index < double(vertex_count)) || index != std::floor(index)) {
                    body.refuse(fmt::format("vertex {}", index), fmt::format("0 to {}", vertex_count - 1));
                }
                corners.push_back(std::int32_t(index));
            }
        }
        body.end_record(element);
        soup.add_polygon(corners);
        // What other programs keep under that name may be anything.
        if (unseen_at >= 0)
            soup.unseen.resize(soup.triangles.size(), unseen > 0 ? float(std::min(unseen, 1.0)) : 0.F);
        if (region_at < 0) continue;
        if (!(std::abs(region) <= double(std::numeric_limits<std::int32_t>::max())) ||
            region != std::floor(region)) {
            body.refuse(fmt::format("region {}", region), "a whole number of 32 bits");
        }
        soup.regions.resize(soup.triangles.size(), std::int32_t(region));
    }
}

template <class Body>
void skip(Body& body, const Element& element) {
    if (element.properties.empty()) return;
    std::vector<double> list;
    for (std::int64_t i = 0; i < element.count; ++i) {
        body.begin_record(element, i);
        for (const Property& property : element.properties) {
            if (property.count_type) {
                read_list(body, property, list);
            } else {
                body.value(property.type);
            }
        }
        body.end_record(element);
    }
}

template <class Body>
Soup read_body(Body body, const Source& source, const Header& header, bool faces_needed) {
    const auto called = [&header](std::string_view name) {
        return std::find_if(header.elements.begin(), header.elements.end(),
                            [&](const Element& e) { return e.name == name; });
    };
    const auto vertex = called("vertex");
    const auto face = called("face");
    if (vertex == header.elements.end()) refuse(source, 0, "no element 'vertex'", "vertices and faces");
    for (const char* axis : {"x", "y", "z"}) {
        const int at = vertex->find(axis);
        if (at < 0 || vertex->properties[std::size_t(at)].count_type) {
            refuse(source, 0, fmt::format("vertices without a plain property '{}'", axis), "x, y and z");
        }
    }
    if (face == header.elements.end() && faces_needed) {
        refuse(source, 0, "no element 'face'", "triangles",
               called("tristrips") != header.elements.end()
                   ? "split its strips into triangles in a mesh tool"
                   : "points alone bound nothing: make a surface of them in a scan tool");
    }
    if (face != header.elements.end()) {
        const int corners = std::max(face->find("vertex_indices"), face->find("vertex_index"));
        if (corners < 0 || !face->properties[std::size_t(corners)].count_type) {
            refuse(source, 0, "faces without a list 'vertex_indices'", "the vertices of each face");
        }
        if (const int region = face->find("region");
            region >= 0 && face->properties[std::size_t(region)].count_type) {
            refuse(source, 0, "a list 'region' for a face", "one number");
        }
    }

    Soup soup;
    for (auto element = header.elements.begin(); element != header.elements.end(); ++element) {
        if (!body.may_hold(element->count, *element)) {
            refuse(source, 0,
                   fmt::format("{} times {} in the header", element->count, in_quotes(element->name)),
                   fmt::format("no more than the file's {} bytes can hold", source.bytes.size()),
                   "the file is damaged or cut short");
        }
        if (element == vertex) {
            read_vertices(body, *element, soup);
        } else if (element == face) {
            read_faces(body, *element, vertex->count, soup);
        } else {
            skip(body, *element);
        }
    }
    return soup;
}

Soup read(const Source& source, bool faces_needed) {
    LineReader text(source, 0);
    const Header header = read_header(text);
    const bool big_endian = header.coding == Coding::big_endian;
    Soup soup =
        header.coding == Coding::text
            ? read_body(TextBody(source, text), source, header, faces_needed)
            : read_body(BinaryBody(source, text.position(), big_endian), source, header, faces_needed);
    soup.centre_covariance = header.centre_covariance;
    soup.region_names = header.region_names;
    soup.scale_sigma = header.scale_sigma;
    soup.bird = header.bird;
    return soup;
}

}  // namespace

Soup read_ply(const Source& source) {
    return read(source, true);
}

Soup read_ply_points(const Source& source) {
    return read(source, false);
}

}  // namespace evenspit::mesh_readers
