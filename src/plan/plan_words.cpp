// SPDX-License-Identifier: MIT
#include "plan/plan_words.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "units/metric.h"
#include "units/quantity.h"

namespace evenspit {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double half_mm = 0.0005;
constexpr double keep_use = 0.6;  // of the motor, above which `check` asks for care

std::string mm(double m) {
    return fmt::format("{:.0f} mm", m * 1000 + 0.0);
}
std::string percent(double share) {
    return fmt::format("{:.0f} %", 100 * share);
}
/// 0 ≤ a < 360, whole.
long degrees(double angle_rad) {
    const long a = std::lround(angle_rad / degree) % 360;
    return a < 0 ? a + 360 : a;
}
/// −180 < a ≤ 180, whole.
long short_degrees(double angle_rad) {
    const long a = degrees(angle_rad);
    return a > 180 ? a - 360 : a;
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

/// Stations of the openings of a bird's cavity in the item frame; both the same if there is none.
std::array<double, 2> openings(const Body& body) {
    Box3 box;
    for (const Part& part : body.parts) {
        if (part.kind == PartKind::cavity && part.parent < 0) box.extend(bounds(part.mesh));
    }
    if (box.isEmpty()) return {0, 0};
    return {box.min().x(), box.max().x()};
}

bool told_by_openings(const Item& item) {
    const auto [vent, neck] = openings(item.body->body);
    return item.body->body.pointed_ends_known && vent < neck;
}

/// Where a rod line crosses the plane of an x, (y, z) in the item frame.
Vec2 crossing(const PreparedBody& body, const RodLine& line, double x) {
    const double from = body.bounds.min().x(), to = body.bounds.max().x();
    return line.from + (line.to - line.from) * ((x - from) / (to - from));
}

bool same(const RodLine& a, const RodLine& b) {
    return a.from == b.from && a.to == b.to;
}

void line_steps(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t i) {
    const Item &before = facts.before.items[i], &after = facts.after.items[i];
    const RodLine& line = after.seat.line;
    if (same(before.seat.line, line)) return;
    const PreparedBody& body = *after.body;
    if (told_by_openings(after)) {
        const auto [vent, neck] = openings(body.body);
        steps.push_back(fmt::format("Run the rod through {}: at the neck opening {}; at the vent {}.",
                                    item_name(facts.after, i), bird_offset_text(crossing(body, line, neck)),
                                    bird_offset_text(crossing(body, line, vent))));
        return;
    }
    const bool ahead = after.seat.facing == Facing::point;
    const Vec2 middle = body.bounds.center().tail<2>(), size = body.bounds.sizes().tail<2>();
    const auto at = [&](const Vec2& end) {
        const Vec2 offset = end - middle;
        // Who looks along +x with z up has y to the left.
        return end_offset_text({ahead ? -offset.x() : offset.x(), offset.y()});
    };
    const std::string near = at(ahead ? line.from : line.to), far = at(ahead ? line.to : line.from);
    const std::string ends = near == far ? fmt::format("at both ends {}", near)
                                         : fmt::format("at the near end {}; at the far end {}", near, far);
    steps.push_back(fmt::format(
        "Run the rod through {}. Seen from the drive, its z axis up, from the middle of its width ({}) and "
        "height ({}): {}.",
        item_name(facts.after, i), mm(size.x()), mm(size.y()), ends));
}

void seat_steps(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t i,
                const PlacedItem& placed) {
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
            step += fmt::format(", until its breast stands at clock {}°",
                                degrees(std::atan2(breast.z(), breast.y())));
        }
        steps.push_back(step + ".");
    }
    if (before.seat.at_m != after.seat.at_m) {
        const double by = after.seat.at_m - before.seat.at_m;
        steps.push_back(fmt::format("Slide {} {} toward the {}: it then reaches from {} to {} along the rod.",
                                    name, mm(std::abs(by)), by > 0 ? "point" : "drive", mm(placed.from()),
                                    mm(placed.to())));
    }
}

void fork_steps(std::vector<std::string>& steps, const AnswerFacts& facts, std::size_t f) {
    const Fork &before = facts.before.forks[f], &after = facts.after.forks[f];
    std::string step;
    if (before.at_m != after.at_m) {
        const double by = after.at_m - before.at_m;
        step += fmt::format("hub at {}, {} nearer the {}", mm(after.at_m), mm(std::abs(by)),
                            by > 0 ? "point" : "drive");
    }
    if (before.points != after.points) {
        step += fmt::format("{}turned round, tines toward the {}", step.empty() ? "" : "; ",
                            after.points == Facing::point ? "point" : "drive");
    }
    if (const double by = after.clock_rad - before.clock_rad; short_degrees(by) != 0)
        step += fmt::format("{}turned on the rod by {}", step.empty() ? "" : "; ", turn_text(by));
    if (!step.empty()) steps.push_back(fmt::format("Fork {}: {}.", f + 1, step));
}

bool same(const Counterweight& a, const Counterweight& b) {
    return a.at_m == b.at_m && a.mass_kg == b.mass_kg && a.radius_m == b.radius_m &&
           a.clock_rad == b.clock_rad;
}

bool contains(const std::vector<Counterweight>& list, const Counterweight& weight) {
    return std::any_of(list.begin(), list.end(), [&](const Counterweight& w) { return same(w, weight); });
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

/// What strikes the cooker, part by part, and how much smaller the body would have to be.
void room_limits(std::vector<PlanLimit>& limits, const Assembly& assembly, const Clearance& clearance) {
    struct Strike {
        std::string part, surfaces;
        double pass_share = 1;  // of its reach, that would just pass
    };
    std::vector<Strike> strikes;
    for (const SurfaceGap& surface : clearance.surfaces) {
        if (surface.gap_m >= 0) continue;
        auto strike = std::find_if(strikes.begin(), strikes.end(),
                                   [&](const Strike& s) { return s.part == surface.part; });
        if (strike == strikes.end()) strike = strikes.insert(strike, {.part = surface.part, .surfaces = {}});
        strike->surfaces += fmt::format("{}{} by {}", strike->surfaces.empty() ? "" : ", ", surface.name,
                                        metric(-surface.gap_m, Dimension::length));
        const double reach = clearance.outline.radius_at(surface.at_m);
        const double share = reach > 0 ? (reach + surface.gap_m) / reach : 0;
        strike->pass_share = std::min(strike->pass_share, std::max(0.0, share));
    }
    for (const Strike& strike : strikes) {
        const auto item = std::find_if(assembly.items.begin(), assembly.items.end(),
                                       [&](const Item& i) { return strike.part.starts_with(i.name); });
        std::string lift = "Something that reaches less far would lift it";
        if (item != assembly.items.end() && strike.pass_share > 0) {
            const std::string body = fmt::format(
                "body of about {}",
                metric(item->body->mass.amount * std::pow(strike.pass_share, 3), Dimension::mass));
            lift = item->trussed ? fmt::format("A {} would lift it", body)
                                 : fmt::format("Tying it tight would lift it, or a {}", body);
        }
        limits.push_back(
            {"clearance", fmt::format("The room in the cooker binds: {} strikes {}. {}, or a cooker "
                                      "with so much more room.",
                                      strike.part, strike.surfaces, lift)});
    }
}

std::string count_text(std::size_t n, std::string_view one, std::string_view many) {
    return n == 1 ? fmt::format("one {}", one) : fmt::format("{} {}", n, many);
}

}  // namespace

std::string_view answer_name(PlanKind kind) {
    switch (kind) {
        case PlanKind::as_it_stands:
            return "as it stands";
        case PlanKind::turned:
            return "turned";
        case PlanKind::line:
            return "new rod line";
        case PlanKind::line_forks:
            return "line and forks";
        case PlanKind::counterweight:
            return "weight only";
        case PlanKind::everything:
            return "all and weight";
    }
    return "";
}

std::string bird_offset_text(const Vec2& offset_m) {
    std::string words;
    const auto say = [&](double m, std::string_view way) {
        if (std::abs(m) < half_mm) return;
        words += fmt::format("{}{} toward {}", words.empty() ? "" : " and ", mm(std::abs(m)), way);
    };
    say(offset_m.y(), offset_m.y() > 0 ? "the breast" : "the back");
    say(offset_m.x(), offset_m.x() > 0 ? "its right" : "its left");
    return words.empty() ? "through its middle" : words + " from its middle";
}

std::string end_offset_text(const Vec2& offset_m) {
    std::string words;
    const auto say = [&](double m, std::string_view way) {
        if (std::abs(m) < half_mm) return;
        words += fmt::format("{}{} {}", words.empty() ? "" : " and ", mm(std::abs(m)), way);
    };
    say(offset_m.y(), offset_m.y() > 0 ? "above" : "below");
    say(offset_m.x(), offset_m.x() > 0 ? "to the right" : "to the left");
    return words.empty() ? "through the middle" : words;
}

std::string answer_why(const AnswerFacts& facts) {
    const Balance& balance = facts.analysis_after.balance;
    if (facts.kind == PlanKind::as_it_stands) {
        return fmt::format(
            "As it stands the heavy side pulls {} at the worst of the cook, and the motor is used to {} of "
            "its "
            "rating.",
            metric(facts.torque_before_n_m, Dimension::torque), percent(balance.motor_use));
    }
    const double cut = facts.torque_before_n_m > 0 ? 1 - facts.torque_after_n_m / facts.torque_before_n_m : 0;
    std::string gain = "though the torque stays what it was";
    if (cut > 0.005)
        gain = fmt::format("which takes {} off the torque", percent(std::floor(100 * cut) / 100));
    if (cut < -0.005) {
        gain = fmt::format("though the torque rises from {} to {}",
                           metric(facts.torque_before_n_m, Dimension::torque),
                           metric(facts.torque_after_n_m, Dimension::torque));
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
                              metric(kg, Dimension::mass), n == 1 ? "" : " in all");
    }
    switch (facts.kind) {
        case PlanKind::as_it_stands:
            break;
        case PlanKind::turned:
            return fmt::format("Turned so, what hangs on the rod pulls against itself, {}.", gain);
        case PlanKind::line:
            return fmt::format("The rod runs nearer to the centre of mass, {}{}; forks stay where they are.",
                               gain, held);
        case PlanKind::line_forks:
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
    const std::vector<PlacedItem> placed = place_items(facts.after);
    for (std::size_t c = 0; c < facts.before.counterweights.size(); ++c) {
        if (contains(facts.after.counterweights, facts.before.counterweights[c])) continue;
        steps.push_back(fmt::format("Take counterweight {} ({} at {}) off.", c + 1,
                                    metric(facts.before.counterweights[c].mass_kg, Dimension::mass),
                                    mm(facts.before.counterweights[c].at_m)));
    }
    for (std::size_t i = 0; i < facts.after.items.size(); ++i) line_steps(steps, facts, i);
    for (std::size_t i = 0; i < facts.after.items.size(); ++i) seat_steps(steps, facts, i, placed[i]);
    for (std::size_t f = 0; f < facts.after.forks.size(); ++f) fork_steps(steps, facts, f);
    for (const Counterweight& weight : facts.after.counterweights) {
        if (contains(facts.before.counterweights, weight)) continue;
        steps.push_back(fmt::format(
            "Set a counterweight of {} at {} along the rod, its middle {} from the rod's axis, at clock {}°.",
            metric(weight.mass_kg, Dimension::mass), mm(weight.at_m), mm(weight.radius_m),
            degrees(weight.clock_rad)));
    }
    return steps;
}

double answer_effort(const Setting& before, const Setting& after) {
    double effort = 0;
    for (std::size_t i = 0; i < after.seats.size(); ++i) {
        const Seat &a = before.seats[i], &b = after.seats[i];
        if (!same(a.line, b.line)) effort += 3;
        if (a.facing != b.facing) effort += 2;
        if (a.turn_rad != b.turn_rad) effort += 1;
        if (a.at_m != b.at_m) effort += 1;
    }
    for (std::size_t f = 0; f < after.forks.size(); ++f) {
        const Fork &a = before.forks[f], &b = after.forks[f];
        if (a.points != b.points) effort += 1;
        if (a.clock_rad != b.clock_rad) effort += 1;
        if (a.at_m != b.at_m) effort += 1;
    }
    for (const Counterweight& weight : before.counterweights) {
        if (!contains(after.counterweights, weight)) effort += 0.5;
    }
    for (const Counterweight& weight : after.counterweights) {
        if (!contains(before.counterweights, weight)) effort += 2;
    }
    return effort;
}

std::vector<PlanLimit> answer_limits(const Assembly& assembly, const Analysis& a) {
    std::vector<PlanLimit> limits;
    const auto say = [&limits](std::string topic, std::string message) {
        limits.push_back({std::move(topic), std::move(message)});
    };
    const Balance& b = a.balance;
    if (b.motor_use >= 1 || a.turning.stalls) {
        const double needed = b.motor_torque_peak_n_m / keep_use;
        const double too_much =
            std::max(0.0, b.gravity_torque_peak_n_m -
                              std::max(0.0, keep_use * b.rated_torque_n_m - b.friction_torque_n_m));
        say("motor",
            fmt::format("The motor's torque binds: {} are needed at the peak. A motor rated {} or more "
                        "would lift it, or a counterweight that adds {:.0f} g at 100 mm.",
                        metric(b.motor_torque_peak_n_m, Dimension::torque), metric(needed, Dimension::torque),
                        std::ceil(too_much / standard_gravity / 0.1 * 1000)));
    }
    room_limits(limits, assembly, a.clearance);
    if (a.rod.yield_use >= 1) {
        // Stress falls with the third power of the width.
        const double width = assembly.rod.width_m * std::cbrt(a.rod.yield_use / 0.5);
        say("rod",
            fmt::format(
                "The rod's strength binds: it is stressed to {} of what it bears. A rod {} wide, or a "
                "load of {} of this weight, would lift it.",
                percent(a.rod.yield_use), metric(width, Dimension::length), percent(1 / a.rod.yield_use)));
    }
    for (std::size_t i = 0; i < a.grip.items.size(); ++i) {
        const ItemGrip& grip = a.grip.items[i];
        const std::string name = item_name(assembly, i);
        if (grip.forks.empty()) {
            say("grip", fmt::format("Nothing holds {}: it needs forks whose tines reach into it.", name));
        } else if (!grip.torque_use) {
            say("grip",
                fmt::format("The forks of {} find no flesh: longer tines, or tines at another radius, would "
                            "lift it.",
                            name));
        } else if (*grip.torque_use >= 1) {
            say("grip",
                fmt::format("The grip on {} binds: it pulls {} of what its forks hold when cooked. Tines "
                            "{:.1f} times as long or as far from the rod, or a second fork, would lift it.",
                            name, percent(*grip.torque_use), *grip.torque_use / 0.5));
        }
    }
    double needed_m = 0;
    for (const PlacedItem& item : place_items(assembly)) needed_m += item.to() - item.from();
    const double usable_m = assembly.rod.usable_m[1] - assembly.rod.usable_m[0];
    if (needed_m > usable_m) {
        say("place",
            fmt::format("The rod's usable length binds: there are {}, and what is to be roasted takes {}. A "
                        "longer rod, or a body shorter by {}, would lift it.",
                        mm(usable_m), mm(needed_m), mm(std::ceil((needed_m - usable_m) * 1000) / 1000)));
    }
    for (const Finding& finding : a.findings) {
        if (finding.level == Level::stop && finding.topic == "place" && needed_m <= usable_m)
            say("place", finding.message);
    }
    // What this list has no words of its own for.
    for (const Finding& finding : a.findings) {
        const bool told = std::any_of(limits.begin(), limits.end(), [&](const PlanLimit& limit) {
            return limit.topic == finding.topic || finding.topic == "turning";
        });
        if (finding.level == Level::stop && !told) say(finding.topic, finding.message);
    }
    return limits;
}

}  // namespace evenspit
