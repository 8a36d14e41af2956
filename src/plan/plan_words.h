// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "plan/plan.h"

namespace evenspit {

/// What the words of an answer are made from.
struct AnswerFacts {
    const Assembly& before;
    const Assembly& after;
    const Analysis& analysis_after;
    PlanKind kind = PlanKind::as_it_stands;
    double torque_before_n_m = 0, torque_after_n_m = 0;  ///< at the worse end of the cook
    std::optional<RodLimit> line_held_by{};  ///< what keeps the rod from the centre of mass, if anything does
};

/// What an answer of that kind is called: "new rod line".
std::string_view answer_name(PlanKind kind);

/// One sentence: what makes this answer good, or keeps it from being better.
std::string answer_why(const AnswerFacts& facts);

/// What to do, one sentence each, in the order in which it is done.
///
/// Of a bird the rod is told from the middles of its two openings, toward breast, back, left or right of the
/// bird (its left is the item frame's −y). Of any other body it is told from the middle of its width and
/// height, as one sees it from the drive with the item frame's z upward. Stations are from the drive end of
/// the rod.
std::vector<std::string> answer_steps(const AnswerFacts& facts);

/// What keeps a load from being fit to go on, and what would lift it.
std::vector<PlanLimit> answer_limits(const Assembly& assembly, const Analysis& analysis);

/// About one for each thing that is moved; a new rod line counts three, a counterweight two.
double answer_effort(const Setting& before, const Setting& after);

/// "12 mm toward the breast and 3 mm toward its left from its middle", of a bird, from an offset (y, z) in
/// the item frame. Less than half a millimetre is nothing.
std::string bird_offset_text(const Vec2& offset_m);
/// "8 mm above and 3 mm to the left", of any body, from an offset (to the right, upward).
std::string end_offset_text(const Vec2& offset_m);

}  // namespace evenspit
