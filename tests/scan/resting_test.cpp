// SPDX-License-Identifier: MIT
#include "scan/resting.h"

#include <cmath>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

namespace evenspit::scan {
namespace {

// What is seen of a ball on a board down to a height over it, or of the board under it as far in as a radius.
std::vector<Vec3> ball(double radius, double down_to) {
    std::vector<Vec3> places;
    for (int k = 0; k < 4000; ++k) {
        const double angle = 2.399963 * k, z = 2 * radius * (k + 0.5) / 4000;
        if (z < down_to) continue;
        const double across = std::sqrt(z * (2 * radius - z));
        places.emplace_back(across * std::cos(angle), across * std::sin(angle), z);
    }
    return places;
}

std::vector<Vec3> normals_of(const std::vector<Vec3>& on_ball, double radius) {
    std::vector<Vec3> normals;
    for (const Vec3& p : on_ball) normals.push_back((p - radius * Vec3::UnitZ()) / radius);
    return normals;
}

std::vector<Vec3> board_from(double inner, double outer, double share_of_turn) {
    std::vector<Vec3> places;
    for (int k = 0; k < 4000; ++k) {
        const double angle = 2 * std::numbers::pi * share_of_turn * k / 4000;
        const double r = inner + (outer - inner) * std::fmod(0.618 * k, 1.0);
        places.emplace_back(r * std::cos(angle), r * std::sin(angle), 0);
    }
    return places;
}

TEST(Resting, TellsDownToWhereABodyWasSeen) {
    for (const double low : {0.01, 0.03}) {
        const Resting resting = how_it_rests(ball(0.05, low), normals_of(ball(0.05, low), 0.05), {});
        EXPECT_NEAR(resting.hidden_below_m, low, 0.003);
        EXPECT_NEAR(resting.hidden_share, low / 0.1, 0.03);
        EXPECT_EQ(resting.air_beneath, 0);
    }
}

TEST(Resting, TellsInHowManyDirectionsTheBoardShowsBeneath) {
    const std::vector<Vec3> body = ball(0.05, 0.03), normals = normals_of(body, 0.05);
    EXPECT_EQ(how_it_rests(body, normals, board_from(0.04, 0.06, 1)).air_beneath, 0)
        << "beside it is not under it";
    EXPECT_EQ(how_it_rests(body, normals, board_from(0.025, 0.06, 1)).air_beneath, 1);
    EXPECT_NEAR(how_it_rests(body, normals, board_from(0.025, 0.06, 0.5)).air_beneath, 0.5, 0.05);
    EXPECT_EQ(how_it_rests(body, normals, board_from(0.025, 0.06, 1)).air_in_middle, 0);
    EXPECT_EQ(how_it_rests(body, normals, board_from(0, 0.06, 1)).air_in_middle, 1);
}

TEST(Resting, TellsHowFlanksComeDown) {
    const std::vector<Vec3> round = ball(0.05, 0.005);
    const Resting under = how_it_rests(round, normals_of(round, 0.05), {});
    // Between 0.05 and 0.35 of the height normals look down by z / r − 1.
    EXPECT_NEAR(under.low_flanks, 0.020 / 0.05 - 1, 0.02);
    EXPECT_NEAR(under.height_to_width, 1, 0.02);
    // A drum half as high as wide.
    std::vector<Vec3> drum = board_from(0, 0.1, 1), level(drum.size(), Vec3::UnitZ());
    for (Vec3& p : drum) p.z() = 0.1;
    for (int k = 0; k < 4000; ++k) {
        const Vec3 out(std::cos(2.399963 * k), std::sin(2.399963 * k), 0);
        drum.push_back(0.1 * out + 0.1 * k / 4000 * Vec3::UnitZ());
        level.push_back(out);
    }
    const Resting straight = how_it_rests(drum, level, {});
    EXPECT_NEAR(straight.low_flanks, 0, 1e-9);
    EXPECT_NEAR(straight.height_to_width, 0.5, 0.01);
}

TEST(Resting, OfNothingTellsNothing) {
    EXPECT_EQ(how_it_rests({}, {}, {}).hidden_below_m, 0);
}

}  // namespace
}  // namespace evenspit::scan
