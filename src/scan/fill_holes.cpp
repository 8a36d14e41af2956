// SPDX-License-Identifier: MIT
#include "scan/fill_holes.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <map>
#include <memory>
#include <utility>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/border.h>
#include <CGAL/Polygon_mesh_processing/connected_components.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/orient_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/orientation.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/repair_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/stitch_borders.h>
#include <CGAL/Polygon_mesh_processing/triangulate_hole.h>
#include <CGAL/Surface_mesh.h>

#include "scan/aside.h"
#include "scan/self_intersections.h"

namespace evenspit::scan {

namespace {

namespace pmp = CGAL::Polygon_mesh_processing;
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Surface = CGAL::Surface_mesh<Kernel::Point_3>;
using Vertex = Surface::Vertex_index;

constexpr double whole = 0.98;             // share of the triangles in the largest piece; the rest is strays
constexpr std::size_t longest_rim = 1000;  // edges: the time grows faster than their number
constexpr std::size_t most_holes = 1000;   // more is a net, not a surface

// The mesh's largest piece as CGAL holds it, mended; empty if it is in pieces.
Surface mended(const TriangleMesh& mesh) {
    std::vector<Kernel::Point_3> points;
    for (const Vec3& v : mesh.vertices) points.emplace_back(v.x(), v.y(), v.z());
    std::vector<std::vector<std::size_t>> triangles;
    for (const Triangle& t : mesh.triangles)
        triangles.push_back({std::size_t(t[0]), std::size_t(t[1]), std::size_t(t[2])});
    pmp::repair_polygon_soup(points, triangles);
    // Parts where edges have more than two triangles, or that cannot be turned alike, are set apart from each
    // other.
    pmp::orient_polygon_soup(points, triangles);
    Surface surface;
    if (triangles.empty() || !pmp::is_polygon_soup_a_polygon_mesh(triangles)) return surface;
    pmp::polygon_soup_to_polygon_mesh(points, triangles, surface);
    pmp::stitch_borders(surface);
    const std::size_t all = surface.number_of_faces();
    pmp::keep_largest_connected_components(surface, 1);
    if (double(surface.number_of_faces()) < whole * double(all)) surface.clear();
    return surface;
}

std::size_t edges_of_rim(const Surface& surface, Surface::Halfedge_index rim) {
    return std::size_t(CGAL::halfedges_around_face(rim, surface).size());
}

TriangleMesh as_mesh(const Surface& surface) {
    TriangleMesh mesh;
    for (const Kernel::Point_3& p : surface.points()) mesh.vertices.emplace_back(p.x(), p.y(), p.z());
    for (const Surface::Face_index face : surface.faces()) {
        Triangle t{};
        std::size_t k = 0;
        for (const Vertex v : CGAL::vertices_around_face(surface.halfedge(face), surface))
            t[k++] = std::int32_t(v);
        mesh.triangles.push_back(t);
    }
    return mesh;
}

std::optional<FilledMesh> filled(const TriangleMesh& mesh) {
    Surface surface = mended(mesh);
    if (surface.is_empty()) return std::nullopt;
    surface.collect_garbage();
    std::vector<Surface::Halfedge_index> rims;
    pmp::extract_boundary_cycles(surface, std::back_inserter(rims));
    if (rims.size() > most_holes) return std::nullopt;
    FilledMesh result;
    std::vector<Vertex> touched;
    std::vector<Surface::Face_index> patches;
    for (const Surface::Halfedge_index rim : rims) {
        if (edges_of_rim(surface, rim) > longest_rim) return std::nullopt;
        for (const Vertex v : CGAL::vertices_around_face(rim, surface)) touched.push_back(v);
        pmp::triangulate_refine_and_fair_hole(surface, rim, std::back_inserter(patches),
                                              std::back_inserter(touched));
    }
    if (!CGAL::is_closed(surface)) return std::nullopt;
    result.holes = int(rims.size());
    result.filled_share = pmp::area(patches, surface) / pmp::area(surface);
    if (!pmp::is_outward_oriented(surface)) pmp::reverse_face_orientations(surface);
    result.mesh = as_mesh(surface);
    result.at_filling.assign(result.mesh.vertices.size(), false);
    for (const Vertex v : touched) result.at_filling[std::size_t(v)] = true;
    return result;
}

}  // namespace

std::optional<FilledMesh> fill_holes(const TriangleMesh& mesh, const StopControl& control) {
    struct Work {
        TriangleMesh mesh;
        std::optional<FilledMesh> result;
    };
    const auto work = std::make_shared<Work>(Work{mesh, {}});
    do_aside([work] { work->result = filled(work->mesh); }, control);
    if (work->result && !self_intersections(work->result->mesh, control).empty()) return std::nullopt;
    return std::move(work->result);
}

}  // namespace evenspit::scan
