// SPDX-License-Identifier: MIT
#include "units/parallel.h"

#include <atomic>
#include <stdexcept>
#include <vector>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

TEST(ParallelFor, VisitsEachNumberOnce) {
    for (const std::size_t n : {0U, 1U, 999U, 1000U, 1001U}) {
        std::vector<std::atomic<int>> visits(n);
        parallel_for(
            n,
            [&](std::size_t first, std::size_t last) {
                for (std::size_t i = first; i < last; ++i) ++visits[i];
            },
            100);
        for (const auto& count : visits) EXPECT_EQ(count, 1);
    }
}

TEST(ParallelFor, ThrowsWhatAPieceThrew) {
    EXPECT_THROW(parallel_for(
                     1000,
                     [](std::size_t first, std::size_t) {
                         if (first == 500) throw std::runtime_error("piece");
                     },
                     10),
                 std::runtime_error);
}

}  // namespace
}  // namespace evenspit
