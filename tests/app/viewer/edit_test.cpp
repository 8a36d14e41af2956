// SPDX-License-Identifier: MIT
#include "app/viewer/edit.h"

#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/loads.h"

namespace evenspit::viewer {
namespace {

using test::degree;
using test::good_load;
using testing::HasSubstr;

std::string reason(const Assembly& load, const Edit& edit) {
    const auto outcome = applied(load, edit);
    const auto* refusal = std::get_if<Refusal>(&outcome);
    return refusal != nullptr ? refusal->reason : "";
}

Arrangement places(const Assembly& load, const Edit& edit) {
    return std::get<Arrangement>(applied(load, edit));
}

Seat seat_at(double at_m) {
    Seat seat;
    seat.at_m = at_m;
    return seat;
}

const Counterweight weight{.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 1, .diameter_m = 0.04};

TEST(Edit, SetsOneThingAndLeavesTheRest) {
    const Assembly load = good_load();
    const Arrangement before = arrangement_of(load);
    const Arrangement slid = places(load, SetSeat{0, seat_at(0.350)});
    EXPECT_EQ(slid.seats[0].at_m, 0.350);
    EXPECT_EQ(slid.forks[0].at_m, before.forks[0].at_m);
    const Arrangement turned = places(load, SetFork{1, 0.445, Facing::drive, 45 * degree});
    EXPECT_EQ(turned.forks[1].at_m, 0.445);
    EXPECT_EQ(turned.forks[1].clock_rad, 45 * degree);
    EXPECT_EQ(turned.forks[1].tines.size(), before.forks[1].tines.size());
    EXPECT_FALSE(same_arrangement(before, turned));
}

TEST(Edit, AddsMovesAndTakesAwayCounterweights) {
    Assembly load = good_load();
    load = with_arrangement(load, places(load, AddWeight{weight}));
    ASSERT_EQ(load.counterweights.size(), 1U);
    Counterweight moved = weight;
    moved.at_m = 0.2;
    EXPECT_EQ(places(load, SetWeight{0, moved}).counterweights[0].at_m, 0.2);
    EXPECT_TRUE(places(load, RemoveWeight{0}).counterweights.empty());
    EXPECT_THAT(reason(load, RemoveWeight{1}), HasSubstr("not on the rod any more"));
}

TEST(Edit, PosesFollowSeats) {
    const Assembly load = good_load();
    Seat seat = seat_at(0.3);
    seat.turn_rad = 90 * degree;
    const Assembly moved = with_arrangement(load, places(load, SetSeat{0, seat}));
    EXPECT_TRUE(moved.items[0].pose.isApprox(seat_pose(seat, -0.1, 0.1), 1e-12));
    EXPECT_EQ(moved.items[0].body, load.items[0].body) << "a move makes no new body";
}

TEST(Edit, RefusesWhatCannotBe) {
    const Assembly load = good_load();
    EXPECT_THAT(reason(load, SetFork{0, -0.01, Facing::point, 0}), HasSubstr("fork 1 cannot sit at -10 mm"));
    EXPECT_THAT(reason(load, SetFork{0, 0.8, Facing::point, 0}), HasSubstr("from 0 mm to 760 mm"));
    EXPECT_THAT(reason(load, SetSeat{0, seat_at(0.80)}), HasSubstr("off the rod"));
    EXPECT_THAT(reason(load, SetSeat{0, seat_at(-0.01)}), HasSubstr("off the rod"));
    EXPECT_EQ(reason(load, SetSeat{0, seat_at(0.76)}), "");
    Seat beside = seat_at(0.34);
    beside.line.from.y() = 0.06;
    EXPECT_THAT(reason(load, SetSeat{0, beside}),
                HasSubstr("z = 60 mm would run beside roast, which reaches from"));
    Counterweight wrong = weight;
    wrong.mass_kg = 0;
    EXPECT_THAT(reason(load, AddWeight{wrong}), HasSubstr("needs a mass"));
    wrong = weight;
    wrong.diameter_m = -0.01;
    EXPECT_THAT(reason(load, AddWeight{wrong}), HasSubstr("needs a diameter"));
    wrong = weight;
    wrong.radius_m = 0.001;
    EXPECT_THAT(reason(load, AddWeight{wrong}), HasSubstr("the rod itself"));
    wrong = weight;
    wrong.at_m = 0.9;
    EXPECT_THAT(reason(load, AddWeight{wrong}), HasSubstr("cannot sit at 900 mm"));
    EXPECT_THAT(reason(load, SetSeat{0, seat_at(std::numeric_limits<double>::quiet_NaN())}),
                HasSubstr("finite"));
    EXPECT_THAT(reason(load, SetSeat{7, seat_at(0.3)}), HasSubstr("not on the rod"));
    EXPECT_THAT(reason(load, SetPlaces{Arrangement{}, "plan"}), HasSubstr("another load"));
}

TEST(Edit, IsCalledByWhatItDoes) {
    const Assembly load = good_load();
    Seat seat = load.items[0].seat;
    seat.line.to.x() = 0.002;
    EXPECT_EQ(edit_name(load, SetSeat{0, seat}), "shift the rod line through roast");
    EXPECT_EQ(edit_name(load, SetSeat{0, seat_at(0.2)}), "slide roast");
    EXPECT_EQ(edit_name(load, SetFork{1, load.forks[1].at_m, Facing::point, 0}), "turn fork 2");
    EXPECT_EQ(edit_name(load, SetFork{1, 0.2, Facing::point, 0}), "slide fork 2");
    EXPECT_EQ(edit_name(load, RemoveWeight{0}), "take away counterweight 1");
}

}  // namespace
}  // namespace evenspit::viewer
