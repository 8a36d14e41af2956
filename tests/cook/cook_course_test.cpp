// SPDX-License-Identifier: MIT
#include "cook/cook_course.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numeric>
#include <string>

#include <gtest/gtest.h>

#include "cook/along.h"
#include "cook/evenness.h"
#include "load/load_file.h"

namespace evenspit::cook {
namespace {

const std::filesystem::path root = EVENSPIT_SOURCE_DIR;

Assembly sample(const char* name) {
    return read_load(root / "samples" / name, root / "models");
}

/// The turkey's cook, computed once.
const CookCourse& turkey() {
    static const CookCourse course = [] {
        CookOptions options;
        options.roast = coarse_roast();
        return cook_course(sample("harvest-turkey.toml"), options);
    }();
    return course;
}

TEST(CookCourse, AsksAllQuestionsAlongTheWay) {
    const CookCourse& course = turkey();
    ASSERT_GT(course.along.size(), 5U);
    ASSERT_TRUE(course.off_s);
    EXPECT_EQ(course.along.front().time_s, 0);
    EXPECT_DOUBLE_EQ(course.along.back().time_s, *course.roast.off_s);
    const Analysis raw = analyse(sample("harvest-turkey.toml"));
    EXPECT_NEAR(course.along.front().gravity_torque_n_m, 9.80665 * course.along.front().unbalance_kg_m.norm(),
                1e-9);
    EXPECT_NEAR(course.along.front().sag_m, raw.rod.sag_max_m, 0.02 * raw.rod.sag_max_m);
    for (std::size_t n = 1; n < course.along.size(); ++n) {
        EXPECT_LT(course.along[n].mass_kg, course.along[n - 1].mass_kg);
        EXPECT_LE(course.along[n].sag_m, course.along[n - 1].sag_m);
        EXPECT_GE(course.along[n].hold_use_tightened.value(), 0);
        EXPECT_LE(course.along[n].torque_use_tightened.value(),
                  course.along[n].torque_use.value() * (1 + 1e-9));
    }
    EXPECT_GT(course.along.back().hold_use.value(), course.along.front().hold_use.value());
}

// What hands make of it counts as it does for check.
TEST(CookCourse, JudgesMountingsAtItsWorst) {
    const Assembly load = sample("harvest-turkey.toml");
    EXPECT_FALSE(turkey().mounted);
    CookOptions options;
    options.roast = coarse_roast();
    options.spread = false;
    options.mountings = 64;
    const CookCourse course = cook_course(load, options);
    ASSERT_TRUE(course.mounted);
    EXPECT_EQ(course.mounted->chance.mountings, 64);
    const JudgedLoad judged = judged_load(load, 64);
    EXPECT_EQ(course.mounted->chance.ready, judged.analysis.mounted->chance.ready);
    EXPECT_EQ(course.mounted->chance.stop, judged.analysis.mounted->chance.stop);
    EXPECT_EQ(course.verdict, judged.analysis.verdict);
}

TEST(CookCourse, TellsHowFarOffItsTimeMayBe) {
    const Range& off = turkey().off_s.value();
    EXPECT_LT(off.low, off.middle);
    EXPECT_GT(off.high, off.middle);
    // A quarter of an hour to an hour each way for a three-hour cook.
    EXPECT_GT(off.high - off.middle, 600);
    EXPECT_LT(off.high - off.middle, 3600);
}

/// A duck over banks of coals that burn down, far under it, started round the rod by so much.
CookCourse over_coals(double turn_deg, const char* fuel, double pull_k) {
    std::string text =
        "title = \"A duck\"\n[rod]\nmodel = \"square-8mm\"\n[motor]\nmodel = \"battery-dc\"\n"
        "[[item]]\nname = \"duck\"\nshape = \"duck\"\nmass = \"2.5 kg\"\nat = \"460 mm\"\n"
        "turn = \"" +
        std::to_string(turn_deg) + " deg\"\n[cook]\nfuel = \"" + fuel + "\"\n";
    for (const char* across : {"name = \"front\"\nmin = [\"200 mm\", \"-400 mm\", \"-550 mm\"]\nmax = [\"750 "
                               "mm\", \"-200 mm\", \"-430 mm\"]",
                               "name = \"back\"\nmin = [\"200 mm\", \"200 mm\", \"-550 mm\"]\nmax = [\"750 "
                               "mm\", \"400 mm\", \"-430 mm\"]"}) {
        text += std::string(
                    "[[cooker.surface]]\nshape = \"box\"\nfire = true\n"
                    "temperature = \"750 degC\"\n") +
                across + "\n";
    }
    Assembly load = read_load_text(text, "duck.toml", root / "models");
    load.cook->pull_k = {{"breast", pull_k}};
    CookOptions options;
    options.roast.spacing_m = coarse_roast().spacing_m;
    options.roast.interval_s = coarse_roast().interval_s;
    options.whole = false;
    return cook_course(load, options);
}

// The last degrees take ever longer, so that a slower fire costs more than a faster one saves. How the load
// starts round the rod does not matter to a cook of a hundred turns.
TEST(CookCourse, TellsHowFarOffItsTimeMayBeOverAFireThatBurnsDown) {
    const Range up = over_coals(0, "lump charcoal", 347.05).off_s.value(),
                aside = over_coals(90, "lump charcoal", 347.05).off_s.value();
    for (const Range& off : {up, aside}) {
        EXPECT_GT(off.low, 0.6 * off.middle);
        EXPECT_GT(off.high / off.middle, 1.2 * off.middle / off.low);
        EXPECT_FALSE(off.open);
    }
    EXPECT_NEAR(aside.low, up.low, 0.05 * up.low);
    EXPECT_NEAR(aside.high, up.high, 0.1 * up.high);
}

TEST(CookCourse, TellsThatASlowerFireMayNeverGetItDone) {
    const CookCourse course = over_coals(0, "wood", 357.15);
    const Range off = course.off_s.value();
    EXPECT_TRUE(off.open);
    EXPECT_LT(off.low, 0.7 * off.middle);
    EXPECT_GT(off.high, 1.2 * off.middle);
}

TEST(CookCourse, ForksArePushedInAsTheSkinMovesIn) {
    const CookCourse& course = turkey();
    const Assembly load = sample("harvest-turkey.toml");
    const RoastMoment* off = nullptr;
    for (const RoastMoment& moment : course.roast.moments) {
        if (!moment.resting) off = &moment;
    }
    std::vector<double> pushed_m(load.forks.size(), 0.0);
    for (const Retighten& push : course.retighten) {
        EXPECT_GE(push.push_m, 0.0025);
        EXPECT_LT(push.at_s, *course.roast.off_s);
        pushed_m[push.fork] += push.push_m;
    }
    for (std::size_t f = 0; f < load.forks.size(); ++f) {
        const double retreat_m = retreat_at_fork(load_at(load, *off), f);
        EXPECT_GT(retreat_m, 0.001);
        EXPECT_LT(retreat_m, 0.02);
        EXPECT_LT(std::abs(retreat_m - pushed_m[f]), 0.0075);
    }
}

TEST(CookCourse, TheWorstMomentIsWhatALoadIsJudgedBy) {
    const Assembly load = sample("harvest-turkey.toml");
    const Assembly judged = with_cook(load, turkey());
    ASSERT_TRUE(judged.items[0].cooked);
    EXPECT_DOUBLE_EQ(judged.items[0].cooked->mass_kg, turkey().along.back().mass_kg);
    EXPECT_DOUBLE_EQ(judged.cook->cooked_after_s.value(), *turkey().roast.off_s);
    const Analysis analysis = analyse(judged);
    double most_use = 0, most_torque_use = 0;
    for (const Along& along : turkey().along) {
        most_use = std::max(most_use, along.motor_use);
        most_torque_use = std::max(most_torque_use, along.torque_use.value());
    }
    EXPECT_NEAR(analysis.balance.motor_use, most_use, 0.01 * most_use);
    EXPECT_GE(analysis.grip.torque_use.value(), most_torque_use * (1 - 1e-9));
    // Nothing else of the load is another.
    const Analysis again = analyse(cooked_as(judged, load));
    EXPECT_EQ(again.balance.motor_use, analysis.balance.motor_use);
}

// A frozen bird is a stop in every verb that judges, and a load that tells no temperature is left alone.
TEST(CookCourse, FoodThatIsNotSafeIsAStop) {
    Assembly load = sample("harvest-turkey.toml");
    load.cook->start_temperature_k = 263;
    const CookedLoad frozen = cooked_load(load);
    ASSERT_TRUE(frozen.course);
    Analysis analysis = analyse(frozen.load);
    const Level before = analysis.verdict;
    add_cook(analysis, *frozen.course);
    add_cook(analysis, *frozen.course);
    EXPECT_LT(before, Level::stop);
    EXPECT_EQ(analysis.verdict, Level::stop);
    EXPECT_EQ(std::count_if(analysis.findings.begin(), analysis.findings.end(),
                            [](const Finding& f) { return f.code == Code::frozen_inside; }),
              1);
    load.cook->cooker_temperature_k.reset();
    const CookedLoad untold = cooked_load(load);
    EXPECT_FALSE(untold.course);
    EXPECT_FALSE(untold.load.items[0].cooked);
}

// A pull temperature far too low: 100 °F leaves a bird raw, however good its balance.
TEST(CookCourse, ALowPullTemperatureIsAStop) {
    Assembly load = sample("harvest-turkey.toml");
    load.cook->pull_k = {{"breast", 310.93}};
    const CookedLoad cooked = cooked_load(load);
    EXPECT_EQ(cooked.course->findings.front().level, Level::stop);
    EXPECT_TRUE(std::any_of(cooked.course->findings.begin(), cooked.course->findings.end(),
                            [](const Finding& f) { return f.code == Code::undercooked; }));
}

// By hand: a ball that takes up twice as much on one half has the mean 1.5 and the deviation 0.5.
TEST(Evenness, IsOneLessDeviationOverMean) {
    const Assembly load = sample("harvest-turkey.toml");
    const Item& item = load.items[0];
    const TriangleMesh& mesh = item.body->body.parts.front().mesh;
    SkinHeat heat{std::vector<double>(mesh.triangles.size(), 5e6)};
    Evenness even = evenness(item, heat);
    EXPECT_NEAR(even.index, 1, 1e-12);
    EXPECT_NEAR(even.hottest_over_mean, 1, 1e-9);
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Vec3 at = item.pose * mesh.corner(mesh.triangles[t], 0);
        if (at.z() < 0) heat.j_m2[t] *= 2;
    }
    even = evenness(item, heat);
    EXPECT_LT(even.index, 0.75);
    EXPECT_GT(even.index, 0.6);
    EXPECT_NEAR(even.round_j_m2[18], 1e7, 1e5) << "6 o'clock";
    EXPECT_NEAR(even.round_j_m2[6], 5e6, 1e5) << "12 o'clock";
    EXPECT_LT((item.pose * even.hottest).z(), 0);
}

// A load that pulls hard on a weak motor lingers with its heavy side down, at turn angles where that is
// below.
TEST(TimeShares, FollowTheMotorsLaw) {
    Assembly load = sample("lopsided-roast.toml");
    load.cook.reset();
    const std::vector<double> shares = time_shares(load, 24);
    ASSERT_EQ(shares.size(), 24U);
    const double mean = std::accumulate(shares.begin(), shares.end(), 0.0) / 24;
    const auto [least, most] = std::minmax_element(shares.begin(), shares.end());
    EXPECT_GT(*most, 1.02 * mean);
    EXPECT_LT(*least, 0.98 * mean);
}

}  // namespace
}  // namespace evenspit::cook
