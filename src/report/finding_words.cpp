// SPDX-License-Identifier: MIT
#include "report/finding_words.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "report/reader_units.h"
#include "report/roll_words.h"
#include "report/text_layout.h"
#include "units/listed.h"
#include "units/tell.h"

namespace evenspit {
namespace {

std::string at_start_of_sentence(std::string words) {
    if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
        words[0] = static_cast<char>(words[0] - 'a' + 'A');
    return words;
}

/// At the start of a sentence. Names that people gave stay as they are.
std::string at_start(const Thing& thing, std::string name) {
    const bool ours = thing.kind == Thing::Kind::fork || thing.kind == Thing::Kind::tine ||
                      thing.kind == Thing::Kind::counterweight;
    return ours ? at_start_of_sentence(std::move(name)) : name;
}

/// The limbs in a few words: "left leg and wings" for a left leg and a wing on either side.
std::string free_limbs(const std::vector<SwungLimb>& limbs) {
    std::vector<std::string> words;
    for (const SwungLimb& limb : limbs) {
        const std::string kind = limb.name.substr(limb.name.find(' ') + 1);
        const bool pair = std::count_if(limbs.begin(), limbs.end(), [&](const SwungLimb& other) {
                              return other.name.ends_with(' ' + kind);
                          }) == 2;
        const std::string word = pair ? kind + "s" : limb.name;
        if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
    }
    return listed(words, "and");
}

/// What a finding is about, as part of a list: "the gap", then whose.
std::string_view subject_words(Code code) {
    switch (code) {
        case Code::motor_torque:
            return "the motor's use";
        case Code::stall:
            return "a stall";
        case Code::overrun:
            return "the pull on the gears";
        case Code::knock:
            return "the knock";
        case Code::uneven_speed:
            return "uneven speed";
        case Code::rod_stress:
            return "the stress";
        case Code::rod_sag:
            return "the sag";
        case Code::grip_torque:
            return "the hold";
        case Code::grip_weight:
            return "the hold of the meat";
        case Code::clamp_turns:
        case Code::clamp_slides:
            return "the clamp";
        case Code::tine_bends:
            return "bending of the tines";
        case Code::gap:
            return "the gap";
        case Code::limbs_free:
            return "loose limbs";
        default:
            return code_name(code);
    }
}

class Words {
  public:
    Words(const Assembly& assembly, UnitSystem system)
        : assembly_(assembly), system_(system), units_(system) {}

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
                return item_grip(f);
            case Code::tine_in_bone:
            case Code::tine_cover:
            case Code::tine_out:
                return tine(f);
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
            case Code::nearer_drive:
            case Code::fork_upright:
                return seat(f);
            case Code::roll_test:
                return roll_finding_text(f);
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

    /// The heavy side of one mounting among many says nothing about the one that will be mounted.
    [[nodiscard]] std::string rebalance(const Finding& f, const Rebalance& mend) const {
        return f.as_written ? rebalance_text(mend, system_) : std::string(balance_on_the_rod_text());
    }

    [[nodiscard]] std::string motor_torque(const Finding& f) const {
        const auto& facts = f.get<MotorFacts>();
        std::string words =
            fmt::format("The motor must give {} at the worst point of a turn{}, {} of its rating of {}.",
                        torque(facts.torque_n_m), facts.cooked ? " once the meat is done" : "",
                        Units::share(*f.value), torque(facts.rated_n_m));
        if (f.level == Level::ready) return words;
        if (facts.mend) return words + " " + rebalance(f, *facts.mend);
        return words +
               " Friction at the supports alone takes that much, which no counterweight mends: clean and "
               "grease them, or take a lighter load.";
    }

    [[nodiscard]] std::string turning(const Finding& f) const {
        if (f.code == Code::stall) {
            return fmt::format(
                "The motor stands still: the peak of {} reaches its stall torque of {}. Balance the load "
                "before it goes on.",
                torque(*f.value), torque(*f.limit));
        }
        if (f.code == Code::overrun) {
            const auto& facts = f.get<OverrunFacts>();
            std::string words = fmt::format(
                "Over {} of each turn the heavy side falls and drives the gears: it pulls them with up to "
                "{}, {} of the motor's rating.",
                Units::share(facts.share), torque(*f.value), Units::share(*f.value / facts.rated_n_m));
            if (f.level != Level::ready)
                words += fmt::format(" That wears them. {}", rebalance(f, facts.mend));
            return words;
        }
        if (f.code == Code::knock) {
            const auto& facts = f.get<KnockFacts>();
            std::string words = fmt::format(
                "When the heavy side has fallen through the {} of play in the drive, it knocks with {}{}, {} "
                "of the motor's rating.",
                angle_text(facts.play_rad), facts.rigid_drive ? "at most " : "", torque(*f.value),
                Units::share(*f.value / facts.rated_n_m));
            if (f.level != Level::ready) words += fmt::format(" {}", rebalance(f, facts.mend));
            return words;
        }
        const auto& facts = f.get<UnevenFacts>();
        std::string words = fmt::format(
            "It does not turn evenly: the speed varies by {} over a turn. It is slowest while the heavy side "
            "rises, so the side a quarter turn behind that, at {}, stays below longest and browns more.",
            Units::share(*f.value), "clock " + clock_text(facts.lingers_rad));
        if (facts.mend) words += fmt::format(" {}", rebalance(f, *facts.mend));
        return words;
    }

    /// What several findings have in common: none of them alone is as bad as all are together.
    [[nodiscard]] std::string together(const Finding& f) const {
        std::vector<std::string> parts;
        for (const Contribution& part : f.get<TogetherFacts>().most) {
            const std::string whose = name(part.about);
            parts.push_back(fmt::format("{}{} (in {})", subject_words(part.code),
                                        whose.empty() ? "" : " of " + whose, chance_text(part.share)));
        }
        return fmt::format("Nothing alone asks for it, but taken together too much goes wrong in {}: {}.",
                           chance_text(*f.value), listed(parts, "and"));
    }

    [[nodiscard]] std::string rod(const Finding& f) const {
        const double at_m = f.spot->at.x();
        if (f.code == Code::rod_sag) {
            return fmt::format(
                "The rod sags by {} at {}. Take a thicker rod, or bring the load nearer to a support.",
                length(*f.value), length(at_m));
        }
        const auto& facts = f.get<StressFacts>();
        const std::string words = fmt::format(
            "The rod is stressed to {} at {}, {} of what it bears at {}", units_.stress(facts.stress_pa),
            length(at_m), Units::share(*f.value), units_.of(facts.temperature_k, Dimension::temperature));
        if (f.level == Level::ready) return words + ".";
        return words +
               (f.level == Level::care ? ": it is near bending for good." : ": it bends and stays bent.") +
               " Take a thicker rod or a lighter load.";
    }

    [[nodiscard]] std::string item_grip(const Finding& f) const {
        const std::string item = name(f.about);
        if (f.code == Code::no_fork) {
            return fmt::format(
                "No fork enters {}: the rod will turn inside it. Set a fork at each end, tines in the meat.",
                item);
        }
        if (f.code == Code::no_flesh) {
            return fmt::format(
                "The forks of {} find no flesh, only bone and cavity: they hold nothing. Move or turn them "
                "to "
                "where there is meat.",
                item);
        }
        const auto& facts = f.get<GripFacts>();
        std::string words =
            fmt::format("The forks hold {} against {}; {} pulls with up to {}, {} of it", item,
                        torque(facts.capacity_n_m), item, torque(facts.torque_n_m), Units::share(*f.value));
        words += f.level == Level::ready ? "."
                 : f.level == Level::care
                     ? ": tighten the forks as the meat softens, or set the tines deeper or wider apart."
                     : ": the meat will tear and slip as it softens. Set the tines deeper or wider apart, or "
                       "balance the load closer.";
        if (facts.strength_assumed)
            words += " Counted with the least that roasted meat was measured to bear.";
        return words;
    }

    [[nodiscard]] std::string hold(const Finding& f) const {
        const std::string whose = name(f.about),
                          use = f.code == Code::support_pulls_down ? "" : Units::share(*f.value);
        const auto with = [&f](std::string words, std::string_view advice) {
            return f.level == Level::ready ? words + "." : words + ": " + std::string(advice);
        };
        switch (f.code) {
            case Code::grip_weight:
                return with(
                    fmt::format(
                        "Weight and torque of {} together use {} of what its flesh bears on tines and rod",
                        whose, use),
                    "it will tear loose as it softens. Set the tines deeper, or take more or thicker ones.");
            case Code::clamp_turns:
                return with(
                    fmt::format(
                        "The clamp of {} has {} of what it can hold to keep it from turning on the rod",
                        whose, use),
                    "tighten it well, or take a fork whose bore has the rod's shape.");
            case Code::clamp_slides:
                return with(
                    fmt::format("Along the rod, {} uses {} of what the clamps of its forks hold", whose, use),
                    "it may creep downhill. Tighten the clamps, and set the rod level.");
            case Code::tine_bends:
                return with(fmt::format("The tines of {} are bent to {} of what they stand", whose, use),
                            "set the fork nearer, or take shorter or thicker tines.");
            default:
                return fmt::format(
                    "The {} holds the rod down with {}: the load hangs beyond the other support. Move it "
                    "between the supports.",
                    whose, units_.force(*f.value));
        }
    }

    [[nodiscard]] std::string tine(const Finding& f) const {
        const bool one = f.about.kind == Thing::Kind::tine;
        const std::string which = one ? at_start(f.about, name(f.about)) : several_tines(f);
        if (f.code == Code::tine_in_bone) {
            return fmt::format("{} {} through {}{} of bone. Turn the fork, or move it, so that {} beside.",
                               which, one ? "runs" : "run", one ? "" : "up to ", length(*f.value),
                               one ? "it passes" : "they pass");
        }
        const std::string words =
            f.code == Code::tine_out
                ? fmt::format("{} {} out through the skin.", which, one ? "comes" : "come")
                : fmt::format("{} {} only {} of flesh over {}, less than {}: {} will tear the skin.", which,
                              one ? "has" : "have", length(*f.value), one ? "it" : "them", length(*f.limit),
                              one ? "it" : "they");
        return words + " Turn the fork, or take shorter tines nearer the rod.";
    }

    /// "Both tines of fork 2", "Tines 1 and 3 of fork 1".
    [[nodiscard]] std::string several_tines(const Finding& f) const {
        const std::vector<std::size_t>& tines = f.get<TineFacts>().tines;
        const std::size_t all = assembly_.forks[f.about.index].tines.size();
        std::string which = tines.size() < all ? "Tines " : all == 2 ? "Both tines" : "All tines";
        if (tines.size() < all) {
            std::vector<std::string> numbers;
            for (const std::size_t t : tines) numbers.push_back(fmt::format("{}", t + 1));
            which += listed(numbers, "and");
        }
        return which + " of " + name(f.about);
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
            return fmt::format("{} strikes {} at {}, by {}. {}", part, surface, length(facts.at_m),
                               length(-*f.value), strike_advice(facts.part));
        }
        const std::string words =
            fmt::format("{} clears {} by {} at {}", part, surface, length(*f.value), length(facts.at_m));
        if (f.level == Level::ready) return words + ".";
        if (f.level == Level::stop)
            return words +
                   fmt::format(": too close, meat and rod move by as much. {}", strike_advice(facts.part));
        return words + fmt::format(", less than the {} to keep{}.", length(*f.limit),
                                   facts.fire ? " from fire: it will burn there" : "");
    }

    [[nodiscard]] static std::string_view strike_advice(const Thing& part) {
        if (part.kind == Thing::Kind::counterweight)
            return "Set it at another station, or a heavier one nearer the rod.";
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
        const std::vector<SwungLimb>& swung = assembly_.items[f.about.index].body->body.swung;
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
            "The {} of {} {} free and {} over at every turn. Swung out, {} {} from the rod{}; tied, the bird "
            "goes to {}. Tie {} tight.",
            free_limbs(swung), item, one ? "is" : "are", one ? "flops" : "flop",
            one ? "it reaches" : "they reach", length(*f.value), strikes, length(facts.tied_m),
            one ? "it" : "them");
    }

    [[nodiscard]] std::string body(const Finding& f) const {
        const std::string item = name(f.about);
        if (f.code == Code::giblets) {
            return fmt::format(
                "The giblets ({}) are still inside {}: take the bag out before roasting. It shifts as the "
                "bird "
                "turns, and moves the centre of mass by {}.",
                units_.mass(f.get<GibletFacts>().mass_kg), item, length(*f.value));
        }
        if (f.code == Code::stuffed) {
            // 165 °F: USDA Food Safety and Inspection Service, "Safe minimum internal temperature chart".
            return fmt::format(
                "{} is stuffed: the middle of the stuffing heats last and must reach 165 °F (74 °C, USDA), "
                "whatever the flesh shows. A thermometer there decides.",
                item);
        }
        constexpr double meat_kg_m3 = 1050;  // from memory
        return fmt::format(
            "{} would weigh {} for its size, where meat weighs about {}. Check its weight and the unit of "
            "its "
            "shape.",
            item, units_.density(*f.value), units_.density(meat_kg_m3));
    }

    [[nodiscard]] std::string place(const Finding& f) const {
        if (f.code == Code::one_place) {
            return fmt::format("{} and {} are in one place, at {}. Move them apart.", name(f.about),
                               name(f.other), length(*f.value));
        }
        if (f.code == Code::hub_in_meat) {
            return fmt::format(
                "The hub of {} at {} {} {}, {} deep{}", name(f.about), length(f.spot->at.x()),
                f.level == Level::ready ? "is pressed into" : "would sit inside", name(f.other),
                length(*f.value),
                f.level == Level::ready ? "." : ". Move the hub out to where the rod leaves the meat.");
        }
        const std::string which = at_start(f.about, name(f.about));
        if (*f.value < *f.limit) {
            return fmt::format(
                "{} starts at {}, before the usable stretch of the rod begins at {}. Move it {} or more "
                "toward "
                "the point.",
                which, length(*f.value), length(*f.limit), length(*f.limit - *f.value));
        }
        return fmt::format(
            "{} reaches to {}, past the end of the usable stretch at {}. Move it {} or more toward the "
            "drive, "
            "or take something shorter.",
            which, length(*f.value), length(*f.limit), length(*f.value - *f.limit));
    }

    [[nodiscard]] std::string seat(const Finding& f) const {
        const std::string item = name(f.about);
        switch (f.code) {
            case Code::one_fork:
                return fmt::format(
                    "One fork alone holds {}. Give it a second one from the other end, so that its centre of "
                    "mass (at {}) lies between them.",
                    item, length(*f.value));
            case Code::centre_not_between_forks: {
                const auto& span = f.get<ForkSpan>();
                return fmt::format(
                    "The centre of mass of {} (at {}) is not between its forks (at {} and {}): one of them "
                    "is "
                    "pulled up. Move the forks to either side of it.",
                    item, length(*f.value), length(span.from_m), length(span.to_m));
            }
            case Code::rod_in_bone:
                return fmt::format(
                    "The rod meets {} of bone in {} ({}), through which it does not go. Move the rod line "
                    "until it passes beside.",
                    length(*f.value), item, f.get<BoneFacts>().bone);
            case Code::nearer_drive:
                return fmt::format(
                    "The load's centre ({}) is nearer the drive than the middle of the usable stretch ({}). "
                    "Cooks set it a little toward the point, so that the driven end seats easily.",
                    length(*f.value), length(*f.limit));
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
