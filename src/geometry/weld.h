// SPDX-License-Identifier: MIT
// Inside of read_mesh(): which points of a file are one. Not for other rooms.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit::mesh_readers {

/// A point that no triangle names.
inline constexpr std::uint32_t not_named = 0xffffffff;

/// For each point that a triangle names the number of the first that lies at exactly the same place, its own
/// where it is the first; −0 is 0. A point that is not finite lies nowhere: it is like no other.
std::vector<std::uint32_t> first_at_each_place(const std::vector<Vec3>& points,
                                               const std::vector<Triangle>& triangles);

/// Points put together as they are read: for files that name each corner of a triangle anew, whose points
/// would take six times the memory.
class PointJoiner {
  public:
    using Place = std::array<float, 3>;

    /// \param expected how many places there may be; more may come
    PointJoiner(std::vector<Vec3>& points, std::size_t expected);

    /// What a place is looked up by; what is asked for some places ahead comes from memory meanwhile.
    [[nodiscard]] std::size_t look_ahead(const Place& place) const;

    /// The number of the point at exactly that place among the points, where it is added if it is new; −0 is
    /// 0. A point that is not finite is always new.
    ///
    /// \param looked_up of that place, by look_ahead()
    std::int32_t find_or_add(const Place& place, std::size_t looked_up);

  private:
    /// A place and its point's number, so that both are found in one look; −1 for none.
    struct alignas(16) Slot {
        Place place{};
        std::int32_t number = -1;
    };
    void grow();

    std::vector<Vec3>& points_;
    std::vector<Slot> slots_;  // at most half of them are taken
};

}  // namespace evenspit::mesh_readers
