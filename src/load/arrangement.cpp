// SPDX-License-Identifier: MIT
#include "load/arrangement.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenspit {
namespace {

constexpr double degree = std::numbers::pi / 180;

double in_turn(double degrees) {
    const double rest = std::fmod(degrees, 360);
    return rest < 0 ? rest + 360 : rest;
}

}  // namespace

Arrangement arrangement_of(const Assembly& assembly) {
    Arrangement arrangement{.forks = assembly.forks, .counterweights = assembly.counterweights};
    for (const Item& item : assembly.items) arrangement.seats.push_back(item.seat);
    return arrangement;
}

bool undisturbed(const RollTest& test, const Arrangement& before, const Arrangement& after) {
    const auto same_seat = [](const Seat& a, const Seat& b) {
        return a.at_m == b.at_m && a.facing == b.facing && a.turn_rad == b.turn_rad && a.line == b.line;
    };
    const auto same_fork = [](const Fork& a, const Fork& b) {
        return a.at_m == b.at_m && a.points == b.points && a.clock_rad == b.clock_rad;
    };
    const auto same_weight = [](const Counterweight& a, const Counterweight& b) {
        return a.at_m == b.at_m && a.mass_kg == b.mass_kg && a.radius_m == b.radius_m &&
               a.clock_rad == b.clock_rad;
    };
    return std::equal(before.seats.begin(), before.seats.end(), after.seats.begin(), after.seats.end(),
                      same_seat) &&
           std::equal(before.forks.begin(), before.forks.end(), after.forks.begin(), after.forks.end(),
                      same_fork) &&
           std::all_of(test.counterweights.begin(), test.counterweights.end(), [&](std::size_t on) {
               return on < after.counterweights.size() &&
                      same_weight(before.counterweights[on], after.counterweights[on]);
           });
}

Assembly with_arrangement(Assembly assembly, const Arrangement& arrangement) {
    if (!assembly.roll_tests.empty()) {
        const Arrangement before = arrangement_of(assembly);
        for (RollTest& test : assembly.roll_tests)
            test.counts = test.counts && undisturbed(test, before, arrangement);
    }
    assembly.forks = arrangement.forks;
    assembly.counterweights = arrangement.counterweights;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        Item& item = assembly.items[i];
        item.seat = arrangement.seats[i];
        item.pose = pose_in(item, item.seat);
    }
    return assembly;
}

bool has(const Arrangement& arrangement, const Counterweight& weight) {
    return std::any_of(arrangement.counterweights.begin(), arrangement.counterweights.end(),
                       [&](const Counterweight& other) {
                           return other.at_m == weight.at_m && other.mass_kg == weight.mass_kg &&
                                  other.radius_m == weight.radius_m && other.clock_rad == weight.clock_rad;
                       });
}

Pose pose_in(const Item& item, const Seat& seat) {
    return seat_pose(seat, item.body->bounds.min().x(), item.body->bounds.max().x());
}

bool sits_on_rod(const Seat& seat, double x_min, double x_max, double rod_length_m) {
    const auto on_rod = [rod_length_m](double station_m) {
        return station_m >= 0 && station_m <= rod_length_m;
    };
    const double toward = seat.facing == Facing::point ? 1 : -1;
    return on_rod(seat.at_m) || on_rod(seat.at_m + toward * std::clamp(0.0, x_min, x_max));
}

double whole_mm(double length_m) {
    // As parse_quantity() works "347 mm" out; the text itself would cost the search its speed.
    return static_cast<double>(std::lround(length_m * 1000)) * 1e-3;
}

double whole_degrees(double angle_rad) {
    return static_cast<double>(std::lround(in_turn(angle_rad / degree)) % 360) * degree;
}

Seat settled(Seat seat, const Seat& before) {
    const auto settle = [](double& value, double old) {
        if (value != old) value = whole_mm(value);
    };
    settle(seat.at_m, before.at_m);
    for (Eigen::Index k = 0; k < 2; ++k) {
        settle(seat.line.from[k], before.line.from[k]);
        settle(seat.line.to[k], before.line.to[k]);
    }
    if (seat.turn_rad != before.turn_rad) seat.turn_rad = whole_degrees(seat.turn_rad);
    return seat;
}

double settled_place(double wanted_m, double before_m) {
    constexpr double same_m = 1e-9;
    return std::abs(wanted_m - before_m) < same_m ? before_m : whole_mm(wanted_m);
}

double fork_clock_step(const Fork& fork, const Rod& rod) {
    constexpr double free_step = 5 * degree;
    if (!holds_by_shape(fork, rod)) return free_step;
    switch (rod.section) {
        case Section::square:
            return 90 * degree;
        case Section::hexagon:
            return 60 * degree;
        case Section::round:
            return free_step;
    }
    return free_step;
}

Fork turned(Fork fork, double angle_rad) {
    const long turn = std::lround(angle_rad / degree) % 360;
    if (turn != 0) fork.clock_rad = whole_degrees(fork.clock_rad + static_cast<double>(turn) * degree);
    return fork;
}

}  // namespace evenspit
