// SPDX-License-Identifier: MIT
#include "scan/wrap.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <stdexcept>
#include <utility>
#include <vector>

#include "geometry/disjoint_sets.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "scan/aside.h"
#include "scan/fill_holes.h"
#include "scan/part_sheets.h"
#include "scan/scan_library.h"

namespace evenspit::scan {

namespace {

// Of the box against that of the sheet: the least, room for the field to fade; then those that are tried
// where the contour of one before is not a surface.
constexpr double least_box = 1.1;
constexpr std::array boxes{1.0, 1.15 / least_box, 1.2 / least_box, 1.25 / least_box};
constexpr int most_depth = 10;
constexpr int most_flawed = 50;  // boundary edges; more are the rim of a surface that ran out of its box

// The library's work and all it needs: it may outlive who asked for it.
struct Work {
    std::vector<Vec3> places, normals;
    int depth = 0;
    double scale = 1;
    TriangleMesh mesh;
    bool done = false;
    library::Failure failure{};

    void operator()() {
        const library::Functions& functions = scan_library();
        const library::Cloud cloud{places.data()->data(), normals.data()->data(), places.size()};
        library::Mesh made{};
        done = functions.reconstruct(&cloud, depth, scale, &made, &failure);
        if (!done) return;
        for (std::size_t v = 0; v < made.corner_count; ++v) mesh.vertices.emplace_back(made.corners + 3 * v);
        for (std::size_t t = 0; t < made.triangle_count; ++t) {
            const std::int32_t* const corners = made.triangles + 3 * t;
            mesh.triangles.push_back({corners[0], corners[1], corners[2]});
        }
        functions.release_mesh(&made);
    }
};

TriangleMesh reconstructed(const Sheet& sheet, const Vec3& middle, int depth, double scale,
                           const StopControl& control) {
    scan_library();  // what is missing is told here
    const auto work = std::make_shared<Work>();
    work->places = sheet.positions;
    for (Vec3& p : work->places) p -= middle;
    work->normals = sheet.normals;
    work->depth = depth;
    work->scale = scale;
    do_aside([work] { (*work)(); }, control);
    if (!work->done)
        throw std::runtime_error(std::string("the scan library cannot wrap the sheet: ") +
                                 work->failure.words);
    for (Vec3& v : work->mesh.vertices) v += middle;
    return std::move(work->mesh);
}

// The piece that encloses most. \param dropped number of the others
TriangleMesh largest_piece(const TriangleMesh& all, int& dropped) {
    DisjointSets sets(all.vertices.size());
    for (const Triangle& t : all.triangles) {
        sets.join(t[1], t[0]);
        sets.join(t[2], t[0]);
    }
    std::map<std::int32_t, TriangleMesh> pieces;
    std::vector<std::int32_t> number(all.vertices.size());
    for (std::size_t v = 0; v < all.vertices.size(); ++v) {
        TriangleMesh& piece = pieces[sets.root(std::int32_t(v))];
        number[v] = std::int32_t(piece.vertices.size());
        piece.vertices.push_back(all.vertices[v]);
    }
    for (const Triangle& t : all.triangles) {
        const auto at = [&](std::size_t k) { return number[std::size_t(t[k])]; };
        pieces[sets.root(t[0])].triangles.push_back({at(0), at(1), at(2)});
    }
    TriangleMesh* largest = nullptr;
    double most = 0;
    for (auto& [name, piece] : pieces) {
        const double volume = std::abs(volume_moments(piece).amount);
        if (volume <= most) continue;
        most = volume;
        largest = &piece;
    }
    dropped = int(pieces.size()) - (largest ? 1 : 0);
    return largest ? std::move(*largest) : TriangleMesh{};
}

}  // namespace

TriangleMesh wrap(const Sheet& sheet, double spacing, int& dropped, const StopControl& control) {
    Box3 box;
    for (const Vec3& p : sheet.positions) box.extend(p);
    const Vec3 middle = box.center();  // the library reckons in single precision
    const double longest = box.sizes().maxCoeff();
    TriangleMesh mesh;
    dropped = 0;
    if (!(longest > 0)) return mesh;
    const int depth = std::min(most_depth, int(std::ceil(std::log2(least_box * longest / spacing))));
    const double scale = std::max(least_box, std::ldexp(spacing, depth) / longest);
    std::optional<TriangleMesh> parted;
    for (const double larger : boxes) {
        mesh = largest_piece(reconstructed(sheet, middle, depth, scale * larger, control), dropped);
        const SolidReport report = check_solid(mesh);
        if (report.ok()) return mesh;
        if (report.boundary_edges > most_flawed) break;
        if (!parted && report.fault == SolidFault::non_manifold) parted = part_sheets(mesh);
    }
    // What is thinner than a cell or two touches itself in every box.
    if (parted) {
        TriangleMesh piece = largest_piece(*parted, dropped);
        if (check_solid(piece).ok()) return piece;
    }
    // Of a sheet that is wide open the surface runs out of every box, and ends there.
    if (std::optional<FilledMesh> filled = fill_holes(mesh, control)) mesh = std::move(filled->mesh);
    return mesh;
}

}  // namespace evenspit::scan
