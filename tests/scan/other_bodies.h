// SPDX-License-Identifier: MIT
// Bodies that share no formula with the parametric ones nor with what the scan room guesses, and what
// scanning apps do to a scan: for looking how far the told errors hold where nothing was built to fit.
#pragma once

#include <cstdint>

#include "scan_cases.h"

namespace evenspit::test {

/// A bird put together of lumps of flesh, lopsided, its back pressed flat by its own weight.
TrueBody other_bird(std::uint64_t seed);

/// Likewise, but soft and untied: spread flat on the board, legs and wings fallen out to the sides.
TrueBody flabby_bird(std::uint64_t seed);

/// A bent roll, a leg, a block or a saddle, by turns.
TrueBody other_roast(std::uint64_t seed);

/// A curved slab of ribs, hollow beneath.
TrueBody rib_roast(std::uint64_t seed);

/// A fish on its side: flat, long, with a tail.
TrueBody fish(std::uint64_t seed);

/// How a scanning app closes what no camera saw.
enum class AppClosing : std::uint8_t {
    bulge,  ///< the surface goes on beneath as a reconstruction likes it
    floor,  ///< straight down, and flat
    cap     ///< one flat patch of large triangles
};

/// A scan as an app hands it out: without the board, closed, as one mesh in the body's frame; rough where the
/// cameras saw the skin, from a rim upward (+z).
TriangleMesh closed_by_app(const TriangleMesh& body, AppClosing how, std::uint64_t seed);

/// The same body, turned over and sunk by its own weight: lower by a share, wider by as much as keeps the
/// volume. \param lies as in ScanOptions
TriangleMesh sagged(const TriangleMesh& body, const Mat3& lies, double share);

}  // namespace evenspit::test
