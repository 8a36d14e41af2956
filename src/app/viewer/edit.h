// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <variant>
#include <vector>

#include "load/arrangement.h"

namespace evenspit::viewer {

/// All of a load that edits change.
struct Sitting {
    Arrangement places;
    std::vector<RollTest> roll_tests;
};
Sitting sitting_of(const Assembly& assembly);

/// Equal to the last bit.
bool same_arrangement(const Arrangement& a, const Arrangement& b);
bool same_sitting(const Sitting& a, const Sitting& b);

// What hands can ask for.
struct SetSeat {
    std::size_t item = 0;
    Seat seat;
};
struct SetFork {
    std::size_t fork = 0;
    double at_m = 0;
    Facing points = Facing::point;
    double clock_rad = 0;
};
struct SetWeight {
    std::size_t weight = 0;
    Counterweight to;
};
struct AddWeight {
    Counterweight weight;
};
struct RemoveWeight {
    std::size_t weight = 0;
};
/// A whole arrangement at once, as a plan proposes it.
struct SetPlaces {
    Arrangement places;
    std::string why;
};
/// What a roll test of the load as it sits has shown; what was on the rod, and where, is noted with it.
struct AddRollTest {
    RollTest test;
};
using Edit = std::variant<SetSeat, SetFork, SetWeight, AddWeight, RemoveWeight, SetPlaces, AddRollTest>;

/// Why something may not be; one sentence for the cook.
struct Refusal {
    std::string reason;
};

/// What an edit makes of the load, or why it may not be. A roll test counts no more once something that was
/// on the rod sits elsewhere than in `before`.
///
/// \param before how things sat when the gesture began that the edit goes on with
std::variant<Sitting, Refusal> applied_since(const Sitting& before, const Assembly& assembly,
                                             const Edit& edit);

/// What an edit makes of the places, or why it may not be.
///
/// Refused is what cannot be done at a real rod at all: a hub or a weight off the rod, an item that no longer
/// touches it, a rod line beside the body, a weight without mass or size or closer to the axis than the rod
/// is thick, a roll test on what the rod cannot roll on, numbers that are not finite. What can be done but
/// should not be is for the findings to tell.
std::variant<Arrangement, Refusal> applied(const Assembly& assembly, const Edit& edit);

/// What undo calls it: "move turkey", "take away counterweight 1".
std::string edit_name(const Assembly& assembly, const Edit& edit);

}  // namespace evenspit::viewer
