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
constexpr int rim_directions = 200;
constexpr double first_cone = 2, narrowest_cone = 0.01, narrower = 0.4;  // 1 − cosine of its half angle
constexpr int rim_steps = 12;
constexpr double rim_loose = 1e-4;  // of its numbers, against all places together
// Even seeds of bodies that nobody closed: to 0.43 and 0.39, one each. Bulges: from 0.37 and 0.46, but for
// one.
constexpr double well_divided = 0.3;  // of the variance, between its two sides
constexpr double well_apart = 0.42;   // medians of both sides, of logarithms
// The edge of a flat place; and of a rim's direction, the part along its normal: 18°.
constexpr double next_to_flat = 0.01, level_with_flat = 0.95;

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
    std::vector<bool> chosen;   // in one piece; none if there is none
    std::vector<double> rough;  // of each place: logarithm
};

SmoothPlace smooth_place(const std::vector<Place>& places, double size_of_body, const StopControl& control) {
    const double radius = 1.5 * patch * size_of_body;
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
    const SmoothPlace none{std::vector<bool>(places.size(), false), rough};
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
    std::vector<double> inside, outside;
    Vec3 normal = Vec3::Zero();
    for (std::size_t k = 0; k < places.size(); ++k) {
        found.chosen[k] = rough[k] < limit && pieces.root(std::int32_t(k)) == main;
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
    double level = 0;        // up · x on it; what reaches over the rim by a patch is rough already
};

// How well the planes across a direction divide values at places, and which of them does best.
struct Divided {
    double share = 0;  // of the values' variance, that lies between the two sides
    double level = 0;  // along the direction
};

Divided divided_across(const Vec3& up, const std::vector<Place>& places, const std::vector<double>& values) {
    const auto all = double(places.size());
    std::vector<std::pair<double, double>> order;
    order.reserve(places.size());
    double sum = 0, squares = 0;
    for (std::size_t k = 0; k < places.size(); ++k) {
        order.emplace_back(up.dot(places[k].at), values[k]);
        sum += values[k];
        squares += values[k] * values[k];
    }
    std::sort(order.begin(), order.end());
    const double variance = squares / all - sum * sum / (all * all);
    Divided best;
    double below_sum = 0;
    for (std::size_t k = 0; k + 1 < order.size(); ++k) {
        below_sum += order[k].second;
        const double below = double(k + 1) / all;
        if (below < least_closed || below > most_closed) continue;
        const double apart = (sum - below_sum) / (all - all * below) - below_sum / (all * below);
        const double share = below * (1 - below) * apart * apart / variance;
        if (apart > 0 && share > best.share) best = {share, 0.5 * (order[k].first + order[k + 1].first)};
    }
    return best;
}

// The direction across which a plane divides values best, the lesser below: looked for all round, then in
// narrower and narrower cones about the best.
Vec3 dividing_direction(const std::vector<Place>& places, const std::vector<double>& values,
                        const StopControl& control) {
    constexpr double golden_angle = 2.39996322972865332;
    Vec3 up = Vec3::UnitZ();
    double most = 0;
    for (double cone = first_cone; cone > narrowest_cone; cone *= narrower) {
        const Vec3 middle = up, u = middle.unitOrthogonal(), v = middle.cross(u);
        for (int k = 0; k < rim_directions; ++k) {
            control.check();
            const double along = 1 - cone * (k + 0.5) / rim_directions, turn = golden_angle * k;
            const Vec3 direction =
                along * middle + std::sqrt(1 - along * along) * (std::cos(turn) * u + std::sin(turn) * v);
            const double share = divided_across(direction, places, values).share;
            if (share <= most) continue;
            most = share;
            up = direction;
        }
    }
    return up;
}

// The direction across which a plane divides two kinds best by logistic regression, both counting alike: one
// crease more or less on either side turns it little. \pre there are both
Vec3 steadied_direction(const std::vector<Place>& places, const std::vector<bool>& smooth, double size) {
    using Row = Eigen::Vector4d;
    const Vec3 origin = places.front().at;
    const auto all = double(places.size());
    const double share = double(std::count(smooth.begin(), smooth.end(), true)) / all;
    Row w = Row::Zero();
    for (int step = 0; step < rim_steps; ++step) {
        Eigen::Matrix4d matrix = rim_loose * Eigen::Matrix4d::Identity();
        Row right = -rim_loose * w;
        for (std::size_t k = 0; k < places.size(); ++k) {
            const Vec3 p = (places[k].at - origin) / size;
            const Row row(p.x(), p.y(), p.z(), 1);
            const double weight = 0.5 / (all * (smooth[k] ? share : 1 - share));
            const double seen = 1 / (1 + std::exp(-w.dot(row)));
            right += weight * ((smooth[k] ? 0 : 1) - seen) * row;
            matrix += weight * std::max(1e-6, seen * (1 - seen)) * row * row.transpose();
        }
        w += matrix.ldlt().solve(right);
    }
    return w.head<3>().normalized();
}

// The plane that divides what is smooth from what is rough best: least variance within both. None if it
// divides them badly. \param rough logarithms
Rim rim_of(const std::vector<Place>& places, std::vector<double> rough, double size,
           const StopControl& control) {
    // How rough a rough place is does not matter: below the rim creases are.
    const double roughest = middle_of(rough);
    for (double& r : rough) r = std::min(r, roughest);
    const Vec3 first_up = dividing_direction(places, rough, control);
    const Divided first = divided_across(first_up, places, rough);
    if (first.share < well_divided) return {};
    std::vector<double> below, above;
    for (std::size_t k = 0; k < places.size(); ++k)
        (first_up.dot(places[k].at) < first.level ? below : above).push_back(rough[k]);
    const double smooth_middle = middle_of(std::move(below)), rough_middle = middle_of(std::move(above));
    if (rough_middle < std::log(least_rough * size) || rough_middle - smooth_middle < well_apart) return {};
    std::vector<bool> smooth;
    for (const double r : rough) smooth.push_back(r < 0.5 * (smooth_middle + rough_middle));
    const Vec3 up = steadied_direction(places, smooth, size);
    const Divided best = divided_across(up, places, rough);
    return best.share < well_divided ? Rim{} : Rim{up, best.level};
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

// The rim over a flat place, or without one: neither that place nor its edge counts, smooth as they are.
Rim rim_over(const std::vector<Place>& places, const FlatPlace& flat, const std::vector<double>& rough,
             double size, const StopControl& control) {
    const bool is_flat = flat.normal.norm() > 0;
    std::vector<Place> rest;
    std::vector<double> their_rough;
    for (std::size_t k = 0; k < places.size(); ++k) {
        const double over = flat.level - flat.normal.dot(places[k].at);
        if (is_flat && (flat.chosen[k] || over < next_to_flat * size)) continue;
        rest.push_back(places[k]);
        their_rough.push_back(rough[k]);
    }
    if (rest.empty()) return {};
    const Rim rim = rim_of(rest, std::move(their_rough), size, control);
    return is_flat && -flat.normal.dot(rim.up) < level_with_flat ? Rim{} : rim;
}

// Whether walls go straight down from a rim to a flat place: what bulges may end flat too.
bool walls_down_to(const FlatPlace& flat, const Rim& rim, const std::vector<Place>& places) {
    if (flat.normal.norm() == 0) return false;
    double upright = 0, all = 0;
    for (std::size_t k = 0; k < places.size(); ++k) {
        if (flat.chosen[k] || rim.up.dot(places[k].at) > rim.level) continue;
        ++all;
        upright += std::abs(flat.normal.dot(places[k].normal)) < wall_upright;
    }
    return upright > mostly_walls * all;
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
    if (flat.normal.norm() > 0) found.walls_m = height_of_walls(places, flat, size);
    Rim rim;
    if (found.walls_m == 0) rim = rim_over(places, flat, smooth.rough, size, control);
    if (rim.up.norm() > 0 && walls_down_to(flat, rim, places)) {
        found.walls_m = rim.level + flat.level;
        rim = {};
    }
    for (std::size_t k = 0; k < closed.size(); ++k) {
        const double over = flat.level - flat.normal.dot(places[k].at);
        closed[k] = flat.chosen[k] || (found.walls_m > 0 && over < found.walls_m) ||
                    (rim.up.norm() > 0 ? rim.up.dot(places[k].at) < rim.level : closed[k]);
    }
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
        found.floor = found.up.dot(Vec3(middle - (rim.up.dot(middle) - rim.level - radius) * rim.up));
    }
    return found;
}

}  // namespace evenspit::scan
