// SPDX-License-Identifier: MIT
#include "plan/effort.h"

namespace evenspit::plan {

double effort(const Arrangement& before, const Arrangement& after) {
    double sum = 0;
    for (std::size_t i = 0; i < after.seats.size(); ++i) {
        const Seat &a = before.seats[i], &b = after.seats[i];
        if (a.line != b.line) sum += 3;
        if (a.facing != b.facing) sum += 2;
        if (a.turn_rad != b.turn_rad) sum += 1;
        if (a.at_m != b.at_m) sum += 1;
    }
    for (std::size_t f = 0; f < after.forks.size(); ++f) {
        const Fork &a = before.forks[f], &b = after.forks[f];
        if (a.points != b.points) sum += 1;
        if (a.clock_rad != b.clock_rad) sum += 1;
        if (a.at_m != b.at_m) sum += 1;
    }
    for (const Counterweight& weight : before.counterweights) {
        if (!has(after, weight)) sum += 0.5;
    }
    for (const Counterweight& weight : after.counterweights) {
        if (!has(before, weight)) sum += 2;
    }
    return sum;
}

}  // namespace evenspit::plan
