// SPDX-License-Identifier: MIT
#include "body/solid_body.h"

#include <array>
#include <cmath>
#include <utility>

#include <Eigen/Eigenvalues>

#include "body/composition.h"
#include "body/refuse.h"
#include "geometry/solid_check.h"

namespace evenspit::body {
namespace {

// Without a weight or a density the flesh is taken for whole-turkey meat and skin (USDA SR26, 05165) at 20 °C
// by Choi & Okos: 1052 kg/m3. Lean muscle is 1 % denser, duck and goose with their fat 5 % lighter.
double default_density() {
    return composition_density(raw_food("05165").composition, 20);
}

// ∫ s³ dV over the solid, s the coordinate along `axis` from `centre`; per tetrahedron with its apex at the
// centre V/20 · h₃(a, b, c), h₃ the complete homogeneous symmetric polynomial (∫ λ^α dV = α!·3!/(3+|α|)! · V
// over a simplex).
double third_moment(const TriangleMesh& mesh, const Vec3& centre, const Vec3& axis) {
    double sum = 0;
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3 p = mesh.corner(triangle, 0) - centre;
        const Vec3 q = mesh.corner(triangle, 1) - centre;
        const Vec3 r = mesh.corner(triangle, 2) - centre;
        const double a = axis.dot(p), b = axis.dot(q), c = axis.dot(r);
        const double h3 = (a + b + c) * (a * a + b * b + c * c) + a * b * c;
        sum += p.dot(q.cross(r)) / 120.0 * h3;
    }
    return sum;
}

}  // namespace

// The rigid move into the body's own frame: centre of volume to the origin, least moment about x, greatest
// about z.
Pose principal_pose(const TriangleMesh& mesh) {
    const Moments volume = volume_moments(mesh);
    // Eigenvalues of the second moment come in growing order; the greatest spread is the axis of least
    // inertia.
    const Eigen::SelfAdjointEigenSolver<Mat3> solver(volume.second);
    std::array<Vec3, 3> axes;
    std::array<double, 3> skew;
    for (std::size_t k = 0; k < 3; ++k) {
        axes[k] = solver.eigenvectors().col(static_cast<Eigen::Index>(2 - k));
        const double spread =
            std::sqrt(solver.eigenvalues()[static_cast<Eigen::Index>(2 - k)] / volume.amount);
        // The longer tail, so the thin end, lies where the third moment is positive.
        skew[k] = third_moment(mesh, volume.centre, axes[k]) / (volume.amount * spread * spread * spread);
    }
    // Two signs are free, the third makes the frame right-handed. A body that is even along an axis leaves
    // that sign to the next one; one that is even along all keeps as near the file's axes as it can.
    constexpr double even_enough = 1e-6;
    const auto settle = [&](std::size_t k) {
        const bool flip = std::abs(skew[k]) > even_enough ? skew[k] < 0 : [&] {
            Eigen::Index largest = 0;
            axes[k].cwiseAbs().maxCoeff(&largest);
            return axes[k][largest] < 0;
        }();
        if (flip) axes[k] = -axes[k];
    };
    const auto uneven = [&](std::size_t k) { return std::abs(skew[k]) > even_enough; };
    const std::size_t first = uneven(0) || !(uneven(1) && uneven(2)) ? 0 : 2;
    const std::size_t second = first == 2 ? 1 : (uneven(2) || !uneven(1) ? 2 : 1);
    settle(first);
    settle(second);
    const std::size_t last = 3 - first - second;
    axes[last] = axes[(last + 1) % 3].cross(axes[(last + 2) % 3]);

    Mat3 rotation;
    for (std::size_t k = 0; k < 3; ++k) rotation.row(static_cast<Eigen::Index>(k)) = axes[k].transpose();
    Pose pose = Pose::Identity();
    pose.linear() = rotation;
    pose.translation() = -rotation * volume.centre;
    return pose;
}

Body solid_body(TriangleMesh mesh, const SolidBodyOptions& options) {
    if (const SolidReport report = check_solid(mesh); !report.ok()) {
        refuse("", report.found, "a closed surface that bounds a solid", report.mend);
    }
    if (options.mass_kg && !(*options.mass_kg > 0)) {
        refuse("mass", "a mass that is not positive", "the weight on the scale", "");
    }
    if (options.density_kg_m3 && !(*options.density_kg_m3 > 0)) {
        refuse("density", "a density that is not positive", "a density", "");
    }
    Body body;
    body.name = options.name;
    body.centre_covariance_m2 = options.centre_covariance_m2;
    body.scale_sigma = options.scale_sigma;
    if (options.align_to_principal_axes) {
        const Pose pose = principal_pose(mesh);
        mesh = transformed(mesh, pose);
        if (body.centre_covariance_m2)
            *body.centre_covariance_m2 = evenspit::turned(*body.centre_covariance_m2, pose);
    }
    body.parts.push_back({.name = "flesh",
                          .kind = PartKind::flesh,
                          .mesh = std::move(mesh),
                          .density_kg_m3 = options.density_kg_m3.value_or(default_density())});
    body.remarks.emplace_back("one density throughout: bones and hollows inside the scan are not known");
    if (options.mass_kg) return with_scale_weight(std::move(body), *options.mass_kg);
    if (!options.density_kg_m3) {
        body.remarks.emplace_back(
            "no weight given: mass from the volume and the density of turkey meat with skin, 1052 kg/m3");
    }
    return body;
}

}  // namespace evenspit::body
