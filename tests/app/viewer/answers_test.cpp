// SPDX-License-Identifier: MIT
#include "app/viewer/answers.h"

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

TEST(Answers, SlowOnesComeFromAside) {
    // Many items make an analysis that takes longer than a frame.
    Assembly load = good_load();
    const Item item =
        test::item("ball", test::flesh(test::ellipsoid_mesh(0.05, 0.05, 0.05, Vec3::Zero(), 700, 400)), 0.3);
    Answers answers;
    for (int count = 0; count < 16 && answers.seconds() <= Answers::frame_budget_s; ++count) {
        load.items.push_back(item);
        answers.ask(load, static_cast<std::uint64_t>(count) + 1);
    }
    ASSERT_GT(answers.seconds(), Answers::frame_budget_s);
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

}  // namespace
}  // namespace evenspit::viewer
