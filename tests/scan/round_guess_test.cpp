// SPDX-License-Identifier: MIT
#include "scan/round_guess.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include <gtest/gtest.h>

#include "made_points.h"

namespace evenspit::scan {
namespace {

// A level board through z = 0 of the scan frame.
Board level_board() {
    return {};
}

// Discs on a superellipsoid that lies on the board, of that part only that can be seen past the board.
struct Lying {
    Sheet sheet;
    double a = 0.15, b = 0.1, c = 0.07, squareness = 2;
    Vec2 middle{0.3, -0.2};

    explicit Lying(double square) : squareness(square) {
        const double power = 2 / squareness;
        const auto pull = [power](double t) { return std::copysign(std::pow(std::abs(t), power), t); };
        const TriangleMesh mesh = test::grid_mesh(96, 64, [&](double u, double v) {
            const double t = M_PI * v;
            return Vec3(middle.x() - a * pull(std::cos(t)),
                        middle.y() + b * pull(std::sin(t)) * pull(std::cos(u)),
                        c + c * pull(std::sin(t)) * pull(std::sin(u)));
        });
        sheet = test::part_of(test::sheet_on(mesh, 8000),
                              [](const Vec3& p, const Vec3&) { return p.z() >= 0.03; });
    }
    [[nodiscard]] double underside(double x, double y) const {
        const double rest = 1 - std::pow(std::abs((x - middle.x()) / a), squareness) -
                            std::pow(std::abs((y - middle.y()) / b), squareness);
        return c - c * std::pow(rest, 1 / squareness);
    }
};

// The least height of the guessed skin over a place; NaN beside it.
double underside(const SkinGuess& guess, double x, double y) {
    constexpr double step = 1e-4;
    for (double z = 0; z < 0.2; z += step) {
        if (guess.field({x, y, z}) < 0) return z;
    }
    return std::numeric_limits<double>::quiet_NaN();
}

TEST(RoundGuess, FindsTheHiddenSideOfRoundAndOfBoxyBodies) {
    for (const double squareness : {2.0, 3.0}) {
        const Lying lying(squareness);
        const SkinGuess guess = round_guess(lying.sheet, level_board());
        for (const Vec2& off : {Vec2(0, 0), Vec2(0.08, 0), Vec2(0, -0.05), Vec2(-0.07, 0.04)}) {
            const Vec2 p = lying.middle + off;
            EXPECT_NEAR(underside(guess, p.x(), p.y()), lying.underside(p.x(), p.y()), 0.004)
                << squareness << " at " << off.transpose();
        }
        EXPECT_TRUE(std::isnan(underside(guess, lying.middle.x() + 0.2, lying.middle.y())));
        for (std::size_t s = 0; s < lying.sheet.size(); s += 100) {
            if (lying.sheet.normals[s].z() > 0) continue;
            EXPECT_LT(std::abs(guess.field(lying.sheet.positions[s])), 0.004);
        }
        EXPECT_NEAR(guess.field(Vec3(lying.middle.x() + 0.25, lying.middle.y(), lying.c)), 0.1, 0.01);
    }
}

// A roll on its side: round in section, flat at its ends; one exponent for both would have neither.
TEST(RoundGuess, FindsTheHiddenSideOfARoll) {
    constexpr double a = 0.15, r = 0.06;
    const TriangleMesh mesh = test::grid_mesh(96, 96, [&](double u, double v) {
        // Along the middle of one end, over the wall, and back on the other.
        const double way = v * (2 * a + 2 * r);
        const double x = std::clamp(way - r, 0.0, 2 * a) - a;
        const double out = std::min({r, way, 2 * a + 2 * r - way});
        return Vec3(x, out * std::cos(2 * M_PI * u), r + out * std::sin(2 * M_PI * u));
    });
    const Sheet sheet =
        test::part_of(test::sheet_on(mesh, 8000), [](const Vec3& p, const Vec3&) { return p.z() >= 0.03; });
    const SkinGuess guess = round_guess(sheet, level_board());
    for (const double x : {0.0, 0.06, -0.12}) {
        EXPECT_NEAR(underside(guess, x, 0), 0, 0.004) << x;
        EXPECT_NEAR(underside(guess, x, 0.03), r - std::sqrt(r * r - 0.03 * 0.03), 0.004) << x;
    }
}

TEST(RoundGuess, TellsWhatItsNumbersDo) {
    const Lying lying(2.0);
    const SkinGuess guess = round_guess(lying.sheet, level_board());
    const Vec3 end(lying.middle.x() + lying.a, lying.middle.y(), lying.c);
    const std::vector<double> changes = guess.changes(end);
    ASSERT_EQ(changes.size(), guess.usual.size());
    // The middle's x is the first number: a body moved along x has less outside it at its +x end.
    EXPECT_LT(changes[0], -0.01);
    EXPECT_NEAR(changes[1], 0, 0.005);
    // All but the pose are near what is usual for an ellipsoid.
    for (const double usual : guess.usual) EXPECT_LT(std::abs(usual), 2);
}

TEST(RoundGuess, KnowsNothingOfTooFewDiscs) {
    Sheet few = test::sheet_on(test::roast(), 40);
    few.positions.resize(10);
    few.normals.resize(10);
    few.areas.resize(10);
    few.invented.resize(10);
    const SkinGuess guess = round_guess(few, level_board());
    EXPECT_TRUE(std::isinf(guess.field(Vec3::Zero())));
    EXPECT_TRUE(guess.usual.empty());
}

}  // namespace
}  // namespace evenspit::scan
