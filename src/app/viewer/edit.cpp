// SPDX-License-Identifier: MIT
#include "app/viewer/edit.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <numbers>
#include <numeric>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "load/thing.h"
#include "units/metric.h"

namespace evenspit::viewer {
namespace {

bool finite(std::initializer_list<double> values) {
    return std::all_of(values.begin(), values.end(), [](double v) { return std::isfinite(v); });
}

Refusal no_number(const std::string& what) {
    return {what + " needs a finite number."};
}

std::optional<Refusal> off_rod(const std::string& what, double at_m, const Rod& rod) {
    if (at_m >= 0 && at_m <= rod.length_m) return std::nullopt;
    return Refusal{fmt::format("{} cannot sit at {}: the rod reaches from 0 mm to {}.", what,
                               metric_length(at_m), metric_length(rod.length_m))};
}

bool same_seat(const Seat& a, const Seat& b) {
    return a.at_m == b.at_m && a.facing == b.facing && a.turn_rad == b.turn_rad &&
           a.line.from == b.line.from && a.line.to == b.line.to;
}

bool same_fork(const Fork& a, const Fork& b) {
    return a.at_m == b.at_m && a.points == b.points && a.clock_rad == b.clock_rad;
}

bool same_weight(const Counterweight& a, const Counterweight& b) {
    return a.at_m == b.at_m && a.mass_kg == b.mass_kg && a.radius_m == b.radius_m &&
           a.clock_rad == b.clock_rad && a.diameter_m == b.diameter_m;
}

/// A line that leaves the body's box at either end misses the body.
std::optional<Refusal> beside_body(const Item& item, const RodLine& line) {
    const Box3& box = item.body->bounds;
    for (const Vec2& end : {line.from, line.to}) {
        for (Eigen::Index axis = 0; axis < 2; ++axis) {
            const double low = box.min()[axis + 1], high = box.max()[axis + 1];
            if (end[axis] >= low && end[axis] <= high) continue;
            return Refusal{
                fmt::format("A rod line at {} = {} would run beside {}, which reaches from {} to {}.",
                            axis == 0 ? 'y' : 'z', metric_length(end[axis]), item.name, metric_length(low),
                            metric_length(high))};
        }
    }
    return std::nullopt;
}

std::optional<Refusal> refused_seat(const Assembly& assembly, const Item& item, const Seat& seat) {
    const RodLine& line = seat.line;
    if (!finite({seat.at_m, seat.turn_rad, line.from.x(), line.from.y(), line.to.x(), line.to.y()}))
        return no_number(item.name);
    if (auto refusal = beside_body(item, line)) return refusal;
    const Box3& box = item.body->bounds;
    if (sits_on_rod(seat, box.min().x(), box.max().x(), assembly.rod.length_m)) return std::nullopt;
    return Refusal{fmt::format("{} at {} would be off the rod, which reaches from 0 mm to {}.", item.name,
                               metric_length(seat.at_m), metric_length(assembly.rod.length_m))};
}

std::optional<Refusal> refused_weight(const Assembly& assembly, const Counterweight& weight) {
    if (!finite({weight.at_m, weight.mass_kg, weight.radius_m, weight.clock_rad, weight.diameter_m}))
        return no_number("A counterweight");
    if (weight.mass_kg <= 0) return Refusal{"A counterweight needs a mass above zero."};
    if (weight.diameter_m <= 0) return Refusal{"A counterweight needs a diameter above zero."};
    const double nearest = section_properties(assembly.rod.section, assembly.rod.width_m).outer_radius_m;
    if (weight.radius_m < nearest) {
        return Refusal{
            fmt::format("A counterweight cannot hang {} from the axis: the rod itself is {} thick there.",
                        metric_length(weight.radius_m), metric_length(nearest))};
    }
    return off_rod("A counterweight", weight.at_m, assembly.rod);
}

std::optional<Refusal> refused_fork(const Assembly& assembly, std::size_t fork, const Fork& to) {
    if (!finite({to.at_m, to.clock_rad})) return no_number(fork_name(assembly.forks, fork));
    return off_rod(fork_name(assembly.forks, fork), to.at_m, assembly.rod);
}

std::optional<Refusal> refused_test(const Assembly& assembly, const RollTest& test) {
    if (const std::string why = why_it_locks(assembly.rod, test.on); !why.empty()) {
        return Refusal{
            fmt::format("It cannot be rolled on that: {}. Slip two bushings on it and roll it again.", why)};
    }
    if (!std::isfinite(test.down_rad.value_or(0))) return no_number("A roll test");
    if (!test.hung) return std::nullopt;
    if (!finite({test.hung->mass_kg, test.hung->radius_m, test.hung->clock_rad}))
        return no_number("A hung weight");
    if (test.hung->mass_kg <= 0) return Refusal{"A hung weight needs a mass above zero."};
    if (test.hung->radius_m <= 0) return Refusal{"A hung weight needs a radius above zero."};
    return std::nullopt;
}

Refusal not_there() {
    return {"That is not on the rod any more."};
}

/// The value that a person would write, where arithmetic has missed it by a hair: a hundred-thousandth of a
/// millimetre, a degree or a gram is the least that is written.
double tidied(double value, double unit) {
    constexpr double steps = 1e5, hair = 1e-9;
    const double units = value / unit, round = std::round(units * steps) / steps;
    // Both are written as they stand.
    if (value == round * unit || value == round / std::round(1 / unit)) return value;
    return std::abs(units - round) < hair * std::max(1.0, std::abs(round)) ? round * unit : value;
}

struct Tidier {
    static constexpr double mm = 1e-3, gram = 1e-3, degree = std::numbers::pi / 180;

    static void tidy(double& value, double before, double unit) {
        if (value != before) value = tidied(value, unit);
    }
    static void tidy(Vec2& value, const Vec2& before) {
        tidy(value.x(), before.x(), mm);
        tidy(value.y(), before.y(), mm);
    }
    static void tidy(Arrangement& places, const Arrangement& before) {
        for (std::size_t i = 0; i < places.seats.size(); ++i) {
            Seat& seat = places.seats[i];
            const Seat& was = before.seats[i];
            tidy(seat.at_m, was.at_m, mm);
            tidy(seat.turn_rad, was.turn_rad, degree);
            tidy(seat.line.from, was.line.from);
            tidy(seat.line.to, was.line.to);
        }
        for (std::size_t f = 0; f < places.forks.size(); ++f) {
            tidy(places.forks[f].at_m, before.forks[f].at_m, mm);
            tidy(places.forks[f].clock_rad, before.forks[f].clock_rad, degree);
        }
        for (std::size_t c = 0; c < places.counterweights.size(); ++c) {
            // What is new has nothing to be the same as.
            const Counterweight was =
                c < before.counterweights.size()
                    ? before.counterweights[c]
                    : Counterweight{
                          .at_m = NAN, .mass_kg = NAN, .radius_m = NAN, .clock_rad = NAN, .diameter_m = NAN};
            Counterweight& weight = places.counterweights[c];
            tidy(weight.at_m, was.at_m, mm);
            tidy(weight.mass_kg, was.mass_kg, gram);
            tidy(weight.radius_m, was.radius_m, mm);
            tidy(weight.clock_rad, was.clock_rad, degree);
            tidy(weight.diameter_m, was.diameter_m, mm);
        }
    }
};

/// Puts one edit into the places, or says why not.
struct Applier {
    const Assembly& assembly;
    Arrangement places;

    std::optional<Refusal> operator()(const SetSeat& edit) {
        if (edit.item >= places.seats.size()) return not_there();
        if (auto refusal = refused_seat(assembly, assembly.items[edit.item], edit.seat)) return refusal;
        places.seats[edit.item] = edit.seat;
        return std::nullopt;
    }
    std::optional<Refusal> operator()(const SetFork& edit) {
        if (edit.fork >= places.forks.size()) return not_there();
        Fork to = places.forks[edit.fork];
        to.at_m = edit.at_m;
        to.points = edit.points;
        to.clock_rad = edit.clock_rad;
        if (auto refusal = refused_fork(assembly, edit.fork, to)) return refusal;
        places.forks[edit.fork] = to;
        return std::nullopt;
    }
    std::optional<Refusal> operator()(const SetWeight& edit) {
        if (edit.weight >= places.counterweights.size()) return not_there();
        if (auto refusal = refused_weight(assembly, edit.to)) return refusal;
        places.counterweights[edit.weight] = edit.to;
        return std::nullopt;
    }
    std::optional<Refusal> operator()(const AddWeight& edit) {
        if (auto refusal = refused_weight(assembly, edit.weight)) return refusal;
        places.counterweights.push_back(edit.weight);
        return std::nullopt;
    }
    std::optional<Refusal> operator()(const RemoveWeight& edit) {
        if (edit.weight >= places.counterweights.size()) return not_there();
        places.counterweights.erase(places.counterweights.begin() + static_cast<std::ptrdiff_t>(edit.weight));
        return std::nullopt;
    }
    std::optional<Refusal> operator()(const SetPlaces& edit) {
        if (edit.places.seats.size() != assembly.items.size() ||
            edit.places.forks.size() != assembly.forks.size()) {
            return Refusal{"That arrangement belongs to another load."};
        }
        for (std::size_t i = 0; i < edit.places.seats.size(); ++i) {
            if (auto refusal = refused_seat(assembly, assembly.items[i], edit.places.seats[i]))
                return refusal;
        }
        for (std::size_t f = 0; f < edit.places.forks.size(); ++f) {
            if (auto refusal = refused_fork(assembly, f, edit.places.forks[f])) return refusal;
        }
        for (const Counterweight& weight : edit.places.counterweights) {
            if (auto refusal = refused_weight(assembly, weight)) return refusal;
        }
        places = edit.places;
        return std::nullopt;
    }
    std::optional<Refusal> operator()(const AddRollTest& edit) { return refused_test(assembly, edit.test); }
};

struct Namer {
    const Assembly& assembly;

    std::string operator()(const SetSeat& edit) const {
        if (edit.item >= assembly.items.size()) return "move an item";
        const Item& item = assembly.items[edit.item];
        const Seat& before = item.seat;
        const bool line = before.line.from != edit.seat.line.from || before.line.to != edit.seat.line.to;
        if (line) return "shift the rod line through " + item.name;
        if (before.turn_rad != edit.seat.turn_rad || before.facing != edit.seat.facing)
            return "turn " + item.name;
        return "slide " + item.name;
    }
    std::string operator()(const SetFork& edit) const {
        const bool slid = edit.fork < assembly.forks.size() && assembly.forks[edit.fork].at_m != edit.at_m;
        return (slid ? "slide " : "turn ") + fork_name(assembly.forks, edit.fork);
    }
    std::string operator()(const SetWeight& edit) const { return "move " + counterweight_name(edit.weight); }
    std::string operator()(const AddWeight& /*edit*/) const { return "add a counterweight"; }
    std::string operator()(const RemoveWeight& edit) const {
        return "take away " + counterweight_name(edit.weight);
    }
    std::string operator()(const SetPlaces& edit) const { return edit.why; }
    std::string operator()(const AddRollTest& /*edit*/) const { return "put down a roll test"; }
};

}  // namespace

bool same_arrangement(const Arrangement& a, const Arrangement& b) {
    return std::equal(a.seats.begin(), a.seats.end(), b.seats.begin(), b.seats.end(), same_seat) &&
           std::equal(a.forks.begin(), a.forks.end(), b.forks.begin(), b.forks.end(), same_fork) &&
           std::equal(a.counterweights.begin(), a.counterweights.end(), b.counterweights.begin(),
                      b.counterweights.end(), same_weight);
}

Sitting sitting_of(const Assembly& assembly) {
    return {arrangement_of(assembly), assembly.roll_tests};
}

bool same_sitting(const Sitting& a, const Sitting& b) {
    return same_arrangement(a.places, b.places) && a.roll_tests == b.roll_tests;
}

std::variant<Sitting, Refusal> applied_since(const Sitting& before, const Assembly& assembly,
                                             const Edit& edit) {
    std::variant<Arrangement, Refusal> outcome = applied(assembly, edit);
    if (auto* refusal = std::get_if<Refusal>(&outcome)) return std::move(*refusal);
    Sitting after{std::get<Arrangement>(std::move(outcome)), before.roll_tests};
    for (RollTest& test : after.roll_tests)
        test.counts = test.counts && undisturbed(test, before.places, after.places);
    if (const auto* added = std::get_if<AddRollTest>(&edit)) {
        RollTest test = added->test;
        test.counterweights.resize(assembly.counterweights.size());
        std::iota(test.counterweights.begin(), test.counterweights.end(), 0U);
        test.as_rolled = rolled_marks(assembly, test.counterweights);
        after.roll_tests.push_back(std::move(test));
    }
    return after;
}

std::variant<Arrangement, Refusal> applied(const Assembly& assembly, const Edit& edit) {
    Applier applier{assembly, arrangement_of(assembly)};
    if (auto refusal = std::visit(applier, edit)) return *refusal;
    // A plan's own numbers are as they are written already.
    if (!std::holds_alternative<SetPlaces>(edit)) Tidier::tidy(applier.places, arrangement_of(assembly));
    return std::move(applier.places);
}

std::string edit_name(const Assembly& assembly, const Edit& edit) {
    return std::visit(Namer{assembly}, edit);
}

}  // namespace evenspit::viewer
