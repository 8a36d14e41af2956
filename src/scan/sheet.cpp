// SPDX-License-Identifier: MIT
#include "scan/sheet.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "scan/nearest.h"
#include "scan/neighbours.h"
#include "scan/stoppable.h"
#include "scan/surface_fit.h"

namespace evenspit::scan {

namespace {

constexpr int views = 96;
constexpr double lowest_look =
    0.08;  // sine of the least height above the board from which discs are looked at
constexpr int votings = 6;
constexpr double trusted_normals = 0.8;  // length of the mean of neighbouring given normals
constexpr double least_trust = 0.2;      // of a fit of second order, to be followed
constexpr double unbounded = std::numeric_limits<double>::infinity();

double kernel(double square, double radius) {
    const double t = 1 - square / (radius * radius);
    return t > 0 ? t * t : 0;
}

// Directions spread evenly over the sphere: a spiral with the golden angle (from memory).
std::vector<Vec3> directions(int n) {
    std::vector<Vec3> all;
    const double golden = std::numbers::pi * (3 - std::sqrt(5.0));
    for (int i = 0; i < n; ++i) {
        const double z = 1 - (2 * i + 1.0) / n, r = std::sqrt(1 - z * z);
        all.emplace_back(r * std::cos(golden * i), r * std::sin(golden * i), z);
    }
    return all;
}

// One step of moving least squares.
PointSet flattened(const PointSet& points, double radius, const StopControl& control) {
    const NeighbourGrid grid(points.positions, radius, control);
    PointSet flat = points;
    flat.normals.assign(points.size(), Vec3::Zero());
    stoppable_for(control, points.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t i = first; i < last; ++i) {
            const Vec3& p = points.positions[i];
            PlaneSum sum(p);
            grid.for_each_within(p, radius, [&](std::size_t j, double square) {
                sum.add(points.positions[j], points.count(j) * kernel(square, radius));
            });
            if (!(sum.weight() > 0)) continue;
            const PlaneFit fit = sum.fit();
            flat.positions[i] = p - fit.normal.dot(p - fit.middle) * fit.normal;
            flat.normals[i] = fit.normal;
        }
    });
    return flat;
}

// Adds, for each disc, the directions from which it can be seen: an orthographic depth picture a direction.
std::vector<Vec3> open_air(const std::vector<Vec3>& positions, const std::vector<Vec3>& normals,
                           double spacing, const std::vector<Vec3>& from, const StopControl& control) {
    std::vector<Vec3> sum(positions.size(), Vec3::Zero());
    const double pixel = 1.2 * spacing;
    for (const Vec3& direction : from) {
        control.check();
        const Vec3 u = direction.unitOrthogonal(), v = direction.cross(u);
        Vec2 least = Vec2::Constant(unbounded), most = Vec2::Constant(-unbounded);
        for (const Vec3& p : positions) {
            const Vec2 q(u.dot(p), v.dot(p));
            least = least.cwiseMin(q);
            most = most.cwiseMax(q);
        }
        const int width = int((most.x() - least.x()) / pixel) + 3,
                  height = int((most.y() - least.y()) / pixel) + 3;
        std::vector<double> nearest(std::size_t(width) * std::size_t(height), -unbounded);
        const auto column = [&](const Vec3& p) { return int((u.dot(p) - least.x()) / pixel) + 1; };
        const auto row = [&](const Vec3& p) { return int((v.dot(p) - least.y()) / pixel) + 1; };
        for (const Vec3& p : positions) {
            const int i = column(p), j = row(p);
            const double toward = direction.dot(p);
            for (int y = j - 1; y <= j + 1; ++y) {
                for (int x = i - 1; x <= i + 1; ++x) {
                    double& z = nearest[std::size_t(y) * std::size_t(width) + std::size_t(x)];
                    z = std::max(z, toward);
                }
            }
        }
        for (std::size_t k = 0; k < positions.size(); ++k) {
            const Vec3& p = positions[k];
            const double front = nearest[std::size_t(row(p)) * std::size_t(width) + std::size_t(column(p))];
            // A slope rises within the nine pixels that its neighbours cover.
            const double cosine = std::abs(normals[k].dot(direction));
            const double slope = std::sqrt(1 - cosine * cosine) / std::max(cosine, 0.15);
            if (direction.dot(p) > front - pixel * (1.5 + 2 * slope)) sum[k] += direction;
        }
    }
    return sum;
}

// Turns the normals of a layer of discs outward.
void face_outward(PointSet& thin, const PointSet& fine, double radius, const ScanScale& scale,
                  const std::optional<Board>& board, const StopControl& control) {
    std::vector<Vec3> from = directions(views);
    if (board)
        std::erase_if(from, [&](const Vec3& d) { return (board->to_board.linear() * d).z() < lowest_look; });
    std::vector<Vec3> votes = open_air(thin.positions, thin.normals, scale.spacing, from, control);
    if (!fine.normals.empty()) {
        std::vector<Vec3> given(thin.size(), Vec3::Zero());
        std::vector<double> weight(thin.size(), 0.0);
        const NeighbourGrid grid(fine.positions, radius, control);
        stoppable_for(control, thin.size(), [&](std::size_t first, std::size_t last) {
            for (std::size_t i = first; i < last; ++i) {
                grid.for_each_within(thin.positions[i], radius, [&](std::size_t j, double square) {
                    given[i] += fine.count(j) * kernel(square, radius) * fine.normals[j];
                    weight[i] += fine.count(j) * kernel(square, radius);
                });
            }
        });
        // Normals in files are as often all turned inward, or each at random, as they are right. Where
        // neighbours agree they are followed, in or out as more of them look into the open.
        double agree = 0, together = 0, count = 0;
        for (std::size_t i = 0; i < thin.size(); ++i) {
            if (!(weight[i] > 0)) continue;
            agree += given[i].dot(thin.normals[i]) * votes[i].dot(thin.normals[i]) > 0 ? 1 : -1;
            together += given[i].norm() / weight[i];
            count += 1;
        }
        if (together > trusted_normals * count) {
            for (std::size_t i = 0; i < thin.size(); ++i) votes[i] = agree >= 0 ? given[i] : Vec3(-given[i]);
        }
    }

    // Each takes the side for which it and its neighbours have more votes; where a fold hides a disc from
    // everywhere, its neighbours decide.
    double usual = 0;
    for (const Vec3& vote : votes) usual += vote.norm() / double(votes.size());
    std::vector<double> lean(thin.size(), 0.0);
    for (std::size_t i = 0; i < thin.size(); ++i)
        lean[i] = usual > 0 ? std::tanh(votes[i].dot(thin.normals[i]) / usual) : 0.0;
    const NeighbourGrid grid(thin.positions, radius);
    for (int round = 0; round < votings; ++round) {
        std::vector<double> next(thin.size(), 0.0);
        stoppable_for(control, thin.size(), [&](std::size_t first, std::size_t last) {
            for (std::size_t i = first; i < last; ++i) {
                grid.for_each_within(thin.positions[i], radius, [&](std::size_t j, double square) {
                    const double along = thin.normals[i].dot(thin.normals[j]);
                    next[i] += kernel(square, radius) * along * std::abs(along) * lean[j];
                });
            }
        });
        // Kept bounded, so that loud regions do not drown quiet ones.
        for (std::size_t i = 0; i < thin.size(); ++i) lean[i] = std::tanh(next[i]) + 0.05 * lean[i];
    }
    for (std::size_t i = 0; i < thin.size(); ++i) {
        if (lean[i] < 0) thin.normals[i] = -thin.normals[i];
    }
}

}  // namespace

void Sheet::invent(const Vec3& place, const Vec3& normal, double area_m2) {
    positions.push_back(place);
    normals.push_back(normal);
    areas.push_back(area_m2);
    invented.push_back(true);
}

void Sheet::append(const Sheet& other) {
    positions.insert(positions.end(), other.positions.begin(), other.positions.end());
    normals.insert(normals.end(), other.normals.begin(), other.normals.end());
    areas.insert(areas.end(), other.areas.begin(), other.areas.end());
    invented.insert(invented.end(), other.invented.begin(), other.invented.end());
}

ScanScale ScanScale::of(double diagonal, const SurfaceSurvey& surface) {
    ScanScale scale;
    scale.noise = surface.noise;
    scale.spacing = std::max(diagonal / 150, 1.0 * surface.spacing);
    // Enough points for a plane, and wide against the layer that the noise makes of the surface: in a ball no
    // wider than the layer is thick no direction stands out.
    scale.patch = std::max({1.8 * scale.spacing, 2.5 * surface.spacing, 4 * surface.noise});
    return scale;
}

ScannedSurface make_sheet(const PointSet& body, const ScanScale& scale, const std::optional<Board>& board,
                          const StopControl& control) {
    // The scatter is averaged in fine cubes first: a million points cost no more than the surface is worth.
    const PointSet fine = thinned(body, std::max(0.5 * scale.spacing, 0.6 * scale.noise), control);
    const PointSet flat = flattened(flattened(fine, scale.patch, control), scale.patch, control);
    PointSet thin = thinned({flat.positions, {}, flat.counts}, scale.spacing, control);
    // Planes again, now of the one layer that is left.
    const double radius = std::max(scale.patch, 2.2 * scale.spacing);
    thin = flattened(thin, radius, control);
    face_outward(thin, fine, radius, scale, board, control);

    ScannedSurface surface;
    surface.points = fine;
    surface.points.normals.assign(fine.size(), Vec3::Zero());
    const NeighbourGrid grid(thin.positions, radius);
    const NearestPoints nearest_thin(thin.positions, control);
    stoppable_for(control, fine.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t i = first; i < last; ++i) {
            const std::ptrdiff_t nearest = nearest_thin.within(fine.positions[i], 2 * radius);
            if (nearest >= 0) surface.points.normals[i] = thin.normals[std::size_t(nearest)];
        }
    });

    Sheet& sheet = surface.sheet;
    sheet.positions = thin.positions;
    sheet.normals = thin.normals;
    sheet.areas.assign(thin.size(), 0.0);
    sheet.invented.assign(thin.size(), false);
    const SurfaceFit fit(surface.points, scale, control);
    stoppable_for(control, thin.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t i = first; i < last; ++i) {
            double weight = 0;
            grid.for_each_within(thin.positions[i], radius, [&](std::size_t j, double square) {
                if (thin.normals[i].dot(thin.normals[j]) > 0) weight += kernel(square, radius);
            });
            // ∫ (1 − r²/R²)² over a full disc of radius R is π R² / 3; at a rim the disc is not full.
            const double area = std::numbers::pi * radius * radius / 3 / weight;
            sheet.areas[i] = std::min(area, 2 * scale.spacing * scale.spacing);

            const SurfaceFit::Result found = fit.at(thin.positions[i], thin.normals[i]);
            if (found.trust < least_trust) continue;
            const double limit = scale.spacing + scale.noise;
            sheet.positions[i] += std::clamp(found.height, -limit, limit) * thin.normals[i];
            if (found.normal.dot(thin.normals[i]) > 0.7) sheet.normals[i] = found.normal;
        }
    });
    return surface;
}

}  // namespace evenspit::scan
