// SPDX-License-Identifier: MIT
#include "geometry/weld.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>

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

std::uint64_t hash_of(const PointJoiner::Place& place) {
    const auto bits = [&](std::size_t k) {
        return std::uint64_t(std::bit_cast<std::uint32_t>(place[k] + 0.F));
    };
    return folded_product((bits(0) << 32 | bits(1)) ^ 0x9e3779b97f4a7c15, bits(2) ^ 0xb7e151628aed2a6b);
}

// Points are dealt out by hash to tables that a core keeps in its own memory: one table for all would wait
// for distant memory at each point. Several points a table, for what is small.
constexpr std::size_t table_points = 2048;
constexpr std::size_t piece = 16384;

// A point that was dealt out, with other bits of its hash than those that chose its table: where these
// differ, places do.
struct Dealt {
    std::uint32_t mark = 0;
    std::uint32_t point = 0;
};

// What goes to each table, in the order of points, whichever thread dealt it.
class Deal {
  public:
    template <class Wanted>
    Deal(const std::vector<Vec3>& points, const Wanted& wanted)
        : tables_(std::bit_ceil(points.size() / table_points + 1)),
          shift_(64 - std::countr_zero(tables_ * 2)) {
        const std::size_t pieces = (points.size() + piece - 1) / piece;
        // How many of each piece go to each table; then where they go.
        std::vector<std::size_t> places(pieces * tables_);
        std::vector<std::uint64_t> hashes(points.size());
        each_piece(points, wanted, [&](std::size_t from, std::size_t p) {
            hashes[p] = hash_of(bits_of(points[p]));
            ++places[from / piece * tables_ + table_of(hashes[p])];
        });
        std::size_t sum = 0;
        for (std::size_t table = 0; table < tables_; ++table) {
            begins_.push_back(sum);
            for (std::size_t n = 0; n < pieces; ++n) {
                std::size_t& place = places[n * tables_ + table];
                sum += std::exchange(place, sum);
            }
        }
        begins_.push_back(sum);
        dealt_.resize(sum);
        each_piece(points, wanted, [&](std::size_t from, std::size_t p) {
            dealt_[places[from / piece * tables_ + table_of(hashes[p])]++] = {std::uint32_t(hashes[p]),
                                                                              std::uint32_t(p)};
        });
    }

    [[nodiscard]] std::size_t tables() const { return tables_; }
    [[nodiscard]] std::span<const Dealt> table(std::size_t n) const {
        return std::span(dealt_).subspan(begins_[n], begins_[n + 1] - begins_[n]);
    }

  private:
    [[nodiscard]] std::size_t table_of(std::uint64_t hash) const { return (hash >> shift_) & (tables_ - 1); }

    template <class Wanted, class Take>
    static void each_piece(const std::vector<Vec3>& points, const Wanted& wanted, const Take& take) {
        parallel_for(
            points.size(),
            [&](std::size_t from, std::size_t to) {
                for (std::size_t p = from; p < to; ++p) {
                    if (wanted(p)) take(from, p);
                }
            },
            piece);
    }

    std::size_t tables_;  // a power of two
    int shift_;           // the topmost bits of a hash choose, the lowest are the mark
    std::vector<std::size_t> begins_;
    std::vector<Dealt> dealt_;
};

}  // namespace

std::vector<std::uint32_t> first_at_each_place(const std::vector<Vec3>& points,
                                               const std::vector<Triangle>& triangles) {
    std::vector<std::uint32_t> place(points.size(), not_named);
    for (const Triangle& triangle : triangles) {
        for (const std::int32_t corner : triangle) place[std::size_t(corner)] = std::uint32_t(corner);
    }
    const Deal deal(points, [&](std::size_t p) { return place[p] != not_named && points[p].allFinite(); });
    parallel_for(
        deal.tables(),
        [&](std::size_t n, std::size_t) {
            const std::span<const Dealt> dealt = deal.table(n);
            // Open addressing, at most half full.
            std::vector<Dealt> slots(std::bit_ceil(2 * dealt.size() + 2), Dealt{0, not_named});
            for (const Dealt& own : dealt) {
                std::size_t slot = own.mark & (slots.size() - 1);
                for (; slots[slot].point != not_named; slot = (slot + 1) & (slots.size() - 1)) {
                    const Dealt& there = slots[slot];
                    if (there.mark == own.mark && bits_of(points[there.point]) == bits_of(points[own.point]))
                        break;
                }
                if (slots[slot].point == not_named) slots[slot] = own;
                place[own.point] = slots[slot].point;
            }
        },
        1);
    return place;
}

PointJoiner::PointJoiner(std::vector<Vec3>& points, std::size_t expected)
    : points_(points), slots_(std::bit_ceil(2 * expected + 2)) {}

std::size_t PointJoiner::look_ahead(const Place& place) const {
    const std::size_t hash = hash_of(place);
    __builtin_prefetch(&slots_[hash & (slots_.size() - 1)], 1);
    return hash;
}

std::int32_t PointJoiner::find_or_add(const Place& place, std::size_t looked_up) {
    const auto number = std::int32_t(points_.size());
    if (std::isfinite(place[0]) && std::isfinite(place[1]) && std::isfinite(place[2])) {
        for (std::size_t slot = looked_up;; ++slot) {
            Slot& there = slots_[slot & (slots_.size() - 1)];
            if (there.number < 0) {
                there = {place, number};
                break;
            }
            if (there.place == place) return there.number;
        }
    }
    points_.emplace_back(place[0], place[1], place[2]);
    if (2 * points_.size() > slots_.size()) grow();
    return number;
}

void PointJoiner::grow() {
    std::vector<Slot> old(2 * slots_.size());
    std::swap(old, slots_);
    for (const Slot& own : old) {
        if (own.number < 0) continue;
        std::size_t slot = hash_of(own.place);
        while (slots_[slot & (slots_.size() - 1)].number >= 0) ++slot;
        slots_[slot & (slots_.size() - 1)] = own;
    }
}

}  // namespace evenspit::mesh_readers
