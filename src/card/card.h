// SPDX-License-Identifier: MIT
// What stands on the sheet that a cook takes outside, as values: paper and HTML tell the same.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "analysis/analysis.h"
#include "cook/schedule.h"
#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit::card {

/// What a card is made from.
struct CardFacts {
    const Assembly& load;
    const Analysis& analysis;
    const std::optional<cook::Schedule>& schedule;  ///< absent where no cook can be computed
    UnitSystem units = UnitSystem::metric;
};

/// Something to do, with a box to tick.
struct CardStep {
    std::string when;  ///< "17:25"; empty where no time is told
    std::string what;
    /// When, in seconds: after midnight of the day on which is served where Card::by_clock, else after the
    /// load goes on. Absent where no time is told.
    std::optional<double> at_s{};
    bool may_be_left_out = false;  ///< on paper, where room is scarce
};

/// A line to fill in by hand: words, a rule, words.
struct CardBlank {
    std::string before, after;
    std::string key;  ///< one lower-case word that no other blank of the card has
    bool on_a_new_line = false;
};

/// What is to be done in one go, or told under one heading.
struct CardSection {
    std::string heading;
    std::vector<CardStep> steps{};
    std::vector<CardBlank> blanks{};
    std::vector<std::string> notes{};  ///< without boxes, after the blanks
    std::string told_by{};             ///< the command that tells all of it, for what is left out on paper
};

struct Card {
    std::string title;  ///< of the load, or the name of its file
    std::string file;   ///< the load file's name without its folder
    Level verdict = Level::ready;
    std::string verdict_words;  ///< as check() begins: with the chance where it was worked out
    std::vector<std::string> dial;
    bool by_clock = false;
    std::vector<CardSection> sections;  ///< in the order in which hands need them
    std::string made_by;                ///< program and version
};

/// All texts are printable. A schedule gives times; without one the same steps stand without them.
Card make_card(const CardFacts& facts);

}  // namespace evenspit::card
