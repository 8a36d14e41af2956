// SPDX-License-Identifier: MIT
#include "scan/aside.h"

#include <atomic>
#include <memory>
#include <stdexcept>
#include <thread>

#include <gtest/gtest.h>

namespace evenspit::scan {
namespace {

TEST(Aside, DoesTheWorkOnAThreadOfItsOwnAndAsksMeanwhile) {
    std::thread::id worker;
    int looks = 0;
    std::atomic<bool> asked = false;
    do_aside(
        [&] {
            worker = std::this_thread::get_id();
            while (!asked) std::this_thread::yield();
        },
        StopControl([&] { asked = ++looks > 2; }));
    EXPECT_NE(worker, std::this_thread::get_id());
    EXPECT_GT(looks, 2);
}

TEST(Aside, ThrowsWhatTheWorkThrows) {
    EXPECT_THROW(do_aside([] { throw std::logic_error("no"); }, {}), std::logic_error);
}

TEST(Aside, WorkThatIsStoppedEndsByItself) {
    struct Stop {};
    struct Shared {
        std::atomic<bool> go_on = false, ended = false;
    };
    const auto shared = std::make_shared<Shared>();
    const auto work = [shared] {
        while (!shared->go_on) std::this_thread::yield();
        shared->ended = true;
    };
    EXPECT_THROW(do_aside(work, StopControl([] { throw Stop{}; })), Stop);
    EXPECT_FALSE(shared->ended);
    shared->go_on = true;
    await_abandoned();
    EXPECT_TRUE(shared->ended);
}

}  // namespace
}  // namespace evenspit::scan
