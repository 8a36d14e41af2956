// SPDX-License-Identifier: MIT
#include "scan/follow_guess.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "made_points.h"

namespace evenspit::scan {
namespace {

constexpr double r = 0.07, spacing = 0.003;
const Vec3 middle(0, 0, r);

const auto everywhere = [](const Vec3&) { return true; };

// The discs of a ball on the board above a height.
Sheet ball_above(double height) {
    return test::part_of(test::sheet_on(test::ellipsoid_mesh(r, r, r, middle, 96, 64), 20000),
                         [height](const Vec3& p, const Vec3&) { return p.z() >= height; });
}

double off_the_ball(const Sheet& sheet) {
    double squares = 0;
    for (const Vec3& p : sheet.positions)
        squares += std::pow((p - middle).norm() - r, 2) / double(sheet.size());
    return std::sqrt(squares);
}

double lowest(const Sheet& sheet) {
    double low = 1;
    for (const Vec3& p : sheet.positions) low = std::min(low, p.z());
    return low;
}

TEST(FollowGuess, MovesAGuessOntoWhatWasSeen) {
    const Sheet seen = ball_above(0.03);
    const SkinGuess small{
        "small ball", [](const Vec3& p) { return (p - middle).norm() - (r - 0.003); }, {}, {}};
    const Sheet hidden = follow_guess(small, 0, seen, {}, spacing, everywhere).sheet;
    ASSERT_GT(hidden.size(), 500u);
    EXPECT_LT(off_the_ball(hidden), 0.0015);
    EXPECT_LT(lowest(hidden), 0.0015);
    double area = 0;
    for (std::size_t s = 0; s < hidden.size(); ++s) {
        EXPECT_TRUE(hidden.invented[s]);
        EXPECT_LT(hidden.normals[s].z(), 0.31);
        EXPECT_GT(hidden.normals[s].dot((hidden.positions[s] - middle).normalized()), 0.8);
        EXPECT_LT(hidden.positions[s].z(), 0.03 + 2 * spacing);
        EXPECT_GE(hidden.positions[s].z(), 0);
        area += hidden.areas[s];
    }
    // A cap of that height, Archimedes: 2 π r h.
    EXPECT_NEAR(area, 2 * M_PI * r * 0.03, 0.12 * 2 * M_PI * r * 0.03);
}

// A ball with a lower half of another depth: only the board tells how deep.
TEST(FollowGuess, LiesDownOnTheBoard) {
    const Sheet seen = ball_above(0.06);
    const auto depth_field = [](double depth) {
        return [depth](const Vec3& p) {
            Vec3 q = p - middle;
            if (q.z() < 0) q.z() *= r / depth;
            return q.norm() - r;
        };
    };
    SkinGuess shallow{"shallow", depth_field(r - 0.012), {}, {}};
    const double before = lowest(follow_guess(shallow, 0, seen, {}, spacing, everywhere).sheet);
    constexpr double spread = 0.015;
    shallow.changes = [&](const Vec3& p) {
        constexpr double step = 1e-4;
        return std::vector<double>{(depth_field(r - 0.012 + step)(p) - shallow.field(p)) / step * spread};
    };
    shallow.usual = {0};
    const Sheet hidden = follow_guess(shallow, 0, seen, {}, spacing, everywhere).sheet;
    EXPECT_GT(before, 0.007);
    EXPECT_LT(lowest(hidden), 0.4 * before);
    EXPECT_LT(off_the_ball(hidden), 0.004);
}

TEST(FollowGuess, KeepsOffWhatWasSeenAndOffWhatIsNotCovered) {
    const SkinGuess ball{"ball", [](const Vec3& p) { return (p - middle).norm() - r; }, {}, {}};
    EXPECT_EQ(follow_guess(ball, 0, ball_above(-1), {}, spacing, everywhere).sheet.size(), 0u);
    const Sheet half =
        follow_guess(ball, 0, ball_above(0.03), {}, spacing, [](const Vec3& p) { return p.x() > 0; }).sheet;
    ASSERT_GT(half.size(), 100u);
    for (const Vec3& p : half.positions) EXPECT_GT(p.x(), 0);
}

TEST(FollowGuess, FeetHoldTheSkinOnTheBoard) {
    // Seen above 20 mm, guessed as a ball; but the walls of a can were seen to end on the board all round.
    Sheet seen;
    std::vector<Vec3> feet;
    for (int k = 0; k < 120; ++k) {
        const Vec3 out(std::cos(2 * M_PI * k / 120), std::sin(2 * M_PI * k / 120), 0);
        feet.emplace_back(r * out);
        for (double z = 0.02; z < 2 * r; z += spacing) {
            seen.positions.emplace_back(r * out + z * Vec3::UnitZ());
            seen.normals.push_back(out);
            seen.areas.push_back(spacing * spacing);
            seen.invented.push_back(false);
        }
    }
    const auto can = [](const Vec3& p) {
        return std::pow(std::pow(p.head<2>().norm() / r, 6) + std::pow(std::abs(p.z() - r) / r, 6), 1.0 / 6) *
                   r -
               r;
    };
    const auto near_the_rim = [](const Sheet& sheet) {
        double mean = 0;
        int count = 0;
        for (std::size_t s = 0; s < sheet.size(); ++s) {
            if (sheet.positions[s].head<2>().norm() < 0.9 * r || sheet.positions[s].head<2>().norm() > r)
                continue;
            mean += sheet.positions[s].z();
            ++count;
        }
        return mean / count;
    };
    const SkinGuess guess{"can", can, {}, {}};
    const double with_feet = near_the_rim(follow_guess(guess, 0, seen, feet, spacing, everywhere).sheet);
    const double without = near_the_rim(follow_guess(guess, 0, seen, {}, spacing, everywhere).sheet);
    EXPECT_LT(with_feet, without - 0.001);
}

// A number that the seen part hardly feels and the hidden one greatly could carry the skin anywhere.
TEST(FollowGuess, LeavesNumbersThatRunAwayAlone) {
    const Sheet seen = ball_above(0.04);
    SkinGuess small{"small ball", [](const Vec3& p) { return (p - middle).norm() - (r - 0.003); }, {}, {}};
    const Sheet without = follow_guess(small, 0, seen, {}, spacing, everywhere).sheet;
    small.changes = [](const Vec3& p) { return std::vector<double>{p.z() > 0.03 ? -1e-3 : 0.05}; };
    small.usual = {0};
    const Sheet with = follow_guess(small, 0, seen, {}, spacing, everywhere).sheet;
    ASSERT_EQ(with.size(), without.size());
    EXPECT_LT(off_the_ball(with), 0.004);
}

TEST(FollowGuess, SaysNothingOfTooLittle) {
    const SkinGuess ball{"ball", [](const Vec3& p) { return (p - middle).norm() - r; }, {}, {}};
    EXPECT_EQ(follow_guess(ball, 0, ball_above(1.99 * r), {}, spacing, everywhere).sheet.size(), 0u);
}

}  // namespace
}  // namespace evenspit::scan
