// SPDX-License-Identifier: MIT
#include "report/chance_words.h"

#include <algorithm>

#include <fmt/format.h>

#include "load/thing.h"
#include "report/report.h"
#include "units/listed.h"
#include "units/tell.h"

namespace evenspit {
namespace {

/// Drivers with less than that of the whole are not worth a cook's care.
constexpr double worth_telling = 0.1;
constexpr std::size_t most_told = 3;

std::string line_text(const Input& input, const Assembly& assembly) {
    const bool to = input.kind == Input::Kind::line_to;
    const std::string item = thing_name(input.about, assembly);
    const bool bird = input.about.index < assembly.items.size() && assembly.items[input.about.index].bird;
    if (bird) return fmt::format("where the rod passes the {} of {}", to ? "neck" : "tail", item);
    return fmt::format("where the rod passes the {} end of {}", to ? "far" : "near", item);
}

/// The last word of an input's key, and its words before the name of the thing it belongs to.
struct InputWords {
    std::string_view key, words;
};

InputWords words_of(Input::Kind kind) {
    using enum Input::Kind;
    switch (kind) {
        case line_from:
            return {"line.from", ""};
        case line_to:
            return {"line.to", ""};
        case centre:
            return {"centre", "where the centre of mass lies inside"};
        case item_mass:
            return {"mass", "the weight of"};
        case station:
            return {"at", "where along the rod sits"};
        case turn:
            return {"turn", "the turn on the rod of"};
        case scan_scale:
            return {"scan_scale", "the scale of the scan of"};
        case bearing_strength:
            return {"bearing_strength", "how firm the meat is of"};
        case tie:
            return {"trussing", "whether the ties hold on"};
        case fork_station:
        case counterweight_station:
            return {"at", "the place along the rod of"};
        case fork_clock:
        case counterweight_clock:
            return {"clock", "the turn on the rod of"};
        case counterweight_radius:
            return {"radius", "the radius of"};
        case counterweight_mass:
            return {"mass", "the weight of"};
        case friction:
            return {"friction", "friction at the far bearing"};
        case motor:
            return {"stall_torque", "what the motor really gives"};
        case yield_strength:
            return {"yield_strength", "the rod's strength"};
        case rod_measures:
            return {"supports", "the rod's measures"};
        case cooker_measures:
            return {"place", "where the cooker has"};
    }
    return {};
}

}  // namespace

std::string chance_sentence(const Chance& chance) {
    std::string words = "Ready in " + chance_text(chance.ready);
    // The second number counts the same mountings.
    if (chance.stop > 0)
        words += ", stop in " + (chance.stop < 1 ? of_100_text(chance.stop) : chance_text(chance.stop));
    words += '.';
    return words;
}

std::string chance_sentence(Level verdict, const Chance& chance) {
    if (verdict == Level::ready || chance.ready < 1) return chance_sentence(chance);
    return "But for what follows, ready in " + chance_text(chance.ready) + ".";
}

std::string planned_chance_sentence(bool left_to_fix, const Chance& chance) {
    if (!left_to_fix || chance.ready < 1) return chance_sentence(chance);
    return "Ready in " + chance_text(chance.ready) + ", but for what is left to fix (at the end).";
}

std::string verdict_words(Level verdict, const std::optional<Mounted>& mounted) {
    const std::string words(verdict_sentence(verdict));
    return mounted ? chance_sentence(verdict, mounted->chance) + " " + words : words;
}

std::string input_text(const Input& input, const Assembly& assembly) {
    const bool line = input.kind == Input::Kind::line_from || input.kind == Input::Kind::line_to;
    if (line) return line_text(input, assembly);
    const std::string words(words_of(input.kind).words);
    const bool named = input.about.kind != Thing::Kind::motor && input.about.kind != Thing::Kind::rod;
    return named ? words + " " + thing_name(input.about, assembly) : words;
}

std::string input_key(const Input& input, const Assembly& assembly) {
    const std::string_view key = words_of(input.kind).key;
    const auto numbered = [&](std::string_view table) {
        return fmt::format("{}.{}.{}", table, input.about.index + 1, key);
    };
    switch (input.about.kind) {
        case Thing::Kind::item:
            return numbered("item");
        case Thing::Kind::fork: {
            const ForkSection section = fork_section(assembly.forks, input.about.index);
            return fmt::format("{}.{}.{}", section.name, section.number, key);
        }
        case Thing::Kind::counterweight:
            return numbered("counterweight");
        case Thing::Kind::surface:
            return numbered("cooker.surface");
        case Thing::Kind::motor:
            return fmt::format("motor.{}", key);
        default:
            return fmt::format("rod.{}", key);
    }
}

std::string drivers_text(const std::vector<Driver>& drivers, const Assembly& assembly) {
    std::vector<std::string> parts;
    for (const Driver& driver : drivers) {
        if (parts.size() == most_told || (!parts.empty() && driver.share < worth_telling)) break;
        parts.push_back(fmt::format("{} ({})", input_text(driver.input, assembly), share_text(driver.share)));
    }
    return listed(parts, "and");
}

std::string figure_key(const FigureId& figure) {
    using enum FigureId::Kind;
    const auto tine = [&](std::string_view key) {
        return fmt::format("forks[{}].tines[{}].{}", figure.index, figure.part, key);
    };
    switch (figure.kind) {
        case gravity_torque:
            return "balance.gravity_torque_peak_n_m";
        case motor_torque:
            return "balance.motor_torque_peak_n_m";
        case motor_use:
            return "balance.motor_use";
        case speed_mean:
            return "turning.speed_mean_rad_s";
        case speed_min:
            return "turning.speed_min_rad_s";
        case speed_max:
            return "turning.speed_max_rad_s";
        case irregularity:
            return "turning.irregularity";
        case pull:
            return "turning.pull_n_m";
        case knock:
            return "turning.knock_n_m";
        case sag:
            return "rod.sag_max_m";
        case stress:
            return "rod.stress_max_pa";
        case yield_use:
            return "rod.yield_use";
        case grip_torque_use:
            return "grip.torque_use";
        case weight_use:
            return fmt::format("grip.items[{}].weight_use", figure.index);
        case hold_use:
            return fmt::format("grip.items[{}].hold_use", figure.index);
        case slide_use:
            return fmt::format("grip.items[{}].slide_use", figure.index);
        case clamp_use:
            return fmt::format("forks[{}].clamp_use", figure.index);
        case tine_in_flesh:
            return tine("in_flesh_m");
        case tine_cover:
            return tine("cover_min_m");
        case tine_bend_use:
            return tine("bend_use");
        case gap_min:
            return "clearance.gap_min_m";
        case gap:
            return fmt::format("clearance.surfaces[{}].gap_m", figure.index);
    }
    return "";
}

}  // namespace evenspit
