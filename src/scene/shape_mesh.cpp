// SPDX-License-Identifier: MIT
#include "scene/shape_mesh.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <unordered_map>
#include <utility>

namespace evenspit::scene {
namespace {

using std::numbers::pi;

std::array<float, 3> floats(const Vec3& v) {
    return {static_cast<float>(v.x()), static_cast<float>(v.y()), static_cast<float>(v.z())};
}

ShapeMesh::Corner make_corner(const Vec3& at, const Vec3& normal) {
    return {floats(at), floats(normal)};
}

/// Corners of a mesh that fall into one cube of a grid become one, at their mean.
struct Thinned {
    TriangleMesh mesh;
    std::vector<std::int32_t> cell_of;  // by vertex
};

Thinned thinned(const TriangleMesh& mesh, double cube) {
    const Box3 box = bounds(mesh);
    std::unordered_map<std::uint64_t, std::int32_t> numbers;
    std::vector<std::int32_t> cell_of(mesh.vertices.size());
    std::vector<Vec3> sums;
    std::vector<int> counts;
    for (std::size_t v = 0; v < mesh.vertices.size(); ++v) {
        const Vec3 place = (mesh.vertices[v] - box.min()) / cube;
        std::uint64_t key = 0;
        for (Eigen::Index axis = 0; axis < 3; ++axis)
            key = (key << 21U) | static_cast<std::uint64_t>(place[axis]);
        const auto [found, fresh] = numbers.try_emplace(key, static_cast<std::int32_t>(sums.size()));
        if (fresh) {
            sums.emplace_back(Vec3::Zero());
            counts.push_back(0);
        }
        const auto cell = static_cast<std::size_t>(found->second);
        cell_of[v] = found->second;
        sums[cell] += mesh.vertices[v];
        ++counts[cell];
    }
    TriangleMesh result;
    for (std::size_t c = 0; c < sums.size(); ++c) result.vertices.emplace_back(sums[c] / counts[c]);
    for (const Triangle& t : mesh.triangles) {
        const Triangle to{cell_of[static_cast<std::size_t>(t[0])], cell_of[static_cast<std::size_t>(t[1])],
                          cell_of[static_cast<std::size_t>(t[2])]};
        if (to[0] != to[1] && to[1] != to[2] && to[2] != to[0]) result.triangles.push_back(to);
    }
    return {std::move(result), std::move(cell_of)};
}

/// The same with as few triangles.
Thinned thinned_to(const TriangleMesh& mesh, std::size_t most_triangles) {
    // A surface crosses a number of cubes that grows with the inverse square of their side.
    double cube = bounds(mesh).diagonal().norm() / 256;
    Thinned coarse = thinned(mesh, cube);
    while (coarse.mesh.triangles.size() > most_triangles) {
        cube *= 1.05 * std::sqrt(static_cast<double>(coarse.mesh.triangles.size()) /
                                 static_cast<double>(most_triangles));
        coarse = thinned(mesh, cube);
    }
    return coarse;
}

/// A coarser copy of a mesh on its own vertices: of those that share a cube the one nearest to their mean
/// stands for all.
std::vector<std::uint32_t> fewer(const TriangleMesh& mesh, std::size_t most_triangles) {
    if (mesh.triangles.size() <= most_triangles) return {};
    const Thinned coarse = thinned_to(mesh, most_triangles);
    constexpr double far = 1e9;
    std::vector<double> least(coarse.mesh.vertices.size(), far);
    std::vector<std::uint32_t> stands_for(coarse.mesh.vertices.size());
    for (std::size_t v = 0; v < mesh.vertices.size(); ++v) {
        const auto cell = static_cast<std::size_t>(coarse.cell_of[v]);
        const double away = (mesh.vertices[v] - coarse.mesh.vertices[cell]).squaredNorm();
        if (away >= least[cell]) continue;
        least[cell] = away;
        stands_for[cell] = static_cast<std::uint32_t>(v);
    }
    std::vector<std::uint32_t> triangles;
    triangles.reserve(3 * coarse.mesh.triangles.size());
    for (const Triangle& t : coarse.mesh.triangles) {
        for (const std::int32_t cell : t) triangles.push_back(stands_for[static_cast<std::size_t>(cell)]);
    }
    return triangles;
}

/// How far the skin has moved in at a place, straight between the cubes' middles so that no step shows.
double retreat_at(const body::FleshField& flesh, const Vec3& place) {
    const Vec3 along = (place - flesh.origin) / flesh.spacing_m - Vec3::Constant(0.5);
    double sum = 0;
    for (int corner = 0; corner < 8; ++corner) {
        double weight = 1;
        Vec3 middle = flesh.origin;
        for (Eigen::Index axis = 0; axis < 3; ++axis) {
            const double low = std::floor(along[axis]);
            const bool high = ((corner >> axis) & 1) != 0;
            weight *= high ? along[axis] - low : 1 - (along[axis] - low);
            middle[axis] += flesh.spacing_m * (low + (high ? 1.5 : 0.5));
        }
        sum += weight * static_cast<double>(flesh.at(middle).retreat_m);
    }
    return sum;
}

ShapeMesh smooth(const TriangleMesh& mesh) {
    std::vector<Vec3> normals(mesh.vertices.size(), Vec3::Zero());
    ShapeMesh shape;
    shape.triangles.reserve(mesh.triangles.size() * 3);
    for (const Triangle& t : mesh.triangles) {
        // The cross product is as long as the face is large, which weighs it.
        const Vec3 across =
            (mesh.corner(t, 1) - mesh.corner(t, 0)).cross(mesh.corner(t, 2) - mesh.corner(t, 0));
        for (const std::int32_t v : t) {
            normals[static_cast<std::size_t>(v)] += across;
            shape.triangles.push_back(static_cast<std::uint32_t>(v));
        }
    }
    shape.corners.reserve(mesh.vertices.size());
    for (std::size_t v = 0; v < mesh.vertices.size(); ++v)
        shape.corners.push_back(make_corner(mesh.vertices[v], normals[v].normalized()));
    shape.few = fewer(mesh, most_hurried_triangles);
    return shape;
}

/// Two directions at right angles to a third and to each other.
std::pair<Vec3, Vec3> across(const Vec3& along) {
    const Vec3 first =
        along.cross(std::abs(along.x()) < 0.9 ? Vec3(Vec3::UnitX()) : Vec3(Vec3::UnitZ())).normalized();
    return {first, along.cross(first)};
}

Vec3 on_circle(const std::pair<Vec3, Vec3>& axes, double angle) {
    return std::cos(angle) * axes.first + std::sin(angle) * axes.second;
}

}  // namespace

ShapeMesh drawn_mesh(const TriangleMesh& mesh, std::size_t most_triangles) {
    return traced_mesh(mesh, most_triangles).shape;
}

DrawnMesh traced_mesh(const TriangleMesh& mesh, std::size_t most_triangles) {
    if (mesh.triangles.size() <= most_triangles) {
        std::vector<std::uint32_t> same(mesh.vertices.size());
        std::iota(same.begin(), same.end(), 0U);
        return {smooth(mesh), std::move(same)};
    }
    const Thinned coarse = thinned_to(mesh, most_triangles);
    return {smooth(coarse.mesh), {coarse.cell_of.begin(), coarse.cell_of.end()}};
}

ShapeMesh moved_in(const ShapeMesh& shape, const body::FleshField& flesh) {
    ShapeMesh moved = shape;
    for (ShapeMesh::Corner& corner : moved.corners) {
        const Vec3 at(corner.at[0], corner.at[1], corner.at[2]);
        const Vec3 normal(corner.normal[0], corner.normal[1], corner.normal[2]);
        corner.at = floats(at - retreat_at(flesh, at) * normal);
    }
    return moved;
}

std::uint32_t ShapeBuilder::corner(const Vec3& at, const Vec3& normal) {
    mesh_.corners.push_back(make_corner(at, normal));
    return static_cast<std::uint32_t>(mesh_.corners.size() - 1);
}

void ShapeBuilder::face(const std::vector<Vec3>& corners) {
    const Vec3 normal = (corners[1] - corners[0]).cross(corners[2] - corners[0]).normalized();
    const std::uint32_t first = corner(corners[0], normal);
    for (std::size_t i = 1; i < corners.size(); ++i) corner(corners[i], normal);
    for (std::uint32_t i = 2; i < corners.size(); ++i) {
        mesh_.triangles.insert(mesh_.triangles.end(), {first, first + i - 1, first + i});
    }
}

void ShapeBuilder::box(const Vec3& min, const Vec3& max) {
    for (int axis = 0; axis < 3; ++axis) {
        const int u = (axis + 1) % 3, v = (axis + 2) % 3;
        for (const bool high : {false, true}) {
            std::vector<Vec3> corners(4, min);
            for (std::size_t i = 0; i < 4; ++i) {
                corners[i][axis] = high ? max[axis] : min[axis];
                corners[i][u] = (i == 1 || i == 2) ? max[u] : min[u];
                corners[i][v] = i >= 2 ? max[v] : min[v];
            }
            if (!high) std::reverse(corners.begin(), corners.end());
            face(corners);
        }
    }
}

void ShapeBuilder::bar(const Vec3& from, const Vec3& to, Section section, double across_m) {
    if (section == Section::round) return pin(from, to, across_m / 2);
    const int sides = flats_of(section);
    const auto axes = across((to - from).normalized());
    const double radius = across_m / 2 / std::cos(pi / sides);
    std::vector<Vec3> start, end;
    for (int i = 0; i < sides; ++i) {
        const Vec3 out = radius * on_circle(axes, (2 * i + 1) * pi / sides);
        start.push_back(from + out);
        end.push_back(to + out);
    }
    for (std::size_t i = 0; i < start.size(); ++i) {
        const std::size_t next = (i + 1) % start.size();
        face({start[i], start[next], end[next], end[i]});
    }
    face(end);
    std::reverse(start.begin(), start.end());
    face(start);
}

void ShapeBuilder::smooth_strip(const std::vector<std::vector<ShapeMesh::Corner>>& rows) {
    for (std::size_t r = 0; r < rows.size(); ++r) {
        const auto first = static_cast<std::uint32_t>(mesh_.corners.size());
        const auto n = static_cast<std::uint32_t>(rows[r].size());
        mesh_.corners.insert(mesh_.corners.end(), rows[r].begin(), rows[r].end());
        if (r == 0) continue;
        for (std::uint32_t i = 1; i < n; ++i) {
            const std::uint32_t a = first - n + i - 1, b = first - n + i, c = first + i - 1, d = first + i;
            mesh_.triangles.insert(mesh_.triangles.end(), {a, b, d, a, d, c});
        }
    }
}

void ShapeBuilder::pin(const Vec3& from, const Vec3& to, double radius, double point_m) {
    constexpr int sides = 20;
    const double length = (to - from).norm();
    const Vec3 along = (to - from) / length;
    const auto axes = across(along);
    const double taper = std::min(point_m, length);
    std::vector<std::vector<ShapeMesh::Corner>> rows(taper > 0 ? 4 : 2);
    std::vector<Vec3> start, end;
    for (int i = 0; i <= sides; ++i) {
        const Vec3 out = on_circle(axes, 2 * pi * i / sides);
        const Vec3 shoulder = to - taper * along + radius * out;
        rows[0].push_back(make_corner(from + radius * out, out));
        rows[1].push_back(make_corner(shoulder, out));
        if (taper > 0) {
            const Vec3 slanted = (taper * out + radius * along).normalized();
            rows[2].push_back(make_corner(shoulder, slanted));
            rows[3].push_back(make_corner(to, slanted));
        }
        if (i < sides) {
            start.insert(start.begin(), from + radius * out);
            end.push_back(to + radius * out);
        }
    }
    smooth_strip(rows);
    face(start);
    if (taper <= 0) face(end);
}

void ShapeBuilder::ball(const Vec3& centre, double radius, int rings) {
    std::vector<std::vector<ShapeMesh::Corner>> rows;
    for (int r = 0; r <= rings; ++r) {
        const double slope = pi * r / rings - pi / 2;
        std::vector<ShapeMesh::Corner> row;
        for (int i = 0; i <= 2 * rings; ++i) {
            const double turn = pi * i / rings;
            const Vec3 out(std::cos(slope) * std::cos(turn), std::cos(slope) * std::sin(turn),
                           std::sin(slope));
            row.push_back(make_corner(centre + radius * out, out));
        }
        rows.push_back(std::move(row));
    }
    smooth_strip(rows);
}

void ShapeBuilder::turned_about_x(const std::vector<Vec2>& line, int sides) {
    for (std::size_t p = 1; p < line.size(); ++p) {
        const Vec2 run = line[p] - line[p - 1];
        if (run.norm() == 0) continue;
        const Vec2 out = Vec2(-run.y(), run.x()).normalized();
        std::vector<std::vector<ShapeMesh::Corner>> rows(2);
        for (std::size_t end = 0; end < 2; ++end) {
            const Vec2& at = line[p - 1 + end];
            for (int i = 0; i <= sides; ++i) {
                const double clock = 2 * pi * i / sides, c = std::cos(clock), s = std::sin(clock);
                rows[end].push_back(
                    make_corner({at.x(), at.y() * c, at.y() * s}, {out.x(), out.y() * c, out.y() * s}));
            }
        }
        smooth_strip(rows);
    }
}

void ShapeBuilder::lump(const Vec3& centre, double radius, std::uint32_t number) {
    constexpr int rings = 5;
    TriangleMesh mesh;
    std::uint32_t state = number * 2654435761U + 12345U;
    const auto random = [&state] {
        state = state * 1664525U + 1013904223U;
        return static_cast<double>(state >> 8U) / 16777216.0;
    };
    const Vec3 stretch(0.75 + 0.5 * random(), 0.75 + 0.5 * random(), 0.6 + 0.4 * random());
    const double phase = 2 * pi * random();
    for (int r = 0; r <= rings; ++r) {
        const double slope = pi * r / rings - pi / 2;
        for (int i = 0; i < 2 * rings; ++i) {
            const double turn = pi * i / rings + phase;
            const double dent = (r == 0 || r == rings) ? 0.8 : 0.72 + 0.45 * random();
            mesh.vertices.emplace_back(centre + radius * dent *
                                                    Vec3(std::cos(slope) * std::cos(turn),
                                                         std::cos(slope) * std::sin(turn), std::sin(slope))
                                                        .cwiseProduct(stretch));
        }
    }
    for (int r = 0; r < rings; ++r) {
        for (int i = 0; i < 2 * rings; ++i) {
            const auto corner_at = [&](int ring, int place) -> const Vec3& {
                const int index = ring * 2 * rings + place % (2 * rings);
                return mesh.vertices[static_cast<std::size_t>(index)];
            };
            face({corner_at(r, i), corner_at(r, i + 1), corner_at(r + 1, i + 1)});
            face({corner_at(r, i), corner_at(r + 1, i + 1), corner_at(r + 1, i)});
        }
    }
}

void ShapeBuilder::half_wall(const std::vector<Vec2>& inner, double thickness) {
    constexpr int sides = 48;
    // Away from the axis and from the middle of the wall's height is outside.
    const std::size_t n = inner.size();
    std::vector<Vec2> normals(n, Vec2::Zero());
    for (std::size_t p = 1; p < n; ++p) {
        const Vec2 run = inner[p] - inner[p - 1];
        if (run.norm() == 0) continue;
        const Vec2 out = Vec2(run.y(), -run.x()).normalized();
        normals[p - 1] += out;
        normals[p] += out;
    }
    double outward = 0;
    for (std::size_t p = 0; p < n; ++p) outward += normals[p].x();
    std::vector<Vec2> outer(n);
    for (std::size_t p = 0; p < n; ++p) {
        normals[p] = (outward >= 0 ? 1.0 : -1.0) * normals[p].normalized();
        outer[p] = inner[p] + thickness * normals[p];
        outer[p].x() = std::max(0.0, outer[p].x());
    }
    const auto turned = [&](const Vec2& at, double turn) {
        return Vec3(at.x() * std::cos(turn), at.x() * std::sin(turn), at.y());
    };
    const auto shell = [&](const std::vector<Vec2>& line, double sign) {
        std::vector<std::vector<ShapeMesh::Corner>> rows;
        for (std::size_t p = 0; p < n; ++p) {
            std::vector<ShapeMesh::Corner> row;
            for (int i = 0; i <= sides; ++i) {
                const double turn = pi * i / sides;
                row.push_back(make_corner(turned(line[p], turn), sign * turned(normals[p], turn)));
            }
            rows.push_back(std::move(row));
        }
        smooth_strip(rows);
    };
    shell(inner, -1);
    shell(outer, 1);
    for (const double turn : {0.0, pi}) {
        for (std::size_t p = 1; p < n; ++p) {
            std::vector<Vec3> cut = {turned(inner[p - 1], turn), turned(outer[p - 1], turn),
                                     turned(outer[p], turn), turned(inner[p], turn)};
            // Both cut faces look to the front.
            const double front = (cut[1] - cut[0]).cross(cut[2] - cut[0]).y();
            if (front > 0) std::reverse(cut.begin(), cut.end());
            face(cut);
        }
    }
    // The rims at either end of the line.
    for (const std::size_t p : {std::size_t(0), n - 1}) {
        const Vec2 inside = p == 0 ? inner[1] - inner[0] : inner[n - 2] - inner[n - 1];
        for (int i = 0; i < sides; ++i) {
            const double a = pi * i / sides, b = pi * (i + 1) / sides;
            std::vector<Vec3> rim = {turned(inner[p], a), turned(outer[p], a), turned(outer[p], b),
                                     turned(inner[p], b)};
            const Vec3 normal = (rim[1] - rim[0]).cross(rim[2] - rim[0]);
            if (normal.z() * inside.y() > 0) std::reverse(rim.begin(), rim.end());
            face(rim);
        }
    }
}

SharedShape ShapeBuilder::take() {
    return std::make_shared<const ShapeMesh>(std::exchange(mesh_, {}));
}

}  // namespace evenspit::scene
