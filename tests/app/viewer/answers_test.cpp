// SPDX-License-Identifier: MIT
#include "app/viewer/answers.h"

#include <chrono>
#include <filesystem>
#include <iterator>
#include <stop_token>
#include <thread>

#include <gtest/gtest.h>

#include "analysis/loads.h"

namespace evenspit::viewer {
namespace {

using test::good_load;

TEST(Answers, AreThoseOfTheCommandLine) {
    const Assembly load = good_load();
    Answers answers;
    EXPECT_FALSE(answers.any());
    answers.ask(load, 1);
    ASSERT_TRUE(answers.any());
    EXPECT_FALSE(answers.stale());
    const Analysis expected = analyse(load);
    EXPECT_EQ(answers.analysis().balance.motor_torque_peak_n_m, expected.balance.motor_torque_peak_n_m);
    EXPECT_EQ(answers.analysis().findings.size(), expected.findings.size());
}

TEST(Answers, KeepTheOldOneWhereTheNewOneCannotBe) {
    Answers answers;
    answers.ask(good_load(), 1);
    Assembly broken = good_load();
    broken.rod.supports_m = {0.5, 0.5};
    answers.ask(broken, 2);
    EXPECT_TRUE(answers.stale());
    EXPECT_NE(answers.failure(), "");
    answers.ask(good_load(), 3);
    answers.wait();
    EXPECT_FALSE(answers.stale());
    EXPECT_EQ(answers.failure(), "");
}

/// Many items make an analysis that takes longer than a frame.
Assembly slow_load(Answers& answers) {
    Assembly load = good_load();
    const Item item =
        test::item("ball", test::flesh(test::ellipsoid_mesh(0.05, 0.05, 0.05, Vec3::Zero(), 700, 400)), 0.3);
    for (int count = 0; count < 16 && answers.seconds() <= Answers::frame_budget_s; ++count) {
        load.items.push_back(item);
        answers.ask(load, static_cast<std::uint64_t>(count) + 1);
    }
    EXPECT_GT(answers.seconds(), Answers::frame_budget_s);
    return load;
}

TEST(Answers, SlowOnesComeFromAside) {
    Answers answers;
    Assembly load = slow_load(answers);
    const double before = answers.analysis().balance.mass_kg;
    load.items.pop_back();
    answers.ask(load, 100);
    EXPECT_TRUE(answers.stale()) << "it is not there at once";
    EXPECT_EQ(answers.analysis().balance.mass_kg, before);
    load.items.pop_back();
    answers.ask(load, 101);
    answers.wait();
    EXPECT_FALSE(answers.stale());
    EXPECT_EQ(answers.assembly().items.size(), load.items.size()) << "only the newest question is answered";
}

/// The threads that this program has now.
std::ptrdiff_t threads() {
    return std::distance(std::filesystem::directory_iterator("/proc/self/task"),
                         std::filesystem::directory_iterator());
}

TEST(Answers, ManyQuestionsTakeOneThread) {
    Answers answers;
    Assembly load = slow_load(answers);
    const std::ptrdiff_t before = threads();
    for (std::uint64_t revision = 100; revision < 160; ++revision) {
        load.items.back().seat.at_m += 1e-4;
        answers.ask(load, revision);
        EXPECT_LE(threads(), before + 1);
    }
    answers.hasten();
    // Not wait(), which takes the load's mountings too: minutes of work for balls as fine as these.
    while (answers.stale()) {
        answers.poll();
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    EXPECT_EQ(answers.assembly().items.back().seat.at_m, load.items.back().seat.at_m);
}

TEST(Answers, HasteLetsGoOfWhatWasOvertaken) {
    Answers answers;
    Assembly load = slow_load(answers);
    load.items.pop_back();
    answers.ask(load, 100);
    load.items.pop_back();
    answers.ask(load, 101);
    answers.hasten();
    while (!answers.poll()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    EXPECT_FALSE(answers.stale());
    EXPECT_EQ(answers.assembly().items.size(), load.items.size()) << "the first to come in is the newest";
}

TEST(Answers, BeginWithAnotherLoadAsIfThereHadBeenNone) {
    Answers answers;
    const Assembly slow = slow_load(answers);
    answers.ask(slow, 100);
    answers.begin_with(std::nullopt, 200);
    EXPECT_FALSE(answers.any());
    answers.ask(good_load(), 200);
    EXPECT_TRUE(answers.any()) << "what is not known to be slow is worked out at once";
    answers.begin_with(worked_out(slow), 300);
    EXPECT_FALSE(answers.stale());
    EXPECT_EQ(answers.assembly().items.size(), slow.items.size());
    answers.ask(slow, 300);
    EXPECT_FALSE(answers.stale()) << "asked and answered already";
}

TEST(Answers, StopWhenToldTo) {
    std::stop_source source;
    source.request_stop();
    EXPECT_THROW(static_cast<void>(worked_out(good_load(), source.get_token())), Stopped);
}

}  // namespace
}  // namespace evenspit::viewer
