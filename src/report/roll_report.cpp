// SPDX-License-Identifier: MIT
#include "report/roll_report.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "load/arrangement.h"
#include "report/chance_words.h"
#include "report/finding_words.h"
#include "report/json_parts.h"
#include "report/page.h"
#include "report/place_words.h"
#include "report/reader_units.h"
#include "report/roll_words.h"
#include "report/text_layout.h"
#include "units/dial.h"
#include "units/listed.h"
#include "units/tell.h"

namespace evenspit {
namespace {

/// A shift of less than half a standard deviation is not worth a word.
constexpr double worth_telling = 0.5;
constexpr std::size_t most_told = 3;
/// A heavy side that is known no better than that is not known.
constexpr double known_side_rad = 60 * std::numbers::pi / 180;

/// How far, and which way, in an item: "6 mm nearer the back of turkey".
std::string way_in(const Item& item, const Vec2& off_m, const Units& units) {
    const bool upright = std::abs(off_m.y()) >= std::abs(off_m.x());
    const double much = upright ? off_m.y() : off_m.x();
    std::string_view way;
    if (item.bird) {
        way = upright    ? (much > 0 ? "the breast" : "the back")
              : much > 0 ? "the right side"
                         : "the left side";
    } else {
        // Who looks along +x with z up has y to the left.
        const bool left = (much > 0) == (item.seat.facing == Facing::point);
        way = upright ? (much > 0 ? "the top" : "the bottom") : left ? "the left side" : "the right side";
    }
    return fmt::format("{} nearer {} of {}", units.length(whole_mm(std::abs(much))), way,
                       printable(item.name));
}

class Implied {
  public:
    Implied(const Assembly& rolled, const Trim& trim, UnitSystem units)
        : rolled_(rolled), trim_(trim), units_(units) {}

    [[nodiscard]] std::vector<std::string> words() const {
        std::vector<std::string> list;
        for (const InputShift& shift : trim_.shifts) {
            if (shift.deviations < worth_telling || list.size() == most_told) break;
            const std::string words = of(shift.input);
            if (!words.empty() && std::find(list.begin(), list.end(), words) == list.end())
                list.push_back(words);
        }
        return list;
    }

  private:
    [[nodiscard]] std::string of(const Input& input) const {
        const std::size_t n = input.about.index;
        switch (input.kind) {
            case Input::Kind::line_from:
            case Input::Kind::line_to:
                return line(n);
            case Input::Kind::centre:
                return centre(n);
            case Input::Kind::item_mass:
                return mass(n);
            case Input::Kind::turn:
                return angle(printable(rolled_.items[n].name),
                             trim_.believed.items[n].seat.turn_rad - rolled_.items[n].seat.turn_rad);
            case Input::Kind::counterweight_clock:
                return angle(counterweight_name(n), trim_.believed.counterweights[n].clock_rad -
                                                        rolled_.counterweights[n].clock_rad);
            case Input::Kind::counterweight_radius: {
                const double further =
                    trim_.believed.counterweights[n].radius_m - rolled_.counterweights[n].radius_m;
                return fmt::format("{} sits {} {} the rod than you meant", counterweight_name(n),
                                   units_.length(whole_mm(std::abs(further))),
                                   further > 0 ? "further from" : "nearer");
            }
            case Input::Kind::friction: {
                const double now =
                    trim_.believed.motor.friction_torque_n_m.value_or(trim_.believed.motor.support_friction);
                const double then =
                    rolled_.motor.friction_torque_n_m.value_or(rolled_.motor.support_friction);
                if (then <= 0) return "";
                return fmt::format("there is {} {} friction than the load file says",
                                   share_text(std::abs(now / then - 1)), now > then ? "more" : "less");
            }
            default:
                return "";
        }
    }

    [[nodiscard]] std::string line(std::size_t n) const {
        const RodLine &now = trim_.believed.items[n].seat.line, &then = rolled_.items[n].seat.line;
        const Vec2 off = (now.from + now.to - then.from - then.to) / 2;
        return fmt::format("the rod runs {} than you meant", way_in(rolled_.items[n], off, units_));
    }
    [[nodiscard]] std::string centre(std::size_t n) const {
        const Item& item = rolled_.items[n];
        return fmt::format("the weight lies {} than its shape says{}",
                           way_in(item, trim_.believed.items[n].off.centre.tail<2>(), units_),
                           item.bird ? " (look whether the cavity is empty)" : "");
    }
    [[nodiscard]] std::string mass(std::size_t n) const {
        const double off = trim_.believed.items[n].off.mass - 1;
        return fmt::format("{} weighs {} {} than you meant", printable(rolled_.items[n].name),
                           share_text(std::abs(off)), off > 0 ? "more" : "less");
    }
    static std::string angle(const std::string& name, double off_rad) {
        return fmt::format("{} is turned by {} of the clock face ({}) from where you meant it", name,
                           dial_turn_text(off_rad), angle_text(off_rad));
    }

    const Assembly& rolled_;
    const Trim& trim_;
    Units units_;
};

void tell_safety(Page& page) {
    page.paragraph("Before you touch the rod: unplug the motor, and roll the load before the fire is lit.");
    page.paragraph(
        "Take the drive end out of the motor. Mind the rod's point and the tines: hold the rod by its "
        "middle, "
        "and let nobody stand where the heavy side swings down.");
    page.gap();
}

Finding contradicts(const RollFound& found) {
    return {.level = Level::care,
            .code = Code::roll_test,
            .value = found.contradiction,
            .facts = RollFacts{found.test, found.folded}};
}

/// "±" words of what was found.
void tell_found(Page& page, const RollFound& found, const Units& units) {
    const bool known = found.heavy_side_sd_rad < known_side_rad;
    page.figure("heavy side", known ? fmt::format("{} ± {}", dial_and_clock_text(found.heavy_side_rad),
                                                  angle_text(found.heavy_side_sd_rad))
                                    : std::string("not known: friction hides it"));
    const double arm = units.picture_arm_m();
    page.figure("unbalance",
                fmt::format("{} ± {}, as if held {} off the rod", units.mass(found.size_kg_m / arm),
                            units.mass(found.size_sd_kg_m / arm), units.length(arm)));
    page.figure("friction there", fmt::format("{} ± {}", units.torque(found.friction_n_m),
                                              units.torque(found.friction_sd_n_m)));
    if (!found.folded || found.contradiction < roll_contradiction)
        page.marked(level_mark(Level::care), Ink::caution, roll_finding_text(contradicts(found)));
}

void tell_implied(Page& page, const Assembly& rolled, const Trim& trim, UnitSystem system) {
    const std::vector<std::string> implied = implied_words(rolled, trim, system);
    page.heading("What it implies");
    if (implied.empty()) {
        page.paragraph("Nothing is far from what you meant.", Page::margin);
        return;
    }
    page.paragraph(fmt::format("Most likely {}.", listed(implied, "or")), Page::margin);
}

std::string trim_step(const Counterweight& weight, const Rod& rod, const Units& units) {
    return fmt::format(
        "Put a strip of tape at {}. Clamp the {} weight there, its middle {} from the rod's middle, at {}.",
        tape_text(weight.at_m, rod.mark_m, units.system()), units.mass(weight.mass_kg),
        units.length(weight.radius_m), dial_and_clock_text(weight.clock_rad, DialSteps::minutes));
}

std::vector<std::string> steps(const Assembly& rolled, const Trim& trim, const Units& units) {
    std::vector<std::string> list;
    if (trim.to_hang) {
        const HungWeight& hung = *trim.to_hang;
        list.push_back(fmt::format(
            "If you can, weigh the heavy side first: hang {} at {} from the rod's middle, at {}. Put the "
            "load "
            "at several angles. If it still turns, the side that comes down is too heavy: move the weight "
            "away "
            "from it, out, in or round, until the load stays wherever you put it. Then run this again with "
            "--weight, --radius and --clock as they were in the end.",
            units.mass(hung.mass_kg), units.length(hung.radius_m),
            dial_and_clock_text(hung.clock_rad, DialSteps::minutes)));
    }
    if (!trim.needed) {
        list.emplace_back("Leave it: friction holds what is left, and no counterweight would better it.");
    } else if (trim.added.empty()) {
        list.emplace_back(
            "No counterweight at hand has a place where it helps: move the rod nearer the heavy "
            "side, then roll the load again.");
    }
    if (rolled.roll_tests[trim.found.back().test].hung)
        list.emplace_back("Take the weight off that you hung on for the test.");
    for (const Counterweight& weight : trim.added) {
        list.push_back(trim_step(weight, rolled.rod, units) +
                       (trim.from_stock ? "" : " [stock] has none: this one would do."));
    }
    list.emplace_back("Move nothing else: an item or a fork that is moved makes the test worthless.");
    if (!trim.added.empty())
        list.emplace_back("Roll it once more. It should now stay nearly wherever you put it.");
    list.emplace_back("Put the drive end back into the motor and plug it in only when hands are clear.");
    return list;
}

void tell_after(Page& page, const Trim& trim, const Units& units, UnitSystem system) {
    page.heading(trim.added.empty() ? "As it is" : "Once it is trimmed");
    const Analysis& a = trim.after;
    const Ink ink = ink_of(a.verdict);
    page.marked(level_mark(a.verdict), ink, verdict_words(a.verdict, a.mounted));
    if (trim.before.uncertainty && a.uncertainty) {
        page.figure("heavy side pulls",
                    fmt::format("at most {} in 95 of 100 mountings; before, {}",
                                units.torque(a.uncertainty->gravity_torque_p95_n_m),
                                units.torque(trim.before.uncertainty->gravity_torque_p95_n_m)));
    }
    for (const Finding& finding : a.findings) {
        if (finding.level == Level::ready || finding.code == Code::roll_test) continue;
        page.marked(level_mark(finding.level), finding.level == Level::stop ? Ink::bad : Ink::caution,
                    finding_text(finding, trim.trimmed, system));
    }
}

/// How it fares, in short.
Json fares_json(const Analysis& a) {
    Json json;
    json["verdict"] = level_name(a.verdict);
    if (a.mounted) put(json, "ready", a.mounted->chance.ready);
    if (a.mounted) put(json, "stop", a.mounted->chance.stop);
    if (a.uncertainty) put(json, "gravity_torque_p95_n_m", a.uncertainty->gravity_torque_p95_n_m);
    return json;
}

Json found_json(const RollFound& found) {
    Json json;
    json["test"] = found.test + 1;
    json["folded"] = found.folded;
    put(json, "contradiction", found.contradiction);
    if (!found.folded) return json;
    put(json, "heavy_side_deg", turn_degrees(found.heavy_side_rad));
    put(json, "heavy_side_sd_deg", found.heavy_side_sd_rad * 180 / std::numbers::pi);
    json["unbalance_kg_m"] = {found.unbalance_kg_m.x() + 0.0, found.unbalance_kg_m.y() + 0.0};
    json["unbalance_sd_kg_m"] = {found.unbalance_sd_kg_m.x(), found.unbalance_sd_kg_m.y()};
    put(json, "unbalance_size_kg_m", found.size_kg_m);
    put(json, "unbalance_size_sd_kg_m", found.size_sd_kg_m);
    put(json, "friction_torque_n_m", found.friction_n_m);
    put(json, "friction_torque_sd_n_m", found.friction_sd_n_m);
    return json;
}

}  // namespace

std::vector<std::string> implied_words(const Assembly& rolled, const Trim& trim, UnitSystem units) {
    return Implied(rolled, trim, units).words();
}

std::string roll_text(const Assembly& rolled, const Trim& trim, const TextOptions& options) {
    const Units units(options.units);
    Page page(options);
    tell_safety(page);
    page.paragraph(printable(fmt::format("{} ({})", rolled.title, rolled.file)));
    for (const RollFound& found : trim.found) {
        page.heading(trim.found.size() == 1 ? std::string("What the roll test says")
                                            : fmt::format("What roll test {} says", found.test + 1));
        tell_found(page, found, units);
    }
    page.paragraph("The clock face is seen from the rod's point: 12 o'clock is up at the start of the turn.",
                   Page::margin);
    tell_implied(page, rolled, trim, options.units);
    page.heading("What to do, in this order");
    int number = 0;
    for (const std::string& step : steps(rolled, trim, units))
        page.marked(fmt::format("{}.", ++number), Ink::plain, step);
    tell_after(page, trim, units, options.units);
    return page.text();
}

std::string roll_json(const Assembly& rolled, const Trim& trim) {
    Json json = report_json(trim.trimmed, trim.after);
    Json roll = found_json(trim.found.back());
    if (trim.found.size() > 1) {
        roll["tests"] = Json::array();
        for (const RollFound& found : trim.found) roll["tests"].push_back(found_json(found));
    }
    roll["implies"] = implied_words(rolled, trim, UnitSystem::metric);
    roll["counterweights"] = Json::array();
    for (const Counterweight& weight : trim.added)
        roll["counterweights"].push_back(counterweight_json(weight));
    roll["from_stock"] = trim.from_stock;
    roll["before"] = fares_json(trim.before);
    roll["after"] = fares_json(trim.after);
    roll["steps"] = steps(rolled, trim, Units(UnitSystem::metric));
    json["roll"] = std::move(roll);
    return json_text(json);
}

}  // namespace evenspit
