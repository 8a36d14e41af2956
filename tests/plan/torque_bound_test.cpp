// SPDX-License-Identifier: MIT
#include "plan/torque_bound.h"

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

TEST(TorqueBound, ChangesNoFasterThanTold) {
    Draws draws;
    double nearest = 0;
    for (int n = 0; n < 40; ++n) {
        const Trial t = draws.trial();
        const TorqueBound bound = t.bound();
        for (int k = 0; k < 20; ++k) {
            const RodLine line{draws.place(0.04), draws.place(0.04)};
            const double reach = draws.between(0.001, 0.05), most = bound.most_change(line, reach);
            for (int m = 0; m < 10; ++m) {
                const Vec2 from = line.from + draws.place(0.7 * reach);
                const RodLine a{from, line.to + draws.place(0.7 * reach)};
                const RodLine b{from, line.to + draws.place(0.7 * reach)};
                const double change = std::abs(bound.least(a) - bound.least(b)), way = (a.to - b.to).norm();
                ASSERT_LE(change, most * way + 1e-12);
                if (most > 0) nearest = std::max(nearest, change / (most * way));
            }
        }
    }
    EXPECT_GT(nearest, 0.5);  // it is worth something
}

}  // namespace
}  // namespace evenspit::plan
