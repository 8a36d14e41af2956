// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>

namespace evenspit {

/// Calls run(work, p) for each p < pieces, on as many threads as the machine has.
void run_pieces(std::size_t pieces, void (*run)(const void* work, std::size_t p), const void* work);

/// Calls work(first, last) for pieces that together cover [0, count), on as many threads as the machine has.
///
/// The pieces do not depend on the number of threads, so a sum gathered piece by piece is the same on every
/// machine. The first exception thrown by a piece is thrown again here.
template <class Work>
void parallel_for(std::size_t count, const Work& work, std::size_t piece = 1024) {
    const std::size_t pieces = (count + piece - 1) / piece;
    const auto run = [&](std::size_t p) { work(p * piece, std::min(count, (p + 1) * piece)); };
    if (pieces == 1) {
        run(0);
        return;
    }
    run_pieces(
        pieces, [](const void* it, std::size_t p) { (*static_cast<const decltype(run)*>(it))(p); }, &run);
}

}  // namespace evenspit
