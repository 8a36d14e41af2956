// SPDX-License-Identifier: MIT
#include "app/viewer/job.h"

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
    {
        Job<int> job;
        job.start([&](JobControl& control) {
            started.set_value();
            go_on.get_future().wait();
            try {
                control.step(1, "never told");
            } catch (const JobCancelled&) {
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
        job.start([](JobControl&) { return 2; });
        EXPECT_EQ(job.wait(), 2) << "the next does not wait for the one that was let go";
        go_on.set_value();
    }
    EXPECT_TRUE(stopped.get_future().get());
}

TEST(Job, ThrowsWhatTheWorkThrew) {
    Job<int> job;
    job.start([](JobControl&) -> int { throw std::runtime_error("burnt"); });
    EXPECT_THROW(static_cast<void>(job.wait()), std::runtime_error);
    EXPECT_FALSE(job.running());
}

}  // namespace
}  // namespace evenspit::viewer
