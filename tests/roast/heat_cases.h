// SPDX-License-Identifier: MIT
// Bodies of one matter, what they meet, and series solutions for them.
#pragma once

#include <cmath>
#include <functional>
#include <memory>
#include <numbers>
#include <utility>
#include <vector>

#include "body/body.h"
#include "roast/conduction.h"
#include "roast/heat_grid.h"
#include "support/meshes.h"

namespace evenspit::test {

inline std::shared_ptr<const body::PreparedBody> lump(TriangleMesh mesh) {
    body::Body body;
    body.name = "lump";
    body.parts.push_back({.name = "flesh", .mesh = std::move(mesh), .density_kg_m3 = 1050});
    return body::prepare(std::move(body));
}

inline TriangleMesh ball_mesh(double radius, int n = 200, int m = 150) {
    return ellipsoid_mesh(radius, radius, radius, Vec3(0.0011, -0.0007, 0.0004), n, m);
}

/// A cylinder about the x axis, its ends flat.
inline TriangleMesh cylinder_mesh(double radius, double length, int n = 240) {
    return grid_mesh(n, 3, [&](double u, double v) {
        if (v == 0 || v == 1) return Vec3((v - 0.5) * length, 0, 0);
        return Vec3((v < 0.5 ? -0.5 : 0.5) * length, radius * std::cos(u), radius * std::sin(u));
    });
}

inline std::shared_ptr<const HeatGrid> grid_of(const body::PreparedBody& body, double spacing_m) {
    return std::make_shared<const HeatGrid>(heat_grid(body, {.spacing_m = spacing_m}));
}

/// The same convection on all triangles of the skin whose middle and outward normal a test picks, and none on
/// others.
inline std::vector<SurfaceExposure> convection(
    const TriangleMesh& mesh, double air_k, double coefficient_w_m2k,
    const std::function<bool(const Vec3& middle, const Vec3& normal)>& picked = {}) {
    std::vector<SurfaceExposure> all;
    for (const Triangle& t : mesh.triangles) {
        const Vec3 a = mesh.corner(t, 0), b = mesh.corner(t, 1), c = mesh.corner(t, 2);
        const bool meets = !picked || picked((a + b + c) / 3, (b - a).cross(c - a).normalized());
        all.push_back({.air_k = air_k, .convection_w_m2k = meets ? coefficient_w_m2k : 0, .emissivity = 0});
    }
    return all;
}

/// (T − T_air)/(T_start − T_air) of a slab, a long cylinder or a ball that convection heats: Carslaw and
/// Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), §§3.11, 7.7, 9.4.
class SeriesSolution {
  public:
    enum class Shape { slab, cylinder, ball };

    SeriesSolution(Shape shape, double biot) : shape_(shape) {
        constexpr int terms = 60;
        for (int n = 0; n < terms; ++n) roots_.push_back(root(n, biot));
    }

    /// \param along distance from the middle over the half thickness or radius
    [[nodiscard]] double operator()(double along, double fourier) const {
        double sum = 0;
        for (const double z : roots_) sum += weight(z) * std::exp(-z * z * fourier) * form(z * along);
        return sum;
    }
    [[nodiscard]] double first_root() const { return roots_.front(); }
    [[nodiscard]] double first_weight() const { return weight(roots_.front()); }

  private:
    // The nth root of ζ tan ζ = Bi, ζ J₁ = Bi J₀, 1 − ζ cot ζ = Bi, each rising from −∞ to ∞ between poles.
    [[nodiscard]] double root(int n, double biot) const {
        const double pi = std::numbers::pi;
        double low = shape_ == Shape::slab ? n * pi : shape_ == Shape::cylinder ? bessel_one_zero(n) : n * pi;
        double high = shape_ == Shape::slab       ? (n + 0.5) * pi
                      : shape_ == Shape::cylinder ? bessel_zero_zero(n)
                                                  : (n + 1) * pi;
        for (int i = 0; i < 200; ++i) {
            const double z = 0.5 * (low + high);
            (excess(z, biot) * sign_between(n) < 0 ? low : high) = z;
        }
        return 0.5 * (low + high);
    }
    // Free of poles; alternates in sign from root to root.
    [[nodiscard]] double excess(double z, double biot) const {
        switch (shape_) {
            case Shape::slab:
                return z * std::sin(z) - biot * std::cos(z);
            case Shape::cylinder:
                return z * std::cyl_bessel_j(1, z) - biot * std::cyl_bessel_j(0, z);
            default:
                return (1 - biot) * std::sin(z) - z * std::cos(z);
        }
    }
    static double sign_between(int n) { return n % 2 == 0 ? 1 : -1; }
    static double zero_between(double order, double low, double high) {
        const double at_low = std::cyl_bessel_j(order, low);
        for (int i = 0; i < 200; ++i) {
            const double z = 0.5 * (low + high);
            (std::cyl_bessel_j(order, z) * at_low > 0 ? low : high) = z;
        }
        return 0.5 * (low + high);
    }
    // Zeros of J₁ (with 0 first) and of J₀ lie near (n + ¼)π and (n + ¾)π.
    static double bessel_one_zero(int n) {
        return n == 0 ? 0.0 : zero_between(1, (n - 0.1) * std::numbers::pi, (n + 0.5) * std::numbers::pi);
    }
    static double bessel_zero_zero(int n) {
        return zero_between(0, (n + 0.4) * std::numbers::pi, (n + 0.95) * std::numbers::pi);
    }
    [[nodiscard]] double weight(double z) const {
        switch (shape_) {
            case Shape::slab:
                return 4 * std::sin(z) / (2 * z + std::sin(2 * z));
            case Shape::cylinder: {
                const double j0 = std::cyl_bessel_j(0, z), j1 = std::cyl_bessel_j(1, z);
                return 2 / z * j1 / (j0 * j0 + j1 * j1);
            }
            default:
                return 4 * (std::sin(z) - z * std::cos(z)) / (2 * z - std::sin(2 * z));
        }
    }
    [[nodiscard]] double form(double x) const {
        switch (shape_) {
            case Shape::slab:
                return std::cos(x);
            case Shape::cylinder:
                return std::cyl_bessel_j(0, x);
            default:
                return x == 0 ? 1 : std::sin(x) / x;
        }
    }

    Shape shape_;
    std::vector<double> roots_;
};

}  // namespace evenspit::test
