// SPDX-License-Identifier: MIT
#include "scan/round_guess.h"

#include <cmath>

#include <gtest/gtest.h>

#include "made_points.h"

namespace evenspit {
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
        const Sheet whole = test::sheet_on(mesh, 8000);
        for (std::size_t s = 0; s < whole.size(); ++s) {
            if (whole.positions[s].z() < 0.03) continue;
            sheet.positions.push_back(whole.positions[s]);
            sheet.normals.push_back(whole.normals[s]);
            sheet.areas.push_back(whole.areas[s]);
            sheet.invented.push_back(false);
        }
    }
    [[nodiscard]] double underside(double x, double y) const {
        const double rest = 1 - std::pow(std::abs((x - middle.x()) / a), squareness) -
                            std::pow(std::abs((y - middle.y()) / b), squareness);
        return c - c * std::pow(rest, 1 / squareness);
    }
};

TEST(RoundGuess, FindsTheHiddenSideOfRoundAndOfBoxyBodies) {
    for (const double squareness : {2.0, 3.0}) {
        const Lying lying(squareness);
        const UndersideGuess guess = round_guess(lying.sheet, level_board());
        for (const Vec2& off : {Vec2(0, 0), Vec2(0.08, 0), Vec2(0, -0.05), Vec2(-0.07, 0.04)}) {
            const Vec2 p = lying.middle + off;
            EXPECT_NEAR(guess.height(p.x(), p.y()), lying.underside(p.x(), p.y()), 0.004)
                << squareness << " at " << off.transpose();
        }
        EXPECT_TRUE(std::isnan(guess.height(lying.middle.x() + 0.2, lying.middle.y())));
        for (std::size_t s = 0; s < lying.sheet.size(); s += 100) {
            if (lying.sheet.normals[s].z() > 0) continue;
            EXPECT_LT(guess.distance(lying.sheet.positions[s]), 0.004);
        }
        EXPECT_NEAR(guess.distance(Vec3(lying.middle.x() + 0.25, lying.middle.y(), lying.c)), 0.1, 0.01);
    }
}

TEST(RoundGuess, KnowsNothingOfTooFewDiscs) {
    Sheet few = test::sheet_on(test::roast(), 40);
    few.positions.resize(10);
    few.normals.resize(10);
    few.areas.resize(10);
    few.invented.resize(10);
    const UndersideGuess guess = round_guess(few, level_board());
    EXPECT_TRUE(std::isnan(guess.height(0, 0)));
    EXPECT_TRUE(std::isinf(guess.distance(Vec3::Zero())));
}

}  // namespace
}  // namespace evenspit
