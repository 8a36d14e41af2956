// SPDX-License-Identifier: MIT
#include "geometry/moments.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <vector>

#include "units/parallel.h"
#include "units/wide.h"

namespace evenspit {

namespace {

// Ten sums: volume, first moment (3), second moment (6 of the symmetric 3 × 3).
constexpr std::size_t sums = 10;
// Triangles taken at a time, and groups of these that are added up plainly before rounding is carried along:
// the error of so few additions is a few last bits of their sum.
constexpr std::size_t abreast = 4, plain_groups = 8;
// Triangles of a piece that one thread takes; the same for any number of threads.
constexpr std::size_t piece = 8192;
// How far ahead corners are asked for: scans list their triangles in no order that memory likes.
constexpr std::size_t ahead = 24;

using Row = double __attribute__((vector_size(abreast * sizeof(double))));

// A sum that carries its own rounding error along. Same result as Neumaier's; the error of each addition is
// found by Knuth's branch-free two-sum.
class CompensatedSums {
  public:
    void add(std::size_t i, double term) {
        const double total = sum_[i] + term;
        const double shadow = total - sum_[i];
        error_[i] += (sum_[i] - (total - shadow)) + (term - shadow);
        sum_[i] = total;
    }
    void add(const CompensatedSums& other) {
        for (std::size_t i = 0; i < sums; ++i) {
            add(i, other.sum_[i]);
            error_[i] += other.error_[i];
        }
    }
    [[nodiscard]] double value(std::size_t i) const { return sum_[i] + error_[i]; }

  private:
    std::array<double, sums> sum_{}, error_{};
};

// Over the tetrahedron (0, a, b, c) with six times the volume D and s = a + b + c:
// ∫ x = D s / 24, ∫ x xᵀ = D (a aᵀ + b bᵀ + c cᵀ + s sᵀ) / 120.
EVENSPIT_WIDE void add_up(CompensatedSums& sum, const TriangleMesh& mesh, const Vec3& middle,
                          std::size_t first, std::size_t last) {
    const Vec3* const vertices = mesh.vertices.data();
    const Triangle* const triangles = mesh.triangles.data();
    std::array<Row, sums> plain{};
    std::size_t groups = 0;
    const auto carry = [&] {
        for (std::size_t i = 0; i < sums; ++i) {
            sum.add(i, (plain[i][0] + plain[i][2]) + (plain[i][1] + plain[i][3]));
            plain[i] = Row{};
        }
        groups = 0;
    };
    for (std::size_t t = first; t < last; t += abreast) {
        // Corners of the triangles abreast. What is past the end lies in the middle: it has no volume.
        std::array<std::array<const Vec3*, abreast>, 3> at;
        const std::size_t here = std::min(abreast, last - t);
        for (std::size_t n = 0; n < abreast; ++n) {
            if (t + n + ahead < last) {
                for (const std::int32_t v : triangles[t + n + ahead]) __builtin_prefetch(vertices + v);
            }
            for (std::size_t k = 0; k < 3; ++k)
                at[k][n] = n < here ? vertices + triangles[t + n][k] : &middle;
        }
        // Put together in registers: rows that are written number by number cannot be read at once.
        std::array<std::array<Row, 3>, 3> corner;
        for (std::size_t k = 0; k < 3; ++k) {
            for (std::size_t axis = 0; axis < 3; ++axis) {
                const auto i = static_cast<Eigen::Index>(axis);
                corner[k][axis] =
                    Row{(*at[k][0])[i], (*at[k][1])[i], (*at[k][2])[i], (*at[k][3])[i]} - middle[i];
            }
        }
        const auto& [a, b, c] = corner;
        const Row d = a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) +
                      a[2] * (b[0] * c[1] - b[1] * c[0]);
        const Row sx = a[0] + b[0] + c[0], sy = a[1] + b[1] + c[1], sz = a[2] + b[2] + c[2];
        plain[0] += d;
        plain[1] += d * sx;
        plain[2] += d * sy;
        plain[3] += d * sz;
        plain[4] += d * (a[0] * a[0] + b[0] * b[0] + c[0] * c[0] + sx * sx);
        plain[5] += d * (a[1] * a[1] + b[1] * b[1] + c[1] * c[1] + sy * sy);
        plain[6] += d * (a[2] * a[2] + b[2] * b[2] + c[2] * c[2] + sz * sz);
        plain[7] += d * (a[0] * a[1] + b[0] * b[1] + c[0] * c[1] + sx * sy);
        plain[8] += d * (a[0] * a[2] + b[0] * b[2] + c[0] * c[2] + sx * sz);
        plain[9] += d * (a[1] * a[2] + b[1] * b[2] + c[1] * c[2] + sy * sz);
        if (++groups == plain_groups) carry();
    }
    carry();
}

Box3 box_of(const std::vector<Vec3>& vertices) {
    std::vector<Box3> boxes((vertices.size() + piece - 1) / piece);
    parallel_for(
        vertices.size(),
        [&](std::size_t from, std::size_t to) {
            Vec3 low = vertices[from], high = low;
            for (std::size_t v = from + 1; v < to; ++v) {
                low = low.cwiseMin(vertices[v]);
                high = high.cwiseMax(vertices[v]);
            }
            boxes[from / piece] = Box3(low, high);
        },
        piece);
    Box3 whole;
    for (const Box3& box : boxes) whole.extend(box);
    return whole;
}

// Evaluated before it is scaled, so that the result is symmetric to the last bit.
Mat3 outer_square(const Vec3& v) {
    return v * v.transpose();
}

}  // namespace

Moments volume_moments(const TriangleMesh& mesh) {
    if (mesh.triangles.empty()) return {};

    // Coordinates near the middle of the box differ from it exactly, so a mesh far from the origin loses
    // nothing here.
    const Vec3 middle = box_of(mesh.vertices).center();
    std::vector<CompensatedSums> pieces((mesh.triangles.size() + piece - 1) / piece);
    parallel_for(
        mesh.triangles.size(),
        [&](std::size_t first, std::size_t last) {
            add_up(pieces[first / piece], mesh, middle, first, last);
        },
        piece);
    CompensatedSums sum;
    for (const CompensatedSums& part : pieces) sum.add(part);
    std::array<double, sums> total{};
    for (std::size_t i = 0; i < sums; ++i) total[i] = sum.value(i);

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
