// SPDX-License-Identifier: MIT
#include "plan/torque_bound.h"

#include <array>
#include <limits>
#include <random>

#include <gtest/gtest.h>

#include "plan/loads.h"

namespace evenspit::plan {
namespace {

// A body, what it weighs at both ends of a cook, and all else on the rod.
struct Trial {
    Item item;
    std::array<body::Matter, cook_ends> masses;
    Unbalances rest;

    [[nodiscard]] TorqueBound bound() const { return {item, masses, item.seat, rest}; }
    [[nodiscard]] double torque(const RodLine& line) const {
        Seat seat = item.seat;
        seat.line = line;
        return standard_gravity * worst_size(item_unbalance(item, masses, seat) + rest);
    }
};

class Draws {
  public:
    double between(double low, double high) {
        return low + (high - low) * (static_cast<double>(random_()) / 4294967296.0);
    }
    Vec2 place(double reach) { return {between(-reach, reach), between(-reach, reach)}; }
    Trial trial() {
        Trial t{.item = test::item_of(test::flesh_body(test::lumpy_mesh(random_, 12, 8), between(1, 6)),
                                      {.at_m = 0.4,
                                       .facing = between(0, 1) < 0.5 ? Facing::drive : Facing::point,
                                       .turn_rad = between(0, 6)}),
                .masses = {},
                .rest = {place(0.05), place(0.05)}};
        t.masses = matter_ends(t.item);
        if (between(0, 1) < 0.3) {
            t.rest = no_unbalance();
        } else {
            t.masses[1].mass_kg *= between(0.6, 1);
            t.masses[1].centre += Vec3(between(-0.02, 0.02), between(-0.02, 0.02), between(-0.02, 0.02));
        }
        return t;
    }

  private:
    std::mt19937 random_{8};
};

TEST(TorqueBound, IsATraceUnderTheTorque) {
    Draws draws;
    for (int n = 0; n < 40; ++n) {
        const Trial t = draws.trial();
        const TorqueBound bound = t.bound();
        for (int k = 0; k < 200; ++k) {
            const RodLine line{draws.place(0.06), draws.place(0.06)};
            const double exact = t.torque(line), least = bound.least(line);
            ASSERT_LE(least, exact);
            ASSERT_GE(least, exact * (1 - 2e-9) - 2e-9);
        }
    }
}

TEST(TorqueSieve, HoldsBackOnlyWhatHasTheTorque) {
    Draws draws;
    int below = 0, passed = 0;
    for (int n = 0; n < 40; ++n) {
        const Trial t = draws.trial();
        const TorqueBound bound = t.bound();
        for (int k = 0; k < 40; ++k) {
            const double most = bound.least({draws.place(0.04), draws.place(0.04)});
            const TorqueSieve sieve(bound, most);
            constexpr int rows = 3, count = 15;
            const TorqueSieve::Rows lines{.first = {draws.place(0.04), draws.place(0.04)},
                                          .axis = k % 2,
                                          .step_m = draws.between(0.0005, 0.008),
                                          .rows = rows,
                                          .count = count};
            std::array<std::array<bool, count>, rows> passes{};
            sieve.for_passing(lines, [&](int row, double from, double to) {
                for (int i = 0; i < count; ++i)
                    passes[std::size_t(row)][std::size_t(i)] = i >= from && i <= to;
            });
            for (int row = 0; row < rows; ++row) {
                for (int i = 0; i < count; ++i) {
                    RodLine line = lines.first;
                    line.to[lines.axis] += i * lines.step_m;
                    line.to[1 - lines.axis] += row * lines.step_m;
                    const bool passed_by = !passes[std::size_t(row)][std::size_t(i)];
                    passed += passed_by ? 0 : 1;
                    if (bound.least(line) >= most) continue;
                    ++below;
                    ASSERT_FALSE(passed_by) << row << ", " << i;
                    ASSERT_TRUE(sieve.passes(line));
                }
            }
        }
    }
    EXPECT_GT(below, 1000);
    EXPECT_LT(passed, 1.3 * below);  // it is worth something
}

TEST(TorqueSieve, LetsAllPassWhereNothingIsAsked) {
    const Trial t = Draws().trial();
    const TorqueBound bound = t.bound();
    const TorqueSieve sieve(bound, std::numeric_limits<double>::infinity());
    const RodLine line{{0.5, -0.5}, {-0.5, 0.4}};
    EXPECT_TRUE(sieve.passes(line));
    int rows = 0;
    sieve.for_passing({.first = line, .axis = 0, .step_m = 0.001, .rows = 2, .count = 7},
                      [&](int row, double from, double to) {
                          EXPECT_EQ(row, rows++);
                          EXPECT_EQ(from, 0);
                          EXPECT_EQ(to, 6);
                      });
    EXPECT_EQ(rows, 2);
}

}  // namespace
}  // namespace evenspit::plan
