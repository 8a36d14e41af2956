// SPDX-License-Identifier: MIT
#include "load/new_load_answer.h"

#include <algorithm>
#include <cctype>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "load/models.h"
#include "load/table_reader.h"
#include "units/error.h"
#include "units/listed.h"
#include "units/nearest.h"
#include "units/quantity.h"
#include "units/quote.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

constexpr std::string_view lever_at = " at ";

std::string trimmed(std::string_view text) {
    const auto space = [](char c) { return std::isspace(static_cast<unsigned char>(c)) != 0; };
    while (!text.empty() && space(text.front())) text.remove_prefix(1);
    while (!text.empty() && space(text.back())) text.remove_suffix(1);
    return std::string(text);
}

[[noreturn]] void refuse(const NewLoadQuestion& question, std::string found, std::string expected,
                         std::string mend = {}) {
    Complaint complaint;
    complaint.key = question.id;
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

double checked_quantity(const NewLoadQuestion& question, const std::string& text, Dimension dimension) {
    try {
        const double si = parse_quantity(text, dimension);
        if (dimension == Dimension::length && si > longest_m)
            refuse(question, in_quotes(text), fmt::format("{:.0f} m at most", longest_m),
                   "check the number and its unit");
        if (si > 0 || dimension == Dimension::temperature) return si;
        refuse(question, in_quotes(text), fmt::format("{} above zero", dimension_name(dimension)));
    } catch (const QuantityError& error) {
        refuse(question, error.found(), error.expected(), error.mend());
    }
}

std::string known_name(const NewLoadQuestion& question, const std::string& text,
                       const std::vector<std::string>& known) {
    for (const std::string& name : known) {
        if (same_name(name, text)) return name;
    }
    const std::optional<std::string> near = nearest_word(text, known);
    refuse(question, in_quotes(text), listed(known, "or"),
           near ? fmt::format("did you mean {}?", *near) : "");
}

/// Each of the words once, as the question has them.
std::string checked_words(const NewLoadQuestion& question, const std::string& text) {
    std::vector<std::string> names;
    for (const std::string& word : listed_words(text)) {
        const std::string name = known_name(question, word, question.words);
        if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    return fmt::format("{}", fmt::join(names, ", "));
}

std::vector<std::string> names_for(const NewLoadQuestion& question, const std::filesystem::path& models) {
    std::vector<std::string> names = model_names(models, question.model_kind);
    names.insert(names.end(), question.words.begin(), question.words.end());
    return names;
}

/// The weight and the lever of "1.3 kg at 200 mm".
std::array<std::string, 2> parts_of_reading(const std::string& text) {
    const std::size_t at = text.find(lever_at);
    return {trimmed(text.substr(0, at)), trimmed(text.substr(at + lever_at.size()))};
}

void check_stretch(const NewLoadQuestion& question, const std::string& text) {
    const auto [from, to] = two_places(text);
    if (to.empty())
        refuse(question, in_quotes(text),
               fmt::format("two lengths with a comma between, like \"{}\"", question.example));
    if (checked_quantity(question, from, Dimension::length) >=
        checked_quantity(question, to, Dimension::length))
        refuse(question, in_quotes(text), "the smaller length first");
}

void check_torque(const NewLoadQuestion& question, const std::string& text) {
    if (!is_lever_reading(text)) {
        checked_quantity(question, text, Dimension::torque);
        return;
    }
    const auto [mass, lever] = parts_of_reading(text);
    checked_quantity(question, mass, Dimension::mass);
    checked_quantity(question, lever, Dimension::length);
}

std::string checked_roast(const NewLoadQuestion& question, const std::string& text) {
    for (const std::string& name : question.words) {
        if (same_name(name, text)) return name;
    }
    std::error_code ignored;
    if (std::filesystem::is_regular_file(text, ignored)) return text;
    const std::optional<std::string> near = nearest_word(text, question.words);
    refuse(question, in_quotes(text),
           fmt::format("the file of a scan, or a name of the list: {}", listed(question.words, "or")),
           near ? fmt::format("did you mean {}?", *near) : "");
}

void check_count(const NewLoadQuestion& question, const std::string& text) {
    const bool digits = !text.empty() && text.size() <= 3 &&
                        std::all_of(text.begin(), text.end(),
                                    [](char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; });
    if (!digits || std::stoul(text) < 1 || std::stoul(text) > question.most)
        refuse(question, in_quotes(text), fmt::format("a whole number from 1 to {}", question.most));
}

}  // namespace

std::string checked_answer(const NewLoadQuestion& question, const std::string& typed,
                           const std::filesystem::path& models) {
    std::string text = trimmed(typed);
    if (text.empty())
        refuse(question, in_quotes(typed), fmt::format("an answer, like \"{}\"", question.example));
    switch (question.form) {
        case AnswerForm::roast:
            return checked_roast(question, text);
        case AnswerForm::word:
        case AnswerForm::model:
            return known_name(question, text, names_for(question, models));
        case AnswerForm::words:
            return checked_words(question, text);
        case AnswerForm::quantity:
            checked_quantity(question, text, question.dimension);
            return text;
        case AnswerForm::torque:
            check_torque(question, text);
            return text;
        case AnswerForm::stretch:
            check_stretch(question, text);
            return text;
        case AnswerForm::count:
            check_count(question, text);
            return text;
        case AnswerForm::time_of_day:
        case AnswerForm::text:
            return text;
    }
    return text;
}

std::vector<std::string> listed_words(const std::string& text) {
    std::vector<std::string> words;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t comma = std::min(text.find(',', from), text.size());
        words.push_back(trimmed(text.substr(from, comma - from)));
        from = comma + 1;
    }
    return words;
}

std::array<std::string, 2> two_places(const std::string& text) {
    for (const std::string_view between : {",", " to "}) {
        const std::size_t at = text.find(between);
        if (at != std::string::npos)
            return {trimmed(text.substr(0, at)), trimmed(text.substr(at + between.size()))};
    }
    return {trimmed(text), ""};
}

std::array<double, 2> answered_stretch_m(const std::string& answer) {
    const auto [from, to] = two_places(answer);
    return {parse_quantity(from, Dimension::length), parse_quantity(to, Dimension::length)};
}

bool is_lever_reading(const std::string& answer) {
    return answer.find(lever_at) != std::string::npos;
}

double answered_torque_n_m(const std::string& answer) {
    if (!is_lever_reading(answer)) return parse_quantity(answer, Dimension::torque);
    const auto [mass, lever] = parts_of_reading(answer);
    return standard_gravity * parse_quantity(mass, Dimension::mass) *
           parse_quantity(lever, Dimension::length);
}

}  // namespace evenspit
