// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "cook/schedule.h"
#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// A time of the day on which is served: "18:30"; "the day before, 16:30" and "3 days before, 06:10" for
/// those before, "the day after, 00:30" for one past midnight. In whole minutes.
std::string time_of_day_text(double seconds_after_midnight);

/// A time counted from when the load goes on: "as it goes on", "1 h 15 min before", "3 days 11 h before",
/// "after 2 h 40 min".
std::string from_on_text(double seconds);

/// A step of a schedule in words.
struct ToldStep {
    std::string when, what;
};

/// When to do what, in order, a sentence or two each. Times are told in full five minutes.
std::vector<ToldStep> schedule_words(const cook::Schedule& schedule, const Assembly& assembly,
                                     UnitSystem units);

/// "Ready to carve between 17:40 and 18:20, to be served at 18:30."
std::string ready_text(const cook::Schedule& schedule);

}  // namespace evenspit
