// SPDX-License-Identifier: MIT
#include "units/stop_control.h"

#include <stdexcept>
#include <thread>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

struct Stop {};

TEST(StopControl, WithoutAnybodyTheWorkGoesOn) {
    EXPECT_NO_THROW(StopControl{}.check());
    EXPECT_NO_THROW(StopControl(std::function<void()>{}).check());
}

TEST(StopControl, AsksEachTimeAndThrowsWhatIsThrown) {
    int asked = 0;
    const StopControl control([&] {
        if (++asked == 3) throw Stop{};
    });
    control.check();
    control.check();
    EXPECT_THROW(control.check(), Stop);
    EXPECT_THROW(control.check(), Stop) << "once stopped, for good";
    EXPECT_EQ(asked, 3);
}

TEST(StopControl, AsksOnItsOwnThreadAndStopsOthersToo) {
    int asked = 0;
    const StopControl control([&] {
        ++asked;
        throw Stop{};
    });
    bool thrown = false;
    const auto check_elsewhere = [&] {
        std::thread([&] {
            try {
                control.check();
            } catch (const Stop&) {
                thrown = true;
            }
        }).join();
    };
    check_elsewhere();
    EXPECT_FALSE(thrown);
    EXPECT_EQ(asked, 0);
    EXPECT_THROW(control.check(), Stop);
    check_elsewhere();
    EXPECT_TRUE(thrown);
    EXPECT_EQ(asked, 1);
}

TEST(EveryNthCheck, ChecksEveryNth) {
    int asked = 0;
    const StopControl control([&] { ++asked; });
    EveryNthCheck now_and_then(control, 4);
    for (int k = 0; k < 11; ++k) now_and_then.step();
    EXPECT_EQ(asked, 2);
}

}  // namespace
}  // namespace evenspit
