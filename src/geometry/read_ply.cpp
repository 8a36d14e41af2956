// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <limits>
#include <optional>
#include <string>

#include <fmt/format.h>

#include "geometry/ply_header.h"

namespace evenspit::mesh_readers {

using namespace ply;

namespace {

template <class T>
T from_bytes(const char* at, bool big_endian) {
    std::array<char, sizeof(T)> bytes;
    std::memcpy(bytes.data(), at, bytes.size());
    if (big_endian) std::reverse(bytes.begin(), bytes.end());
    return std::bit_cast<T>(bytes);
}

// The number that stands there. \pre size_of(type) bytes may be read
double number_at(const char* at, Type type, bool big_endian) {
    switch (type) {
        case Type::int8:
            return from_bytes<std::int8_t>(at, big_endian);
        case Type::uint8:
            return from_bytes<std::uint8_t>(at, big_endian);
        case Type::int16:
            return from_bytes<std::int16_t>(at, big_endian);
        case Type::uint16:
            return from_bytes<std::uint16_t>(at, big_endian);
        case Type::int32:
            return from_bytes<std::int32_t>(at, big_endian);
        case Type::uint32:
            return from_bytes<std::uint32_t>(at, big_endian);
        case Type::float32:
            return double(from_bytes<float>(at, big_endian));
        case Type::float64:
            break;
    }
    return from_bytes<double>(at, big_endian);
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
        text_.need([&] { return fmt::format("{} {} of {}", harmless(element.name), i + 1, element.count); });
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
        const std::size_t size = size_of(type);
        if (left_.size() < size) {
            mesh_readers::refuse(source_, 0,
                                 fmt::format("the end of the file in {} {} of {}", harmless(element_->name),
                                             record_ + 1, element_->count),
                                 "", "the file is cut short: save or copy it again");
        }
        const double number = number_at(left_.data(), type, big_endian_);
        left_.remove_prefix(size);
        return number;
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

    // What is still to be read, as it lies there; whoever reads in it says how much that was.
    [[nodiscard]] std::string_view left() const { return left_; }
    void skip(std::size_t bytes) { left_.remove_prefix(bytes); }
    [[nodiscard]] bool big_endian() const { return big_endian_; }

  private:
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

// Where three numbers of a record stand.
using Three = std::array<std::size_t, 3>;

// The same of records whose three numbers are of one type and lie as this machine has them.
template <class T>
void read_plain_points(const char* record, std::size_t size, std::int64_t count, const Three& begins,
                       std::vector<Vec3>& points) {
    for (std::int64_t i = 0; i < count; ++i, record += size) {
        std::array<T, 3> axes;
        for (std::size_t k = 0; k < 3; ++k) std::memcpy(&axes[k], record + begins[k], sizeof(T));
        points.emplace_back(axes[0], axes[1], axes[2]);
    }
}

// Records without lists lie at even distances: only what is wanted of them is looked at. Returns whether it
// did.
bool read_even_vertices(TextBody&, const Element&, const Three&, const std::optional<Three>&, Soup&) {
    return false;
}
bool read_even_vertices(BinaryBody& body, const Element& element, const Three& axes,
                        const std::optional<Three>& normal, Soup& soup) {
    std::vector<std::size_t> begins;
    std::size_t size = 0;
    for (const Property& property : element.properties) {
        if (property.count_type) return false;
        begins.push_back(size);
        size += size_of(property.type);
    }
    const char* record = body.left().data();
    const std::array types{element.properties[axes[0]].type, element.properties[axes[1]].type,
                           element.properties[axes[2]].type};
    const auto all = [&](Type type) { return std::count(types.begin(), types.end(), type) == 3; };
    if (!normal && !body.big_endian() && (all(Type::float32) || all(Type::float64))) {
        const Three places{begins[axes[0]], begins[axes[1]], begins[axes[2]]};
        const auto read = all(Type::float32) ? read_plain_points<float> : read_plain_points<double>;
        read(record, size, element.count, places, soup.points);
        body.skip(size * std::size_t(element.count));
        return true;
    }
    const auto vector_at = [&](const Three& places) {
        const auto number = [&](std::size_t k) {
            return number_at(record + begins[places[k]], element.properties[places[k]].type,
                             body.big_endian());
        };
        return Vec3(number(0), number(1), number(2));
    };
    for (std::int64_t i = 0; i < element.count; ++i, record += size) {
        soup.points.push_back(vector_at(axes));
        if (normal) soup.normals.push_back(vector_at(*normal));
    }
    body.skip(size * std::size_t(element.count));
    return true;
}

template <class Body>
void read_vertices(Body& body, const Element& element, Soup& soup) {
    const auto three = [&](const char* x, const char* y, const char* z) -> std::optional<Three> {
        Three places{};
        for (std::size_t k = 0; const char* name : {x, y, z}) {
            const int at = element.find(name);
            if (at < 0 || element.properties[std::size_t(at)].count_type) return std::nullopt;
            places[k++] = std::size_t(at);
        }
        return places;
    };
    const Three axes = three("x", "y", "z").value();  // read_body() has looked
    const std::optional<Three> normal = three("nx", "ny", "nz");
    soup.points.reserve(std::size_t(element.count));
    if (normal) soup.normals.reserve(std::size_t(element.count));
    if (read_even_vertices(body, element, axes, normal, soup)) return;
    std::vector<double> values(element.properties.size());
    std::vector<double> list;
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
        soup.points.emplace_back(values[axes[0]], values[axes[1]], values[axes[2]]);
        if (normal)
            soup.normals.emplace_back(values[(*normal)[0]], values[(*normal)[1]], values[(*normal)[2]]);
    }
}

// Faces of three corners and nothing else, as most files have them: as many as come in a row. Returns how
// many.
std::int64_t read_bare_triangles(TextBody&, const Element&, std::int64_t, Soup&) {
    return 0;
}
std::int64_t read_bare_triangles(BinaryBody& body, const Element& element, std::int64_t vertex_count,
                                 Soup& soup) {
    if (element.properties.size() != 1) return 0;
    const Property& corners = element.properties.front();
    const bool whole = corners.type == Type::int32 || corners.type == Type::uint32;
    if (!whole || size_of(*corners.count_type) != 1 || body.big_endian()) return 0;
    Triangle triangle;
    constexpr std::size_t size = 1 + sizeof triangle;
    const std::string_view left = body.left();
    const auto most = std::min<std::int64_t>(element.count, std::int64_t(left.size() / size));
    const auto good = [vertex_count](std::int32_t corner) { return corner >= 0 && corner < vertex_count; };
    std::int64_t read = 0;
    for (const char* record = left.data(); read < most && *record == 3; ++read, record += size) {
        std::memcpy(triangle.data(), record + 1, sizeof triangle);
        // What is wrong is read once more, and told, by whoever takes any face.
        if (!good(triangle[0]) || !good(triangle[1]) || !good(triangle[2])) break;
        soup.triangles.push_back(triangle);
    }
    body.skip(size * std::size_t(read));
    return read;
}

template <class Body>
void read_faces(Body& body, const Element& element, std::int64_t vertex_count, Soup& soup) {
    const int corners_at = std::max(element.find("vertex_indices"), element.find("vertex_index"));
    const int region_at = element.find("region"), unseen_at = element.find("unseen");
    std::vector<double> list;
    std::vector<std::int32_t> corners;
    soup.triangles.reserve(std::size_t(element.count));
    for (std::int64_t i = read_bare_triangles(body, element, vertex_count, soup); i < element.count; ++i) {
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
