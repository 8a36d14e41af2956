// SPDX-License-Identifier: MIT
#include "report/mount_words.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "load/thing.h"
#include "report/place_words.h"
#include "report/reader_units.h"
#include "report/rod_line_words.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "report/tie_words.h"
#include "units/dial.h"
#include "units/listed.h"

namespace evenspit {
namespace {

/// One thing that goes over the rod's point.
struct OverThePoint {
    Thing::Kind kind;
    std::size_t index;
    double at_m;  ///< what decides the order
};

std::string_view end_name(Facing facing) {
    return facing == Facing::point ? "point" : "drive";
}

class Mounting {
  public:
    Mounting(const Assembly& assembly, UnitSystem units) : assembly_(assembly), units_(units) {}

    [[nodiscard]] std::vector<std::string> steps() const {
        std::vector<OverThePoint> things;
        for (std::size_t f = 0; f < assembly_.forks.size(); ++f) {
            if (assembly_.forks[f].kind != ForkKind::bracket)
                things.push_back({Thing::Kind::fork, f, assembly_.forks[f].at_m});
        }
        for (std::size_t i = 0; i < assembly_.items.size(); ++i) {
            const auto [from, to] = stretch_on_rod(assembly_.items[i]);
            things.push_back({Thing::Kind::item, i, (from + to) / 2});
        }
        std::stable_sort(things.begin(), things.end(),
                         [](const OverThePoint& a, const OverThePoint& b) { return a.at_m < b.at_m; });
        std::vector<std::string> steps;
        bool first_fork = true;
        for (const OverThePoint& thing : things) {
            if (thing.kind == Thing::Kind::item) {
                if (!basket_of(thing.index)) item_steps(thing.index, steps);
            } else if (assembly_.forks[thing.index].kind == ForkKind::basket) {
                steps.push_back(basket(thing.index));
            } else {
                steps.push_back(fork(thing.index, first_fork));
                first_fork = false;
            }
        }
        for (std::size_t f = 0; f < assembly_.forks.size(); ++f) {
            if (assembly_.forks[f].kind == ForkKind::bracket) steps.push_back(bracket(f));
        }
        for (std::string& step : steps) step = printable(step);
        return steps;
    }

  private:
    [[nodiscard]] std::string tape(double station_m) const {
        return tape_text(station_m, assembly_.rod.mark_m, units_);
    }

    /// What is measured as on another item before is not told again.
    void item_steps(std::size_t i, std::vector<std::string>& steps) const {
        for (std::size_t before = 0; before < i; ++before) {
            if (line(i, "") != line(before, "")) continue;
            steps.push_back(fmt::format("Push the rod through {} as through {}. {}", item_name(assembly_, i),
                                        item_name(assembly_, before), place(i)));
            return tie_to_rod(i, steps);
        }
        steps.push_back(line(i, item_name(assembly_, i)));
        steps.push_back(place(i));
        tie_to_rod(i, steps);
    }

    void tie_to_rod(std::size_t i, std::vector<std::string>& steps) const {
        std::string step = tying_on_rod_step(assembly_.items[i], item_name(assembly_, i));
        if (!step.empty()) steps.push_back(std::move(step));
    }

    [[nodiscard]] std::string line(std::size_t i, std::string_view name) const {
        return rod_line_step(assembly_.items[i], name, units_);
    }

    [[nodiscard]] std::string place(std::size_t i) const {
        const Item& item = assembly_.items[i];
        const auto [from, to] = stretch_on_rod(item);
        const Vec3 up = item.pose.linear() * Vec3::UnitZ();
        return fmt::format(
            "Slide it until it reaches from {} to {} from the square end. Turn its {} to {}{}.",
            Units(units_).length(from), Units(units_).length(to), item.bird ? "breast" : "top",
            dial_text(std::atan2(up.z(), up.y()), DialSteps::minutes),
            item.bird ? fmt::format(", its neck toward the {}", end_name(item.seat.facing)) : std::string());
    }

    [[nodiscard]] std::string fork(std::size_t f, bool first) const {
        const Fork& fork = assembly_.forks[f];
        return fmt::format(
            "Fork {}: hub at {}, tines toward the {}, turned as on the clock face. Tighten {}.", f + 1,
            tape(fork.at_m), end_name(fork.points), first ? "its screw and pull at it" : "it");
    }

    /// The basket that an item lies in.
    [[nodiscard]] std::optional<std::size_t> basket_of(std::size_t i) const {
        for (std::size_t f = 0; f < assembly_.forks.size(); ++f) {
            const Fork& fork = assembly_.forks[f];
            if (fork.kind == ForkKind::basket && in_basket(assembly_.items[i], fork)) return f;
        }
        return std::nullopt;
    }

    [[nodiscard]] std::string basket(std::size_t f) const {
        const Fork& basket = assembly_.forks[f];
        std::vector<std::string> in;
        for (std::size_t i = 0; i < assembly_.items.size(); ++i) {
            if (basket_of(i) == f) in.push_back(item_name(assembly_, i));
        }
        if (basket.cage.contents_kg > 0)
            in.push_back(fmt::format("{} of loose pieces", Units(units_).mass(basket.cage.contents_kg)));
        const auto [from, to] = fork_stretch(basket);
        std::string step =
            fmt::format("{}: on the rod from {} to {}", at_start_of_sentence(fork_name(assembly_.forks, f)),
                        tape(from), tape(to));
        if (!basket.cage.round)
            step += fmt::format(", its flat side to {}", dial_text(basket.clock_rad, DialSteps::minutes));
        step += ". Tighten its screw.";
        if (!in.empty())
            step += fmt::format(" Put {} in, spread evenly, and close it so that nothing shifts.",
                                listed(in, "and"));
        return step;
    }

    [[nodiscard]] std::string bracket(std::size_t f) const {
        const Fork& bracket = assembly_.forks[f];
        return fmt::format(
            "{}: its bolt round the rod at {}, its legs out through the back at {}, one on each side of the "
            "spine. "
            "Screw it tight on the rod. Set its plate on the back and tighten the nuts evenly, no harder "
            "than the "
            "skin bears.",
            at_start_of_sentence(fork_name(assembly_.forks, f)), tape(bracket.at_m),
            dial_text(bracket.clock_rad, DialSteps::minutes));
    }

    const Assembly& assembly_;
    UnitSystem units_;
};

}  // namespace

std::string tines_text(const Fork& fork) {
    std::vector<std::string> places;
    for (const Tine& tine : fork.tines)
        places.push_back(dial_text(tine_clock(fork, tine), DialSteps::minutes));
    return listed(places, "and");
}

std::vector<std::string> mounting_steps(const Assembly& assembly, UnitSystem units) {
    return Mounting(assembly, units).steps();
}

std::vector<std::string> counterweight_steps(const Assembly& assembly, UnitSystem units) {
    const Units told(units);
    std::vector<std::string> steps;
    for (const Counterweight& weight : assembly.counterweights) {
        steps.push_back(fmt::format(
            "Clamp the counterweight of {} at {}, its middle {} from the rod's middle, at {}. Pull at it.",
            told.given(weight.mass_kg, Dimension::mass), tape_text(weight.at_m, assembly.rod.mark_m, units),
            told.length(weight.radius_m), dial_and_clock_text(weight.clock_rad, DialSteps::minutes)));
    }
    return steps;
}

std::vector<std::string> rolling_steps(const Assembly& assembly) {
    std::vector<std::string> steps{
        "Unplug the motor and take the drive end out. Lay the rod on two level supports on which it turns "
        "freely.",
        "Let it roll. Write down what comes to the bottom, or none.",
        "Hang a weight opposite. Move it until the load stays wherever you put it."};
    if (assembly.rod.section == Section::square)
        steps[0] += " A square rod on flat rails locks: let its round bushings carry it.";
    return steps;
}

std::vector<std::string> taking_down_steps(const Assembly& assembly, double stand_s) {
    const bool several = assembly.items.size() > 1;
    const std::string it = several ? "them" : "it";
    std::vector<std::string> steps{
        "Motor off and unplugged before you measure. Measure clear of bone, rod and tines.",
        "Gloves on. Lift the rod out and lay it across a tray so that it cannot roll."};
    if (!assembly.counterweights.empty()) steps.emplace_back("Take the counterweights off. They are hot.");
    steps.push_back(fmt::format("Let {} rest{} on the rod.", it,
                                stand_s > 0 ? " " + Units::minutes(stand_s) : std::string()));
    const auto has = [&assembly](ForkKind kind) {
        return std::any_of(assembly.forks.begin(), assembly.forks.end(),
                           [kind](const Fork& fork) { return fork.kind == kind; });
    };
    if (has(ForkKind::bracket))
        steps.emplace_back(
            "Brackets first: undo the nuts, take the plates off, and push the bolts out toward the belly.");
    if (has(ForkKind::fork))
        steps.emplace_back(has(ForkKind::bracket)
                               ? "Then the forks: loosen their screws, then pull the tines straight out."
                               : "Forks out first: loosen their screws, then pull the tines straight out.");
    if (has(ForkKind::basket))
        steps.emplace_back("Open the basket on the tray, and lift out what lies in it.");
    steps.push_back("Where the skin sticks to rod or tines and would tear, slit it with a knife first.");
    steps.push_back(
        fmt::format("Rod last: hold {} with a clean cloth and draw the rod out by its square end. "
                    "Mind the point.",
                    several ? "each" : "it"));
    return steps;
}

}  // namespace evenspit
