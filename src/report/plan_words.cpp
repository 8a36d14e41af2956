// SPDX-License-Identifier: MIT
#include "report/plan_words.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <string_view>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "load/thing.h"
#include "report/change_words.h"
#include "report/mount_words.h"
#include "report/place_words.h"
#include "report/reader_units.h"
#include "report/rod_line_words.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "units/dial.h"
#include "units/listed.h"
#include "units/tell.h"

namespace evenspit {
namespace {

/// What an answer is called.
struct AnswerNames {
    std::string_view key;    ///< in results
    std::string_view words;  ///< for people
};

AnswerNames names_of(plan::PlanKind kind) {
    switch (kind) {
        case plan::PlanKind::as_it_stands:
            return {"as_it_stands", "as it stands"};
        case plan::PlanKind::turned:
            return {"turned", "turned"};
        case plan::PlanKind::line:
            return {"line", "new rod line"};
        case plan::PlanKind::line_forks:
            return {"line_forks", "line and forks"};
        case plan::PlanKind::counterweight:
            return {"counterweight", "weight only"};
        case plan::PlanKind::everything:
            return {"everything", "all and weight"};
        case plan::PlanKind::tied:
            return {"tied", "tied tight"};
        case plan::PlanKind::other_rod:
            return {"other_rod", "another rod"};
        case plan::PlanKind::fewer:
            return {"fewer", "one less"};
    }
    return {};
}

std::string tape(double m, UnitSystem units) {
    return length_text(m, units);
}

/// −180 < a ≤ 180, whole.
long short_degrees(double angle_rad) {
    const long a = std::lround(turn_degrees(angle_rad)) % 360;
    return a > 180 ? a - 360 : a;
}

Stations stations(const AnswerFacts& facts) {
    return {facts.units, facts.after.rod.mark_m};
}

/// A weight from the cook's own stock is known by what it weighs; any other is to be found.
std::string weight_of(const AnswerFacts& facts, double kg) {
    const Units units(facts.units);
    return facts.after.stock.empty() ? units.weight(kg) : units.given(kg, Dimension::mass);
}

std::string strip_of_tape(const AnswerFacts& facts, double station_m) {
    return tape_text(station_m, facts.after.rod.mark_m, facts.units);
}

/// "2 hours (60°) clockwise, seen from the point": the hours of the face run against the clock angle.
std::string turn_text(double by_rad) {
    const long by = short_degrees(by_rad);
    return fmt::format("{} ({}°) {}, seen from the point",
                       dial_turn_text(static_cast<double>(by) * std::numbers::pi / 180), std::abs(by),
                       by > 0 ? "counter-clockwise" : "clockwise");
}

void end_for_end_step(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t i) {
    const Item &before = facts.before.items[i], &after = facts.after.items[i];
    if (before.seat.facing == after.seat.facing) return;
    const std::string so_that = fmt::format(", so that its neck looks to the {}",
                                            after.seat.facing == Facing::point ? "point" : "drive");
    steps.push_back(
        fmt::format("Turn {} end for end{}.", item_name(facts.after, i), after.bird ? so_that : ""));
}

void line_steps(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t i) {
    const Item &before = facts.before.items[i], &after = facts.after.items[i];
    if (before.seat.line == after.seat.line) return;
    steps.push_back(rod_line_step(after, item_name(facts.after, i), facts.units));
}

void seat_steps(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t i) {
    const Item &before = facts.before.items[i], &after = facts.after.items[i];
    const std::string name = item_name(facts.after, i);
    const double turned_by = after.seat.turn_rad - before.seat.turn_rad;
    if (short_degrees(turned_by) != 0) {
        const Vec3 up = after.pose.linear() * Vec3::UnitZ();
        steps.push_back(fmt::format("Turn {} on the rod by {}: its {} then stands at {}.", name,
                                    turn_text(turned_by), after.bird ? "breast" : "top",
                                    dial_text(std::atan2(up.z(), up.y()), DialSteps::minutes)));
    }
    if (before.seat.at_m != after.seat.at_m) {
        const double by = after.seat.at_m - before.seat.at_m;
        const auto [from, to] = stretch_on_rod(after);
        steps.push_back(
            fmt::format("Slide {} {} toward the {}, to reach from a strip of tape at {} to one at {}.", name,
                        tape(std::abs(by), facts.units), by > 0 ? "point" : "drive", stations(facts)(from),
                        strip_of_tape(facts, to)));
    }
}

void fork_steps(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t f) {
    const Fork &before = facts.before.forks[f], &after = facts.after.forks[f];
    std::string step;
    if (before.points != after.points) {
        step += fmt::format("turn it round, tines toward the {}",
                            after.points == Facing::point ? "point" : "drive");
    }
    if (before.at_m != after.at_m) {
        const double by = after.at_m - before.at_m;
        step += fmt::format("{}put a strip of tape at {}, {} nearer the {}, and set the hub there",
                            step.empty() ? "" : "; ", strip_of_tape(facts, after.at_m),
                            tape(std::abs(by), facts.units), by > 0 ? "point" : "drive");
    }
    if (const double by = after.clock_rad - before.clock_rad; short_degrees(by) != 0) {
        const std::string_view what = after.kind == ForkKind::bracket  ? "legs then run out"
                                      : after.kind == ForkKind::basket ? "flat side then looks"
                                                                       : "tines then stand";
        step += fmt::format("{}turn it on the rod by {}: its {} {} {}", step.empty() ? "" : "; ",
                            turn_text(by), what, after.kind == ForkKind::basket ? "to" : "at",
                            after.kind == ForkKind::fork ? tines_text(after)
                                                         : dial_text(after.clock_rad, DialSteps::minutes));
    }
    if (step.empty()) return;
    const std::string name = at_start_of_sentence(fork_name(facts.after.forks, f));
    if (after.kind == ForkKind::basket) {
        steps.push_back(fmt::format("{}: {}. Tighten its screw.", name, step));
    } else if (after.kind == ForkKind::bracket) {
        steps.push_back(fmt::format("{}: {}. Tighten its screw, then the nuts on its plate.", name, step));
    } else {
        steps.push_back(fmt::format("Fork {}: {}. Push the tines in and tighten the screw.", f + 1, step));
    }
}

std::string_view limit_text(plan::RodLimit limit) {
    switch (limit) {
        case plan::RodLimit::bone:
            return "bone is in the way";
        case plan::RodLimit::wall:
            return "the cavity and its openings leave no more room";
        case plan::RodLimit::cover:
            return "too little flesh would be left over the rod";
        case plan::RodLimit::beside:
            return "the rod would miss the body";
    }
    return "";
}

std::string count_text(std::size_t n, std::string_view one, std::string_view many) {
    return n == 1 ? fmt::format("one {}", one) : fmt::format("{} {}", n, many);
}

/// What to take more care over.
std::string_view care_words(Input::Kind kind) {
    switch (kind) {
        case Input::Kind::line_from:
            return "where the rod runs through the meat";
        case Input::Kind::centre:
            return "where its weight sits, weighed on two scales";
        case Input::Kind::station:
            return "the place along the rod";
        case Input::Kind::fork_station:
            return "the places of the forks";
        case Input::Kind::counterweight_radius:
            return "the places of the counterweights";
        case Input::Kind::friction:
            return "friction at the supports, measured";
        default:
            return "the ties";
    }
}

}  // namespace

std::string_view answer_key(plan::PlanKind kind) {
    return names_of(kind).key;
}

std::string answer_title(const plan::Plan& plan, std::size_t answer) {
    return fmt::format("{}: {}", answer, answer_name(plan.answers[answer].kind));
}

std::string_view answer_name(plan::PlanKind kind) {
    return names_of(kind).words;
}

std::string answer_why(const AnswerFacts& facts) {
    const Units units(facts.units);
    const Balance& balance = facts.analysis_after.balance;
    if (facts.kind == plan::PlanKind::as_it_stands) {
        return fmt::format(
            "As it stands the heavy side pulls {} at the worst of the cook, and the motor is used to {} of "
            "its "
            "rating.",
            units.torque(facts.torque_before_n_m), Units::share(balance.motor_use));
    }
    const double cut = facts.torque_before_n_m > 0 ? 1 - facts.torque_after_n_m / facts.torque_before_n_m : 0;
    std::string gain = "though the torque stays what it was";
    if (cut > 0.005)
        gain = fmt::format("which takes {} off the torque", Units::share(std::floor(100 * cut) / 100));
    if (cut < -0.005) {
        gain = fmt::format("though the torque rises from {} to {}", units.torque(facts.torque_before_n_m),
                           units.torque(facts.torque_after_n_m));
    }
    const std::string held = facts.line_held_by
                                 ? fmt::format(" (the rod can come no nearer to the centre of mass: {})",
                                               limit_text(*facts.line_held_by))
                                 : std::string();
    std::string weights;
    if (!facts.after.counterweights.empty()) {
        double kg = 0;
        for (const Counterweight& weight : facts.after.counterweights) kg += weight.mass_kg;
        const std::size_t n = facts.after.counterweights.size();
        weights = fmt::format("{} of {}{}", count_text(n, "counterweight", "counterweights"),
                              weight_of(facts, kg), n == 1 ? "" : " in all");
    }
    switch (facts.kind) {
        case plan::PlanKind::as_it_stands:
            break;
        case plan::PlanKind::turned:
            return fmt::format("Turned so, what hangs on the rod pulls against itself, {}.", gain);
        case plan::PlanKind::line:
            if (cut < -0.005) {
                return fmt::format("The rod runs where it clears more, {}{}; forks stay where they are.",
                                   gain, held);
            }
            return fmt::format("The rod runs nearer to the centre of mass, {}{}; forks stay where they are.",
                               gain, held);
        case plan::PlanKind::line_forks:
            if (cut < -0.005) {
                return fmt::format("Rod and forks sit where the load clears more and is held better{}, {}.",
                                   held, gain);
            }
            return fmt::format(
                "The rod runs nearer to the centre of mass{}, {}, and the forks sit where their tines find "
                "flesh.",
                held, gain);
        case plan::PlanKind::counterweight:
            return fmt::format("The line stays, and balance comes from {} opposite the heavy side, {}.",
                               weights, gain);
        case plan::PlanKind::everything:
            return fmt::format("What the rod's line leaves{} is held by {}, {}.", held, weights, gain);
        case plan::PlanKind::tied:
            return "With its limbs tied nothing flops, and everything can be set up anew.";
        case plan::PlanKind::other_rod:
            return "On another rod, with everything set up anew, it is held and turned better.";
        case plan::PlanKind::fewer:
            return "With one less on the rod there is room for the others, set up anew.";
    }
    return "";
}

namespace {

/// Before the first weight: a drawing does not know where the heavy side really is.
constexpr const char* weights_last =
    "Roll the load before the fire is lit, and set counterweights last: evenspit roll says where they go on "
    "the load as it really hangs. By the drawing they go as follows.";

}  // namespace

std::vector<std::string> answer_steps(const AnswerFacts& facts) {
    std::vector<std::string> steps;
    const Arrangement before = arrangement_of(facts.before), after = arrangement_of(facts.after);
    const Units units(facts.units);
    const Stations station = stations(facts);
    for (std::size_t c = 0; c < facts.before.counterweights.size(); ++c) {
        if (has(after, facts.before.counterweights[c])) continue;
        steps.push_back(fmt::format("Take counterweight {} ({} at {}) off.", c + 1,
                                    units.given(facts.before.counterweights[c].mass_kg, Dimension::mass),
                                    station(facts.before.counterweights[c].at_m)));
    }
    for (std::size_t i = 0; i < facts.after.items.size(); ++i) {
        end_for_end_step(steps, facts, i);
        line_steps(steps, facts, i);
        seat_steps(steps, facts, i);
    }
    for (std::size_t f = 0; f < facts.after.forks.size(); ++f) fork_steps(steps, facts, f);
    const std::size_t before_weights = steps.size();
    for (const Counterweight& weight : facts.after.counterweights) {
        if (has(before, weight)) continue;
        steps.push_back(fmt::format(
            "Clamp a counterweight of {} at a strip of tape {}, its middle {} from the rod's middle, at {}.",
            weight_of(facts, weight.mass_kg), strip_of_tape(facts, weight.at_m),
            tape(weight.radius_m, facts.units), dial_and_clock_text(weight.clock_rad, DialSteps::minutes)));
    }
    if (steps.size() > before_weights)
        steps.emplace(steps.begin() + std::ptrdiff_t(before_weights), weights_last);
    return steps;
}

namespace {

/// Calls `words` with the facts of an answer.
template <typename Words>
auto with_facts(const Assembly& assembly, const plan::Plan& plan, std::size_t answer, UnitSystem units,
                const Words& words) {
    const plan::PlanAnswer& a = plan.answers[answer];
    // Things may have been moved since the plan was made.
    const Assembly& load = plan::load_of(a, assembly);
    const Assembly before = a.changed ? load : with_arrangement(load, plan.answers.front().arrangement),
                   after = with_arrangement(load, a.arrangement);
    return words(AnswerFacts{.before = before,
                             .after = after,
                             .analysis_after = a.analysis,
                             .kind = a.kind,
                             .torque_before_n_m = plan.answers.front().gravity_torque_worst_n_m,
                             .torque_after_n_m = a.gravity_torque_worst_n_m,
                             .line_held_by = a.line_held_by,
                             .units = units});
}

}  // namespace

std::string more_care_text(const std::vector<plan::MoreCare>& more_care) {
    std::vector<std::string> parts;
    constexpr std::size_t most_told = 3;
    for (const plan::MoreCare& care : more_care) {
        if (parts.size() == most_told) break;
        parts.push_back(
            fmt::format("{} (then {} of 100 are ready)", care_words(care.kind), of_100_text(care.ready)));
    }
    const std::string trim =
        "Once it is on the rod, roll it and trim it with a counterweight: evenspit roll says how.";
    if (parts.empty()) return "More care in setting it up helps little. " + trim;
    return fmt::format("What helps most is to be twice as careful about {}. {}", listed(parts, "or"), trim);
}

std::string answer_why(const Assembly& assembly, const plan::Plan& plan, std::size_t answer,
                       UnitSystem units) {
    return with_facts(assembly, plan, answer, units,
                      [](const AnswerFacts& facts) { return printable(answer_why(facts)); });
}

std::vector<std::string> answer_steps(const Assembly& assembly, const plan::Plan& plan, std::size_t answer,
                                      UnitSystem units) {
    const plan::PlanAnswer& a = plan.answers[answer];
    return with_facts(assembly, plan, answer, units, [&](const AnswerFacts& facts) {
        std::vector<std::string> steps = change_steps(a.changes, assembly, facts.after, facts.units);
        for (std::string& step : answer_steps(facts)) steps.push_back(std::move(step));
        for (std::string& step : steps) step = printable(step);
        return steps;
    });
}

}  // namespace evenspit
