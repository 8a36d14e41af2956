// SPDX-License-Identifier: MIT
#include "roast/view_cooker.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <variant>

namespace evenspit {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

double met_box(const Vec3& min, const Vec3& max, const Vec3& start, const Vec3& direction) {
    double in = 0, out = never;
    for (int axis = 0; axis < 3; ++axis) {
        const bool up = direction[axis] >= 0;
        const double low = ((up ? min : max)[axis] - start[axis]) / direction[axis];
        const double high = ((up ? max : min)[axis] - start[axis]) / direction[axis];
        // Along a face 0 / 0 is no number: these comparisons pass it over.
        if (low > in) in = low;
        if (high < out) out = high;
    }
    return in <= out ? in : never;
}

double met_plane(const Vec3& point, const Vec3& normal, const Vec3& start, const Vec3& direction) {
    const double above = normal.dot(start - point);
    if (above <= 0) return 0;
    const double closing = -normal.dot(direction);
    return closing > 0 ? above / closing : never;
}

}  // namespace

CookerSight::CookerSight(const Cooker& cooker) : surfaces_(cooker.surfaces.size()) {
    for (std::size_t s = 0; s < surfaces_; ++s) {
        const int surface = static_cast<int>(s);
        const SurfaceShape& shape = cooker.surfaces[s].shape;
        if (const auto* plane = std::get_if<PlaneShape>(&shape)) {
            planes_.push_back({surface, plane->point, plane->normal});
        } else if (const auto* box = std::get_if<BoxShape>(&shape)) {
            boxes_.push_back({surface, box->min, box->max});
        } else if (const auto* mesh = std::get_if<MeshShape>(&shape)) {
            if (!mesh->mesh->triangles.empty()) meshes_.push_back({surface, SolidQueries(*mesh->mesh)});
        } else if (const auto* revolved = std::get_if<RevolvedShape>(&shape)) {
            Wall wall{surface, revolved->centre.x(), revolved->centre.y(), {}};
            for (std::size_t i = 0; i + 1 < revolved->profile.size(); ++i) {
                Vec2 a = revolved->profile[i], b = revolved->profile[i + 1];
                if (a.y() > b.y()) std::swap(a, b);
                const double z = revolved->centre.z(), rise = b.y() - a.y();
                if (rise > 0) {
                    wall.pieces.push_back({z + a.y(), z + b.y(), a.x(), (b.x() - a.x()) / rise, 0});
                } else {
                    const auto [inner, outer] = std::minmax(a.x(), b.x());
                    wall.pieces.push_back({z + a.y(), z + a.y(), inner, 0, outer});
                }
            }
            std::stable_sort(wall.pieces.begin(), wall.pieces.end(),
                             [](const Frustum& a, const Frustum& b) { return a.low < b.low; });
            walls_.push_back(std::move(wall));
        }
    }
}

// Distance to the wall, or `within` if it is not met sooner.
double CookerSight::met(const Wall& wall, const Vec3& start, const Vec3& direction, double within) {
    const double x = start.x() - wall.x, y = start.y() - wall.y, z = start.z();
    const double across = direction.x() * direction.x() + direction.y() * direction.y();
    const double closing = x * direction.x() + y * direction.y(), square = x * x + y * y;
    double best = within;
    const bool up = direction.z() > 0;
    for (std::size_t k = 0; k < wall.pieces.size(); ++k) {
        // In the order in which the ray passes their heights, none that it passes before it begins or after
        // what it has met already.
        const Frustum& piece = wall.pieces[up ? k : wall.pieces.size() - 1 - k];
        if (up ? z > piece.high : z < piece.low) continue;
        const double last = z + best * direction.z();
        if (up ? last < piece.low : last > piece.high) continue;
        if (piece.high == piece.low) {
            const double at = (piece.low - z) / direction.z();
            const double there = square + at * (2 * closing + at * across);
            if (at > 0 && at < best && there >= piece.radius * piece.radius &&
                there <= piece.outer * piece.outer)
                best = at;
            continue;
        }
        // (square of the distance from the axis) = (radius at that height)², quadratic in the distance along
        // the ray; the root with the smaller cancellation first.
        const double radius = piece.radius + piece.slope * (z - piece.low);
        const double widening = piece.slope * direction.z();
        const double a = across - widening * widening;
        const double b = closing - radius * widening;
        const double c = square - radius * radius;
        const double discriminant = b * b - a * c;
        if (!(discriminant >= 0)) continue;
        const double q = -(b + std::copysign(std::sqrt(discriminant), b));
        for (const double at : {q / a, c / q}) {
            if (!(at > 0 && at < best)) continue;
            const double height = z + at * direction.z();
            // The other half of the double cone has negative radii.
            if (height >= piece.low && height <= piece.high && radius + at * widening >= 0) best = at;
        }
    }
    return best;
}

int CookerSight::first_met(const Vec3& start, const Vec3& direction) const {
    double best = never;
    int surface = -1;
    const auto nearer = [&](double at, int whose) {
        if (!(at < best)) return;
        best = at;
        surface = whose;
    };
    for (const Box& box : boxes_) nearer(met_box(box.min, box.max, start, direction), box.surface);
    for (const Plane& plane : planes_)
        nearer(met_plane(plane.point, plane.normal, start, direction), plane.surface);
    for (const Wall& wall : walls_) nearer(met(wall, start, direction, best), wall.surface);
    for (const Mesh& mesh : meshes_)
        nearer(mesh.triangles.first_hit(start, direction, best).distance, mesh.surface);
    return surface;
}

}  // namespace evenspit
