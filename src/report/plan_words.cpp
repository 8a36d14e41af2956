// SPDX-License-Identifier: MIT
#include "report/plan_words.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "plan/effort.h"
#include "plan/line_places.h"
#include "report/finding_words.h"
#include "report/reader_units.h"
#include "report/text_layout.h"
#include "units/listed.h"
#include "units/tell.h"

namespace evenspit {
namespace {

/// What an answer is called.
struct AnswerNames {
    std::string_view key;    ///< in results
    std::string_view words;  ///< for people
};

AnswerNames names_of(PlanKind kind) {
    switch (kind) {
        case PlanKind::as_it_stands:
            return {"as_it_stands", "as it stands"};
        case PlanKind::turned:
            return {"turned", "turned"};
        case PlanKind::line:
            return {"line", "new rod line"};
        case PlanKind::line_forks:
            return {"line_forks", "line and forks"};
        case PlanKind::counterweight:
            return {"counterweight", "weight only"};
        case PlanKind::everything:
            return {"everything", "all and weight"};
    }
    return {};
}

std::string tape(double m, UnitSystem units) {
    return length_text(m, units);
}

/// Too little to tell.
bool is_nothing(double m, UnitSystem units) {
    return tape(std::abs(m), units) == tape(0, units);
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

/// "turkey", or "turkey (the second)" where names alone do not tell.
std::string item_name(const Assembly& assembly, std::size_t i) {
    const std::string& name = assembly.items[i].name;
    const auto same = std::count_if(assembly.items.begin(), assembly.items.end(),
                                    [&](const Item& item) { return item.name == name; });
    return same > 1 ? fmt::format("{} (item {})", name, i + 1) : name;
}

std::string turn_text(double by_rad) {
    const long by = short_degrees(by_rad);
    return fmt::format("{}° {}, seen from the point", std::abs(by),
                       by > 0 ? "counter-clockwise" : "clockwise");
}

void line_steps(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t i) {
    const Item &before = facts.before.items[i], &after = facts.after.items[i];
    const RodLine& line = after.seat.line;
    if (before.seat.line == line) return;
    const PreparedBody& body = *after.body;
    const LinePlaces places = line_places(after);
    if (places.openings) {
        const auto [vent, neck] = places.x_m;
        steps.push_back(fmt::format("Run the rod through {}: at the neck opening {}; at the vent {}.",
                                    item_name(facts.after, i),
                                    bird_offset_text(crossing(body, line, neck), facts.units),
                                    bird_offset_text(crossing(body, line, vent), facts.units)));
        return;
    }
    const bool ahead = after.seat.facing == Facing::point;
    const Vec2 middle = places.middle, size = body.bounds.sizes().tail<2>();
    const auto at = [&](const Vec2& end) {
        const Vec2 offset = end - middle;
        // Who looks along +x with z up has y to the left.
        return end_offset_text({ahead ? -offset.x() : offset.x(), offset.y()}, facts.units);
    };
    const std::string near = at(ahead ? line.from : line.to), far = at(ahead ? line.to : line.from);
    const std::string ends = near == far ? fmt::format("at both ends {}", near)
                                         : fmt::format("at the near end {}; at the far end {}", near, far);
    steps.push_back(fmt::format(
        "Run the rod through {}. Seen from the drive, its z axis up, from the middle of its width ({}) and "
        "height ({}): {}.",
        item_name(facts.after, i), tape(size.x(), facts.units), tape(size.y(), facts.units), ends));
}

void seat_steps(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t i) {
    const Item &before = facts.before.items[i], &after = facts.after.items[i];
    const std::string name = item_name(facts.after, i);
    if (before.seat.facing != after.seat.facing) {
        steps.push_back(fmt::format("Turn {} end for end, so that its {} looks to the {}.", name,
                                    after.bird ? "neck" : "end with the greater x",
                                    after.seat.facing == Facing::point ? "point" : "drive"));
    }
    if (const long by = short_degrees(after.seat.turn_rad - before.seat.turn_rad); by != 0) {
        std::string step = fmt::format("Turn {} on the rod by {}", name,
                                       turn_text(after.seat.turn_rad - before.seat.turn_rad));
        if (after.bird) {
            const Vec3 breast = after.pose.linear() * Vec3::UnitZ();
            step += fmt::format(", until its breast stands at clock {}",
                                clock_text(std::atan2(breast.z(), breast.y())));
        }
        steps.push_back(step + ".");
    }
    if (before.seat.at_m != after.seat.at_m) {
        const double by = after.seat.at_m - before.seat.at_m;
        const auto [from, to] = stretch_on_rod(after);
        const Stations station = stations(facts);
        steps.push_back(fmt::format("Slide {} {} toward the {}: it then reaches from {} to {} along the rod.",
                                    name, tape(std::abs(by), facts.units), by > 0 ? "point" : "drive",
                                    station(from), station(to)));
    }
}

void fork_steps(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t f) {
    const Fork &before = facts.before.forks[f], &after = facts.after.forks[f];
    std::string step;
    if (before.at_m != after.at_m) {
        const double by = after.at_m - before.at_m;
        step += fmt::format("hub at {}, {} nearer the {}", stations(facts)(after.at_m),
                            tape(std::abs(by), facts.units), by > 0 ? "point" : "drive");
    }
    if (before.points != after.points) {
        step += fmt::format("{}turned round, tines toward the {}", step.empty() ? "" : "; ",
                            after.points == Facing::point ? "point" : "drive");
    }
    if (const double by = after.clock_rad - before.clock_rad; short_degrees(by) != 0)
        step += fmt::format("{}turned on the rod by {}", step.empty() ? "" : "; ", turn_text(by));
    if (!step.empty()) steps.push_back(fmt::format("Fork {}: {}.", f + 1, step));
}

std::string_view limit_text(RodLimit limit) {
    switch (limit) {
        case RodLimit::bone:
            return "bone is in the way";
        case RodLimit::wall:
            return "the cavity and its openings leave no more room";
        case RodLimit::cover:
            return "too little flesh would be left over the rod";
        case RodLimit::beside:
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

std::string_view answer_key(PlanKind kind) {
    return names_of(kind).key;
}

std::string answer_title(const Plan& plan, std::size_t answer) {
    return fmt::format("{}: {}", answer, answer_name(plan.answers[answer].kind));
}

std::string_view answer_name(PlanKind kind) {
    return names_of(kind).words;
}

std::string bird_offset_text(const Vec2& offset_m, UnitSystem units) {
    std::string words;
    const auto say = [&](double m, std::string_view way) {
        if (is_nothing(m, units)) return;
        words += fmt::format("{}{} toward {}", words.empty() ? "" : " and ", tape(std::abs(m), units), way);
    };
    say(offset_m.y(), offset_m.y() > 0 ? "the breast" : "the back");
    say(offset_m.x(), offset_m.x() > 0 ? "its right" : "its left");
    return words.empty() ? "through its middle" : words + " from its middle";
}

std::string end_offset_text(const Vec2& offset_m, UnitSystem units) {
    std::string words;
    const auto say = [&](double m, std::string_view way) {
        if (is_nothing(m, units)) return;
        words += fmt::format("{}{} {}", words.empty() ? "" : " and ", tape(std::abs(m), units), way);
    };
    say(offset_m.y(), offset_m.y() > 0 ? "above" : "below");
    say(offset_m.x(), offset_m.x() > 0 ? "to the right" : "to the left");
    return words.empty() ? "through the middle" : words;
}

std::string answer_why(const AnswerFacts& facts) {
    const Units units(facts.units);
    const Balance& balance = facts.analysis_after.balance;
    if (facts.kind == PlanKind::as_it_stands) {
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
        case PlanKind::as_it_stands:
            break;
        case PlanKind::turned:
            return fmt::format("Turned so, what hangs on the rod pulls against itself, {}.", gain);
        case PlanKind::line:
            if (cut < -0.005)
                return fmt::format("The rod runs where it clears more, {}{}; forks stay where they are.",
                                   gain, held);
            return fmt::format("The rod runs nearer to the centre of mass, {}{}; forks stay where they are.",
                               gain, held);
        case PlanKind::line_forks:
            if (cut < -0.005) {
                return fmt::format("Rod and forks sit where the load clears more and is held better{}, {}.",
                                   held, gain);
            }
            return fmt::format(
                "The rod runs nearer to the centre of mass{}, {}, and the forks sit where their tines find "
                "flesh.",
                held, gain);
        case PlanKind::counterweight:
            return fmt::format("The line stays, and balance comes from {} opposite the heavy side, {}.",
                               weights, gain);
        case PlanKind::everything:
            return fmt::format("What the rod's line leaves{} is held by {}, {}.", held, weights, gain);
    }
    return "";
}

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
    for (std::size_t i = 0; i < facts.after.items.size(); ++i) line_steps(steps, facts, i);
    for (std::size_t i = 0; i < facts.after.items.size(); ++i) seat_steps(steps, facts, i);
    for (std::size_t f = 0; f < facts.after.forks.size(); ++f) fork_steps(steps, facts, f);
    for (const Counterweight& weight : facts.after.counterweights) {
        if (has(before, weight)) continue;
        steps.push_back(fmt::format(
            "Set a counterweight of {} at {} along the rod, its middle {} from the rod's axis, at clock {}.",
            weight_of(facts, weight.mass_kg), station(weight.at_m), tape(weight.radius_m, facts.units),
            clock_text(weight.clock_rad)));
    }
    return steps;
}

namespace {

/// Words for what binds a load.
class LimitWords {
  public:
    LimitWords(const Assembly& assembly, UnitSystem system)
        : assembly_(assembly), system_(system), units_(system) {}

    std::string operator()(const MotorLimit& limit) const {
        return fmt::format(
            "The motor's torque binds: {} are needed at the peak. A motor rated {} or more would lift it, or "
            "a "
            "counterweight opposite: {}.",
            units_.torque(limit.torque_n_m), torque_text(limit.rating_needed_n_m, system_, {}, Rounding::up),
            counterweight_text(limit.excess_kg_m, system_));
    }

    std::string operator()(const RoomLimit& limit) const {
        std::string surfaces;
        for (const RoomLimit::Strike& strike : limit.strikes) {
            surfaces += fmt::format("{}{} by {}", surfaces.empty() ? "" : ", ",
                                    thing_name({Thing::Kind::surface, strike.surface}, assembly_),
                                    units_.slack(strike.depth_m));
        }
        std::string lift = "Something that reaches less far would lift it";
        if (limit.body_kg) {
            const std::string body = fmt::format("body of about {}", units_.mass(*limit.body_kg));
            lift = limit.loose ? fmt::format("Tying it tight would lift it, or a {}", body)
                               : fmt::format("A {} would lift it", body);
        }
        return fmt::format(
            "The room in the cooker binds: {} strikes {}. {}, or a cooker with so much more room.",
            thing_name(limit.part, assembly_), surfaces, lift);
    }

    std::string operator()(const StrengthLimit& limit) const {
        return fmt::format(
            "The rod's strength binds: it is stressed to {} of what it bears. A rod {} wide, or a load of {} "
            "of this weight, would lift it.",
            Units::share(limit.yield_use), units_.length_or_more(limit.width_m),
            Units::share(std::floor(100 / limit.yield_use) / 100));
    }

    std::string operator()(const HoldLimit& limit) const {
        const std::string name = item_name(assembly_, limit.item);
        switch (limit.why) {
            case HoldLimit::Why::no_fork:
                return fmt::format("Nothing holds {}: it needs forks whose tines reach into it.", name);
            case HoldLimit::Why::no_flesh:
                return fmt::format(
                    "The forks of {} find no flesh: longer tines, or tines at another radius, would lift it.",
                    name);
            case HoldLimit::Why::torque:
                break;
        }
        return fmt::format(
            "The grip on {} binds: it pulls {} of what its forks hold when cooked. Tines {:.1f} times as "
            "long "
            "or as far from the rod, or a second fork, would lift it.",
            name, Units::share(limit.torque_use), limit.times_longer);
    }

    std::string operator()(const LengthLimit& limit) const {
        const Beside there = length_beside(limit.needed_m, limit.usable_m, system_);
        return fmt::format(
            "The rod's usable length binds: there are {}, and what is to be roasted takes {}. A longer rod, "
            "or "
            "a body shorter by {}, would lift it.",
            there.limit, there.figure, units_.length_or_more(limit.needed_m - limit.usable_m));
    }

    std::string operator()(const Finding& finding) const { return finding_text(finding, assembly_, system_); }

  private:
    const Assembly& assembly_;
    UnitSystem system_;
    Units units_;
};

/// Calls `words` with the facts of an answer.
template <typename Words>
auto with_facts(const Assembly& assembly, const Plan& plan, std::size_t answer, UnitSystem units,
                const Words& words) {
    const PlanAnswer& a = plan.answers[answer];
    // Things may have been moved since the plan was made.
    const Assembly before = with_arrangement(assembly, plan.answers.front().arrangement),
                   after = with_arrangement(assembly, a.arrangement);
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

std::string more_care_text(const std::vector<MoreCare>& more_care) {
    std::vector<std::string> parts;
    constexpr std::size_t most_told = 3;
    for (const MoreCare& care : more_care) {
        if (parts.size() == most_told) break;
        parts.push_back(
            fmt::format("{} (then {} of 100 are ready)", care_words(care.kind), of_100_text(care.ready)));
    }
    const std::string trim =
        "Once it is on the rod, roll it and trim it with a counterweight: evenspit roll says how.";
    if (parts.empty()) return "More care in setting it up helps little. " + trim;
    return fmt::format("What helps most is to be twice as careful about {}. {}", listed(parts, "or"), trim);
}

std::string answer_why(const Assembly& assembly, const Plan& plan, std::size_t answer, UnitSystem units) {
    return with_facts(assembly, plan, answer, units,
                      [](const AnswerFacts& facts) { return printable(answer_why(facts)); });
}

std::vector<std::string> answer_steps(const Assembly& assembly, const Plan& plan, std::size_t answer,
                                      UnitSystem units) {
    return with_facts(assembly, plan, answer, units, [](const AnswerFacts& facts) {
        std::vector<std::string> steps = answer_steps(facts);
        for (std::string& step : steps) step = printable(step);
        return steps;
    });
}

std::string limit_text(const PlanLimit& limit, const Assembly& assembly, UnitSystem units) {
    return printable(std::visit(LimitWords(assembly, units), limit));
}

std::string fit_stop_text(const FitStop& stop, const Assembly& assembly, UnitSystem units) {
    if (const auto* limit = std::get_if<PlanLimit>(&stop)) return limit_text(*limit, assembly, units);
    const auto* complaint = std::get_if<Complaint>(&stop);
    if (complaint == nullptr) return "";
    return printable(complaint->expected.empty()
                         ? std::string("There is no such body.")
                         : "There is no such body: expected " + complaint->expected + ".");
}

}  // namespace evenspit
