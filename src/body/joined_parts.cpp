// SPDX-License-Identifier: MIT
#include "body/joined_parts.h"

#include <algorithm>
#include <functional>
#include <string>
#include <utility>

#include "body/cavity_wall.h"

namespace evenspit::body {
namespace {

/// Flesh so near to a bird's tail, as a share of the tail's length, is its root. Common practice, no source.
constexpr double tail_root = 0.5;

void append(TriangleMesh& to, const TriangleMesh& mesh) {
    const auto first = static_cast<std::int32_t>(to.vertices.size());
    to.vertices.insert(to.vertices.end(), mesh.vertices.begin(), mesh.vertices.end());
    for (const Triangle& t : mesh.triangles) {
        to.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
    }
}

/// All parts of some kind together; null if there are none.
std::shared_ptr<const SolidQueries> joined(const std::shared_ptr<const PreparedBody>& body,
                                           const std::function<bool(const Part&)>& wanted) {
    const std::vector<Part>& parts = body->body.parts;
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (wanted(parts[i])) found.push_back(i);
    }
    if (found.empty()) return nullptr;
    if (found.size() == 1) return {body, &body->queries[found[0]]};
    TriangleMesh mesh;
    for (const std::size_t i : found) append(mesh, parts[i].mesh);
    return std::make_shared<SolidQueries>(std::move(mesh));
}

bool is_skin(const Part& part) {
    return part.kind == PartKind::flesh && part.parent < 0;
}

/// Per triangle of all flesh of what kind its region is.
std::vector<RegionKind> region_kinds(const Body& body) {
    std::vector<RegionKind> kinds;
    for (const Part& part : body.parts) {
        if (!is_skin(part)) continue;
        for (std::size_t t = 0; t < part.mesh.triangles.size(); ++t) {
            kinds.push_back(part.regions.empty() ? RegionKind::other
                                                 : body.region_table[part.regions[t]].kind);
        }
    }
    return kinds;
}

TriangleMesh without(const TriangleMesh& mesh, const std::vector<bool>& gone) {
    TriangleMesh rest{mesh.vertices, {}};
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        if (!gone[t]) rest.triangles.push_back(mesh.triangles[t]);
    }
    return rest;
}

}  // namespace

Box3 open_cavity_bounds(const Body& body) {
    Box3 box;
    for (const Part& part : body.parts) {
        if (part.kind == PartKind::cavity && part.parent < 0) box.extend(bounds(part.mesh));
    }
    return box;
}

JoinedParts::JoinedParts(std::shared_ptr<const PreparedBody> body) : body_(std::move(body)) {
    flesh_ = joined(body_, is_skin);
    bone_ = joined(body_, [](const Part& part) { return part.kind == PartKind::bone; });
    hollow_ = joined(body_, [](const Part& part) {
        return part.kind == PartKind::cavity || part.kind == PartKind::stuffing;
    });
    cavity_box_ = open_cavity_bounds(body_->body);
    skin_ = firm_ = flesh_;

    const std::vector<RegionKind> regions = region_kinds(body_->body);
    const TriangleMesh& mesh = flesh_->mesh();
    std::vector<bool> wall(regions.size());
    for (std::size_t t = 0; t < regions.size(); ++t) wall[t] = regions[t] == RegionKind::cavity_wall;
    const auto any = [](const std::vector<bool>& marks) {
        return std::find(marks.begin(), marks.end(), true) != marks.end();
    };
    if (!any(wall)) return;
    std::vector<bool> tail(regions.size());
    for (std::size_t t = 0; t < regions.size(); ++t) tail[t] = regions[t] == RegionKind::tail;
    if (std::find(wall.begin(), wall.end(), false) == wall.end()) return;
    skin_ = std::make_shared<SolidQueries>(without(mesh, wall));
    if (!any(tail)) return;

    std::vector<bool> rest = tail;
    rest.flip();
    const SolidQueries tail_skin(without(mesh, rest));
    Box3 tail_box;
    for (const Triangle& triangle : tail_skin.mesh().triangles) {
        for (int k = 0; k < 3; ++k) tail_box.extend(mesh.corner(triangle, k));
    }
    const double root_m = tail_root * tail_box.sizes().x();
    for (std::size_t t = 0; t < tail.size(); ++t) {
        const Triangle& triangle = mesh.triangles[t];
        const Vec3 middle =
            (mesh.corner(triangle, 0) + mesh.corner(triangle, 1) + mesh.corner(triangle, 2)) / 3;
        tail[t] = tail[t] || tail_skin.closest(middle, root_m).triangle >= 0;
    }
    firm_ = std::make_shared<SolidQueries>(without(mesh, tail));
    pierceable_ = std::move(tail);
}

bool JoinedParts::pierceable(std::int32_t flesh_triangle) const {
    return !pierceable_.empty() && pierceable_[static_cast<std::size_t>(flesh_triangle)];
}

}  // namespace evenspit::body
