// SPDX-License-Identifier: MIT
#include "app/cli/interview.h"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "app/cli/verb.h"
#include "load/models.h"
#include "load/new_load.h"
#include "load/new_load_answer.h"
#include "report/printable_lines.h"
#include "report/text_layout.h"
#include "units/error.h"
#include "units/listed.h"

namespace evenspit {
namespace {

constexpr int question_indent = 2, answer_indent = 4;
constexpr int least_columns = 40, most_columns = 100;

class Interview {
  public:
    Interview(const NewLoadAnswers& given, const std::filesystem::path& models, std::istream& in,
              std::ostream& out, int columns)
        : answers_(given),
          models_(models),
          in_(in),
          out_(out),
          columns_(std::clamp(columns, least_columns, most_columns)) {}

    NewLoadAnswers run() {
        for (const NewLoadQuestion& question : new_load_questions()) {
            if (!question.asked_after(answers_, models_) || answers_.contains(question.id)) continue;
            if (question.section != section_) out_ << '\n' << question.section << '\n';
            section_ = question.section;
            ask(question);
        }
        out_ << std::flush;
        return std::move(answers_);
    }

  private:
    void ask(const NewLoadQuestion& question) {
        say(question.ask, question_indent);
        say(question.how, answer_indent);
        choices(question);
        while (true) {
            const std::string typed = line(question);
            if (typed.find_first_not_of(" \t\r") == std::string::npos) {
                if (!question.usual.empty()) answers_[question.id] = question.usual_after(answers_);
                if (!question.needed()) return;
                say(fmt::format("This one needs an answer, like \"{}\".", question.example), answer_indent);
                continue;
            }
            const std::optional<std::string> wrong = taken(question, typed);
            if (!wrong) return;
            say(*wrong, answer_indent);
        }
    }

    /// Takes an answer, or tells what is wrong with it.
    std::optional<std::string> taken(const NewLoadQuestion& question, const std::string& typed) {
        try {
            NewLoadAnswers with = answers_;
            with[question.id] = checked_answer(question, typed, models_);
            if (const auto complaint = complaint_about(question, with, models_)) return told(*complaint);
            answers_ = std::move(with);
            return std::nullopt;
        } catch (const InputError& error) {
            return told(error.complaints().front());
        }
    }

    static std::string told(Complaint complaint) {
        complaint.spot = {};
        complaint.key.clear();
        std::string text = complaint.text();
        if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
            text[0] = static_cast<char>(text[0] - 'a' + 'A');
        return text + ".";
    }

    void choices(const NewLoadQuestion& question) {
        if (question.form == AnswerForm::model) {
            Table table({{""}, {"", false, true}});
            for (const ModelEntry& entry : list_models(models_)) {
                if (entry.kind == question.model_kind) table.add_row({entry.name, entry.summary});
            }
            for (const std::string& line : table.lines(columns_ - answer_indent)) {
                if (!line.empty()) put(answer_indent, line);
            }
        } else if (!question.words.empty()) {
            say(fmt::format("{}.", listed(question.words, "or")), answer_indent);
        }
    }

    std::string line(const NewLoadQuestion& question) {
        const std::string enter =
            !question.usual.empty() ? fmt::format("Enter for {}", question.usual_after(answers_))
            : question.may_skip     ? fmt::format("like {}; Enter to skip", question.example)
                                    : fmt::format("like {}", question.example);
        out_ << fmt::format("{:{}}({}) > ", "", answer_indent, enter) << std::flush;
        std::string typed;
        if (!std::getline(in_, typed))
            throw UsageError(fmt::format("nothing is written, since \"{}\" was not answered", question.ask));
        return typed;
    }

    void say(std::string_view words, int indent) {
        for (const std::string& line : wrapped(words, columns_ - indent)) put(indent, line);
    }

    void put(int indent, std::string_view line) {
        out_ << fmt::format("{:{}}{}\n", "", indent, printable(line));
    }

    NewLoadAnswers answers_;
    const std::filesystem::path& models_;
    std::istream& in_;
    std::ostream& out_;
    int columns_;
    std::string section_;
};

}  // namespace

NewLoadAnswers interview(const NewLoadAnswers& given, const std::filesystem::path& models, std::istream& in,
                         std::ostream& out, int columns) {
    return Interview(given, models, in, out, columns).run();
}

}  // namespace evenspit
