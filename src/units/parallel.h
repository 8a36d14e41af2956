// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace evenspit {

/// Calls work(first, last) for pieces that together cover [0, count), on as many threads as the machine has.
///
/// The pieces do not depend on the number of threads, so a sum gathered piece by piece is the same on every
/// machine. The first exception thrown by a piece is thrown again here.
template <class Work>
void parallel_for(std::size_t count, const Work& work, std::size_t piece = 1024) {
    const std::size_t pieces = (count + piece - 1) / piece;
    const std::size_t threads =
        std::min<std::size_t>(std::max(1u, std::thread::hardware_concurrency()), pieces);
    const auto run = [&](std::size_t p) { work(p * piece, std::min(count, (p + 1) * piece)); };
    if (threads <= 1) {
        for (std::size_t p = 0; p < pieces; ++p) run(p);
        return;
    }
    std::exception_ptr failure;
    std::mutex guard;
    std::size_t next = 0;
    const auto worker = [&] {
        for (;;) {
            std::size_t p;
            {
                const std::lock_guard lock(guard);
                if (failure || next == pieces) return;
                p = next++;
            }
            try {
                run(p);
            } catch (...) {
                const std::lock_guard lock(guard);
                if (!failure) failure = std::current_exception();
            }
        }
    };
    {
        std::vector<std::jthread> crew;
        for (std::size_t t = 1; t < threads; ++t) crew.emplace_back(worker);
        worker();
    }
    if (failure) std::rethrow_exception(failure);
}

}  // namespace evenspit
