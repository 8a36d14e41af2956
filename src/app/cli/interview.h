// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <istream>
#include <ostream>

#include "load/new_load_questions.h"

namespace evenspit {

/// Asks, one question after the other, what a new load file needs and `given` does not tell. An answer that
/// cannot be is told why, and asked for again; an empty line takes what is usual, or passes the question
/// over.
///
/// \param given checked answers
/// \param models the model library
/// \param in one answer a line
/// \param columns of the terminal
/// \throws UsageError when `in` ends before all is answered
NewLoadAnswers interview(const NewLoadAnswers& given, const std::filesystem::path& models, std::istream& in,
                         std::ostream& out, int columns);

}  // namespace evenspit
