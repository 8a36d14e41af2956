// SPDX-License-Identifier: MIT
#include "scan/advice.h"

#include <array>
#include <cstddef>

#include "body/meat_density.h"
#include "scan/support.h"

namespace evenspit::scan {

namespace {

// A side is told of when this share of it, and of the whole surface, went unseen.
constexpr double unseen_of_side = 0.4, unseen_of_all = 0.03;
constexpr double wide_spacing_m = 0.005;  // common practice

}  // namespace

std::vector<ScanNote> doubt_density(double density_kg_m3) {
    const body::DensityRange usual = body::flesh_density_range(body::Meat::unknown);
    if (usual.holds(density_kg_m3)) return {};
    return {note::DensityDoubted{density_kg_m3, usual.least_kg_m3, usual.greatest_kg_m3, false}};
}

std::vector<ScanNote> advice_for(const TriangleMesh& mesh, const std::vector<double>& support, bool bird,
                                 const std::vector<ScanPassReport>& passes) {
    // In the order of note::SideUnseen::Side.
    const std::array<Vec3, 6> sides{Vec3::UnitX(),  -Vec3::UnitX(), Vec3::UnitY(),
                                    -Vec3::UnitY(), Vec3::UnitZ(),  -Vec3::UnitZ()};
    std::array<double, 6> all{}, hidden{};
    double area = 0;
    for (const Triangle& t : mesh.triangles) {
        const Vec3& a = mesh.corner(t, 0);
        const Vec3 n = (mesh.corner(t, 1) - a).cross(mesh.corner(t, 2) - a) / 2;
        std::size_t best = 0;
        for (std::size_t s = 1; s < sides.size(); ++s) {
            if (n.dot(sides[s]) > n.dot(sides[best])) best = s;
        }
        all[best] += n.norm();
        area += n.norm();
        if (is_unseen(t, support)) hidden[best] += n.norm();
    }
    std::vector<ScanNote> advice;
    for (std::size_t s = 0; s < sides.size(); ++s) {
        if (hidden[s] < unseen_of_side * all[s] || hidden[s] < unseen_of_all * area) continue;
        advice.emplace_back(note::SideUnseen{note::SideUnseen::Side(s), bird});
    }
    for (const ScanPassReport& pass : passes) {
        if (pass.noise_m > much_noise_m) advice.emplace_back(note::PointsScatter{pass.noise_m});
        if (pass.spacing_m > wide_spacing_m) advice.emplace_back(note::PointsSparse{pass.spacing_m});
    }
    return advice;
}

}  // namespace evenspit::scan
