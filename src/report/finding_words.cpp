// SPDX-License-Identifier: MIT
#include "report/finding_words.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "analysis/tumbling.h"
#include "body/meat_density.h"
#include "report/density_words.h"
#include "report/food_words.h"
#include "report/grip_words.h"
#include "report/motor_words.h"
#include "report/place_words.h"
#include "report/reader_units.h"
#include "report/roll_words.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "report/tie_words.h"
#include "report/tine_words.h"
#include "units/dial.h"
#include "units/listed.h"
#include "units/tell.h"

namespace evenspit {
namespace {

class Words {
  public:
    Words(const Assembly& assembly, UnitSystem system)
        : assembly_(assembly), system_(system), units_(system), station_(system, assembly.rod.mark_m) {}

    [[nodiscard]] std::string of(const Finding& f) const {
        switch (f.code) {
            case Code::motor_torque:
                return motor_torque(f);
            case Code::stall:
            case Code::overrun:
            case Code::uneven_speed:
            case Code::knock:
                return turning(f);
            case Code::together:
                return together(f);
            case Code::grip_weight:
            case Code::clamp_turns:
            case Code::clamp_slides:
            case Code::tine_bends:
            case Code::support_pulls_down:
                return hold(f);
            case Code::rod_stress:
            case Code::rod_sag:
                return rod(f);
            case Code::no_fork:
            case Code::no_flesh:
            case Code::grip_torque:
                return grip_text(f, assembly_, system_);
            case Code::tine_in_bone:
            case Code::tine_cover:
            case Code::tine_out:
            case Code::tine_free:
                return tine_finding_text(f, assembly_, system_);
            case Code::leg_short:
            case Code::leg_off_spine:
                return bracket_finding_text(f, assembly_, system_);
            case Code::out_of_basket:
            case Code::loose_in_basket:
            case Code::basket_full:
                return basket_finding_text(f, assembly_, system_);
            case Code::gap:
            case Code::no_cooker:
                return clearance(f);
            case Code::limbs_free:
                return limbs(f);
            case Code::giblets:
            case Code::stuffed:
            case Code::density:
                return body(f);
            case Code::outside_usable:
            case Code::one_place:
            case Code::hub_in_meat:
                return place(f);
            case Code::one_fork:
            case Code::centre_not_between_forks:
            case Code::rod_in_bone:
            case Code::rod_cover:
            case Code::rod_beside:
            case Code::nearer_drive:
            case Code::fork_upright:
                return seat(f);
            case Code::roll_test:
                return roll_finding_text(f);
            case Code::frozen_inside:
            case Code::undercooked:
            case Code::not_done:
            case Code::by_carry_over:
            case Code::lukewarm:
            case Code::cool_cooker:
            case Code::long_wait:
            case Code::too_much_fuel:
            case Code::too_little_fuel:
            case Code::small_bed:
                return food_finding_text(f, assembly_, system_);
            case Code::assumption:
                return f.about.kind == Thing::Kind::none ? f.get<Remark>().text
                                                         : name(f.about) + ": " + f.get<Remark>().text;
        }
        return "";
    }

  private:
    [[nodiscard]] std::string name(const Thing& thing) const { return thing_name(thing, assembly_); }
    [[nodiscard]] std::string length(double m) const { return units_.length(m); }
    [[nodiscard]] std::string torque(double n_m) const { return units_.torque(n_m); }
    /// Not told as the limit that it is below or above.
    [[nodiscard]] std::string torque_apart(double n_m, double limit_n_m) const {
        return torque_text(n_m, system_, {limit_n_m});
    }
    [[nodiscard]] std::string slack(const Finding& f) const {
        return units_.slack(*f.value, {0, f.limit.value_or(0)});
    }
    [[nodiscard]] static std::string use(const Finding& f) {
        return Units::share(*f.value, {1, f.limit.value_or(1)});
    }
    /// Of a torque, the share of the rating.
    [[nodiscard]] static std::string of_rating(const Finding& f, double rated_n_m) {
        return Units::share(*f.value / rated_n_m, {1, f.limit.value_or(rated_n_m) / rated_n_m});
    }
    /// A station that stands in brackets itself, or between commas.
    [[nodiscard]] std::string in_brackets(const std::string& length, double station_m) const {
        const std::string from = station_.from_mark(station_m);
        return from.empty() ? length : fmt::format("{}, {}", length, from);
    }
    [[nodiscard]] std::string in_brackets(double station_m) const {
        return in_brackets(length(station_m), station_m);
    }
    /// A finding's station and its limit's.
    [[nodiscard]] Beside stations(const Finding& f) const {
        const Beside beside = length_beside(*f.value, *f.limit, system_);
        return {in_brackets(beside.figure, *f.value), in_brackets(beside.limit, *f.limit)};
    }

    /// The heavy side of one mounting among many says nothing about the one that will be mounted.
    [[nodiscard]] std::string rebalance(const Finding& f, const Rebalance& mend) const {
        return f.as_written ? rebalance_text(mend, system_) : std::string(balance_on_the_rod_text());
    }

    [[nodiscard]] std::string motor_torque(const Finding& f) const {
        const auto& facts = f.get<MotorFacts>();
        std::string words =
            fmt::format("The motor must give {} at the worst point of a turn{}, {} of its rating of {}.",
                        torque_apart(facts.torque_n_m, facts.rated_n_m),
                        facts.after_s  ? " after " + Units::minutes(*facts.after_s) + " of the cook"
                        : facts.cooked ? " once the meat is done"
                                       : "",
                        use(f), shared_torque(assembly_.motor, facts.rated_n_m, units_));
        if (f.level == Level::ready) return words;
        if (facts.mend) return words + " " + rebalance(f, *facts.mend);
        if (const double tumbles_n_m = tumbling_torque_n_m(assembly_); tumbles_n_m > facts.rated_n_m / 10) {
            return words +
                   fmt::format(
                       " Loose pieces that tumble take {} of it at every angle, which no counterweight "
                       "mends: take fewer, or a narrower drum.",
                       torque(tumbles_n_m));
        }
        return words +
               " Friction at the supports alone takes that much, which no counterweight mends: clean and "
               "grease them, or take a lighter load.";
    }

    [[nodiscard]] std::string turning(const Finding& f) const {
        if (f.code == Code::stall) {
            return fmt::format(
                "The motor stands still: the peak of {} reaches its stall torque of {}. Balance the load "
                "before it goes on.",
                torque_apart(*f.value, *f.limit), shared_torque(assembly_.motor, *f.limit, units_));
        }
        if (f.code == Code::overrun) {
            const auto& facts = f.get<OverrunFacts>();
            std::string words = fmt::format(
                "Over {} of each turn the heavy side falls and drives the gears: it pulls them with up to "
                "{}, {} of {}.",
                Units::share(facts.share), torque(*f.value), of_rating(f, facts.rated_n_m),
                whose_rating(assembly_.motor));
            if (f.level != Level::ready)
                words += fmt::format(" That wears them. {}", rebalance(f, facts.mend));
            return words;
        }
        if (f.code == Code::knock) {
            const auto& facts = f.get<KnockFacts>();
            std::string words = fmt::format(
                "When the heavy side has fallen through the {} of play in the drive, it knocks with {}{}, {} "
                "of {}.",
                angle_text(facts.play_rad), facts.rigid_drive ? "at most " : "", torque(*f.value),
                of_rating(f, facts.rated_n_m), whose_rating(assembly_.motor));
            if (f.level != Level::ready) words += fmt::format(" {}", rebalance(f, facts.mend));
            return words;
        }
        const auto& facts = f.get<UnevenFacts>();
        std::string words = fmt::format(
            "It does not turn evenly: the speed varies by {} over a turn. It is slowest while the heavy side "
            "rises, so the side a quarter turn behind that, at {}, stays below longest and browns more.",
            Units::share(*f.value, {limits::uneven_care}), dial_and_clock_text(facts.lingers_rad));
        if (facts.mend) words += fmt::format(" {}", rebalance(f, *facts.mend));
        return words;
    }

    /// What several findings have in common: none of them alone is as bad as all are together.
    [[nodiscard]] std::string together(const Finding& f) const {
        std::vector<std::string> parts;
        for (const Contribution& part : f.get<TogetherFacts>().most) {
            const Finding one{.code = part.code, .about = part.about};
            parts.push_back(fmt::format("{} (in {})", subject_text(one, assembly_), chance_text(part.share)));
        }
        return fmt::format("No one thing goes wrong often, but together they do, in {}: {}.",
                           chance_text(*f.value), listed(parts, "and"));
    }

    [[nodiscard]] std::string rod(const Finding& f) const {
        const double at_m = f.spot->at.x();
        if (f.code == Code::rod_sag) {
            return fmt::format(
                "The rod sags by {} at {}. Take a thicker rod, or bring the load nearer to a support.",
                slack(f), station_(at_m));
        }
        const auto& facts = f.get<StressFacts>();
        const std::string words = fmt::format("The rod is stressed to {} at {}, {} of what it bears at {}",
                                              units_.stress(facts.stress_pa), station_(at_m), use(f),
                                              units_.of(facts.temperature_k, Dimension::temperature));
        if (f.level == Level::ready) return words + ".";
        return words +
               (f.level == Level::care ? ": it is near bending for good." : ": it bends and stays bent.") +
               " Take a thicker rod or a lighter load.";
    }

    [[nodiscard]] std::string hold(const Finding& f) const {
        const std::string whose = name(f.about), used = f.code == Code::support_pulls_down ? "" : use(f);
        const auto with = [&f](std::string words, std::string_view advice) {
            return f.level == Level::ready ? words + "." : words + ": " + std::string(advice);
        };
        switch (f.code) {
            case Code::grip_weight:
                return with(
                    fmt::format(
                        "Weight and torque of {} together use {} of what its flesh bears on tines and rod",
                        whose, used),
                    "it will tear loose as it softens. Set the tines deeper, or take more or thicker ones.");
            case Code::clamp_turns:
                return with(
                    fmt::format(
                        "The clamp of {} has {} of what it can hold to keep it from turning on the rod",
                        whose, used),
                    "tighten it well, or take a fork whose bore has the rod's shape.");
            case Code::clamp_slides:
                return with(fmt::format("Along the rod, {} uses {} of what the clamps of its forks hold",
                                        whose, used),
                            "it may creep downhill. Tighten the clamps, and set the rod level.");
            case Code::tine_bends:
                if (assembly_.forks[f.about.index].kind == ForkKind::bracket) {
                    return with(
                        fmt::format("The legs of {} are bent to {} of what they can stand", whose, used),
                        "take a bracket with thicker legs, or two of them.");
                }
                return with(fmt::format("The tines of {} are bent to {} of what they can stand", whose, used),
                            "set the fork nearer, or take shorter or thicker tines.");
            default:
                return fmt::format(
                    "The {} holds the rod down with {}: the load hangs beyond the other support. Move it "
                    "between the supports.",
                    whose, units_.force(*f.value));
        }
    }

    [[nodiscard]] std::string clearance(const Finding& f) const {
        if (f.code == Code::no_cooker) {
            return "No cooker was given, so nothing is known about walls, lid and coals. Turn the load by "
                   "hand "
                   "through a full turn with the lid closed before lighting.";
        }
        const auto& facts = f.get<GapFacts>();
        const std::string part = name(facts.part), surface = name(f.about);
        if (*f.value < 0) {
            return fmt::format("{} strikes {} at {}, by {}. {}", part, surface, station_(facts.at_m),
                               units_.slack(-*f.value), strike_advice(facts.part));
        }
        const auto words = [&](const std::string& gap) {
            return fmt::format("{} clears {} by {} at {}", part, surface, gap, station_(facts.at_m));
        };
        if (f.level == Level::ready) return words(slack(f)) + ".";
        if (f.level == Level::stop) {
            return fmt::format("{}: too close, meat and rod move by as much. {}",
                               words(units_.slack(*f.value, {0, limits::gap_stop_m})),
                               strike_advice(facts.part));
        }
        const Beside gap = slack_beside(*f.value, *f.limit, system_);
        return fmt::format("{}, less than the {} to keep{}.", words(gap.figure), gap.limit,
                           facts.fire ? " from fire: it will burn there" : "");
    }

    [[nodiscard]] std::string_view strike_advice(const Thing& part) const {
        if (part.kind == Thing::Kind::counterweight)
            return "Set it at another station, or a heavier one nearer the rod.";
        if (part.kind == Thing::Kind::fork && assembly_.forks[part.index].kind == ForkKind::bracket)
            return "Cut its legs shorter, or take one with shorter legs.";
        if (part.kind == Thing::Kind::fork && assembly_.forks[part.index].kind == ForkKind::basket)
            return "Take a smaller basket.";
        if (part.kind == Thing::Kind::fork)
            return "Set it at another station, or take one with narrower tines.";
        return "Take a smaller load, tie it tighter, or bring the rod line nearer its middle.";
    }

    [[nodiscard]] std::string surfaces(const std::vector<std::size_t>& which) const {
        std::vector<std::string> names;
        names.reserve(which.size());
        for (const std::size_t s : which) names.push_back(name({Thing::Kind::surface, s}));
        return listed(names, "and");
    }

    [[nodiscard]] std::string limbs(const Finding& f) const {
        const std::string item = name(f.about);
        if (!f.value) {
            return fmt::format(
                "{} is not trussed: what hangs loose flops over at every turn and sweeps further than "
                "computed "
                "here. Tie it tight.",
                item);
        }
        const auto& facts = f.get<LimbFacts>();
        const Item& swinging = assembly_.items[f.about.index];
        const std::vector<body::SwungLimb>& swung = swinging.body->body.swung;
        const bool one = swung.size() == 1;
        std::string strikes;
        if (!facts.struck.empty()) {
            strikes = " and strike " + surfaces(facts.struck);
        } else if (!facts.near.empty()) {
            strikes = ", too near to " + surfaces(facts.near);
        } else if (facts.strikes_nothing) {
            strikes = " and strike nothing there";
        }
        return fmt::format(
            "The {} of {} {} free and {} over at every turn. Swung out, {} {} from the rod{}; tied, the {} "
            "goes to {}. {}",
            free_limbs(swung), item, one ? "is" : "are", one ? "flops" : "flop",
            one ? "it reaches" : "they reach", length(*f.value), strikes, is_pig(swinging) ? "pig" : "bird",
            length(facts.tied_m),
            is_pig(swinging)
                ? fmt::format(
                      "Fold them over the belly, or stretch them along the rod, and tie them with {}.",
                      leg_ties)
                : fmt::format("Tie {} tight.", one ? "it" : "them"));
    }

    [[nodiscard]] std::string body(const Finding& f) const {
        const std::string item = name(f.about);
        if (f.code == Code::giblets) {
            return fmt::format(
                "The giblets ({}) are still inside {}: take the bag out before roasting. It shifts as the "
                "bird "
                "turns, and moves the centre of mass by {}.",
                units_.mass(f.get<GibletFacts>().mass_kg), item, slack(f));
        }
        if (f.code == Code::stuffed) {
            // 165 °F: USDA Food Safety and Inspection Service, "Safe minimum internal temperature chart".
            return fmt::format(
                "{} is stuffed: the middle of the stuffing heats last and must reach 165 °F (74 °C, USDA), "
                "whatever the flesh shows. A thermometer there decides.",
                item);
        }
        const body::DensityRange& usual = f.get<DensityFacts>().usual;
        return fmt::format("{} would weigh {} for its size, where its kind weighs {} to {}. {}", item,
                           units_.density(*f.value), units_.density(usual.least_kg_m3),
                           units_.density(usual.greatest_kg_m3),
                           what_to_check(*f.value / body::usual_meat_kg_m3));
    }

    [[nodiscard]] std::string place(const Finding& f) const {
        if (f.code == Code::one_place) {
            return fmt::format("{} and {} are in one place, at {}. Move them apart.", name(f.about),
                               name(f.other), station_(*f.value));
        }
        if (f.code == Code::hub_in_meat) {
            return fmt::format(
                "The hub of {} at {} {} {}, {} deep{}", name(f.about), station_(f.spot->at.x()),
                f.level == Level::ready ? "is pressed into" : "would sit inside", name(f.other), slack(f),
                f.level == Level::ready ? "." : ". Move the hub out to where the rod leaves the meat.");
        }
        const std::string which = at_start(f.about, name(f.about));
        const Beside told = stations(f);
        const std::string by = units_.length_or_more(std::abs(*f.limit - *f.value));
        if (*f.value < *f.limit) {
            return fmt::format(
                "{} starts at {}, before the usable stretch of the rod begins at {}. Move it {} or more "
                "toward "
                "the point.",
                which, told.figure, told.limit, by);
        }
        return fmt::format(
            "{} reaches to {}, past the end of the usable stretch at {}. Move it {} or more toward the "
            "drive, "
            "or take something shorter.",
            which, told.figure, told.limit, by);
    }

    [[nodiscard]] std::string seat(const Finding& f) const {
        const std::string item = name(f.about);
        switch (f.code) {
            case Code::one_fork: {
                const std::string one = fmt::format("One fork alone holds {}. ", item);
                const std::string away = looking_away_text(assembly_, f.about.index);
                if (!away.empty()) return one + away;
                return fmt::format(
                    "{}Give it a second one from the other end, so that its centre of mass "
                    "(at {}) lies between them.",
                    one, in_brackets(*f.value));
            }
            case Code::centre_not_between_forks: {
                const auto& span = f.get<ForkSpan>();
                return fmt::format(
                    "The centre of mass of {} (at {}) is not between its forks (at {} and {}): one of them "
                    "is "
                    "pulled up. Move the forks to either side of it.",
                    item, in_brackets(*f.value), in_brackets(span.from_m), in_brackets(span.to_m));
            }
            case Code::rod_in_bone:
                return fmt::format(
                    "The rod meets {} of bone in {} ({}), through which it does not go. Move the rod line "
                    "until it passes beside.",
                    slack(f), item, f.get<BoneFacts>().bone);
            case Code::rod_cover: {
                const Vec3& skin = f.spot->at;
                const std::string at =
                    fmt::format("{}, {}", in_brackets(skin.x()), dial_text(std::atan2(skin.z(), skin.y())));
                if (*f.value <= 0) {
                    return fmt::format(
                        "The rod comes out through the side of {} (at {}). Move the rod line deeper into the "
                        "meat.",
                        item, at);
                }
                const Beside told = slack_beside(*f.value, *f.limit, system_);
                return fmt::format(
                    "The rod has only {} of flesh over it in {} (at {}), less than {}: it works out through "
                    "the skin as the meat softens. Move the rod line deeper into the meat.",
                    told.figure, item, at, told.limit);
            }
            case Code::rod_beside:
                return fmt::format(
                    "The rod does not go through {}: it passes {} beside it. Move the rod line into the "
                    "meat.",
                    item, slack(f));
            case Code::nearer_drive: {
                const Beside told = stations(f);
                return fmt::format(
                    "The load's centre ({}) is nearer the drive than the middle of the usable stretch ({}). "
                    "Cooks set it a little toward the point, so that the driven end seats easily.",
                    told.figure, told.limit);
            }
            default:
                return fmt::format(
                    "{} enters {} from above and below. Cooks turn the far fork a quarter, so that it enters "
                    "from the sides, where there is meat.",
                    at_start(f.about, item), name(f.other));
        }
    }

    const Assembly& assembly_;
    UnitSystem system_;
    Units units_;
    Stations station_;
};

}  // namespace

std::string finding_text(const Finding& finding, const Assembly& assembly, UnitSystem units) {
    const std::string words = Words(assembly, units).of(finding);
    if (!finding.chance || finding.code == Code::together) return printable(words);
    const std::string often = fmt::format("in {}", chance_text(*finding.chance));
    // What the load as written does not have is told as it is in one of the mountings that have it.
    if (!finding.as_written) return printable(fmt::format("{}: {}", at_start_of_sentence(often), words));
    return printable(
        *finding.chance > 0 || finding.level != Level::ready ? fmt::format("{} ({})", words, often) : words);
}

}  // namespace evenspit
