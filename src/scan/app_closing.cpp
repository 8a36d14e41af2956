// SPDX-License-Identifier: MIT
#include "scan/app_closing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>

#include <Eigen/Cholesky>

#include "geometry/disjoint_sets.h"
#include "geometry/mesh.h"
#include "scan/every_nth.h"
#include "scan/nearest.h"
#include "scan/neighbours.h"
#include "scan/stoppable.h"
#include "scan/support.h"

namespace evenspit::scan {

namespace {

// All lengths in sizes of the body. From meshes of known truth that were closed in three ways (tests/scan).
constexpr double places_taken = 2500, points_taken = 40000;
constexpr double patch = 0.03;                            // radius of the patches that a quadric is fitted to
constexpr std::size_t least_points = 12;                  // of a patch
constexpr double least_rough = 2.5e-4;                    // of what was scanned: less is the mesh's own
constexpr double much_smoother = 0.4;                     // of the roughness of the rest
constexpr double least_closed = 0.06, most_closed = 0.6;  // of the surface
constexpr double in_one_place = 0.35;                     // share of what is smooth
constexpr double looks_one_way = 0.35;                    // length of the mean of its unit normals
// A flat place: within this of one plane, nothing of the body further beyond it.
constexpr double flat_off = 0.0015, flat_normal = 0.998, beyond = 0.004;
constexpr double least_flat_share = 0.04;
// Walls that go straight down to it, looked at in steps of height.
constexpr double wall_step = 0.015, highest_wall = 0.3;
constexpr double wall_upright = 0.05;  // part of the normal along the height: 3°
constexpr double mostly_walls = 0.6;   // share of the places at that height
// The plane between smooth and rough.
constexpr double mostly_flat = 0.5;  // of what is smooth: then that ends at the flat place
constexpr int rim_steps = 12;
constexpr double rim_loose = 1e-4;       // of its numbers, against all places together
constexpr double mostly_divided = 0.75;  // of either kind, on their side of it

struct Place {
    Vec3 at, normal;
    double rough = 0;  // m; below 0: too few points to tell
};

double roughness(const Vec3& at, const Vec3& normal, const std::vector<Vec3>& points,
                 const NeighbourGrid& grid, double radius) {
    using Row = Eigen::Matrix<double, 6, 1>;
    const Vec3 u = normal.unitOrthogonal(), v = normal.cross(u);
    Eigen::Matrix<double, 6, 6> matrix = Eigen::Matrix<double, 6, 6>::Zero();
    Row right = Row::Zero();
    std::vector<std::pair<Row, double>> rows;
    grid.for_each_within(at, radius, [&](std::size_t k, double) {
        const Vec3 d = (points[k] - at) / radius;
        const double x = d.dot(u), y = d.dot(v), z = d.dot(normal);
        if (std::abs(z) > 0.7) return;  // of another sheet
        const Row row(1, x, y, x * x, x * y, y * y);
        matrix += row * row.transpose();
        right += z * row;
        rows.emplace_back(row, z);
    });
    if (rows.size() < least_points) return -1;
    const Row quadric = matrix.ldlt().solve(right);
    double square = 0;
    for (const auto& [row, z] : rows) square += std::pow(z - quadric.dot(row), 2);
    return radius * std::sqrt(square / double(rows.size() - 6));
}

double middle_of(std::vector<double> values) {
    if (values.empty()) return 0;
    const auto middle = values.begin() + std::ptrdiff_t(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

// The value that divides two kinds best: least variance within both.
double divide(const std::vector<double>& values) {
    constexpr std::size_t bins = 64;
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    const double low = *least, width = (*most - *least) / bins;
    if (!(width > 0)) return low;
    std::array<double, bins> count{};
    for (const double v : values) count[std::min(bins - 1, std::size_t((v - low) / width))] += 1;
    double all = 0, sum = 0;
    for (std::size_t k = 0; k < bins; ++k) {
        all += count[k];
        sum += count[k] * double(k);
    }
    double below = 0, below_sum = 0, best = 0;
    std::size_t at = 0;
    for (std::size_t k = 0; k + 1 < bins; ++k) {
        below += count[k];
        below_sum += count[k] * double(k);
        if (!(below > 0) || !(below < all)) continue;
        const double apart = below_sum / below - (sum - below_sum) / (all - below);
        const double between = below * (all - below) * apart * apart;
        if (between <= best) continue;
        best = between;
        at = k;
    }
    return low + width * double(at + 1);
}

// What is smooth while the rest is rough.
struct SmoothPlace {
    std::vector<bool> chosen;  // in one piece; none if there is none
    std::vector<bool> smooth;  // wherever it is
};

SmoothPlace smooth_place(const std::vector<Place>& places, double size_of_body, const StopControl& control) {
    const double radius = 1.5 * patch * size_of_body;
    const SmoothPlace none{std::vector<bool>(places.size(), false), {}};
    std::vector<Vec3> at;
    for (const Place& place : places) at.push_back(place.at);
    const NeighbourGrid grid(at, radius, control);
    // The middle value round each place: what counts is the ground, not a crease.
    std::vector<double> rough(places.size());
    for (std::size_t k = 0; k < places.size(); ++k) {
        std::vector<double> near;
        grid.for_each_within(at[k], radius, [&](std::size_t l, double) {
            if (places[l].rough >= 0 && places[l].normal.dot(places[k].normal) > 0.5)
                near.push_back(places[l].rough);
        });
        rough[k] = middle_of(std::move(near));
    }
    // How smooth a smooth place is does not matter.
    const double smoothest = std::max(1e-7, 0.15 * middle_of(rough));
    for (double& r : rough) r = std::log(std::max(smoothest, r));
    control.check();
    const double limit = divide(rough);
    DisjointSets pieces(places.size());
    std::vector<std::size_t> size(places.size(), 0);
    std::size_t smooth = 0;
    for (std::size_t k = 0; k < places.size(); ++k) {
        if (rough[k] >= limit) continue;
        ++smooth;
        grid.for_each_within(at[k], radius, [&](std::size_t l, double) {
            if (rough[l] < limit && places[l].normal.dot(places[k].normal) > 0.5)
                pieces.join(std::int32_t(l), std::int32_t(k));
        });
    }
    for (std::size_t k = 0; k < places.size(); ++k)
        size[std::size_t(pieces.root(std::int32_t(k)))] += rough[k] < limit;
    const auto main = std::int32_t(std::max_element(size.begin(), size.end()) - size.begin());
    const double largest = double(size[std::size_t(main)]), all = double(places.size());
    if (largest < least_closed * all || largest > most_closed * all ||
        largest < in_one_place * double(smooth))
        return none;
    SmoothPlace found = none;
    found.smooth.resize(places.size());
    std::vector<double> inside, outside;
    Vec3 normal = Vec3::Zero();
    for (std::size_t k = 0; k < places.size(); ++k) {
        found.smooth[k] = rough[k] < limit;
        found.chosen[k] = found.smooth[k] && pieces.root(std::int32_t(k)) == main;
        (found.chosen[k] ? inside : outside).push_back(rough[k]);
        if (found.chosen[k]) normal += places[k].normal / largest;
    }
    const double rest = std::exp(middle_of(outside));
    const bool told_apart =
        rest > least_rough * size_of_body && std::exp(middle_of(inside)) < much_smoother * rest;
    return told_apart && normal.norm() > looks_one_way ? found : none;
}

// The plane under which cameras saw nothing.
struct Rim {
    Vec3 up = Vec3::Zero();  // unit; zero: there is none
    double level = 0;        // up · x on it
};

// The plane that divides smooth places from rough ones best, by logistic regression, both kinds counting
// alike; none if it leaves too many on the wrong side.
Rim rim_of(const std::vector<Place>& places, const std::vector<bool>& smooth, double size) {
    using Row = Eigen::Vector4d;
    const Vec3 origin = places.front().at;
    const auto row_of = [&](const Place& place) {
        const Vec3 p = (place.at - origin) / size;
        return Row(p.x(), p.y(), p.z(), 1);
    };
    const auto all = double(places.size());
    const double share = double(std::count(smooth.begin(), smooth.end(), true)) / all;
    if (!(share > 0 && share < 1)) return {};
    Row w = Row::Zero();
    for (int step = 0; step < rim_steps; ++step) {
        Eigen::Matrix4d matrix = rim_loose * Eigen::Matrix4d::Identity();
        Row right = -rim_loose * w;
        for (std::size_t k = 0; k < places.size(); ++k) {
            const Row row = row_of(places[k]);
            const double weight = 0.5 / (all * (smooth[k] ? share : 1 - share));
            const double seen = 1 / (1 + std::exp(-w.dot(row)));
            right += weight * ((smooth[k] ? 0 : 1) - seen) * row;
            matrix += weight * std::max(1e-6, seen * (1 - seen)) * row * row.transpose();
        }
        w += matrix.ldlt().solve(right);
    }
    double smooth_below = 0, rough_above = 0;
    for (std::size_t k = 0; k < places.size(); ++k) {
        const bool above = w.dot(row_of(places[k])) > 0;
        smooth_below += smooth[k] && !above;
        rough_above += !smooth[k] && above;
    }
    if (smooth_below < mostly_divided * share * all || rough_above < mostly_divided * (1 - share) * all)
        return {};
    const Vec3 normal = w.head<3>();
    const Vec3 up = normal.normalized();
    return {up, up.dot(origin) - size * w[3] / normal.norm()};
}

// A plane that nothing reaches beyond, and which of the places lie in it; none of them if those are too few.
struct FlatPlace {
    std::vector<bool> chosen;
    Vec3 normal = Vec3::Zero();  // outward
    double level = 0;
};

// Of places, how many lie in a plane and how many beyond it; and the mean of those that lie in it.
struct InPlane {
    double count = 0, past = 0, level = 0;
    Vec3 normal = Vec3::Zero();
};

InPlane in_plane(const std::vector<Place>& places, const Vec3& normal, double level, double size) {
    InPlane found;
    Vec3 sum = Vec3::Zero(), at = Vec3::Zero();
    for (const Place& place : places) {
        const double off = normal.dot(place.at) - level;
        found.past += off > beyond * size;
        if (!(std::abs(off) < flat_off * size && normal.dot(place.normal) > flat_normal)) continue;
        ++found.count;
        sum += place.normal;
        at += place.at;
    }
    if (found.count > 0) found.normal = sum.normalized();
    if (found.count > 0) found.level = found.normal.dot(at) / found.count;
    return found;
}

FlatPlace flat_place(const std::vector<Place>& places, double size, const StopControl& control) {
    FlatPlace best{std::vector<bool>(places.size(), false)};
    const auto all = double(places.size());
    double most = least_flat_share * all;
    for (std::size_t seed = 0; seed < places.size(); seed += 5) {
        control.check();
        const Vec3& n = places[seed].normal;
        // One triangle's plane is a little off that of all of them.
        const InPlane first = in_plane(places, n, n.dot(places[seed].at), size);
        if (first.count < 0.5 * most) continue;
        const InPlane found = in_plane(places, first.normal, first.level, size);
        if (found.count <= most || found.past > 0.005 * all) continue;
        most = found.count;
        best.normal = first.normal;
        best.level = first.level;
    }
    if (best.normal.norm() == 0) return best;
    for (std::size_t k = 0; k < places.size(); ++k) {
        best.chosen[k] = std::abs(best.normal.dot(places[k].at) - best.level) < flat_off * size &&
                         best.normal.dot(places[k].normal) > 0.9;
    }
    return best;
}

// How high straight walls stand on a flat place all round; 0 if they do not: then it is a cut.
double height_of_walls(const std::vector<Place>& places, const FlatPlace& flat, double size) {
    double height = 0;
    for (double from = 0; from < highest_wall; from += wall_step) {
        int walls = 0, all = 0;
        for (const Place& place : places) {
            const double z = (flat.level - flat.normal.dot(place.at)) / size;
            if (z < from + 0.2 * wall_step || z > from + wall_step) continue;
            ++all;
            walls += std::abs(flat.normal.dot(place.normal)) < wall_upright;
        }
        if (all == 0 || double(walls) < mostly_walls * double(all)) break;
        height = (from + wall_step) * size;
    }
    return height;
}

double lowest(const std::vector<Vec3>& places, const Vec3& up) {
    double least = std::numeric_limits<double>::infinity();
    for (const Vec3& p : places) least = std::min(least, up.dot(p));
    return least;
}

// Of what is smooth, the share in a flat place.
double flat_share(const std::vector<bool>& smooth, const std::vector<bool>& flat) {
    double all = 0, both = 0;
    for (std::size_t k = 0; k < smooth.size(); ++k) {
        all += smooth[k];
        both += smooth[k] && flat[k];
    }
    return all > 0 ? both / all : 0;
}

}  // namespace

std::optional<AppClosing> find_app_closing(const TriangleMesh& mesh, const PointSet& points,
                                           const StopControl& control) {
    if (points.size() < 2 * std::size_t(places_taken) || points.normals.size() != points.size())
        return std::nullopt;
    const double size = bounds(mesh).diagonal().norm(), radius = patch * size;
    const std::vector<Vec3> some = every_nth(points.positions, points_taken);
    const NeighbourGrid grid(some, radius, control);
    const std::vector<Vec3> at = every_nth(points.positions, places_taken),
                            normals = every_nth(points.normals, places_taken);
    std::vector<Place> places(at.size());
    stoppable_for(
        control, at.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t k = first; k < last; ++k) {
                // The direction of the ground, not of one triangle.
                Vec3 normal = normals[k].normalized();
                places[k] = {at[k], normal, roughness(at[k], normal, some, grid, radius)};
            }
        },
        64);
    const SmoothPlace smooth = smooth_place(places, size, control);
    std::vector<bool> closed = smooth.chosen;
    const FlatPlace flat = flat_place(places, size, control);
    AppClosing found;
    if (flat.normal.norm() > 0) {
        found.walls_m = height_of_walls(places, flat, size);
        for (std::size_t k = 0; k < closed.size(); ++k) {
            closed[k] = closed[k] || flat.chosen[k] ||
                        (found.walls_m > 0 && flat.level - flat.normal.dot(places[k].at) < found.walls_m);
        }
    }
    Rim rim;
    // A cut is flat; what bulges may end flat.
    if (found.walls_m == 0 && !smooth.smooth.empty() && flat_share(smooth.smooth, flat.chosen) < mostly_flat)
        rim = rim_of(places, smooth.smooth, size);
    for (std::size_t k = 0; k < closed.size(); ++k)
        closed[k] = closed[k] || (rim.up.norm() > 0 && rim.up.dot(places[k].at) < rim.level);
    Vec3 normal = Vec3::Zero();
    std::vector<Vec3> closed_at;
    for (std::size_t k = 0; k < places.size(); ++k) {
        if (!closed[k]) continue;
        normal += places[k].normal;
        closed_at.push_back(places[k].at);
    }
    found.share = double(closed_at.size()) / double(places.size());
    if (closed_at.empty() || found.share > most_closed) return std::nullopt;
    if (!(normal.norm() > looks_one_way * double(closed_at.size()))) return std::nullopt;
    found.up = flat.normal.norm() > 0 ? Vec3(-flat.normal)
               : rim.up.norm() > 0    ? rim.up
                                      : Vec3(-normal.normalized());
    // Next to it, what was seen and what was not cannot be told apart.
    const NearestPoints near(closed_at, control);
    EveryNthCheck now_and_then(control, 1024);
    for (std::size_t i = 0; i < points.size(); ++i) {
        now_and_then.step();
        if (near.within(points.positions[i], radius) >= 0) continue;
        found.seen.positions.push_back(points.positions[i]);
        found.seen.normals.push_back(points.normals[i]);
    }
    found.rim = rim.up.norm() > 0;
    found.floor = flat.normal.norm() > 0 ? -flat.level : lowest(found.seen.positions, found.up) - radius;
    if (found.rim) {
        // Along the flat place's normal, where there is one: under the middle of what was seen.
        Box3 box;
        for (const Vec3& p : found.seen.positions) box.extend(p);
        const Vec3 middle = box.center();
        found.floor = found.up.dot(Vec3(middle - (rim.up.dot(middle) - rim.level) * rim.up));
    }
    return found;
}

}  // namespace evenspit::scan
