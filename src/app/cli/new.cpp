// SPDX-License-Identifier: MIT
#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "analysis/chance.h"
#include "app/cli/common_words.h"
#include "app/cli/interview.h"
#include "app/cli/model_folder.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "load/models.h"
#include "load/new_load_answer.h"
#include "plan/first_load.h"
#include "report/chance_words.h"
#include "report/finding_words.h"
#include "report/page.h"
#include "report/tool.h"
#include "units/error.h"
#include "units/quote.h"

namespace evenspit {
namespace {

/// How many findings are told; `check` tells all.
constexpr std::size_t most_told = 3;

std::string option_for(const NewLoadQuestion& question) {
    return "--" + question.id;
}

/// The same complaints about options rather than questions.
InputError by_option(const InputError& error) {
    std::vector<Complaint> told = error.complaints();
    for (Complaint& complaint : told) {
        for (const NewLoadQuestion& question : new_load_questions()) {
            if (complaint.key == question.id) complaint.key = option_for(question);
        }
    }
    return InputError(std::move(told));
}

NewLoadAnswers checked(const NewLoadAnswers& typed, const std::filesystem::path& models) {
    NewLoadAnswers answers;
    std::vector<Complaint> wrong;
    for (const NewLoadQuestion& question : new_load_questions()) {
        const auto given = typed.find(question.id);
        if (given == typed.end()) continue;
        try {
            answers[question.id] = checked_answer(question, given->second, models);
        } catch (const InputError& error) {
            wrong.insert(wrong.end(), error.complaints().begin(), error.complaints().end());
        }
    }
    if (!wrong.empty()) throw by_option(InputError(std::move(wrong)));
    return answers;
}

/// An answer to a question that the others leave no room for would be read and then ignored.
void refuse_unasked(const NewLoadAnswers& given, const NewLoadAnswers& answers) {
    for (const auto& [id, answer] : given) {
        if (!answers.contains(id))
            throw UsageError(fmt::format("--{} does not go with the other answers; leave it out", id));
    }
}

void refuse_unanswered(const NewLoadAnswers& answers, const std::filesystem::path& models) {
    std::string missing;
    for (const NewLoadQuestion& question : new_load_questions()) {
        if (!question.asked_after(answers, models) || !question.needed() || answers.contains(question.id))
            continue;
        missing += fmt::format("{}{} {}", missing.empty() ? "" : ", ", option_for(question),
                               question.example.find(' ') == std::string::npos
                                   ? question.example
                                   : fmt::format("\"{}\"", question.example));
    }
    if (!missing.empty())
        throw UsageError(
            fmt::format("new needs to know more where it cannot ask; add, for example, {}", missing));
}

NewLoadAnswers answers_of(const NewLoadAnswers& typed, bool ask, const std::filesystem::path& models,
                          const Surroundings& around) {
    require_models(models);
    NewLoadAnswers given = checked(typed, models);
    if (ask && around.in != nullptr && around.in_is_terminal)
        given = interview(given, models, *around.in, around.err, around.columns);
    NewLoadAnswers answers = with_usual_answers(given, models);
    refuse_unasked(given, answers);
    refuse_unanswered(answers, models);
    return answers;
}

/// A name as a shell takes it.
std::string shell_word(const std::filesystem::path& file) {
    const std::string name = file.string();
    const bool plain = std::all_of(name.begin(), name.end(), [](char c) {
        return std::isalnum(static_cast<unsigned char>(c)) != 0 || std::string_view("./_-+").find(c) < 5;
    });
    return plain ? name : fmt::format("\"{}\"", name);
}

std::string told(const plan::FirstLoad& made, const std::filesystem::path& file, const TextOptions& options) {
    Page page(options);
    const Analysis& analysis = made.analysis;
    page.marked(level_mark(analysis.verdict), ink_of(analysis.verdict),
                verdict_words(analysis.verdict, analysis.mounted), 0);
    std::size_t told = 0;
    for (const Finding& finding : analysis.findings) {
        if (finding.level == Level::ready || told == most_told) continue;
        page.marked(level_mark(finding.level), ink_of(finding.level),
                    finding_text(finding, made.load, options.units));
        ++told;
    }
    page.heading("What comes next");
    const std::string name = shell_word(file);
    const auto next = [&page](std::string_view command, std::string_view about) {
        page.marked("-", Ink::plain, fmt::format("{} {}: {}", tool_name(), command, about));
    };
    next(fmt::format("check {}", name), "all figures, and what to mend.");
    next(fmt::format("plan {}", name), "what else would make it better.");
    next(fmt::format("card {} -o card.pdf", name), "the page that goes to the cooker.");
    page.gap();
    page.paragraph(
        "The file is yours to edit: weigh and measure again what you guessed. A thermometer decides when it "
        "is "
        "done; the makers' manuals and local codes come first.");
    return page.text();
}

Outcome make(const Request& request, const NewLoadAnswers& typed, bool ask, int mountings,
             const Surroundings& around, Progress& progress) {
    const std::filesystem::path models = model_folder(around);
    const NewLoadAnswers answers = answers_of(typed, ask, models, around);
    std::error_code ignored;
    const std::filesystem::path from = std::filesystem::current_path(ignored);
    Outcome outcome;
    try {
        plan::FirstLoad made = plan::first_load(answers, *request.output, from, models, mountings,
                                                [&progress](std::string_view what) { progress.now(what); });
        progress.done();
        outcome.text = told(made, *request.output, text_options(request, around));
        outcome.file = std::move(made.text);
    } catch (const InputError& error) {
        throw by_option(by_question(error, answers));
    }
    return outcome;
}

/// A load file that is there was made by someone: it is not written over.
void refuse_existing(const std::filesystem::path& file) {
    std::error_code ignored;
    if (std::filesystem::exists(file, ignored))
        throw UsageError(fmt::format("{} is there already; name another file, or move that one away",
                                     in_quotes(file.string())));
}

Request understood_new(const Words& words) {
    Request request = common_request(words);
    const auto name = words.text("LOAD");
    if (!name) throw UsageError("new needs the name of the load file to write: new LOAD.toml");
    request.output = *name;
    request.output_option = "LOAD";
    request.text_to_output = false;
    if (request.output->extension() != ".toml")
        throw UsageError(
            fmt::format("{} is no name for a load file; expected one that ends in .toml", in_quotes(*name)));
    NewLoadAnswers typed;
    for (const NewLoadQuestion& question : new_load_questions()) {
        if (const auto given = words.text(option_for(question))) typed[question.id] = *given;
    }
    request.deed = [typed, ask = !words.flag("--no-questions"),
                    mountings = mountings_of(words, usual_mountings)](
                       const Request& asked, const Surroundings& around, Progress& progress) {
        refuse_existing(*asked.output);
        return make(asked, typed, ask, mountings, around, progress);
    };
    return request;
}

std::string_view type_of(const NewLoadQuestion& question) {
    switch (question.form) {
        case AnswerForm::roast:
            return "WHAT";
        case AnswerForm::quantity:
        case AnswerForm::torque:
            return "FIGURE";
        case AnswerForm::stretch:
            return "FROM,TO";
        case AnswerForm::word:
            return "WORD";
        case AnswerForm::words:
            return "WORDS";
        case AnswerForm::model:
            return "NAME";
        case AnswerForm::count:
            return "N";
        case AnswerForm::time_of_day:
            return "TIME";
        case AnswerForm::text:
            return "TEXT";
    }
    return "TEXT";
}

}  // namespace

Verb new_verb() {
    Verb verb{.name = "new",
              .summary = "Asks what you roast and on what, and writes a load file",
              .example =
                  "new supper.toml --roast turkey --mass \"13 lb\" \\\n"
                  "      --rod square-8mm --motor mains-gearmotor --cooker kettle-57",
              .words = {{WordSpec::Kind::operand, "LOAD", "The load file to write"},
                        {WordSpec::Kind::flag, "--no-questions", "Ask nothing, take what is usual"},
                        quiet_flag(),
                        units_option(),
                        mountings_option()},
              .tells_status = false,
              .understand = understood_new};
    for (const NewLoadQuestion& question : new_load_questions()) {
        verb.words.push_back({WordSpec::Kind::value, option_for(question), question.about,
                              std::string(type_of(question)), question.words});
    }
    return verb;
}

}  // namespace evenspit
