// SPDX-License-Identifier: MIT
#include "geometry/scan_io.h"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "geometry/disjoint_sets.h"
#include "geometry/mesh_formats.h"
#include "geometry/mesh_readers.h"
#include "geometry/region_name.h"

namespace evenspit {

namespace {

using mesh_readers::Purpose;
using mesh_readers::refuse;
using mesh_readers::Soup;
using mesh_readers::Source;

// Which triangles are walls of hollows that nobody can look into: such there are where a body was made of a
// scan before. Those that hang with the skin are seen through an opening.
std::vector<bool> walls_of_closed_hollows(const Soup& soup) {
    std::vector<bool> wall(soup.triangles.size(), false);
    if (soup.regions.empty()) return wall;
    DisjointSets pieces(soup.points.size());
    std::vector<std::int32_t> of_skin;  // a corner of each triangle
    for (std::size_t face = 0; face < wall.size(); ++face) {
        const Triangle& t = soup.triangles[face];
        const std::int32_t region = soup.regions[face];
        wall[face] = region >= 0 && std::size_t(region) < soup.region_names.size() &&
                     soup.region_names[std::size_t(region)] == cavity_wall_region;
        if (!wall[face]) of_skin.push_back(t[0]);
        pieces.join(t[1], t[0]);
        pieces.join(t[2], t[0]);
    }
    std::vector<bool> is_skin(soup.points.size(), false);
    for (const std::int32_t v : of_skin) is_skin[std::size_t(pieces.root(v))] = true;
    for (std::size_t face = 0; face < wall.size(); ++face)
        wall[face] = wall[face] && !is_skin[std::size_t(pieces.root(soup.triangles[face][0]))];
    return wall;
}

// Leaves out points that are nowhere, and triangles at them.
ScanFile clean(const Source& source, Soup soup) {
    constexpr std::size_t most_points = std::numeric_limits<std::int32_t>::max();
    if (soup.points.size() > most_points) {
        refuse(source, 0, fmt::format("{} points", soup.points.size()),
               fmt::format("at most {}", most_points), "thin it out in a scan tool");
    }
    ScanFile file;
    file.centre_covariance = soup.centre_covariance;
    file.scale_sigma = soup.scale_sigma;
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
    const std::vector<bool> wall = walls_of_closed_hollows(soup);
    for (std::size_t face = 0; face < soup.triangles.size(); ++face) {
        if (wall[face]) continue;
        const Triangle& t = soup.triangles[face];
        const auto at = [&](std::size_t k) { return number[std::size_t(t[k])]; };
        if (at(0) < 0 || at(1) < 0 || at(2) < 0) continue;
        kept.triangles.push_back({at(0), at(1), at(2)});
        if (!soup.unseen.empty()) kept.unseen.push_back(soup.unseen[face]);
    }
    if (!kept.triangles.empty()) {
        MeshFile welded = mesh_readers::weld(std::move(kept));
        file.mesh = std::move(welded.mesh);
        file.unseen = std::move(welded.unseen);
    } else {
        file.mesh.vertices = std::move(kept.points);
        file.normals = std::move(kept.normals);
    }
    return file;
}

// Takes what a reader found as a scan.
mesh_readers::Use scan_to(ScanFile& file) {
    return [&file](const Source& source, Soup soup, std::optional<double> metres_per_unit) {
        file = clean(source, std::move(soup));
        if (file.mesh.vertices.empty()) {
            refuse(source, 0, file.not_finite > 0 ? "no point with three finite coordinates" : "no points",
                   "points, or a surface made of triangles");
        }
        file.metres_per_unit = metres_per_unit;
    };
}

}  // namespace

bool is_scan_name(const std::filesystem::path& path) {
    return mesh_readers::has_format(path, Purpose::scan);
}

ScanFile read_scan_file(const std::filesystem::path& path) {
    ScanFile file;
    mesh_readers::read_formatted(path, Purpose::scan, scan_to(file));
    return file;
}

ScanFile read_scan_bytes(std::string_view bytes, const std::filesystem::path& name) {
    ScanFile file;
    mesh_readers::read_formatted(Source{name, bytes}, Purpose::scan, scan_to(file));
    return file;
}

}  // namespace evenspit
