// SPDX-License-Identifier: MIT
#include "cook/cook_moments.h"

#include <algorithm>
#include <filesystem>
#include <string>

#include <gtest/gtest.h>

#include "load/load_file.h"
#include "units/stopped.h"

namespace evenspit::cook {
namespace {

Assembly lamb() {
    const std::filesystem::path top = EVENSPIT_SOURCE_DIR;
    return read_load(top / "samples/leg-of-lamb.toml", top / "models");
}

const CookMoments& cooked() {
    static const CookMoments cook = cook_moments(lamb());
    return cook;
}

TEST(CookMoments, RunFromTheStartUntilItComesOff) {
    const CookMoments& cook = cooked();
    ASSERT_GT(cook.moments.size(), 6U);
    EXPECT_EQ(cook.moments.front().time_s, 0);
    EXPECT_DOUBLE_EQ(cook.moments.back().time_s, cook.course.roast.off_s.value());
    for (std::size_t n = 1; n < cook.moments.size(); ++n) {
        EXPECT_GT(cook.moments[n].time_s, cook.moments[n - 1].time_s);
        EXPECT_LT(cook.moments[n].load.items[0].matter->mass_kg,
                  cook.moments[n - 1].load.items[0].matter->mass_kg);
    }
    EXPECT_TRUE(cook.course.off_s.value().low < cook.course.off_s.value().high) << "how sure it is, too";
}

// What a moment says is what all answers along the way say of it.
TEST(CookMoments, SayWhatTheCourseSays) {
    const CookMoments& cook = cooked();
    for (const Along& along : cook.course.along) {
        const CookMoment& moment = cook.moments[cook.near(along.time_s)];
        ASSERT_EQ(moment.time_s, along.time_s);
        EXPECT_NEAR(moment.analysis.balance.motor_use, along.motor_use, 1e-9);
        EXPECT_NEAR(moment.analysis.rod.sag_max_m, along.sag_m, 1e-9);
        EXPECT_NEAR(moment.analysis.grip.torque_use.value(), along.torque_use.value(), 1e-9);
        // Those of trials are to a hundredth of a millimetre, never too great.
        EXPECT_NEAR(moment.analysis.clearance.gap_min_m.value(), along.gap_m.value(), 2e-5);
        EXPECT_FALSE(moment.analysis.balance.curve.empty());
    }
    EXPECT_EQ(cook.moments[cook.worst].time_s, cook.course.along[cook.course.worst].time_s);
}

TEST(CookMoments, HaveTheHeatOfEveryPlace) {
    const CookMoments& cook = cooked();
    const Item& item = cook.moments.front().load.items[0];
    const Vec3 middle = item.body->bounds.center();
    double before = 0;
    for (const CookMoment& moment : cook.moments) {
        ASSERT_EQ(moment.heat.size(), 1U);
        const double now = moment.heat[0]->at(middle).value();
        EXPECT_GE(now, before - 0.05) << "meat in the middle does not cool on the fire";
        before = now;
        EXPECT_EQ(moment.heat[0]->skin_j_m2.size(), item.body->body.parts.front().mesh.triangles.size());
    }
    EXPECT_NEAR(cook.moments.front().heat[0]->at(middle).value(),
                cook.moments.front().load.cook->start_temperature_k.value_or(277.59), 0.5);
    // Every corner of the skin lies where there is a temperature.
    const TriangleMesh& mesh = item.body->body.parts.front().mesh;
    for (const Vec3& corner : mesh.vertices) {
        const double skin = cook.moments.back().heat[0]->at(corner).value();
        EXPECT_GE(skin, cook.coldest_k);
        EXPECT_LE(skin, cook.hottest_k);
    }
    EXPECT_NEAR(cook.coldest_k, 277.59, 0.5);
    EXPECT_LT(cook.hottest_k, cook.moments.front().load.cook->cooker_temperature_k.value() + 60)
        << "skin near a fire gets hotter than the air, but not by much";
}

TEST(CookMoments, TellHowFarTheyAreAndStopWhenAsked) {
    double last = 0;
    std::string what;
    std::stop_source source;
    EXPECT_THROW(cook_moments(
                     lamb(),
                     [&](double share, const char* now) {
                         EXPECT_GE(share, last - 1e-9);
                         last = share;
                         what = now;
                         if (share > 0.1) source.request_stop();
                     },
                     source.get_token()),
                 Stopped);
    EXPECT_GT(last, 0.1);
    EXPECT_FALSE(what.empty());
}

}  // namespace
}  // namespace evenspit::cook
