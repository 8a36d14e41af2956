// SPDX-License-Identifier: MIT
#include "roast/view_patches.h"

#include <algorithm>
#include <stdexcept>

#include "body/cavity_wall.h"

namespace evenspit {
namespace {

constexpr double widest_normals = 0.6;

using Place = Eigen::Matrix<double, 6, 1>;  // centroid over the patch's size, normal over its spread

struct SkinTriangle {
    Vec3 centroid, area_normal;  // rod frame; the normal as long as the area
    Place place;
};

std::vector<SkinTriangle> skin_triangles(const TriangleMesh& mesh, const Pose& pose, double size_m) {
    std::vector<SkinTriangle> found;
    found.reserve(mesh.triangles.size());
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3 &a = mesh.corner(triangle, 0), &b = mesh.corner(triangle, 1),
                   &c = mesh.corner(triangle, 2);
        SkinTriangle one{pose * Vec3((a + b + c) / 3), pose.linear() * (b - a).cross(c - a) / 2,
                         Place::Zero()};
        one.place << one.centroid / size_m, one.area_normal.stableNormalized() / widest_normals;
        found.push_back(one);
    }
    return found;
}

bool is_cavity_wall(const body::Body& body, const body::Part& part, std::size_t triangle) {
    if (part.regions.empty()) return false;
    const std::size_t region = part.regions[triangle];
    return region < body.region_table.size() &&
           body.region_table[region].kind == body::RegionKind::cavity_wall;
}

// Cuts a stretch of triangles in halves until each is small enough, in an order that depends on nothing else.
void cut(std::vector<std::int32_t>::iterator begin, std::vector<std::int32_t>::iterator end,
         const std::vector<SkinTriangle>& all, SkinPatch pattern, std::vector<SkinPatch>& patches) {
    Eigen::AlignedBox<double, 6> box;
    for (auto it = begin; it != end; ++it) box.extend(all[std::size_t(*it)].place);
    int axis = 0;
    if (box.sizes().maxCoeff(&axis) > 1) {
        const double middle = box.center()[axis];
        const auto between = std::partition(
            begin, end, [&](std::int32_t t) { return all[std::size_t(t)].place[axis] < middle; });
        cut(begin, between, all, pattern, patches);
        cut(between, end, all, std::move(pattern), patches);
        return;
    }
    Vec3 normal = Vec3::Zero();
    for (auto it = begin; it != end; ++it) {
        const SkinTriangle& triangle = all[std::size_t(*it)];
        const double area = triangle.area_normal.norm();
        pattern.area_m2 += area;
        pattern.centre += area * triangle.centroid;
        normal += triangle.area_normal;
    }
    if (pattern.area_m2 > 0) pattern.centre /= pattern.area_m2;
    pattern.normal = normal.stableNormalized();
    pattern.triangles.assign(begin, end);
    patches.push_back(std::move(pattern));
}

}  // namespace

double SkinPatches::outer_area_m2(std::size_t item) const {
    double area = 0;
    for (const SkinPatch& patch : patches) {
        if (patch.item == item && !patch.in_cavity) area += patch.area_m2;
    }
    return area;
}

SkinPatches skin_patches(const Assembly& assembly, double size_m) {
    if (!(size_m > 0)) throw std::invalid_argument("skin_patches: the patches' size is not positive");
    SkinPatches skin;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        const body::Body& body = item.body->body;
        auto& by_part = skin.patch_of_triangle.emplace_back(body.parts.size());
        for (std::size_t p = 0; p < body.parts.size(); ++p) {
            const body::Part& part = body.parts[p];
            if (!body::displaces(part)) continue;
            const std::vector<SkinTriangle> all = skin_triangles(part.mesh, item.pose, size_m);
            std::vector<std::int32_t> order(all.size());
            for (std::size_t t = 0; t < order.size(); ++t) order[t] = static_cast<std::int32_t>(t);
            const auto wall = std::stable_partition(order.begin(), order.end(), [&](std::int32_t t) {
                return !is_cavity_wall(body, part, std::size_t(t));
            });
            const std::size_t before = skin.patches.size();
            SkinPatch pattern;
            pattern.item = i;
            pattern.part = p;
            SkinPatch inner = pattern;
            inner.in_cavity = true;
            if (wall != order.begin()) cut(order.begin(), wall, all, pattern, skin.patches);
            if (wall != order.end()) cut(wall, order.end(), all, inner, skin.patches);
            by_part[p].resize(all.size());
            for (std::size_t k = before; k < skin.patches.size(); ++k) {
                for (const std::int32_t t : skin.patches[k].triangles)
                    by_part[p][std::size_t(t)] = static_cast<std::int32_t>(k);
            }
        }
    }
    return skin;
}

}  // namespace evenspit
