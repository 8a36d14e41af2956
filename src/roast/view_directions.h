// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>

#include "geometry/types.h"

namespace evenspit {

/// Points that fill a cube of five dimensions evenly, the same on every machine.
///
/// A Sobol sequence: I. M. Sobol, USSR Comput. Math. Math. Phys. 7(4):86–112, 1967; direction numbers of S.
/// Joe, F. Y. Kuo, SIAM J. Sci. Comput. 30(5):2635–2654, 2008 (from memory). Each stream is shifted by digits
/// of its own (T. Kollig, A. Keller, Comput. Graph. Forum 21(3):557–563, 2002), which keeps a stream as even
/// as it was and makes the errors of many streams cancel.
class EvenPoints {
  public:
    static constexpr std::size_t dimensions = 5;

    explicit EvenPoints(std::uint64_t stream);

    /// The point of that number, each coordinate in (0, 1). Whole powers of two of them from 0 are evenest.
    [[nodiscard]] std::array<double, dimensions> point(std::uint32_t number) const;

  private:
    std::array<std::uint32_t, dimensions> shift_{};
};

/// A direction of the half space about `normal`, weighted with its cosine, for a point of the unit square.
///
/// Malley's method: a point of the unit disc raised onto the half sphere. \param normal unit length
Vec3 cosine_direction(const Vec3& normal, double u, double v);

}  // namespace evenspit
