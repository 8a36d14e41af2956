// SPDX-License-Identifier: MIT
#include "geometry/mesh_formats.h"

#include <algorithm>
#include <array>
#include <new>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "files/whole_file.h"
#include "geometry/line_reader.h"
#include "units/listed.h"

namespace evenspit::mesh_readers {

namespace {

using Reader = Soup (*)(const Source&);

struct Format {
    std::string_view ending;
    Reader mesh;  // null where only a scan may be of that kind
    Reader scan;
    std::optional<double> metres_per_unit{};

    [[nodiscard]] Reader reader(Purpose purpose) const { return purpose == Purpose::mesh ? mesh : scan; }
};
constexpr std::array<Format, 15> formats{{{".ply", read_ply, read_ply_points},
                                          {".stl", read_stl, read_stl},
                                          {".obj", read_obj, read_obj},
                                          {".off", read_off, read_off},
                                          {".gltf", read_gltf, read_gltf, 1.0},
                                          {".glb", read_gltf, read_gltf, 1.0},
                                          {".pcd", nullptr, read_pcd},
                                          {".xyz", nullptr, read_xyz},
                                          {".xyzn", nullptr, read_xyz},
                                          {".xyzrgb", nullptr, read_xyz},
                                          {".txt", nullptr, read_xyz},
                                          {".asc", nullptr, read_xyz},
                                          {".csv", nullptr, read_xyz},
                                          {".pwn", nullptr, read_xyz},
                                          {".pts", nullptr, read_pts}}};

// Null for none.
const Format* format_of(const std::filesystem::path& path, Purpose purpose) {
    const std::string ending = path.extension().string();
    const auto* const format = std::find_if(formats.begin(), formats.end(), [&](const Format& f) {
        return f.reader(purpose) != nullptr && same_word(f.ending, ending);
    });
    return format == formats.end() ? nullptr : format;
}

std::string endings(Purpose purpose) {
    std::vector<std::string> known;
    for (const Format& format : formats) {
        if (format.reader(purpose) != nullptr) known.emplace_back(format.ending);
    }
    return listed(known, "or");
}

}  // namespace

bool has_format(const std::filesystem::path& path, Purpose purpose) {
    return format_of(path, purpose) != nullptr;
}

void read_formatted(const std::filesystem::path& path, Purpose purpose, const Use& use) {
    const std::string bytes = read_whole_file(path);
    read_formatted(Source{path, bytes}, purpose, use);
}

void read_formatted(const Source& source, Purpose purpose, const Use& use) {
    const bool is_mesh = purpose == Purpose::mesh;
    const std::string thing = is_mesh ? "mesh" : "scan";
    const Format* const format = format_of(source.path, purpose);
    if (format == nullptr) {
        const std::string ending = source.path.extension().string();
        refuse(source, 0, ending.empty() ? "a name without ending" : "a file of kind " + in_quotes(ending),
               endings(purpose), "save the " + thing + " as one of these");
    }
    if (source.bytes.empty()) refuse(source, 0, "an empty file", "a " + thing);
    const auto too_large = [&] {
        refuse(source, 0, "a " + thing + " that does not fit in memory",
               is_mesh ? "fewer triangles" : "fewer points", "thin it out in a " + thing + " tool");
    };
    try {
        use(source, format->reader(purpose)(source), format->metres_per_unit);
    } catch (const std::bad_alloc&) {
        too_large();
    } catch (const std::length_error&) {
        too_large();
    }
}

}  // namespace evenspit::mesh_readers
