// SPDX-License-Identifier: MIT
#include "geometry/weld.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <bit>
#include <cstddef>

#include "units/parallel.h"

namespace evenspit::mesh_readers {

namespace {

using Bits = std::array<std::uint64_t, 3>;

// Adding 0 makes −0 the same as 0.
Bits bits_of(const Vec3& p) {
    return {std::bit_cast<std::uint64_t>(p.x() + 0.0), std::bit_cast<std::uint64_t>(p.y() + 0.0),
            std::bit_cast<std::uint64_t>(p.z() + 0.0)};
}

// Both halves of a product, folded: every bit of either factor moves about half of the result's.
std::uint64_t folded_product(std::uint64_t a, std::uint64_t b) {
    __extension__ using Wide = unsigned __int128;
    const Wide product = Wide(a) * b;
    return std::uint64_t(product) ^ std::uint64_t(product >> 64);
}

std::uint64_t hash_of(const Bits& bits) {
    // The binary places of the golden ratio, of e and of π: odd, and with no pattern.
    const std::uint64_t first = folded_product(bits[0] ^ 0x9e3779b97f4a7c15, bits[1] ^ 0xb7e151628aed2a6b);
    return folded_product(first ^ bits[2], 0x243f6a8885a308d3);
}

// Points by place, open addressing, at most half full. All threads put theirs in at once; which slot a place
// gets may depend on who comes first, which point stands for it does not: it is the first of them.
class Places {
  public:
    explicit Places(const std::vector<Vec3>& points)
        : points_(points), slots_(std::bit_ceil(2 * points.size() + 2), -1) {}

    // Where looking for a place begins; memory is asked for it, so that it is there when its turn comes.
    [[nodiscard]] std::size_t begin(std::size_t p) const {
        const std::size_t slot = hash_of(bits_of(points_[p])) & (slots_.size() - 1);
        __builtin_prefetch(&slots_[slot]);
        return slot;
    }
    // The slot of the point's place.
    std::size_t put(std::size_t p, std::size_t slot) {
        const Bits bits = bits_of(points_[p]);
        const auto own = std::int32_t(p);
        for (;; slot = (slot + 1) & (slots_.size() - 1)) {
            const std::atomic_ref<std::int32_t> at(slots_[slot]);
            std::int32_t there = at.load(std::memory_order_relaxed);
            if (there < 0 && at.compare_exchange_strong(there, own, std::memory_order_relaxed)) return slot;
            if (bits_of(points_[std::size_t(there)]) != bits) continue;
            while (own < there && !at.compare_exchange_weak(there, own, std::memory_order_relaxed)) {
            }
            return slot;
        }
    }
    [[nodiscard]] std::int32_t first_in(std::size_t slot) const { return slots_[slot]; }

  private:
    const std::vector<Vec3>& points_;
    std::vector<std::int32_t> slots_;
};

}  // namespace

std::vector<std::uint32_t> first_at_each_place(const std::vector<Vec3>& points,
                                               const std::vector<Triangle>& triangles) {
    constexpr std::size_t piece = 16384;
    constexpr std::size_t ahead = 16;  // points whose slots are on their way
    std::vector<std::uint32_t> place(points.size(), not_named);
    for (const Triangle& triangle : triangles) {
        for (const std::int32_t corner : triangle) place[std::size_t(corner)] = std::uint32_t(corner);
    }
    Places places(points);
    const auto has_a_place = [&](std::size_t p) { return place[p] != not_named && points[p].allFinite(); };
    parallel_for(
        points.size(),
        [&](std::size_t from, std::size_t to) {
            std::array<std::size_t, ahead> begins{};
            for (std::size_t p = from; p < std::min(from + ahead, to); ++p)
                begins[p % ahead] = places.begin(p);
            for (std::size_t p = from; p < to; ++p) {
                const std::size_t begin = begins[p % ahead];
                if (p + ahead < to) begins[p % ahead] = places.begin(p + ahead);
                if (has_a_place(p)) place[p] = std::uint32_t(places.put(p, begin));
            }
        },
        piece);
    parallel_for(
        points.size(),
        [&](std::size_t from, std::size_t to) {
            for (std::size_t p = from; p < to; ++p) {
                if (has_a_place(p)) place[p] = std::uint32_t(places.first_in(place[p]));
            }
        },
        piece);
    return place;
}

PointJoiner::PointJoiner(std::vector<Vec3>& points, std::size_t expected)
    : points_(points), slots_(std::bit_ceil(2 * expected + 2), -1) {}

std::int32_t PointJoiner::find_or_add(const Vec3& point) {
    const auto number = std::int32_t(points_.size());
    const Bits bits = bits_of(point);
    if (point.allFinite()) {
        for (std::size_t slot = hash_of(bits);; ++slot) {
            std::int32_t& there = slots_[slot & (slots_.size() - 1)];
            if (there < 0) {
                there = number;
                break;
            }
            if (bits_of(points_[std::size_t(there)]) == bits) return there;
        }
    }
    points_.push_back(point);
    if (2 * points_.size() > slots_.size()) grow();
    return number;
}

void PointJoiner::grow() {
    slots_.assign(2 * slots_.size(), -1);
    for (std::size_t p = 0; p < points_.size(); ++p) {
        if (!points_[p].allFinite()) continue;
        std::size_t slot = hash_of(bits_of(points_[p]));
        while (slots_[slot & (slots_.size() - 1)] >= 0) ++slot;
        slots_[slot & (slots_.size() - 1)] = std::int32_t(p);
    }
}

}  // namespace evenspit::mesh_readers
