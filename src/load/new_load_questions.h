// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "units/quantity.h"

namespace evenspit {

/// What has been answered, as it was typed, by the id of the question. What was passed over is absent.
using NewLoadAnswers = std::map<std::string, std::string, std::less<>>;

/// The answer for a rod, motor, cooker or fork that is none of models/ and has figures of its own.
inline constexpr std::string_view own_figures = "own";
/// The answer for a cooker that there is none of.
inline constexpr std::string_view no_cooker = "none";

/// How a question is answered.
enum class AnswerForm {
    roast,        ///< the name of a parametric body, or of a scan's file
    quantity,     ///< with its unit
    torque,       ///< a torque, or what a lever presses on a scale: "1.3 kg at 200 mm"
    stretch,      ///< two places along the rod: "60 mm, 620 mm"
    word,         ///< one of NewLoadQuestion::words
    words,        ///< one or more of them, commas between
    model,        ///< one of models/, or one of NewLoadQuestion::words
    count,        ///< a whole number, from 1 to NewLoadQuestion::most
    time_of_day,  ///< "18:30"
    text          ///< anything
};

/// One question that is asked to make a load file of the answers.
struct NewLoadQuestion {
    std::string id;       ///< "tape-length"; the option of the command line is that with two hyphens
    std::string section;  ///< what it is about, as a heading: "Motor"
    std::string ask;      ///< the question, with its mark
    std::string about;    ///< the same for a help line, a few words
    AnswerForm form = AnswerForm::text;
    std::string example{};
    std::string how{};  ///< how one finds out, in sentences; may be empty
    std::string key{};  ///< of the load file that holds the answer, "item[1].mass"; "" where none does alone
    std::string usual{};  ///< what counts where nothing is answered
    /// The same for whoever weighs in pounds; empty: alike.
    std::string usual_beside_pounds{};
    bool may_skip = false;
    Dimension dimension = Dimension::length;
    std::vector<std::string> words{};
    std::string model_kind{};
    std::size_t most = 0;
    /// Whether it is asked after those answers; empty: always.
    std::function<bool(const NewLoadAnswers&)> only_if{};

    bool only_where_heat_is_held = false;  ///< not of a fire in the open

    /// \param models the model library, for what the cooker is
    [[nodiscard]] bool asked_after(const NewLoadAnswers& answers, const std::filesystem::path& models) const;
    /// What counts where nothing is answered, in units like those of the answers given.
    [[nodiscard]] const std::string& usual_after(const NewLoadAnswers& answers) const;
    /// Whether a load file cannot be made without an answer.
    [[nodiscard]] bool needed() const { return usual.empty() && !may_skip; }
};

/// All of them, in the order in which they are asked. Those that hang on answers come after them.
const std::vector<NewLoadQuestion>& new_load_questions();

/// The answers to those that are asked, usual ones taken where nothing was answered; answers to questions
/// that are not asked are left out.
///
/// \param models the model library
NewLoadAnswers with_usual_answers(const NewLoadAnswers& given, const std::filesystem::path& models);

/// Whether it is asked that the body is a scan, or a bird by weight.
bool roasts_scan(const NewLoadAnswers& answers);
bool roasts_bird(const NewLoadAnswers& answers);
/// Whether the weight is told in pounds or ounces.
bool weighs_in_pounds(const NewLoadAnswers& answers);

}  // namespace evenspit
