// SPDX-License-Identifier: MIT
#include "scan/stoppable.h"

#include <atomic>
#include <numeric>
#include <random>
#include <thread>

#include <gtest/gtest.h>

namespace evenspit::scan {
namespace {

struct Stop {};

TEST(StoppableFor, EndsOnAllThreadsOnceStopped) {
    std::atomic<int> pieces{0};
    const StopControl control([&] {
        if (pieces > 5) throw Stop{};
    });
    const auto work = [&](std::size_t, std::size_t) {
        ++pieces;
        std::this_thread::yield();
    };
    EXPECT_THROW(stoppable_for(control, 1000000, work, 1), Stop);
    EXPECT_LT(pieces, 1000000);
}

TEST(StoppableSort, SortsAsStdSortDoes) {
    std::mt19937_64 dice(1);
    for (const std::size_t n : {0U, 1U, 1000U, 131072U, 131073U, 400001U, 1000000U}) {
        std::vector<std::pair<std::uint32_t, std::uint32_t>> values(n);
        for (std::size_t i = 0; i < n; ++i) values[i] = {std::uint32_t(dice() % 5000), std::uint32_t(i)};
        auto wanted = values;
        std::sort(wanted.begin(), wanted.end());
        stoppable_sort({}, values);
        EXPECT_EQ(values, wanted) << n;
    }
}

TEST(StoppableSort, MayBeStoppedAtAnyLook) {
    std::vector<int> values(1000000);
    std::iota(values.rbegin(), values.rend(), 0);
    for (int stop_at = 1; stop_at <= 14; ++stop_at) {
        int looks = 0;
        const StopControl control([&] {
            if (++looks == stop_at) throw Stop{};
        });
        std::vector<int> some = values;
        EXPECT_THROW(stoppable_sort(control, some), Stop) << stop_at;
    }
}

}  // namespace
}  // namespace evenspit::scan
