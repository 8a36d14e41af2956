// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

#include "geometry/types.h"

namespace evenspit {

/// How far out an outline in the making (Slabs) reaches at least, between its planes too: what lies within
/// that can be passed over.
///
/// A slab's outline is the least concave curve over the points of its mesh, so that such a curve over some of
/// them never lies above it. Some are enough: each slab is parted into shares, and the outermost vertex seen
/// in each of these counts. Of the first and the last slab shares are the narrower the nearer they lie to the
/// end, as a blunt end's radius grows with the root of the way from it.
class Crests {
  public:
    /// \param planes stations between which slabs lie, rising, m; at least one
    /// \param vertices of the mesh, about
    Crests(std::span<const double> planes, std::size_t vertices);

    /// A vertex in a slab (in the last plane: nothing comes of it), squared radius m².
    void note(std::size_t slab, double x, double square) {
        Crest& crest = crests_[slab];
        if (crest.shares < 2) return;
        Place& place = places_[crest.first + crest.share_of(x)];
        if (square <= place.square) return;
        place.x = x;
        place.square = square;
        crest.grown = true;
    }
    /// What a plane holds has grown: for the slabs on both sides.
    void grow(std::size_t plane) {
        crests_[plane].grown = true;
        if (plane > 0) crests_[plane - 1].grown = true;
    }
    [[nodiscard]] bool has_grown(std::size_t slab) const { return crests_[slab].grown; }

    /// Takes the curve over what was noted of a slab and what its planes hold: squared radii, m², negative
    /// where nothing is known.
    void raise(std::size_t slab, double first_square, double last_square);

    /// How far out the slab's outline reaches at least at a station in it, m, a hair for rounding taken off;
    /// negative where that is not known.
    [[nodiscard]] double level(std::size_t slab, double x) const {
        const Crest& crest = crests_[slab];
        if (!crest.known) return -1;
        const Place& place = places_[crest.first + crest.share_of(x)];
        return place.level + place.rise * (x - place.start);
    }
    /// Whether a vertex lies so far within that the outline is the same without it; no, where the slab has
    /// but one share.
    [[nodiscard]] bool holds(std::size_t slab, double x, double square) const {
        const Crest& crest = crests_[slab];
        if (crest.shares < 2) return false;
        if (square < crest.least) return true;
        const double within = level(slab, x);
        return within > 0 && square < within * within;
    }

  private:
    /// A share: where it begins and ends, the level where it begins and how that changes, and the outermost
    /// vertex noted in it.
    struct Place {
        double start = 0, end = 0;
        double level = -1, rise = 0;
        double x = 0, square = -1;
    };
    enum class Shares { even, narrow_first, narrow_last };
    struct Crest {
        std::size_t first = 0, shares = 0;  // among places
        double from = 0, to = 0;            // stations
        double per_metre = 0;               // even shares
        double least = -1;                  // of the levels, squared
        Shares way = Shares::even;
        bool grown = true, known = false;

        [[nodiscard]] std::size_t share_of(double x) const {
            const auto n = static_cast<double>(shares);
            double along = std::max(0.0, (x - from) * per_metre);
            if (way == Shares::narrow_first) along = std::sqrt(along * n);
            if (way == Shares::narrow_last) along = n - std::sqrt(std::max(0.0, n - along) * n);
            return std::min(shares - 1, static_cast<std::size_t>(along));
        }
        [[nodiscard]] double start_of(std::size_t share) const;
    };

    std::vector<Crest> crests_;  // by slab, and one without shares for the last plane
    std::vector<Place> places_;
    std::vector<Vec2> curve_;  // of the slab that is raised
};

}  // namespace evenspit
