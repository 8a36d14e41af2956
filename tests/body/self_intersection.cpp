// SPDX-License-Identifier: MIT
#include "self_intersection.h"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Surface_mesh.h>

namespace evenspit::test {

bool self_intersects(const TriangleMesh& mesh) {
    using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
    using SurfaceMesh = CGAL::Surface_mesh<Kernel::Point_3>;
    SurfaceMesh surface;
    for (const Vec3& v : mesh.vertices) surface.add_vertex({v.x(), v.y(), v.z()});
    for (const Triangle& t : mesh.triangles) {
        const auto at = [](std::int32_t i) {
            return SurfaceMesh::Vertex_index(static_cast<SurfaceMesh::size_type>(i));
        };
        if (surface.add_face(at(t[0]), at(t[1]), at(t[2])) == SurfaceMesh::null_face())
            return true;  // not even a surface
    }
    return CGAL::Polygon_mesh_processing::does_self_intersect(surface);
}

}  // namespace evenspit::test
