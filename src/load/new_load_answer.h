// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <filesystem>
#include <string>
#include <vector>

#include "load/new_load_questions.h"

namespace evenspit {

/// An answer as a load file takes it: names as the lists spell them, the rest as it was typed, without spaces
/// round it.
///
/// \param models the model library
/// \throws InputError with one complaint, whose key is the question's id
std::string checked_answer(const NewLoadQuestion& question, const std::string& typed,
                           const std::filesystem::path& models);

/// The words between the commas of an answer.
std::vector<std::string> listed_words(const std::string& text);

/// The two places of "60 mm, 620 mm" or "60 mm to 620 mm"; of one alone, that with nothing behind.
std::array<std::string, 2> two_places(const std::string& text);

/// The same two in metres. \pre checked
std::array<double, 2> answered_stretch_m(const std::string& answer);

/// Whether a torque is told by what a lever presses on a scale: "1.3 kg at 200 mm".
bool is_lever_reading(const std::string& answer);

/// N m; a lever's is weight times length. \pre checked
double answered_torque_n_m(const std::string& answer);

}  // namespace evenspit
