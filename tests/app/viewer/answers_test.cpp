// SPDX-License-Identifier: MIT
#include "app/viewer/answers.h"

#include <chrono>
#include <filesystem>
#include <iterator>
#include <stop_token>
#include <thread>

#include <gtest/gtest.h>

#include "analysis/loads.h"
#include "load/arrangement.h"

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

TEST(Answers, RememberWhatDidNotMove) {
    Assembly load = good_load();
    const Answer first = worked_out(load);
    ASSERT_NE(first.memory, nullptr);
    const std::size_t outlines = first.memory->outlines.size(), pins = first.memory->pins.size();
    const std::shared_ptr<const SweepTrees> trees = first.memory->trees();
    Answers answers;
    answers.begin_with(first, 1);
    load.forks[0].at_m -= 0.002;
    answers.ask(load, 2);
    ASSERT_FALSE(answers.stale());
    EXPECT_EQ(first.memory->outlines.size(), outlines) << "the item's outline is known";
    EXPECT_EQ(first.memory->pins.size(), pins + 2) << "one fork's tines are new";
    EXPECT_EQ(first.memory->trees(), trees);
    EXPECT_EQ(answers.analysis().grip.torque_use, analyse(load).grip.torque_use);
    // Nothing is left of it for the next load.
    answers.begin_with(std::nullopt, 3);
    answers.ask(load, 3);
    EXPECT_EQ(first.memory->pins.size(), pins + 2);
}

TEST(Answers, AreCookedAnewAsTheLoadSitsOnceHandsRest) {
    Assembly load = good_load();
    load.cook.emplace();
    load.cook->cooker_temperature_k = 450;
    load.cook->start_temperature_k = 278;
    load.cook->duration_s = 3600;
    // Off the axis, so that one side is nearer to the heat.
    load.items[0].seat.line = {{0.01, 0.02}, {0.01, 0.02}};
    load.items[0].pose = pose_in(load.items[0], load.items[0].seat);
    load.cooker.surfaces = {{.name = "coals",
                             .shape = BoxShape{{0.1, -0.2, -0.3}, {0.6, 0.2, -0.2}},
                             .fire = true,
                             .temperature_k = 900}};
    ASSERT_TRUE(can_roast(load));
    cook::CookedLoad opened = cook::cooked_load(load);
    Answers answers;
    answers.begin_with(worked_out(opened.load, {}, std::make_shared<const cook::CookCourse>(*opened.course)),
                       1);
    answers.wait();
    EXPECT_EQ(answers.assembly().items[0].cooked->mass_kg, opened.load.items[0].cooked->mass_kg);
    Assembly moved = opened.load;
    moved.items[0].seat.line = {};
    moved.items[0].pose = pose_in(moved.items[0], moved.items[0].seat);
    answers.ask(moved, 2);
    answers.wait();
    const cook::CookedLoad anew = cook::cooked_load(moved);
    const body::Matter &told = *answers.assembly().items[0].cooked, &expected = *anew.load.items[0].cooked;
    EXPECT_NE(expected.mass_kg, opened.load.items[0].cooked->mass_kg) << "else there is nothing to see here";
    EXPECT_EQ(told.mass_kg, expected.mass_kg);
    EXPECT_EQ(told.centre, expected.centre);
    EXPECT_EQ(answers.analysis().balance.gravity_torque_peak_n_m,
              analyse(anew.load).balance.gravity_torque_peak_n_m);
    EXPECT_TRUE(answers.analysis().mounted);
    // The next begins with what is known by now.
    answers.ask(opened.load, 3);
    EXPECT_EQ(answers.assembly().items[0].cooked->mass_kg, expected.mass_kg);
}

TEST(Answers, MountingsWaitUntilHandsRest) {
    Assembly load = good_load();
    constexpr double never_s = 3600;
    Answers answers({}, never_s);
    answers.ask(load, 1);
    ASSERT_FALSE(answers.stale());
    EXPECT_TRUE(answers.mounting());
    EXPECT_FALSE(answers.poll());
    // Overtaken, or no longer wanted, it does not keep anybody waiting.
    load.forks[0].at_m -= 0.002;
    answers.ask(load, 2);
    EXPECT_TRUE(answers.mounting());
    answers.cancel();
    EXPECT_FALSE(answers.mounting());
    EXPECT_FALSE(answers.analysis().mounted);
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

/// Answers on a machine where every one takes longer than a frame, and a load of some milliseconds.
constexpr double no_time_s = 0;

Assembly slow_load(Answers& answers) {
    Assembly load = good_load();
    const Item item =
        test::item("ball", test::flesh(test::ellipsoid_mesh(0.05, 0.05, 0.05, Vec3::Zero(), 700, 400)), 0.3);
    load.items = {load.items[0], item, item, item};
    answers.ask(load, 1);
    EXPECT_FALSE(answers.stale()) << "what is not known to be slow is worked out at once";
    return load;
}

/// Not wait(), which takes the load's mountings too: minutes of work for balls as fine as these.
void wait_for_answer(Answers& answers) {
    answers.hasten();
    while (answers.stale()) {
        answers.poll();
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
}

TEST(Answers, SlowOnesComeFromAside) {
    Answers answers({}, 0, no_time_s);
    Assembly load = slow_load(answers);
    const double before = answers.analysis().balance.mass_kg;
    load.items.pop_back();
    answers.ask(load, 100);
    EXPECT_TRUE(answers.stale()) << "it is not there at once";
    EXPECT_EQ(answers.analysis().balance.mass_kg, before);
    load.items.pop_back();
    answers.ask(load, 101);
    wait_for_answer(answers);
    EXPECT_EQ(answers.assembly().items.size(), load.items.size()) << "only the newest question is answered";
}

/// The threads that this program has now.
std::ptrdiff_t threads() {
    return std::distance(std::filesystem::directory_iterator("/proc/self/task"),
                         std::filesystem::directory_iterator());
}

TEST(Answers, ManyQuestionsTakeOneThread) {
    Answers answers({}, 0, no_time_s);
    Assembly load = slow_load(answers);
    const std::ptrdiff_t before = threads();
    for (std::uint64_t revision = 100; revision < 160; ++revision) {
        load.items.back().seat.at_m += 1e-4;
        answers.ask(load, revision);
        EXPECT_LE(threads(), before + 1);
    }
    wait_for_answer(answers);
    EXPECT_EQ(answers.assembly().items.back().seat.at_m, load.items.back().seat.at_m);
}

TEST(Answers, HasteLetsGoOfWhatWasOvertaken) {
    Answers answers({}, 0, no_time_s);
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
    Answers answers({}, 0, no_time_s);
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
