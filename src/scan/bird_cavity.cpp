// SPDX-License-Identifier: MIT
#include "scan/bird_cavity.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

#include "body/meat_density.h"
#include "body/scanned_skin.h"
#include "body/tissues.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "units/parallel.h"

namespace evenspit::scan {

namespace {

constexpr double least_hollow = 0.02;  // of the skin's volume; less is none
constexpr double cavity_clearance_m = 0.004;
constexpr double broadest_cavity = 1.3;       // to that of the fitted bird
constexpr double least_cavity_stretch = 0.3;  // of its length

// How far one can go from `start` in a direction, up to `most`, and stay `cavity_clearance_m` inside the
// skin.
double room(const SolidQueries& skin, const Vec3& start, const Vec3& direction, double most) {
    constexpr double close = 2e-4;
    double gone = 0;
    while (gone < most) {
        const Vec3 here = start + gone * direction;
        if (!skin.contains(here)) return 0;
        const double step = skin.closest(here).distance - cavity_clearance_m;
        if (step < close) break;
        gone += step;
    }
    return std::min(gone, most);
}

// The stretch of the item's axis, in shares of a bird's hollow, round which the skin leaves room.
std::optional<std::pair<double, double>> roomy_stretch(const BirdOverlay& bird, const SolidQueries& skin) {
    constexpr int steps = 60;
    const Box3 hollow = bounds(bird.cavity_piece(0, 1, 1));
    std::optional<std::pair<double, double>> longest;
    std::optional<int> began;
    for (int k = 0; k <= steps + 1; ++k) {
        const Vec3 place(hollow.min().x() + hollow.sizes().x() * k / steps, 0, 0);
        const bool roomy =
            k <= steps && skin.contains(place) && skin.closest(place).distance > 2 * cavity_clearance_m;
        if (roomy && !began) began = k;
        if (roomy || !began) continue;
        const std::pair<double, double> stretch(double(*began) / steps, double(k - 1) / steps);
        if (!longest || stretch.second - stretch.first > longest->second - longest->first) longest = stretch;
        began.reset();
    }
    if (longest && longest->second - longest->first < least_cavity_stretch) longest.reset();
    return longest;
}

// The hollow inside a bird, in its item frame: the cavity of the fitted bird, made as large as `volume` and
// kept off the skin. Where the skin comes near it gives way, and grows for it elsewhere.
std::optional<TriangleMesh> cavity_inside(const BirdOverlay& bird, const SolidQueries& skin, double volume) {
    const std::optional<std::pair<double, double>> stretch = roomy_stretch(bird, skin);
    if (!stretch) return std::nullopt;
    const TriangleMesh natural = bird.cavity_piece(stretch->first, stretch->second, 1);
    std::vector<double> most(
        natural.vertices.size());  // how far each corner may move off the axis, in itself
    parallel_for(most.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t v = first; v < last; ++v) {
            const Vec3 on_axis(natural.vertices[v].x(), 0, 0);
            const Vec3 outward = natural.vertices[v] - on_axis;
            const double radius = outward.norm();
            most[v] =
                radius > 0 ? room(skin, on_axis, outward / radius, broadest_cavity * radius) / radius : 1;
        }
    });
    const auto as_broad_as = [&](double across) {
        TriangleMesh mesh = natural;
        for (std::size_t v = 0; v < most.size(); ++v) {
            mesh.vertices[v].tail<2>() *= std::min(across, most[v]);
        }
        return mesh;
    };
    double narrow = 0, broad = broadest_cavity;
    for (int round = 0; round < 30; ++round) {
        const double across = 0.5 * (narrow + broad);
        (volume_moments(as_broad_as(across)).amount < volume ? narrow : broad) = across;
    }
    TriangleMesh mesh = as_broad_as(broad);
    if (!check_solid(mesh).ok()) return std::nullopt;
    return mesh;
}

}  // namespace

InferredCavity infer_cavity(const BirdOverlay& bird, const SolidQueries& skin, double volume_m3,
                            double volume_sigma_m3, std::optional<double> mass_kg) {
    InferredCavity inferred;
    const double usual = volume_moments(bird.cavity_piece(0, 1, 1)).amount;
    double wanted = usual;
    if (mass_kg) {
        const double density = body::natural_density(*bird.species);
        const double hollow = volume_m3 - *mass_kg / density;
        // What a weight wants beyond twice of how birds differ and of what the scan leaves open is no hollow.
        const double off = 2 * std::hypot(volume_sigma_m3, body::hollow_spread * usual);
        const double least = std::min(usual - off, -least_hollow * volume_m3), greatest = usual + off;
        if (hollow > greatest || hollow < least) {
            inferred.notes.emplace_back(note::DensityDoubted{*mass_kg / volume_m3,
                                                             density * (1 - greatest / volume_m3),
                                                             density * (1 - least / volume_m3), true});
        } else if (hollow < least_hollow * volume_m3) {
            inferred.volume_m3 = 0;
            inferred.from_mass = true;
            return inferred;
        } else {
            wanted = hollow;
            inferred.from_mass = true;
        }
    } else {
        inferred.notes.emplace_back(note::CavityAsUsual{});
    }
    inferred.mesh = cavity_inside(bird, skin, wanted);
    if (!inferred.mesh) {
        inferred.notes.emplace_back(note::NoRoomForCavity{});
        return inferred;
    }
    inferred.volume_m3 = wanted;
    const double placed = volume_moments(*inferred.mesh).amount;
    if (placed < 0.9 * wanted) inferred.notes.emplace_back(note::LittleRoomForCavity{placed, wanted});
    return inferred;
}

}  // namespace evenspit::scan
