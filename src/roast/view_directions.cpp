// SPDX-License-Identifier: MIT
#include "roast/view_directions.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenspit {
namespace {

constexpr std::size_t bits = 32;
using DirectionNumbers = std::array<std::array<std::uint32_t, bits>, EvenPoints::dimensions>;

// A primitive polynomial over two elements, its inner coefficients as bits, and the odd numbers that start
// its recurrence.
struct Polynomial {
    std::size_t degree;
    std::uint32_t inner;
    std::array<std::uint32_t, 3> start;
};

constexpr DirectionNumbers make_direction_numbers() {
    constexpr std::array<Polynomial, EvenPoints::dimensions - 1> polynomials = {
        {{1, 0, {1, 0, 0}}, {2, 1, {1, 3, 0}}, {3, 1, {1, 3, 1}}, {3, 2, {1, 1, 1}}}};
    DirectionNumbers numbers{};
    for (std::size_t i = 0; i < bits; ++i) numbers[0][i] = 1u << (bits - 1 - i);
    for (std::size_t d = 1; d < EvenPoints::dimensions; ++d) {
        const Polynomial& polynomial = polynomials[d - 1];
        const std::size_t degree = polynomial.degree;
        for (std::size_t i = 0; i < degree; ++i) numbers[d][i] = polynomial.start[i] << (bits - 1 - i);
        for (std::size_t i = degree; i < bits; ++i) {
            std::uint32_t value = numbers[d][i - degree] ^ (numbers[d][i - degree] >> degree);
            for (std::size_t k = 1; k < degree; ++k) {
                if ((polynomial.inner >> (degree - 1 - k)) & 1u) value ^= numbers[d][i - k];
            }
            numbers[d][i] = value;
        }
    }
    return numbers;
}

constexpr DirectionNumbers direction_numbers = make_direction_numbers();

// Mixes all bits into all bits: the finaliser of G. L. Steele, D. Lea, C. H. Flood, "Fast splittable
// pseudorandom number generators", OOPSLA 2014.
std::uint64_t mixed(std::uint64_t z) {
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

}  // namespace

EvenPoints::EvenPoints(std::uint64_t stream) {
    for (std::size_t d = 0; d < dimensions; ++d) {
        shift_[d] =
            static_cast<std::uint32_t>(mixed((stream * dimensions + d + 1) * 0x9e3779b97f4a7c15u) >> 32);
    }
}

std::array<double, EvenPoints::dimensions> EvenPoints::point(std::uint32_t number) const {
    std::array<double, dimensions> place{};
    for (std::size_t d = 0; d < dimensions; ++d) {
        std::uint32_t digits = shift_[d];
        for (std::size_t i = 0; (number >> i) != 0 && i < bits; ++i) {
            if ((number >> i) & 1u) digits ^= direction_numbers[d][i];
        }
        place[d] = (digits + 0.5) * 0x1p-32;
    }
    return place;
}

Vec3 cosine_direction(const Vec3& normal, double u, double v) {
    const double radius = std::sqrt(u), angle = 2 * std::numbers::pi * v;
    // A frame on the normal without a branch near the poles: T. Duff et al., "Building an orthonormal basis,
    // revisited", J. Comput. Graph. Tech. 6(1):1–8, 2017.
    const double sign = std::copysign(1.0, normal.z());
    const double a = -1 / (sign + normal.z()), b = normal.x() * normal.y() * a;
    const Vec3 first(1 + sign * normal.x() * normal.x() * a, sign * b, -sign * normal.x());
    const Vec3 second(b, sign + normal.y() * normal.y() * a, -normal.y());
    const double up = std::sqrt(std::max(0.0, 1 - u));
    return radius * std::cos(angle) * first + radius * std::sin(angle) * second + up * normal;
}

}  // namespace evenspit
