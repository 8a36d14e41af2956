// SPDX-License-Identifier: MIT
#include "geometry/crests.h"

#include <random>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

/// The least concave curve over points at a station, straight from its meaning: the highest chord between any
/// two of them; −1 beyond them.
double curve_at(const std::vector<Vec2>& points, double x) {
    double best = -1;
    for (const Vec2& a : points) {
        for (const Vec2& b : points) {
            if (a.x() <= x && x <= b.x() && a.x() < b.x())
                best = std::max(best, a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x()));
        }
    }
    return best;
}

TEST(Crests, NeverLieAboveTheCurveOverAllPointsAndCloseToIt) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> unit(0, 1);
    constexpr double hair = 1e-9, shared = 5000;
    const std::vector<double> planes{0.3, 0.31, 0.32, 0.33};
    for (int round = 0; round < 30; ++round) {
        // A few vertices to a slab that count as many, and as few.
        Crests crests(planes, round % 2 == 0 ? static_cast<std::size_t>(shared) : 0);
        for (std::size_t slab = 0; slab < 3; ++slab) {
            std::vector<Vec2> points;
            const auto radius = [&](double x) {  // blunt at both ends
                return 0.05 * std::sqrt(std::max(0.0, (x - 0.3) * (0.33 - x) / 2.25e-4)) *
                       (1 - 0.02 * unit(random));
            };
            for (int k = 0; k < 60; ++k) {
                const double x = planes[slab] + (planes[slab + 1] - planes[slab]) * unit(random);
                points.emplace_back(x, radius(x));
                crests.note(slab, x, points.back().y() * points.back().y());
            }
            // Of some slabs one plane or both hold nothing.
            const bool first = round % 3 != 1, last = round % 5 != 1;
            const double r0 = radius(planes[slab]), r1 = radius(planes[slab + 1]);
            crests.raise(slab, first ? r0 * r0 : -1, last ? r1 * r1 : -1);
            EXPECT_FALSE(crests.has_grown(slab));
            if (first) points.emplace_back(planes[slab], r0);
            if (last) points.emplace_back(planes[slab + 1], r1);
            int known = 0;
            double missed = 0;
            for (int k = 0; k < 100; ++k) {
                const double x = planes[slab] + (planes[slab + 1] - planes[slab]) * unit(random);
                const double level = crests.level(slab, x), curve = curve_at(points, x);
                EXPECT_LE(level, std::max(curve, 0.0) + hair);
                if (level < 0) continue;
                ++known;
                missed = std::max(missed, curve - level);
                EXPECT_FALSE(crests.holds(slab, x, curve * curve));
                if (round % 2 == 0) {
                    EXPECT_TRUE(crests.holds(slab, x, 0.9 * level * level));
                }
            }
            if (round % 2 == 0 && first && last) {
                EXPECT_GT(known, 80);
                EXPECT_LT(missed, 0.005);
            }
        }
    }
}

TEST(Crests, KnowNothingOfASlabThatHoldsNothing) {
    Crests crests(std::vector<double>{0, 1}, 100000);
    EXPECT_LT(crests.level(0, 0.5), 0);
    crests.raise(0, -1, -1);
    EXPECT_LT(crests.level(0, 0.5), 0);
    EXPECT_FALSE(crests.holds(0, 0.5, 0));
    // One vertex is no stretch.
    crests.note(0, 0.5, 4);
    EXPECT_TRUE(crests.has_grown(0));
    crests.raise(0, -1, -1);
    EXPECT_LT(crests.level(0, 0.5), 0);
    crests.raise(0, 0, 0);
    EXPECT_NEAR(crests.level(0, 0.5), 2, 0.5);
}

}  // namespace
}  // namespace evenspit
