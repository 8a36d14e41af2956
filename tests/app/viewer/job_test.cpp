// SPDX-License-Identifier: MIT
#include "app/viewer/job.h"

#include <algorithm>
#include <atomic>
#include <future>
#include <stdexcept>

#include <gtest/gtest.h>

namespace evenspit::viewer {
namespace {

TEST(Job, GivesItsResultOnce) {
    Job<int> job;
    EXPECT_FALSE(job.wait());
    job.start([](JobControl& control) {
        control.step(0.5, "half");
        return 7;
    });
    EXPECT_TRUE(job.running());
    EXPECT_EQ(job.wait(), 7);
    EXPECT_FALSE(job.running());
    EXPECT_FALSE(job.take());
}

TEST(Job, TellsHowFarItIsAndWakes) {
    std::promise<void> told, go_on, woken;
    Job<int> job;
    job.start(
        [&](JobControl& control) {
            control.step(0.25, "stirring");
            told.set_value();
            go_on.get_future().wait();
            return 1;
        },
        [&] { woken.set_value(); });
    told.get_future().wait();
    EXPECT_EQ(job.progress(), (std::pair<double, std::string>(0.25, "stirring")));
    EXPECT_FALSE(job.take());
    go_on.set_value();
    woken.get_future().wait();
    EXPECT_EQ(job.take(), 1);
}

TEST(Job, CancelledTwiceIsCancelledOnce) {
    std::promise<void> started;
    std::promise<void> go_on;
    std::promise<bool> stopped;
    Job<int> job;
    job.start([&](JobControl& control) {
        started.set_value();
        go_on.get_future().wait();
        try {
            control.step(1, "never told");
        } catch (...) {
            stopped.set_value(true);
            throw;
        }
        stopped.set_value(false);
        return 1;
    });
    started.get_future().wait();
    job.cancel();
    job.cancel();
    EXPECT_FALSE(job.running());
    EXPECT_FALSE(job.take());
    go_on.set_value();
    EXPECT_TRUE(stopped.get_future().get());
    job.start([](JobControl&) { return 2; });
    EXPECT_EQ(job.wait(), 2) << "what was let go does not spoil the next";
}

TEST(Job, DoesOneThingAtATimeAndOnlyTheNewestWaits) {
    std::promise<void> started, go_on;
    const std::shared_future<void> going = go_on.get_future().share();
    std::atomic<int> begun = 0, at_once = 0, most_at_once = 0;
    const auto busy = [&](int number) {
        ++begun;
        most_at_once = std::max<int>(most_at_once, ++at_once);
        if (number == 0) started.set_value();
        going.wait();  // does not look at its control
        --at_once;
        return number;
    };
    Job<int> job;
    job.start([&](JobControl&) { return busy(0); });
    started.get_future().wait();
    for (int number = 1; number <= 60; ++number) job.start([&, number](JobControl&) { return busy(number); });
    go_on.set_value();
    EXPECT_EQ(job.wait(), 60);
    EXPECT_EQ(most_at_once, 1);
    EXPECT_EQ(begun, 2) << "the others were overtaken while they waited";
}

TEST(Job, ToldToStopBeforeItBeganDoesNotBegin) {
    std::promise<void> started, go_on;
    bool begun = false;
    {
        Job<int> job;
        job.start([&](JobControl&) {
            started.set_value();
            go_on.get_future().wait();
            return 1;
        });
        started.get_future().wait();
        job.start([&](JobControl&) {
            begun = true;
            return 2;
        });
        job.cancel();
        EXPECT_FALSE(job.running());
        go_on.set_value();
    }
    EXPECT_FALSE(begun);
}

TEST(Job, ThrowsWhatTheWorkThrew) {
    Job<int> job;
    job.start([](JobControl&) -> int { throw std::runtime_error("burnt"); });
    EXPECT_THROW(static_cast<void>(job.wait()), std::runtime_error);
    EXPECT_FALSE(job.running());
}

}  // namespace
}  // namespace evenspit::viewer
