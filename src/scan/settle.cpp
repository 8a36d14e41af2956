// SPDX-License-Identifier: MIT
#include "scan/settle.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include "scan/stoppable.h"
#include "scan/surface_fit.h"

namespace evenspit::scan {

namespace {

constexpr int rounds = 2;
constexpr int spreading = 40;       // passes that let neighbours decide where points are few
constexpr double own_weight = 4;    // of a trusted fit, against the mean of the neighbours
constexpr std::size_t piece = 256;  // vertices at a time

using Neighbours = std::vector<std::vector<std::int32_t>>;

Neighbours neighbours_of(const TriangleMesh& mesh) {
    Neighbours around(mesh.vertices.size());
    // In a closed, oriented mesh each edge is met once each way.
    for (const Triangle& t : mesh.triangles) {
        for (std::size_t k = 0; k < 3; ++k) around[std::size_t(t[k])].push_back(t[(k + 1) % 3]);
    }
    return around;
}

// Points of the scan, and an invented disc for as many points as a seen one has.
PointSet with_invented(const PointSet& points, const Sheet& sheet) {
    PointSet all = points;
    if (all.counts.empty()) all.counts.assign(points.size(), 1);
    const auto seen = double(std::count(sheet.invented.begin(), sheet.invented.end(), false));
    const double each = seen > 0 ? points.total_count() / seen : 1;
    for (std::size_t i = 0; i < sheet.size(); ++i) {
        if (!sheet.invented[i]) continue;
        all.positions.push_back(sheet.positions[i]);
        all.normals.push_back(sheet.normals[i]);
        all.counts.push_back(std::uint32_t(std::max(1.0, each)));
    }
    return all;
}

struct Pulls {
    std::vector<double> height, trust;
    double mean = 0;     // trusted height
    double scatter = 0;  // root mean square
};

Pulls pulls_of(const TriangleMesh& mesh, const std::vector<Vec3>& normals, const SurfaceFit& fit,
               const StopControl& control) {
    const std::size_t n = mesh.vertices.size();
    Pulls pulls{std::vector<double>(n), std::vector<double>(n), 0, 0};
    std::vector<double> scatter(n);
    stoppable_for(
        control, n,
        [&](std::size_t first, std::size_t last) {
            for (std::size_t i = first; i < last; ++i) {
                const SurfaceFit::Result found = fit.at(mesh.vertices[i], normals[i]);
                pulls.height[i] = found.height;
                pulls.trust[i] = found.trust;
                scatter[i] = found.scatter;
            }
        },
        piece);
    double trust = 0, squares = 0;
    for (std::size_t i = 0; i < n; ++i) {
        trust += pulls.trust[i];
        pulls.mean += pulls.trust[i] * pulls.height[i];
        squares += pulls.trust[i] * scatter[i] * scatter[i];
    }
    if (trust > 0) {
        pulls.mean /= trust;
        pulls.scatter = std::sqrt(squares / trust);
    }
    return pulls;
}

}  // namespace

std::vector<Vec3> vertex_normals(const TriangleMesh& mesh) {
    std::vector<Vec3> normals(mesh.vertices.size(), Vec3::Zero());
    for (const Triangle& t : mesh.triangles) {
        const Vec3& a = mesh.corner(t, 0);
        const Vec3 n = (mesh.corner(t, 1) - a).cross(mesh.corner(t, 2) - a);
        for (const std::int32_t v : t) normals[std::size_t(v)] += n;
    }
    for (Vec3& n : normals) n = n.norm() > 0 ? Vec3(n.normalized()) : Vec3::UnitZ();
    return normals;
}

Settled settle(TriangleMesh& wrap, const PointSet& points, const Sheet& sheet, const ScanScale& scale,
               const StopControl& control) {
    Settled result;
    const SurfaceFit fit(with_invented(points, sheet), scale, control);
    const Neighbours around = neighbours_of(wrap);
    const std::size_t n = wrap.vertices.size();
    const double limit = scale.spacing + scale.noise;
    for (int round = 0; round < rounds; ++round) {
        const std::vector<Vec3> normals = vertex_normals(wrap);
        const Pulls pulls = pulls_of(wrap, normals, fit, control);
        if (round == 0) result.offset_before = pulls.mean;
        std::vector<double> move(n), next(n);
        for (std::size_t i = 0; i < n; ++i) move[i] = pulls.trust[i] * pulls.height[i];
        for (int pass = 0; pass < spreading; ++pass) {
            control.check();
            for (std::size_t i = 0; i < n; ++i) {
                double mean = 0;
                for (const std::int32_t j : around[i]) mean += move[std::size_t(j)];
                mean /= double(around[i].size());
                const double own = own_weight * pulls.trust[i];
                next[i] = (own * pulls.height[i] + mean) / (own + 1);
            }
            std::swap(move, next);
        }
        for (std::size_t i = 0; i < n; ++i)
            wrap.vertices[i] += std::clamp(move[i], -limit, limit) * normals[i];
        even_out(wrap, 2);
    }

    const Pulls left = pulls_of(wrap, vertex_normals(wrap), fit, control);
    result.offset_after = left.mean;
    result.scatter = left.scatter;
    const SurfaceFit seen(points, scale, control);
    result.support = pulls_of(wrap, vertex_normals(wrap), seen, control).trust;
    return result;
}

void even_out(TriangleMesh& mesh, int rounds_wanted) {
    const Neighbours around = neighbours_of(mesh);
    std::vector<Vec3> moved(mesh.vertices.size());
    for (int round = 0; round < rounds_wanted; ++round) {
        const std::vector<Vec3> normals = vertex_normals(mesh);
        for (std::size_t i = 0; i < mesh.vertices.size(); ++i) {
            Vec3 mean = Vec3::Zero();
            for (const std::int32_t j : around[i]) mean += mesh.vertices[std::size_t(j)];
            const Vec3 step = mean / double(around[i].size()) - mesh.vertices[i];
            moved[i] = mesh.vertices[i] + 0.5 * (step - normals[i].dot(step) * normals[i]);
        }
        mesh.vertices = moved;
    }
}

}  // namespace evenspit::scan
