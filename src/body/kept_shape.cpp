// SPDX-License-Identifier: MIT
#include "body/kept_shape.h"

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <type_traits>
#include <utility>
#include <vector>

namespace evenspit::body {
namespace {

template <class T>
concept Number = std::is_arithmetic_v<T> || std::is_enum_v<T>;

// Blocks of numbers that lie side by side.
static_assert(sizeof(Vec3) == 3 * sizeof(double) && sizeof(Triangle) == 3 * sizeof(std::int32_t));
char* start_of(std::vector<Vec3>& block) {
    return reinterpret_cast<char*>(block.data());
}
char* start_of(std::vector<Triangle>& block) {
    return reinterpret_cast<char*>(block.data());
}
char* start_of(std::vector<std::uint8_t>& block) {
    return reinterpret_cast<char*>(block.data());
}
template <class T>
concept Block = requires(T& block) {
    start_of(block);
};

// The last of each kind, for bytes that name a later one.
constexpr PartKind last_of(PartKind) {
    return PartKind::stuffing;
}
constexpr RegionKind last_of(RegionKind) {
    return RegionKind::bone_end;
}
constexpr MassModel last_of(MassModel) {
    return MassModel::density_and_volume;
}
constexpr Meat last_of(Meat) {
    return Meat::lamb;
}
constexpr Trussing last_of(Trussing) {
    return Trussing::stretched;
}

class Writer {
  public:
    template <Number T>
    void operator()(T number) {
        raw(reinterpret_cast<const char*>(&number), sizeof(T));
    }
    void operator()(const std::string& text) {
        (*this)(std::uint64_t{text.size()});
        raw(text.data(), text.size());
    }
    template <Block T>
    void operator()(T& block) {
        (*this)(std::uint64_t{block.size()});
        raw(start_of(block), block.size() * sizeof(typename T::value_type));
    }
    template <class T>
    void size_of(const std::vector<T>& list) {
        (*this)(std::uint64_t{list.size()});
    }
    template <class T>
    void whether(const std::optional<T>& value) {
        (*this)(value.has_value());
    }
    std::string take() { return std::move(bytes_); }

  private:
    void raw(const char* from, std::size_t size) { bytes_.append(from, size); }
    std::string bytes_;
};

// Once something is not there, all that follows is nothing.
class Reader {
  public:
    explicit Reader(std::string_view bytes) : rest_(bytes) {}

    template <Number T>
    void operator()(T& number) {
        if constexpr (std::is_same_v<T, bool>) {
            std::uint8_t byte = 0;
            (*this)(byte);
            number = byte == 1;
            if (byte > 1) fail();
        } else if constexpr (std::is_enum_v<T>) {
            std::underlying_type_t<T> index{};
            (*this)(index);
            if (index < 0 || index > static_cast<std::underlying_type_t<T>>(last_of(T{}))) return fail();
            number = static_cast<T>(index);
        } else {
            raw(reinterpret_cast<char*>(&number), sizeof(T));
        }
    }
    void operator()(std::string& text) {
        text.resize(count(1));
        raw(text.data(), text.size());
    }
    template <Block T>
    void operator()(T& block) {
        block.resize(count(sizeof(typename T::value_type)));
        raw(start_of(block), block.size() * sizeof(typename T::value_type));
    }
    // A list's parts take room of their own here, so that what promises more than a body has is refused.
    template <class T>
    void size_of(std::vector<T>& list) {
        const std::size_t size = count(1);
        if (size > most_of_a_list) return fail();
        list.resize(size);
    }
    template <class T>
    void whether(std::optional<T>& value) {
        bool is_there = false;
        (*this)(is_there);
        if (is_there) value.emplace();
    }
    void fail() {
        good_ = false;
        rest_ = {};
    }
    // All has been read, and nothing is left.
    [[nodiscard]] bool ended_well() const { return good_ && rest_.empty(); }

  private:
    static constexpr std::size_t most_of_a_list = 1000;
    // How many things follow of which each takes so many bytes at least.
    std::size_t count(std::size_t size) {
        std::uint64_t number = 0;
        (*this)(number);
        if (number <= rest_.size() / size) return number;
        fail();
        return 0;
    }
    void raw(char* to, std::size_t size) {
        if (size > rest_.size()) return fail();
        if (size == 0) return;
        std::memcpy(to, rest_.data(), size);
        rest_.remove_prefix(size);
    }

    std::string_view rest_;
    bool good_ = true;
};

// Everything goes through pass(), the same way for writing and for reading. The bindings name all members:
// one that is added to a struct does not compile before it is passed on.

template <class Archive, class T>
requires(Number<T> || Block<T> || std::is_same_v<T, std::string>) void pass(Archive& archive, T& simple) {
    archive(simple);
}
template <class Archive, int Rows, int Columns>
void pass(Archive& archive, Eigen::Matrix<double, Rows, Columns>& matrix) {
    for (Eigen::Index i = 0; i < matrix.size(); ++i) archive(matrix.data()[i]);
}
template <class Archive>
void pass(Archive& archive, TriangleMesh& mesh) {
    auto& [vertices, triangles] = mesh;
    archive(vertices);
    archive(triangles);
}
template <class Archive>
void pass(Archive& archive, Moments& moments) {
    auto& [amount, centre, second] = moments;
    archive(amount);
    pass(archive, centre);
    pass(archive, second);
}
template <class Archive>
void pass(Archive& archive, Region& region) {
    auto& [name, kind] = region;
    archive(name);
    archive(kind);
}
template <class Archive>
void pass(Archive& archive, Tissues& tissues) {
    auto& [lean, skin_and_fat, gristle, bone] = tissues;
    for (double* const kg : {&lean, &skin_and_fat, &gristle, &bone}) archive(*kg);
}
template <class Archive>
void pass(Archive& archive, Part& part) {
    auto& [name, kind, mesh, density, parent, regions] = part;
    archive(name);
    archive(kind);
    pass(archive, mesh);
    archive(density);
    archive(parent);
    archive(regions);
}
template <class Archive>
void pass(Archive& archive, SwungLimb& limb) {
    auto& [name, mesh] = limb;
    archive(name);
    pass(archive, mesh);
}
template <class Archive>
void pass(Archive& archive, PartShare& share) {
    auto& [region, mass, centre, tissues] = share;
    pass(archive, region);
    archive(mass);
    pass(archive, centre);
    pass(archive, tissues);
}
template <class Archive>
void pass(Archive& archive, RegionFlesh& flesh) {
    auto& [region, density, volume] = flesh;
    pass(archive, region);
    archive(density);
    pass(archive, volume);
}
template <class Archive, class T>
requires(!Block<std::vector<T>>) void pass(Archive& archive, std::vector<T>& list) {
    archive.size_of(list);
    for (T& one : list) pass(archive, one);
}
template <class Archive, class T>
void pass(Archive& archive, std::optional<T>& value) {
    archive.whether(value);
    if (value) pass(archive, *value);
}
template <class Archive>
void pass(Archive& archive, Body& body) {
    auto& [name, shape, parts, region_table, swung, if_undone, trussing, shares, flesh_by_region, mass_model,
           meat, hollow_known, centre_covariance, scale_sigma, pointed_ends_known, remarks] = body;
    pass(archive, name);
    pass(archive, shape);
    pass(archive, parts);
    pass(archive, region_table);
    pass(archive, swung);
    pass(archive, if_undone);
    pass(archive, trussing);
    pass(archive, shares);
    pass(archive, flesh_by_region);
    pass(archive, mass_model);
    pass(archive, meat);
    pass(archive, hollow_known);
    pass(archive, centre_covariance);
    pass(archive, scale_sigma);
    pass(archive, pointed_ends_known);
    pass(archive, remarks);
}
template <class Archive>
void pass(Archive& archive, BirdTape& tape) {
    auto& [length, width, depth, breast_width, girth, leg_splay] = tape;
    for (auto* const measure : {&length, &width, &depth, &breast_width, &girth, &leg_splay})
        pass(archive, *measure);
}
template <class Archive>
void pass(Archive& archive, ShapeOptions& options) {
    auto& [species, mass, trussing, stuffing, stuffing_density, giblets, missing, tape, spacing] = options;
    pass(archive, species);
    pass(archive, mass);
    pass(archive, trussing);
    pass(archive, stuffing);
    pass(archive, stuffing_density);
    pass(archive, giblets);
    pass(archive, missing);
    pass(archive, tape);
    pass(archive, spacing);
}

template <class Value>
std::string bytes_of(Value value) {
    Writer writer;
    pass(writer, value);
    return writer.take();
}

bool is_sound(const TriangleMesh& mesh) {
    const auto most = static_cast<std::int64_t>(mesh.vertices.size());
    return std::all_of(mesh.triangles.begin(), mesh.triangles.end(), [&](const Triangle& t) {
        return std::all_of(t.begin(), t.end(), [&](std::int32_t v) { return v >= 0 && v < most; });
    });
}

bool is_sound(const Body& body) {
    const auto limb_is_sound = [](const SwungLimb& limb) { return is_sound(limb.mesh); };
    for (std::size_t i = 0; i < body.parts.size(); ++i) {
        const Part& part = body.parts[i];
        const bool fits = part.regions.empty() || part.regions.size() == part.mesh.triangles.size();
        if (!fits || part.parent < -1 || part.parent >= static_cast<int>(i) || !is_sound(part.mesh))
            return false;
        for (const std::uint8_t region : part.regions) {
            if (region >= body.region_table.size()) return false;
        }
    }
    return !body.parts.empty() && std::all_of(body.swung.begin(), body.swung.end(), limb_is_sound) &&
           std::all_of(body.if_undone.begin(), body.if_undone.end(), limb_is_sound);
}

}  // namespace

std::string shape_key(const ShapeOptions& options) {
    return "shape " EVENSPIT_SHAPE_SOURCES " " + bytes_of(options);
}

std::string body_bytes(const Body& body) {
    return bytes_of(body);
}

std::optional<Body> body_from_bytes(std::string_view bytes) {
    Reader reader(bytes);
    Body body;
    pass(reader, body);
    if (!reader.ended_well() || !is_sound(body)) return std::nullopt;
    return body;
}

Body kept_shape(const ShapeOptions& options, const KeptFiles* kept) {
    if (kept == nullptr) return make_shape(options);
    const std::string key = shape_key(options);
    if (const auto bytes = kept->find(key)) {
        if (auto body = body_from_bytes(*bytes)) return *std::move(body);
    }
    Body body = make_shape(options);
    kept->keep(key, body_bytes(body));
    return body;
}

}  // namespace evenspit::body
