// SPDX-License-Identifier: MIT
#pragma once

#include <span>
#include <vector>

#include "load/assembly.h"
#include "roast/view_patches.h"

namespace evenspit {

/// How finely the skin's views are sampled.
///
/// With the defaults the heat that a load takes up in all is within 0.5 %, and that of a single triangle
/// within 7 % (root mean square; 4 % of it at 15 mm and 128 rays, which takes four times as long), for a
/// fire that shines 30 times as strongly as the walls (view_bench).
struct ViewOptions {
    double patch_m = 0.025;   ///< greatest length of a patch
    std::uint32_t rays = 64;  ///< from each patch; a power of two is best
    std::size_t angles = 24;  ///< steps of a turn that are told apart, ≥ 1
};

/// What each patch of skin sees at each step of a turn: shares that add to 1 over items, the cooker's
/// surfaces, and what is open.
///
/// Item on item (and on itself) never changes, as all turn as one with the rod; only what gets past them
/// falls on the cooker. Forks, the rod and counterweights are thin and do not shade. Items are as the load
/// file has them: Item::off does not count.
struct SkinViews {
    SkinPatches skin;
    std::size_t surfaces = 0;     ///< of the cooker
    std::size_t angles = 0;       ///< step k is the turn angles from k to k + 1 of this share of a turn
    std::vector<double> items;    ///< [patch][item]
    std::vector<double> outside;  ///< [patch][angle][surface, then open]
    std::size_t item_count = 0;
};

/// Casts rays from every patch, weighted with the cosine, at points spread evenly over its triangles.
///
/// The same bits on any number of threads. A patch without area sees only its own item.
///
/// \throws std::invalid_argument if options are out of range
SkinViews skin_views(const Assembly& assembly, const ViewOptions& options = {});

/// What each patch sees on average over a turn; shares that add to 1.
struct TurnViews {
    std::size_t surfaces = 0;
    std::size_t item_count = 0;
    std::vector<double> share;  ///< [patch][surface, then open, then item]

    [[nodiscard]] std::size_t targets() const { return surfaces + 1 + item_count; }
    /// What a patch sees, one for each target.
    [[nodiscard]] std::span<const double> of(std::size_t patch) const {
        return std::span(share).subspan(patch * targets(), targets());
    }
    [[nodiscard]] double surface(std::size_t patch, std::size_t s) const { return of(patch)[s]; }
    [[nodiscard]] double open(std::size_t patch) const { return of(patch)[surfaces]; }
    [[nodiscard]] double item(std::size_t patch, std::size_t i) const { return of(patch)[surfaces + 1 + i]; }
};

/// Averages over a turn.
///
/// \param time_share how much of a turn's time the load spends at each of SkinViews::angles steps; need not
/// add to 1; empty: as much at each \throws std::invalid_argument if there are more or fewer, one is
/// negative or not finite, or all are 0
TurnViews mean_over_turn(const SkinViews& views, std::span<const double> time_share = {});

/// An item's mean view of every target, weighted with area; cavity walls left out.
std::vector<double> item_view(const SkinPatches& skin, const TurnViews& views, std::size_t item);

}  // namespace evenspit
