// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "load/new_load_questions.h"
#include "rig/rig.h"
#include "units/error.h"

namespace evenspit {

/// The text of a load file made of answers, with a comment beside whatever needs one. Lines for what was not
/// answered are left out. Things sit somewhere on the rod: whoever makes it says where.
///
/// \param answers checked ones, as with_usual_answers() gives them
/// \param models the model library, for what its models are
/// \pre every answer is one that checked_answer() gave
std::string new_load_text(const NewLoadAnswers& answers, const std::filesystem::path& models);

/// The cooker that answers tell of, as far as they do; without surfaces where there is none.
Cooker cooker_of(const NewLoadAnswers& answers, const std::filesystem::path& models);

/// What a load file would have against an answer, beside those before it: a weight that no such bird has.
/// Nothing where the answer is in order, or only shows to be wrong when all is there.
///
/// Raw scans are not read for it.
std::optional<Complaint> complaint_about(const NewLoadQuestion& question, const NewLoadAnswers& answers,
                                         const std::filesystem::path& models);

/// The same complaints, those about keys of the load file told by the ids of the questions.
InputError by_question(const InputError& error, const NewLoadAnswers& answers);

}  // namespace evenspit
