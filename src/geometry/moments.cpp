// SPDX-License-Identifier: MIT
#include "geometry/moments.h"

namespace evenspit {

namespace {

// Twelve lanes: volume, first moment (3), second moment (6 of the symmetric 3 × 3), two idle so that lanes
// pair up.
constexpr int lanes = 12;
using Lanes = Eigen::Array<double, lanes, 1>;

// A sum that carries its own rounding error along. Same result as Neumaier's, but the error of each addition
// is found by Knuth's branch-free two-sum, which the compiler can do two lanes at a time.
class CompensatedSum {
  public:
    void add(const Lanes& term) {
        for (int i = 0; i < lanes; ++i) {
            const double total = sum_[i] + term[i];
            const double shadow = total - sum_[i];
            error_[i] += (sum_[i] - (total - shadow)) + (term[i] - shadow);
            sum_[i] = total;
        }
    }
    [[nodiscard]] Lanes value() const { return sum_ + error_; }

  private:
    Lanes sum_ = Lanes::Zero();
    Lanes error_ = Lanes::Zero();
};

// Evaluated before it is scaled, so that the result is symmetric to the last bit.
Mat3 outer_square(const Vec3& v) {
    return v * v.transpose();
}

}  // namespace

Moments volume_moments(const TriangleMesh& mesh) {
    if (mesh.triangles.empty()) return {};

    // Coordinates near the middle of the box differ from it exactly, so a mesh far from the origin loses
    // nothing here.
    const Vec3 middle = bounds(mesh).center();
    CompensatedSum sum;
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3 a = mesh.corner(triangle, 0) - middle;
        const Vec3 b = mesh.corner(triangle, 1) - middle;
        const Vec3 c = mesh.corner(triangle, 2) - middle;
        // Over the tetrahedron (0, a, b, c) with six times the volume D and s = a + b + c:
        // ∫ x = D s / 24, ∫ x xᵀ = D (a aᵀ + b bᵀ + c cᵀ + s sᵀ) / 120.
        const double d = a.dot(b.cross(c));
        const Vec3 s = a + b + c;
        const auto product = [&](int i, int j) {
            return d * (a[i] * a[j] + b[i] * b[j] + c[i] * c[j] + s[i] * s[j]);
        };
        Lanes term;
        term << d, d * s.x(), d * s.y(), d * s.z(), product(0, 0), product(1, 1), product(2, 2),
            product(0, 1), product(0, 2), product(1, 2), 0, 0;
        sum.add(term);
    }

    const Lanes total = sum.value();
    Moments moments;
    moments.amount = total[0] / 6;
    if (moments.amount == 0) return {};
    const Vec3 offset = Vec3(total[1], total[2], total[3]) / 24 / moments.amount;
    moments.centre = middle + offset;
    moments.second << total[4], total[7], total[8],  //
        total[7], total[5], total[9],                //
        total[8], total[9], total[6];
    moments.second = moments.second / 120 - moments.amount * outer_square(offset);
    return moments;
}

Moments operator+(const Moments& a, const Moments& b) {
    const double amount = a.amount + b.amount;
    if (amount == 0) return {};
    // In terms of the distance between the centres, so that the frame's origin plays no part in the rounding.
    const Vec3 apart = b.centre - a.centre;
    Moments both;
    both.amount = amount;
    both.centre = a.centre + b.amount / amount * apart;
    both.second = a.second + b.second + a.amount * (b.amount / amount) * outer_square(apart);
    return both;
}

Moments operator*(double factor, const Moments& moments) {
    return {factor * moments.amount, moments.centre, factor * moments.second};
}

Moments transformed(const Moments& moments, const Pose& pose) {
    const Mat3 turn = pose.linear();
    return {moments.amount, pose * moments.centre, turn * moments.second * turn.transpose()};
}

}  // namespace evenspit
