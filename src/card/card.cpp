// SPDX-License-Identifier: MIT
#include "card/card.h"

#include <algorithm>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "card/drawing.h"
#include "report/caution_words.h"
#include "report/chance_words.h"
#include "report/finding_words.h"
#include "report/mount_words.h"
#include "report/reader_units.h"
#include "report/report.h"
#include "report/schedule_words.h"
#include "report/text_layout.h"
#include "report/tool.h"
#include "roast/roast_course.h"

namespace evenspit::card {
namespace {

CardStep untimed(std::string what) {
    return {.when = "", .what = std::move(what)};
}

std::vector<CardStep> untimed(std::vector<std::string> all) {
    std::vector<CardStep> steps;
    steps.reserve(all.size());
    for (std::string& what : all) steps.push_back(untimed(std::move(what)));
    return steps;
}

/// Done in the kitchen, hours or days before anyone stands outside.
bool long_before(cook::StepKind kind) {
    using enum cook::StepKind;
    return kind == thaw_in_refrigerator || kind == thaw_in_cold_water || kind == prepare || kind == marinate;
}

/// What a cook does in any case, where no times can be told.
cook::Schedule timeless(const Assembly& load) {
    using enum cook::StepKind;
    cook::Schedule schedule;
    for (const Item& item : load.items) {
        schedule.bird = schedule.bird || item.bird;
        const std::vector<PlaceKind> places = places_of(item);
        schedule.stuffed =
            schedule.stuffed || std::find(places.begin(), places.end(), PlaceKind::stuffing) != places.end();
    }
    for (const RoastPlace& place : roast_places(load)) {
        if (place.pull_k) schedule.watched.push_back(place);
    }
    constexpr double every_s = 600;  // as a schedule with times has it
    for (const cook::StepKind kind :
         {prepare, truss, light_fire, load_on, check_motor, start_checking, take_off})
        schedule.steps.push_back({.kind = kind, .every_s = kind == start_checking ? every_s : 0});
    return schedule;
}

class CardMaker {
  public:
    explicit CardMaker(const CardFacts& facts) : facts_(facts), load_(facts.load) {}

    [[nodiscard]] Card made() const {
        Card card;
        const std::string file = std::filesystem::path(load_.file).filename().string();
        card.title = printable(load_.title.empty() ? file : load_.title);
        card.file = printable(file);
        card.verdict = facts_.analysis.verdict;
        card.verdict_words = verdict_words(card.verdict, facts_.analysis.mounted);
        card.dial = dial_words(load_, facts_.units);
        card.by_clock = facts_.schedule && facts_.schedule->by_clock;
        for (CardSection section :
             {to_fix(), putting_together(), rolling(), cooking(), taking_down(), cautions()}) {
            if (!section.steps.empty() || !section.notes.empty()) card.sections.push_back(std::move(section));
        }
        card.made_by = fmt::format("{} {}", tool_name(), tool_version());
        return card;
    }

  private:
    [[nodiscard]] std::string command(std::string_view verb) const {
        return printable(fmt::format("{} {} {}", tool_name(), verb,
                                     std::filesystem::path(load_.file).filename().string()));
    }

    [[nodiscard]] CardSection to_fix() const {
        CardSection section{"Fix first"};
        // Nobody goes outside with more to mend than that.
        constexpr std::size_t most_on_paper = 3;
        for (const Finding& finding : facts_.analysis.findings) {
            if (finding.level == Level::ready) continue;
            section.steps.push_back(untimed(finding_text(finding, load_, facts_.units)));
            section.steps.back().when = level_mark(finding.level);
            section.steps.back().may_be_left_out = section.steps.size() > most_on_paper;
        }
        section.told_by = command("check");
        return section;
    }

    [[nodiscard]] CardSection putting_together() const {
        return {"Put it on the rod", untimed(mounting_steps(load_, facts_.units))};
    }

    [[nodiscard]] CardSection rolling() const {
        CardSection section{"Roll it before the fire is lit", untimed(rolling_steps(load_))};
        const bool metric = facts_.units == UnitSystem::metric;
        const std::string small = metric ? "mm" : "in", weight = metric ? "g" : "oz";
        section.blanks = {{"At the bottom:", "o'clock, seen from the point", "down"},
                          {"Weight:", weight, "weight", true},
                          {"out:", small, "radius"},
                          {"at:", "o'clock", "clock"}};
        section.notes = {fmt::format(
            "{} says which counterweight trims it. In degrees 12 o'clock is 90, 3 is 0, 6 is 270, "
            "9 is 180.",
            command("roll"))};
        for (std::string& step : counterweight_steps(load_, facts_.units))
            section.steps.push_back(untimed(std::move(step)));
        return section;
    }

    [[nodiscard]] CardSection cooking() const {
        CardSection section{"Cook"};
        const cook::Schedule schedule = facts_.schedule ? *facts_.schedule : timeless(load_);
        const std::vector<ToldStep> told = schedule_words(schedule, load_, facts_.units);
        for (std::size_t n = 0; n < told.size(); ++n) {
            const cook::Step& step = schedule.steps[n];
            // These stand in the section that follows.
            if (step.kind == cook::StepKind::rest) continue;
            // What it takes stands in the sections before.
            CardStep on_card =
                untimed(step.kind == cook::StepKind::spit ? "Put it on the rod and roll it, as above."
                                                          : told[n].what);
            on_card.may_be_left_out = facts_.schedule && long_before(step.kind);
            if (facts_.schedule) {
                on_card.when = told[n].when;
                on_card.at_s = step.from_s;
            }
            section.steps.push_back(std::move(on_card));
        }
        if (facts_.schedule) section.notes.push_back(ready_text(schedule));
        section.told_by = command("roast");
        return section;
    }

    [[nodiscard]] CardSection taking_down() const {
        double stand_s = cook::ScheduleNeed{}.rest_s;
        if (facts_.schedule) {
            for (const cook::Step& step : facts_.schedule->steps) {
                if (step.kind == cook::StepKind::rest) stand_s = step.to_s - step.from_s;
            }
        }
        return {"Take it down", untimed(taking_down_steps(load_, stand_s))};
    }

    [[nodiscard]] CardSection cautions() const {
        return {"Take care", {}, {}, caution_words(load_, facts_.units)};
    }

    const CardFacts& facts_;
    const Assembly& load_;
};

}  // namespace

Card make_card(const CardFacts& facts) {
    return CardMaker(facts).made();
}

}  // namespace evenspit::card
