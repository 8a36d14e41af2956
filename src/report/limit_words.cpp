// SPDX-License-Identifier: MIT
#include <cmath>
#include <string>
#include <variant>

#include <fmt/format.h>

#include "report/finding_words.h"
#include "report/plan_words.h"
#include "report/reader_units.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "units/tell.h"

namespace evenspit {
namespace {

/// Words for what stands in the way of a load.
class LimitWords {
  public:
    LimitWords(const Assembly& assembly, UnitSystem system)
        : assembly_(assembly), system_(system), units_(system) {}

    std::string operator()(const plan::MotorLimit& limit) const {
        return fmt::format(
            "The motor is too weak: the peak needs {}. What would help: a motor rated {} or more{}, or a "
            "counterweight opposite: {}.",
            units_.torque(limit.torque_n_m),
            torque_text(assembly_.motor.rods * limit.rating_needed_n_m, system_, {}, Rounding::up),
            assembly_.motor.rods > 1 ? fmt::format(" for its {} rods", assembly_.motor.rods) : std::string(),
            counterweight_text(limit.excess_kg_m, system_));
    }

    std::string operator()(const plan::RoomLimit& limit) const {
        std::string surfaces;
        for (const plan::RoomLimit::Strike& strike : limit.strikes) {
            surfaces += fmt::format("{}{} by {}", surfaces.empty() ? "" : ", ",
                                    thing_name({Thing::Kind::surface, strike.surface}, assembly_),
                                    units_.slack(strike.depth_m));
        }
        std::string help = "something that reaches less far";
        if (limit.body_kg) {
            help = fmt::format("{}a body of about {}", limit.loose ? "tying it tight, " : "",
                               units_.mass(*limit.body_kg));
        }
        return fmt::format(
            "There is too little room in the cooker: {} strikes {}. What would help: {}, or a cooker with so "
            "much more room.",
            thing_name(limit.part, assembly_), surfaces, help);
    }

    std::string operator()(const plan::StrengthLimit& limit) const {
        return fmt::format(
            "The rod is too weak: it is stressed to {} of what it bears. What would help: a rod {} wide, or "
            "a "
            "load of {} of this weight.",
            Units::share(limit.yield_use), units_.length_or_more(limit.width_m),
            Units::share(std::floor(100 / limit.yield_use) / 100));
    }

    std::string operator()(const plan::HoldLimit& limit) const {
        const std::string name = item_name(assembly_, limit.item);
        switch (limit.why) {
            case plan::HoldLimit::Why::no_fork:
                return fmt::format("Nothing holds {}: it needs forks whose tines reach into it.", name);
            case plan::HoldLimit::Why::no_flesh:
                return fmt::format(
                    "The forks of {} find no flesh. What would help: longer tines, or tines at another "
                    "radius.",
                    name);
            case plan::HoldLimit::Why::torque:
                break;
        }
        return fmt::format(
            "The forks do not hold {} once it is cooked: it pulls {} of what they hold. What would help: "
            "tines "
            "{:.1f} times as long or as far from the rod, or another fork.",
            name, Units::share(limit.torque_use), limit.times_longer);
    }

    std::string operator()(const plan::LengthLimit& limit) const {
        const Beside there = length_beside(limit.needed_m, limit.usable_m, system_);
        return fmt::format(
            "The rod is too short: its usable stretch is {}, and what is to be roasted takes {}. What would "
            "help: a longer rod, or a body shorter by {}.",
            there.limit, there.figure, units_.length_or_more(limit.needed_m - limit.usable_m));
    }

    std::string operator()(const Finding& finding) const { return finding_text(finding, assembly_, system_); }

  private:
    const Assembly& assembly_;
    UnitSystem system_;
    Units units_;
};

}  // namespace

std::string limit_text(const plan::PlanLimit& limit, const Assembly& assembly, UnitSystem units) {
    return printable(std::visit(LimitWords(assembly, units), limit));
}

std::string fit_stop_text(const plan::FitStop& stop, const Assembly& assembly, UnitSystem units) {
    if (const auto* limit = std::get_if<plan::PlanLimit>(&stop)) return limit_text(*limit, assembly, units);
    const auto* complaint = std::get_if<Complaint>(&stop);
    if (complaint == nullptr) return "";
    return printable(complaint->expected.empty()
                         ? std::string("There is no such body.")
                         : "There is no such body: expected " + complaint->expected + ".");
}

}  // namespace evenspit
