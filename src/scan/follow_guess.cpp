// SPDX-License-Identifier: MIT
#include "scan/follow_guess.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <optional>
#include <random>
#include <utility>

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include "body/mesher.h"
#include "geometry/mesh.h"
#include "scan/departure.h"
#include "scan/every_nth.h"
#include "scan/neighbours.h"
#include "scan/stoppable.h"

namespace evenspit::scan {

namespace {

constexpr double speaks_below = 0.6;  // of the body's height: discs above it say little of the underside
constexpr double looks_up = 0.5;      // vertical part of a normal: such discs say little of it either
constexpr std::size_t least_discs = 50;
constexpr double most_discs = 500, most_feet = 100;
constexpr double wild = 0.05;          // of the size: discs further from the guess belong to something else
constexpr double reaches_up = 0.7;     // of the body's height: above it nothing is an underside
constexpr double faces_above = 0.3;    // vertical part of a normal: no underside
constexpr double least_slope = 0.3;    // of a field that is about a distance
constexpr double meshes_in_size = 50;  // the guess's skin is meshed at this part of its size
// A disc takes the place of the guess where it lies this near, in spacings, beside a place, and not much
// further along its normal.
constexpr double takes_beside = 1.3, takes_along = 5;

constexpr double steep = 0.35;  // a place whose normal is flatter than this touches no board
constexpr double most_touching = 800, least_touching = 20;
constexpr int ensemble = 300;
constexpr double most_told = 250;           // places at which the error that is left is told
constexpr double contact_sigma_m = 0.0015;  // flesh gives, boards are not flat; common practice, no source

Vec3 gradient(const SkinGuess& guess, const Vec3& p) {
    constexpr double h = 5e-4;
    Vec3 g;
    for (int k = 0; k < 3; ++k)
        g[k] = (guess.field(p + h * Vec3::Unit(k)) - guess.field(p - h * Vec3::Unit(k))) / (2 * h);
    return g;
}

// The guess's gradient at places.
std::vector<Vec3> gradients(const SkinGuess& guess, const std::vector<Vec3>& at, const StopControl& control) {
    std::vector<Vec3> all(at.size());
    stoppable_for(
        control, at.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t k = first; k < last; ++k) all[k] = gradient(guess, at[k]);
        },
        64);
    return all;
}

double slope_of(const Vec3& gradient) {
    return std::max(least_slope, gradient.norm());
}

// \param slopes the guess's gradient at the places
GuessedPlaces with_changes(const SkinGuess& guess, const std::vector<Vec3>& at,
                           const std::vector<Vec3>& slopes, const StopControl& control) {
    GuessedPlaces places;
    places.at = at;
    places.changes = Eigen::MatrixXd::Zero(Eigen::Index(at.size()), Eigen::Index(guess.usual.size()));
    if (!guess.changes) return places;
    stoppable_for(
        control, at.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t k = first; k < last; ++k) {
                const double slope = slope_of(slopes[k]);
                const std::vector<double> changes = guess.changes(at[k]);
                for (std::size_t c = 0; c < changes.size(); ++c)
                    places.changes(Eigen::Index(k), Eigen::Index(c)) = changes[c] / slope;
            }
        },
        64);
    return places;
}

Departure seen_departure(const SkinGuess& guess, const std::vector<Vec3>& discs,
                         const std::vector<Vec3>& feet, double size, const StopControl& control) {
    std::vector<Vec3> at, slopes;
    std::vector<double> values;
    EveryNthCheck now_and_then(control, 64);
    const auto note = [&](const Vec3& p) {
        now_and_then.step();
        const Vec3 slope = gradient(guess, p);
        const double value = guess.field(p) / slope_of(slope);
        if (!(std::abs(value) < wild * size)) return;
        at.push_back(p);
        slopes.push_back(slope);
        values.push_back(value);
    };
    for (const Vec3& p : every_nth(discs, most_discs)) note(p);
    for (const Vec3& p : every_nth(feet, most_feet)) note(p);
    if (at.empty()) {  // a guess that misses everything
        at.push_back(discs.front());
        slopes.push_back(gradient(guess, discs.front()));
        values.push_back(0);
    }
    const Eigen::Map<const Eigen::VectorXd> usual(guess.usual.data(), Eigen::Index(guess.usual.size()));
    return {with_changes(guess, at, slopes, control),
            Eigen::Map<const Eigen::VectorXd>(values.data(), Eigen::Index(values.size())), usual, size,
            control};
}

// The guess's skin below `lid` and near what was seen, as an open mesh without what looks up.
TriangleMesh lower_skin(const SkinGuess& guess, const Box3& seen, double lid, double size, double edge,
                        const StopControl& control) {
    Box3 box(seen.min() - Vec3::Constant(0.1 * size), seen.max() + Vec3::Constant(0.1 * size));
    box.min().z() = -0.1 * size;
    box.max().z() = lid + 3 * edge;
    const Vec3 middle = box.center(), half = 0.5 * box.sizes() - Vec3::Constant(2 * edge);
    EveryNthCheck now_and_then(control, 1024);
    const auto field = [&](const Vec3& p) {
        now_and_then.step();
        const Vec3 beyond = (p - middle).cwiseAbs() - half;
        const double value = guess.field(p);
        return std::max({std::isfinite(value) ? value : size, p.z() - lid, beyond.x(), beyond.y(),
                         box.min().z() + 2 * edge - p.z()});
    };
    const TriangleMesh whole = body::mesh_field(field, {.box = box, .spacing = edge});
    TriangleMesh mesh;
    std::vector<std::int32_t> number(whole.vertices.size(), -1);
    for (const Triangle& t : whole.triangles) {
        const Vec3& a = whole.corner(t, 0);
        const Vec3 n = (whole.corner(t, 1) - a).cross(whole.corner(t, 2) - a);
        if (n.z() > 0.6 * n.norm()) continue;
        Triangle kept{};
        for (std::size_t k = 0; k < 3; ++k) {
            std::int32_t& v = number[std::size_t(t[k])];
            if (v < 0) {
                v = std::int32_t(mesh.vertices.size());
                mesh.vertices.push_back(whole.vertices[std::size_t(t[k])]);
            }
            kept[k] = v;
        }
        mesh.triangles.push_back(kept);
    }
    return mesh;
}

// Standard normal numbers (G. E. P. Box, M. E. Muller, Ann. Math. Stat. 29:610–611, 1958), the same on every
// machine.
Eigen::MatrixXd normal_numbers(Eigen::Index rows, Eigen::Index columns) {
    std::mt19937_64 dice;
    const auto uniform = [&] { return (double(dice() >> 11) + 0.5) / double(1ULL << 53); };
    Eigen::MatrixXd numbers(rows, columns);
    for (Eigen::Index c = 0; c < columns; ++c) {
        for (Eigen::Index r = 0; r < rows; ++r)
            numbers(r, c) = std::sqrt(-2 * std::log(uniform())) * std::cos(2 * std::numbers::pi * uniform());
    }
    return numbers;
}

// What it tells of departures that the skin's least height is 0, or that of a share of it that is pressed
// flat: a linear update of an ensemble of them.
struct Contact {
    GuessedPlaces touching;   // where the skin may lie on the board
    Eigen::VectorXd weights;  // covariance with the touching places times these: with the least height
    double mean = 0;          // of the least height before it is known, m
    double variance = 1;      // of it, m2
};

// \param slopes height lost for each metre of departure \param sigma_m of the height it lies at
Contact lying_down(GuessedPlaces touching, const Eigen::MatrixXd& covariance, const Eigen::VectorXd& heights,
                   const Eigen::VectorXd& slopes, double sigma_m, double pressed_share,
                   const StopControl& control) {
    Eigen::MatrixXd spread = covariance;
    spread.diagonal().array() += 1e-9;  // m2; covariances of near places are singular to rounding
    control.check();
    const Eigen::LLT<Eigen::MatrixXd> factors(spread);
    control.check();
    Eigen::MatrixXd departures = factors.matrixL() * normal_numbers(heights.size(), ensemble);
    Eigen::VectorXd least(ensemble);
    const auto highest_pressed = Eigen::Index(pressed_share * double(heights.size() - 1));
    for (Eigen::Index s = 0; s < ensemble; ++s) {
        Eigen::VectorXd lies = heights - slopes.cwiseProduct(departures.col(s));
        std::nth_element(lies.begin(), lies.begin() + highest_pressed, lies.end());
        least[s] = lies[highest_pressed];
    }
    const double mean = least.mean();
    departures.colwise() -= departures.rowwise().mean().eval();
    least.array() -= mean;
    const double variance = least.squaredNorm() / ensemble + sigma_m * sigma_m;
    return {std::move(touching), factors.solve(departures * least / ensemble), mean, variance};
}

// The guess's skin, and how far the body's lies outside it.
struct Followed {
    GuessedPlaces skin;
    std::vector<Vec3> outward;  // unit
    Departure departure;
    Eigen::VectorXd mean;  // the likeliest departure, m
};

Followed followed(const SkinGuess& guess, const std::vector<Vec3>& at, const std::vector<Vec3>& lower,
                  const std::vector<Vec3>& feet, double size,
                  const std::function<bool(const Vec3& place)>& covered, const StopControl& control) {
    std::vector<Vec3> outward = gradients(guess, at, control);
    GuessedPlaces skin = with_changes(guess, at, outward, control);
    Departure departure = seen_departure(guess, lower, feet, size, control);
    Eigen::VectorXd mean = departure.mean(skin);
    for (std::size_t k = 0; k < at.size(); ++k) {
        if (!covered(at[k]) || std::abs(mean[Eigen::Index(k)]) < wild * size) continue;
        // What the numbers do holds near the guess only; so far from it the fields alone are the safer guide.
        const SkinGuess fixed{guess.name, guess.field, {}, {}, guess.on_board};
        skin = with_changes(fixed, at, outward, control);
        departure = seen_departure(fixed, lower, feet, size, control);
        mean = departure.mean(skin);
        break;
    }
    for (Vec3& n : outward) n.normalize();
    return {std::move(skin), std::move(outward), std::move(departure), std::move(mean)};
}

// What lying on the board tells. \param bottom the places that may touch it \param moved the skin before
Contact contact_of(const Followed& guessed, const std::vector<Eigen::Index>& bottom,
                   const std::vector<Vec3>& moved, const SkinGuess& guess, double error_m,
                   const StopControl& control) {
    const std::vector<Eigen::Index> chosen = every_nth(bottom, most_touching);
    GuessedPlaces touching;
    touching.changes = guessed.skin.changes(chosen, Eigen::all);
    Eigen::VectorXd heights(Eigen::Index(chosen.size())), slopes(Eigen::Index(chosen.size()));
    for (std::size_t k = 0; k < chosen.size(); ++k) {
        const auto v = std::size_t(chosen[k]);
        touching.at.push_back(guessed.skin.at[v]);
        heights[Eigen::Index(k)] = moved[v].z();
        slopes[Eigen::Index(k)] = -1 / guessed.outward[v].z();
    }
    const Eigen::MatrixXd covariance = guessed.departure.covariance(touching, touching);
    return lying_down(std::move(touching), covariance, heights, slopes,
                      std::hypot(contact_sigma_m, guess.board_sigma_m),
                      guess.pressed_share ? guess.pressed_share(error_m) : 0, control);
}

// What is left unknown of the skin at some of the places that were closed.
GuessedGround ground_of(const Followed& guessed, const std::vector<Eigen::Index>& closed,
                        const std::vector<Vec3>& moved, const std::optional<Contact>& contact,
                        const StopControl& control) {
    const std::vector<Eigen::Index> chosen = every_nth(closed, most_told);
    GuessedGround ground;
    if (chosen.empty()) return ground;
    GuessedPlaces places;
    places.changes = guessed.skin.changes(chosen, Eigen::all);
    for (const Eigen::Index v : chosen) {
        places.at.push_back(guessed.skin.at[std::size_t(v)]);
        ground.at.push_back(moved[std::size_t(v)]);
        ground.outward.push_back(guessed.outward[std::size_t(v)]);
    }
    ground.covariance = guessed.departure.covariance(places, places);
    control.check();
    if (!contact) return ground;
    const Eigen::VectorXd with_least = guessed.departure.carried(places, contact->touching, contact->weights);
    ground.covariance -= with_least * with_least.transpose() / contact->variance;
    return ground;
}

// Discs all over a mesh, no further apart than `spacing`, where the mesh is wanted.
Sheet discs_over(const TriangleMesh& mesh, double spacing,
                 const std::function<bool(const Vec3& place, const Vec3& normal)>& wanted) {
    std::vector<Vec3> normals(mesh.vertices.size(), Vec3::Zero());
    for (const Triangle& t : mesh.triangles) {
        const Vec3& a = mesh.corner(t, 0);
        const Vec3 n = (mesh.corner(t, 1) - a).cross(mesh.corner(t, 2) - a);
        for (const std::int32_t v : t) normals[std::size_t(v)] += n;
    }
    Sheet sheet;
    for (const Triangle& t : mesh.triangles) {
        const auto [a, b, c] = t;
        const Vec3& corner = mesh.corner(t, 0);
        const Vec3 ab = mesh.corner(t, 1) - corner, ac = mesh.corner(t, 2) - corner;
        const double area = ab.cross(ac).norm() / 2;
        const int parts = std::max(1, int(std::ceil(std::sqrt(2 * area) / spacing)));
        for (int i = 0; i < parts; ++i) {
            for (int j = 0; j < 2 * (parts - i) - 1; ++j) {
                // The middles of parts that stand upright and, every other one, on their heads.
                const double third = (j % 2 == 0 ? 1.0 : 2.0) / 3;
                const int pair = j / 2;
                const double u = (i + third) / parts, v = (pair + third) / parts;
                const Vec3 place = corner + u * ab + v * ac;
                const Vec3 normal =
                    ((1 - u - v) * normals[std::size_t(a)].normalized() +
                     u * normals[std::size_t(b)].normalized() + v * normals[std::size_t(c)].normalized())
                        .normalized();
                if (normal.norm() > 0.5 && wanted(place, normal))
                    sheet.invent(place, normal, area / (parts * parts));
            }
        }
    }
    return sheet;
}

}  // namespace

FollowedGuess follow_guess(const SkinGuess& guess, double error_m, const Sheet& seen,
                           const std::vector<Vec3>& feet, double spacing,
                           const std::function<bool(const Vec3& place)>& covered,
                           const StopControl& control) {
    Box3 box;
    for (const Vec3& p : seen.positions) box.extend(p);
    const double size = box.diagonal().norm(), top = box.max().z();
    std::vector<Vec3> lower;
    for (std::size_t s = 0; s < seen.size(); ++s) {
        if (seen.positions[s].z() < speaks_below * top && seen.normals[s].z() < looks_up)
            lower.push_back(seen.positions[s]);
    }
    if (lower.size() < least_discs) return {};
    const double lid = reaches_up * top;
    TriangleMesh mesh =
        lower_skin(guess, box, lid, size, std::max(1.6 * spacing, size / meshes_in_size), control);
    const Followed guessed = followed(guess, mesh.vertices, lower, feet, size, covered, control);

    const NeighbourGrid discs(seen.positions, takes_along * spacing, control);
    EveryNthCheck now_and_then(control, 1024);
    const auto unseen = [&](const Vec3& place, const Vec3& normal) {
        now_and_then.step();
        if (place.z() > lid - spacing || normal.z() > faces_above || !covered(place)) return false;
        bool taken = false;
        discs.for_each_within(place, takes_along * spacing, [&](std::size_t s, double) {
            const Vec3 away = seen.positions[s] - place;
            const double beside = (away - away.dot(normal) * normal).norm();
            taken = taken || (beside < takes_beside * spacing && seen.normals[s].dot(normal) > 0);
        });
        return !taken;
    };

    std::vector<Vec3>& moved = mesh.vertices;
    const auto move = [&](const Eigen::VectorXd& by) {
        for (std::size_t k = 0; k < moved.size(); ++k) moved[k] += by[Eigen::Index(k)] * guessed.outward[k];
    };
    move(guessed.mean);
    std::vector<Eigen::Index> bottom, closed;
    for (std::size_t k = 0; k < moved.size(); ++k) {
        if (!unseen(moved[k], guessed.outward[k])) continue;
        closed.push_back(Eigen::Index(k));
        if (guessed.outward[k].z() < -steep) bottom.push_back(Eigen::Index(k));
    }
    std::optional<Contact> contact;
    if (guess.on_board && double(bottom.size()) > least_touching) {
        contact = contact_of(guessed, bottom, moved, guess, error_m, control);
        move(guessed.departure.carried(guessed.skin, contact->touching,
                                       contact->weights * (-contact->mean / contact->variance)));
    }
    for (Vec3& p : moved) p.z() = std::max(0.0, p.z());
    FollowedGuess followed{discs_over(mesh, spacing, unseen), {}};
    followed.ground = ground_of(guessed, closed, moved, contact, control);
    return followed;
}

}  // namespace evenspit::scan
