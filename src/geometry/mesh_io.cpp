// SPDX-License-Identifier: MIT
// PLY, STL, OBJ and OFF have readers of our own beside this file rather than those of CGAL: CGAL 5.5 keeps
// the text reader's leavings when it falls back to binary STL (a header that begins with "solid" adds
// triangles), drops corners of OBJ faces set apart by tabs, refuses OBJ lines, calls an empty STL good, and
// never says what is wrong or in which line.
#include "geometry/mesh_io.h"

#include <algorithm>
#include <array>
#include <cstring>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "files/whole_file.h"
#include "geometry/line_reader.h"
#include "geometry/mesh_formats.h"
#include "geometry/mesh_readers.h"
#include "geometry/weld.h"
#include "units/error.h"

namespace evenspit {

namespace mesh_readers {

void refuse(const Source& source, int line, std::string found, std::string expected, std::string mend) {
    Complaint complaint;
    complaint.spot = {source.path.string(), line, 0};
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

void Soup::add_polygon(std::span<const std::int32_t> corners) {
    for (std::size_t k = 2; k < corners.size(); ++k) {
        triangles.push_back({corners[0], corners[k - 1], corners[k]});
    }
}

}  // namespace mesh_readers

namespace {

using mesh_readers::Purpose;
using mesh_readers::refuse;
using mesh_readers::same_word;
using mesh_readers::Soup;
using mesh_readers::Source;

// Binary formats are little endian here and as this machine has it (asserted in the STL reader).
template <class T>
void append(std::string& bytes, const T& value) {
    bytes.append(reinterpret_cast<const char*>(&value), sizeof value);
}

// `Region` is what the file keeps a region in; `type` is PLY's name for it.
template <class Region>
std::string ply_bytes(const TriangleMesh& mesh, const std::vector<Region>& regions, std::string_view type,
                      const std::vector<std::string>& comments = {}, const std::vector<float>& unseen = {}) {
    std::string bytes = "ply\nformat binary_little_endian 1.0\n";
    for (const std::string& comment : comments) bytes += fmt::format("comment {}\n", comment);
    bytes += fmt::format(
        "element vertex {}\nproperty double x\nproperty double y\nproperty double z\n"
        "element face {}\nproperty list uchar int vertex_indices\n{}{}end_header\n",
        mesh.vertices.size(), mesh.triangles.size(),
        regions.empty() ? "" : fmt::format("property {} region\n", type),
        unseen.empty() ? "" : "property float unseen\n");
    bytes.reserve(bytes.size() + 24 * mesh.vertices.size() + 21 * mesh.triangles.size());
    for (const Vec3& v : mesh.vertices) {
        for (const double coordinate : v) append(bytes, coordinate);
    }
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        append(bytes, std::uint8_t{3});
        append(bytes, mesh.triangles[t]);
        if (!regions.empty()) append(bytes, regions[t]);
        if (!unseen.empty()) append(bytes, unseen[t]);
    }
    return bytes;
}

std::string stl_bytes(const TriangleMesh& mesh) {
    std::string bytes(80, ' ');
    append(bytes, std::uint32_t(mesh.triangles.size()));
    bytes.reserve(84 + 50 * mesh.triangles.size());
    for (const Triangle& t : mesh.triangles) {
        const Vec3 &a = mesh.corner(t, 0), &b = mesh.corner(t, 1), &c = mesh.corner(t, 2);
        for (const Vec3& v : {Vec3((b - a).cross(c - a).stableNormalized()), a, b, c}) {
            for (const double coordinate : v) append(bytes, float(coordinate));
        }
        append(bytes, std::uint16_t{0});
    }
    return bytes;
}

// Shortest digits that read back to the same double.
std::string obj_bytes(const TriangleMesh& mesh) {
    fmt::memory_buffer text;
    for (const Vec3& v : mesh.vertices) {
        fmt::format_to(std::back_inserter(text), "v {} {} {}\n", v.x(), v.y(), v.z());
    }
    for (const Triangle& t : mesh.triangles) {
        fmt::format_to(std::back_inserter(text), "f {} {} {}\n", t[0] + 1, t[1] + 1, t[2] + 1);
    }
    return fmt::to_string(text);
}

std::string off_bytes(const TriangleMesh& mesh) {
    fmt::memory_buffer text;
    fmt::format_to(std::back_inserter(text), "OFF\n{} {} 0\n", mesh.vertices.size(), mesh.triangles.size());
    for (const Vec3& v : mesh.vertices) {
        fmt::format_to(std::back_inserter(text), "{} {} {}\n", v.x(), v.y(), v.z());
    }
    for (const Triangle& t : mesh.triangles) {
        fmt::format_to(std::back_inserter(text), "3 {} {} {}\n", t[0], t[1], t[2]);
    }
    return fmt::to_string(text);
}

// Takes what a reader found as a mesh.
mesh_readers::Use mesh_to(MeshFile& file) {
    return [&file](const Source& source, Soup soup, std::optional<double> metres_per_unit) {
        file = mesh_readers::weld(std::move(soup));
        if (file.mesh.triangles.empty()) refuse(source, 0, "no triangles", "a surface made of triangles");
        file.metres_per_unit = metres_per_unit;
    };
}

}  // namespace

// Vertices and triangles stay in the file's order, and where they are in memory: new memory takes longer than
// all else.
MeshFile mesh_readers::weld(Soup soup) {
    std::vector<std::uint32_t> place;
    std::vector<Vec3>& points = soup.points;
    bool renumbered = false;
    if (!soup.apart) {
        place = first_at_each_place(points, soup.triangles);
        for (std::size_t p = 0; p < points.size(); ++p) renumbered |= place[p] != p;
    }
    std::size_t named = points.size(), vertices = named;
    if (renumbered) {
        named = vertices = 0;
        for (std::size_t p = 0; p < points.size(); ++p) {
            if (place[p] == not_named) continue;
            ++named;
            // The first point of a place has its new number when the others come.
            if (place[p] != p) {
                place[p] = place[place[p]];
            } else {
                place[p] = std::uint32_t(vertices);
                points[vertices++] = points[p];
            }
        }
        points.resize(vertices);
        points.shrink_to_fit();
    }

    std::size_t kept = 0;
    for (std::size_t t = 0; t < soup.triangles.size(); ++t) {
        Triangle triangle = soup.triangles[t];
        if (renumbered) {
            for (std::int32_t& corner : triangle) corner = std::int32_t(place[std::size_t(corner)]);
        }
        if (triangle[0] == triangle[1] || triangle[1] == triangle[2] || triangle[2] == triangle[0]) continue;
        soup.triangles[kept] = triangle;
        if (!soup.regions.empty()) soup.regions[kept] = soup.regions[t];
        if (!soup.unseen.empty()) soup.unseen[kept] = soup.unseen[t];
        ++kept;
    }
    soup.triangles.resize(kept);
    if (!soup.regions.empty()) soup.regions.resize(kept);
    if (!soup.unseen.empty()) soup.unseen.resize(kept);

    MeshFile file;
    file.mesh = {std::move(points), std::move(soup.triangles)};
    file.regions = std::move(soup.regions);
    file.unseen = std::move(soup.unseen);
    file.welded = soup.joined + named - vertices;
    file.centre_covariance = soup.centre_covariance;
    file.region_names = std::move(soup.region_names);
    file.scale_sigma = soup.scale_sigma;
    file.bird = std::move(soup.bird);
    return file;
}

bool is_mesh_name(const std::filesystem::path& path) {
    return mesh_readers::has_format(path, Purpose::mesh);
}

MeshFile read_mesh(const std::filesystem::path& path) {
    MeshFile file;
    mesh_readers::read_formatted(path, Purpose::mesh, mesh_to(file));
    return file;
}

MeshFile read_mesh_bytes(std::string_view bytes, const std::filesystem::path& name) {
    MeshFile file;
    mesh_readers::read_formatted(Source{name, bytes}, Purpose::mesh, mesh_to(file));
    return file;
}

void write_mesh(const std::filesystem::path& path, const TriangleMesh& mesh,
                const std::vector<std::int32_t>& regions) {
    const Source source{path, {}};
    const std::string ending = path.extension().string();
    const bool is_ply = same_word(ending, ".ply");
    if (!regions.empty() && !is_ply) {
        refuse(source, 0, mesh_readers::in_quotes(ending),
               ".ply, the one kind that keeps the body's regions");
    }
    if (is_ply) return write_whole_file(path, ply_bytes(mesh, regions, "int"));
    if (same_word(ending, ".stl")) return write_whole_file(path, stl_bytes(mesh));
    if (same_word(ending, ".obj")) return write_whole_file(path, obj_bytes(mesh));
    if (same_word(ending, ".off")) return write_whole_file(path, off_bytes(mesh));
    refuse(source, 0,
           ending.empty() ? "a name without ending" : "a file of kind " + mesh_readers::in_quotes(ending),
           ".ply, .stl, .obj or .off");
}

std::string centre_covariance_comment(const Mat3& covariance) {
    return fmt::format("centre covariance {} {} {} {} {} {}", covariance(0, 0), covariance(0, 1),
                       covariance(0, 2), covariance(1, 1), covariance(1, 2), covariance(2, 2));
}

std::string scale_sigma_comment(double share) {
    return fmt::format("scale sigma {}", share);
}

std::string bird_comment(std::string_view species) {
    return fmt::format("bird {}", species);
}

std::string region_comment(std::size_t number, const std::string& name) {
    return fmt::format("region {} {}", number, name);
}

std::string labelled_ply(const TriangleMesh& mesh, const std::vector<std::uint8_t>& regions,
                         const std::vector<std::string>& comments, const std::vector<float>& unseen) {
    return ply_bytes(mesh, regions, "uchar", comments, unseen);
}

}  // namespace evenspit
