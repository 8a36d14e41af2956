// SPDX-License-Identifier: MIT
#include "geometry/scan_io.h"

#include <algorithm>
#include <array>
#include <new>
#include <stdexcept>
#include <utility>

#include "files/whole_file.h"
#include "geometry/line_reader.h"
#include "geometry/mesh_readers.h"

namespace evenspit {

namespace {

using mesh_readers::refuse;
using mesh_readers::same_word;
using mesh_readers::Soup;
using mesh_readers::Source;

struct Format {
    std::string_view ending;
    Soup (*read)(const Source&);
    std::optional<double> metres_per_unit;
};
const std::array<Format, 15> formats{{{".ply", mesh_readers::read_ply_points, {}},
                                      {".stl", mesh_readers::read_stl, {}},
                                      {".obj", mesh_readers::read_obj, {}},
                                      {".off", mesh_readers::read_off, {}},
                                      {".gltf", mesh_readers::read_gltf, 1.0},
                                      {".glb", mesh_readers::read_gltf, 1.0},
                                      {".pcd", mesh_readers::read_pcd, {}},
                                      {".xyz", mesh_readers::read_xyz, {}},
                                      {".xyzn", mesh_readers::read_xyz, {}},
                                      {".xyzrgb", mesh_readers::read_xyz, {}},
                                      {".txt", mesh_readers::read_xyz, {}},
                                      {".asc", mesh_readers::read_xyz, {}},
                                      {".csv", mesh_readers::read_xyz, {}},
                                      {".pwn", mesh_readers::read_xyz, {}},
                                      {".pts", mesh_readers::read_pts, {}}}};

// Leaves out points that are nowhere, and triangles at them.
ScanFile clean(Soup soup) {
    ScanFile file;
    file.centre_covariance = soup.centre_covariance;
    std::vector<std::int32_t> number(soup.points.size(), -1);
    Soup kept;
    const bool has_normals =
        !soup.normals.empty() && std::all_of(soup.normals.begin(), soup.normals.end(),
                                             [](const Vec3& n) { return n.allFinite() && n.norm() > 0; });
    for (std::size_t p = 0; p < soup.points.size(); ++p) {
        if (!soup.points[p].allFinite()) {
            ++file.not_finite;
            continue;
        }
        number[p] = std::int32_t(kept.points.size());
        kept.points.push_back(soup.points[p]);
        if (has_normals) kept.normals.push_back(soup.normals[p].normalized());
    }
    for (const Triangle& t : soup.triangles) {
        const auto at = [&](std::size_t k) { return number[std::size_t(t[k])]; };
        if (at(0) >= 0 && at(1) >= 0 && at(2) >= 0) kept.triangles.push_back({at(0), at(1), at(2)});
    }
    if (!kept.triangles.empty()) {
        file.mesh = mesh_readers::weld(kept).mesh;
    } else {
        file.mesh.vertices = std::move(kept.points);
        file.normals = std::move(kept.normals);
    }
    return file;
}

}  // namespace

ScanFile read_scan_file(const std::filesystem::path& path) {
    Source source{path, {}};
    const std::string ending = path.extension().string();
    const auto* const format = std::find_if(formats.begin(), formats.end(),
                                            [&](const Format& f) { return same_word(f.ending, ending); });
    const std::string bytes = read_whole_file(path);
    if (format == formats.end()) {
        refuse(
            source, 0,
            ending.empty() ? "a name without ending" : "a file of kind " + mesh_readers::in_quotes(ending),
            ".ply, .stl, .obj, .off, .gltf, .glb, .pcd, .xyz, .xyzn, .xyzrgb, .txt, .asc, .csv, .pwn or .pts",
            "save the scan as one of these");
    }
    if (bytes.empty()) refuse(source, 0, "an empty file", "a scan");
    source.bytes = bytes;
    try {
        ScanFile file = clean(format->read(source));
        if (file.mesh.vertices.empty()) {
            refuse(source, 0, file.not_finite > 0 ? "no point with three finite coordinates" : "no points",
                   "points, or a surface made of triangles");
        }
        file.metres_per_unit = format->metres_per_unit;
        return file;
    } catch (const std::bad_alloc&) {
        refuse(source, 0, "a scan that does not fit in memory", "fewer points", "thin it out in a scan tool");
    } catch (const std::length_error&) {
        refuse(source, 0, "a scan that does not fit in memory", "fewer points", "thin it out in a scan tool");
    }
}

}  // namespace evenspit
