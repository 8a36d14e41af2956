// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "plan/fit.h"
#include "plan/plan.h"
#include "units/quantity.h"

namespace evenspit {

/// What the words of an answer are made from.
struct AnswerFacts {
    const Assembly& before;
    const Assembly& after;
    const Analysis& analysis_after;
    plan::PlanKind kind = plan::PlanKind::as_it_stands;
    double torque_before_n_m = 0, torque_after_n_m = 0;  ///< at the worse end of the cook
    std::optional<plan::RodLimit>
        line_held_by{};  ///< what keeps the rod from the centre of mass, if anything does
    UnitSystem units = UnitSystem::metric;
};

/// What an answer of that kind is called: "new rod line".
std::string_view answer_name(plan::PlanKind kind);
/// One of a plan's answers by its number: "1: new rod line".
std::string answer_title(const plan::Plan& plan, std::size_t answer);
/// What results call it: "line_forks".
std::string_view answer_key(plan::PlanKind kind);

/// One sentence: what makes this answer good, or keeps it from being better.
std::string answer_why(const AnswerFacts& facts);

/// What to do, a sentence or two each, in the order in which hands do it: take off, turn end for end, spit
/// (rod_line_step()), turn, slide, forks, and counterweights last, after a roll test.
///
/// Stations are from the square end of the rod, places round it on a clock face (units/dial.h).
std::vector<std::string> answer_steps(const AnswerFacts& facts);

/// The same of one of a plan's answers, fit for a terminal.
///
/// \param assembly the load that was planned; where its things sit now does not matter
std::string answer_why(const Assembly& assembly, const plan::Plan& plan, std::size_t answer,
                       UnitSystem units);
std::vector<std::string> answer_steps(const Assembly& assembly, const plan::Plan& plan, std::size_t answer,
                                      UnitSystem units);

/// What would make an answer ready more often: what to set more carefully, and trimming on the rod.
std::string more_care_text(const std::vector<plan::MoreCare>& more_care);

/// What stands in the way of a load and what would help, in a sentence or two, fit for a terminal.
///
/// \param assembly the load that it is about
std::string limit_text(const plan::PlanLimit& limit, const Assembly& assembly, UnitSystem units);

/// The same for what stops a body; "" for nothing.
std::string fit_stop_text(const plan::FitStop& stop, const Assembly& assembly, UnitSystem units);

}  // namespace evenspit
