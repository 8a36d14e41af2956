// SPDX-License-Identifier: MIT
#include "report/schedule_words.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "load/thing.h"
#include "report/food_words.h"
#include "report/reader_units.h"
#include "report/roast_words.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "report/tie_words.h"
#include "rig/plane_room.h"
#include "units/listed.h"

namespace evenspit {
namespace {

constexpr double day_s = 24 * 3600, told_to_s = 300;

double earlier_five(double seconds) {
    return told_to_s * std::floor(seconds / told_to_s + 1e-9);
}
double later_five(double seconds) {
    return told_to_s * std::ceil(seconds / told_to_s - 1e-9);
}
double nearest_five(double seconds) {
    return told_to_s * std::round(seconds / told_to_s);
}

std::string between_text(bool by_clock, double from_s, double to_s) {
    const double from = earlier_five(from_s), to = later_five(to_s);
    if (from == to) return by_clock ? time_of_day_text(from) : from_on_text(from);
    if (by_clock) return fmt::format("between {} and {}", time_of_day_text(from), time_of_day_text(to));
    return fmt::format("after {} to {}", Units::minutes(from), Units::minutes(to));
}

class ScheduleWords {
  public:
    ScheduleWords(const cook::Schedule& schedule, const Assembly& assembly, UnitSystem system)
        : schedule_(schedule),
          assembly_(assembly),
          system_(system),
          units_(system),
          several_(assembly.items.size() > 1) {}

    [[nodiscard]] std::string when(const cook::Step& step) const {
        switch (step.kind) {
            case cook::StepKind::take_off:
                return between_text(schedule_.by_clock, step.from_s, step.to_s);
            case cook::StepKind::rest:
                return "then";
            case cook::StepKind::carve:
                return at(nearest_five(step.from_s));
            default:
                // All alike, so that what is told first comes first.
                return at(earlier_five(step.from_s));
        }
    }

    [[nodiscard]] std::string what(const cook::Step& step) const {
        switch (step.kind) {
            case cook::StepKind::thaw_in_refrigerator:
            case cook::StepKind::thaw_in_cold_water:
            case cook::StepKind::prepare:
            case cook::StepKind::marinate:
            case cook::StepKind::truss:
            case cook::StepKind::spit:
                return before_the_fire(step);
            case cook::StepKind::light_fire:
                return burns_in_the_open(assembly_.cooker)
                           ? "Light the fire. It has to burn down to a bed that glows. Keep that bed up all "
                             "through the cook."
                           : "Light the fire. It has to burn up, and to heat the cooker through.";
            case cook::StepKind::preheat:
                return "Heat the cooker.";
            case cook::StepKind::load_on:
                return "Put the rod in and start the motor.";
            case cook::StepKind::check_motor:
                return "Watch a few turns. The motor must not struggle, and nothing may slip or touch.";
            case cook::StepKind::baste:
                return fmt::format("Baste, from now on every {}.{}", Units::minutes(step.every_s),
                                   burns_in_the_open(assembly_.cooker) ? "" : " Be quick with the lid.");
            case cook::StepKind::retighten:
                return retighten(step);
            case cook::StepKind::start_checking:
                return fmt::format("Stop the motor and measure {}, then every {}.{}{}", where_to_measure(),
                                   Units::minutes(step.every_s), off_at(), takes_longest());
            case cook::StepKind::take_off:
                return fmt::format("Take {} off, when the thermometer says so.{}", it(), if_early(step));
            case cook::StepKind::rest:
                return fmt::format("Let {} rest {}, and measure again{}.", it(),
                                   Units::minutes(step.to_s - step.from_s), must_have());
            case cook::StepKind::carve:
                return "Carve and serve.";
        }
        return "";
    }

  private:
    [[nodiscard]] std::string_view it() const { return several_ ? "them" : "it"; }

    [[nodiscard]] std::string at(double seconds) const {
        return schedule_.by_clock ? time_of_day_text(seconds) : from_on_text(seconds);
    }

    [[nodiscard]] std::string before_the_fire(const cook::Step& step) const {
        switch (step.kind) {
            case cook::StepKind::thaw_in_refrigerator:
                return fmt::format(
                    "Move {} from the freezer to the refrigerator to thaw: 24 hours for every {} (USDA).",
                    it(), units_.metric() ? "1.8 to 2.3 kg" : "4 to 5 lb");
            case cook::StepKind::thaw_in_cold_water:
                return fmt::format(
                    "Or thaw {} in cold water now, well wrapped, the water changed every {}. Then leave out "
                    "the marinade and cook {} at once (USDA).",
                    it(), Units::minutes(step.every_s), it());
            case cook::StepKind::prepare:
                return fmt::format("Feel for ice inside{}. Pat {} dry.",
                                   schedule_.bird ? ", and take the giblets out" : "", it());
            case cook::StepKind::marinate:
                return fmt::format("If you marinate {}: {} in the refrigerator, turned every {}.", it(),
                                   Units::minutes(step.to_s - step.from_s), Units::minutes(step.every_s));
            case cook::StepKind::truss:
                return tie();
            default:
                return fmt::format(
                    "Put {} on the rod and tighten the forks. Check the balance by hand: let the rod roll on "
                    "its supports, it should stay where you leave it.",
                    it());
        }
    }

    [[nodiscard]] std::string tie() const {
        const std::vector<Item>& items = assembly_.items;
        const auto pig = std::find_if(items.begin(), items.end(), is_pig);
        return pig != items.end() ? tying_step(*pig)
                                  : fmt::format("{} {} tight.", schedule_.bird ? "Truss" : "Tie", it());
    }

    /// In one stop of the motor: "push forks 1 and 3 in by 5 mm and fork 2 in by 4 mm, and tighten them".
    [[nodiscard]] std::string retighten(const cook::Step& step) const {
        constexpr double least_push_m = 0.0005;  // less is nothing on a ruler
        std::vector<std::string> work;
        std::vector<std::pair<std::string, std::vector<std::size_t>>> by_push;
        for (const cook::Retighten& push : step.pushes) {
            const std::string fork = fork_name(assembly_.forks, push.fork);
            const ForkKind kind = assembly_.forks[push.fork].kind;
            if (kind == ForkKind::basket) {
                work.push_back(fmt::format("close {} tighter", fork));
            } else if (kind == ForkKind::bracket) {
                work.push_back(fmt::format("tighten the nuts on the plate of {}", fork));
            } else if (push.push_m < least_push_m) {
                work.push_back("tighten " + fork);
            } else {
                const std::string by = units_.length_or_more(push.push_m);
                auto same = std::find_if(by_push.begin(), by_push.end(),
                                         [&by](const auto& told) { return told.first == by; });
                if (same == by_push.end()) same = by_push.insert(same, {by, {}});
                same->second.push_back(push.fork);
            }
        }
        std::vector<std::string> pushes;
        bool several = by_push.size() > 1;
        for (const auto& [by, forks] : by_push) {
            pushes.push_back(fmt::format("{} in by {}", forks_name(forks), by));
            several = several || forks.size() > 1;
        }
        if (!pushes.empty()) {
            work.insert(work.begin(), "push " + listed(pushes, "and") +
                                          (several ? ", and tighten them" : " and tighten it"));
        }
        if (work.size() > 1) return fmt::format("Stop the motor: {}.", fmt::join(work, "; "));
        return std::string("Stop the motor") + (pushes.empty() ? " and " : ", ") + work.front() + ".";
    }

    [[nodiscard]] std::string forks_name(const std::vector<std::size_t>& forks) const {
        if (forks.size() == 1) return fork_name(assembly_.forks, forks.front());
        std::vector<std::string> numbers;
        numbers.reserve(forks.size());
        for (const std::size_t fork : forks)
            numbers.push_back(fmt::format("{}", fork_section(assembly_.forks, fork).number));
        return "forks " + listed(numbers, "and");
    }

    /// Of what may stand about too long before it is served.
    [[nodiscard]] std::string if_early(const cook::Step& step) const {
        if (!schedule_.serve_s || step.to_s - step.from_s <= limits::wait_care_s) return "";
        return fmt::format(" If that is early, keep {} at {} or hotter until dinner (USDA).", it(),
                           units_.temperature(limits::kept_hot_k));
    }

    [[nodiscard]] std::string where_to_measure() const {
        std::string where = schedule_.bird
                                ? "in the thickest part of the breast and in the inner thigh, clear "
                                  "of bone and rod"
                                : "in the middle of the thickest part, clear of bone, rod and tines";
        if (schedule_.stuffed) where += ", and in the middle of the stuffing";
        return where;
    }

    /// " It comes off at breast 162 °F and thigh 172 °F."
    [[nodiscard]] std::string off_at() const {
        std::vector<std::string> told;
        for (const RoastPlace& place : schedule_.watched) {
            if (!place.pull_k) continue;
            const std::string of =
                several_ && !alike_in_all() ? item_name(assembly_, place.item) + ", " : std::string();
            const std::string words = of + place_words(place.name) + " " + units_.temperature(*place.pull_k);
            if (std::find(told.begin(), told.end(), words) == told.end()) told.push_back(words);
        }
        if (told.empty()) return "";
        return fmt::format(" {} off at {}.", several_ ? "They come" : "It comes", listed(told, "and"));
    }

    /// " The breast of third chicken takes longest: measure 781 mm along the rod, …, too."
    [[nodiscard]] std::string takes_longest() const {
        if (!schedule_.last) return "";
        const auto& [place, at] = *schedule_.last;
        const std::string item = several_ ? item_name(assembly_, place.item) : std::string("it");
        std::string what = at_start_of_sentence(item);
        if (place.kind != PlaceKind::core) {
            what = "The " + std::string(place_words(place.name));
            if (several_) what += " of " + item;
        }
        return fmt::format(" {} takes longest: measure {}, too.", what,
                           inner_spot_text(assembly_.items[place.item], at, system_));
    }

    /// Whether the same temperatures of the same places are waited for in every item.
    [[nodiscard]] bool alike_in_all() const {
        std::vector<std::vector<std::pair<std::string, double>>> of_item(assembly_.items.size());
        for (const RoastPlace& place : schedule_.watched) {
            if (place.pull_k && place.item < of_item.size())
                of_item[place.item].emplace_back(place.name, *place.pull_k);
        }
        return std::all_of(of_item.begin(), of_item.end(),
                           [&](const auto& places) { return places == of_item.front(); });
    }

    /// ": 165 °F or more (USDA)", if that holds for all that is measured.
    [[nodiscard]] std::string must_have() const {
        std::optional<double> safe_k;
        for (const RoastPlace& place : schedule_.watched) {
            if (!place.safe_k) continue;
            if (safe_k && *safe_k != *place.safe_k) return "";
            safe_k = place.safe_k;
        }
        return safe_k ? fmt::format(": {} or more (USDA)", units_.temperature(*safe_k)) : "";
    }

    const cook::Schedule& schedule_;
    const Assembly& assembly_;
    UnitSystem system_;
    Units units_;
    bool several_;
};

}  // namespace

std::string time_of_day_text(double seconds_after_midnight) {
    const double minutes = std::round(seconds_after_midnight / 60);
    const double day = std::floor(minutes * 60 / day_s);
    const auto of_day = static_cast<int>(minutes - day * day_s / 60);
    std::string time = fmt::format("{:02}:{:02}", of_day / 60, of_day % 60);
    if (day == 0) return time;
    if (day == -1) return "the day before, " + time;
    if (day == 1) return "the day after, " + time;
    return fmt::format("{:.0f} days {}, {}", std::abs(day), day < 0 ? "before" : "after", time);
}

std::string from_on_text(double seconds) {
    const double minutes = std::round(seconds / 60);
    if (minutes == 0) return "as it goes on";
    if (minutes > 0) return "after " + Units::minutes(seconds);
    const double days = std::floor(-minutes * 60 / day_s);
    if (days == 0) return Units::minutes(-seconds) + " before";
    const double hours = std::round((-seconds - days * day_s) / 3600);
    const std::string whole = fmt::format("{:.0f} {}", days, days == 1 ? "day" : "days");
    return hours == 0 ? whole + " before" : fmt::format("{} {:.0f} h before", whole, hours);
}

std::vector<ToldStep> schedule_words(const cook::Schedule& schedule, const Assembly& assembly,
                                     UnitSystem units) {
    const ScheduleWords words(schedule, assembly, units);
    std::vector<ToldStep> told;
    told.reserve(schedule.steps.size());
    for (const cook::Step& step : schedule.steps)
        told.push_back({printable(words.when(step)), printable(words.what(step))});
    return told;
}

std::string ready_text(const cook::Schedule& schedule) {
    const std::string when = between_text(schedule.by_clock, schedule.ready_s.low, schedule.ready_s.high);
    if (!schedule.serve_s) return fmt::format("Ready to carve {}, its rest counted in.", when);
    const bool one_time = when.find(' ') == std::string::npos;
    return fmt::format("Ready to carve {}{}, to be served at {}.", one_time ? "at " : "", when,
                       time_of_day_text(*schedule.serve_s));
}

}  // namespace evenspit
