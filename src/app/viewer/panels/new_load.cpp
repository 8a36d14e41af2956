// SPDX-License-Identifier: MIT
// A load made from nothing: the questions that `new` asks, on one page.
#include "app/viewer/panels/new_load.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"
#include "load/new_load.h"
#include "load/new_load_answer.h"
#include "units/error.h"

namespace evenspit::viewer {
namespace {

std::string told(const InputError& error) {
    Complaint complaint = error.complaints().front();
    complaint.key.clear();
    return complaint.text();
}

/// Takes an answer, or keeps what is wrong with it.
void take(NewLoadDraft& draft, const NewLoadQuestion& question, const std::string& typed,
          const std::filesystem::path& models) {
    draft.wrong.erase(question.id);
    if (typed.find_first_not_of(' ') == std::string::npos) {
        draft.answers.erase(question.id);
        return;
    }
    try {
        draft.answers[question.id] = checked_answer(question, typed, models);
    } catch (const InputError& error) {
        draft.answers.erase(question.id);
        draft.wrong[question.id] = told(error);
    }
}

struct Choice {
    std::string name, about;
};

std::vector<Choice> choices_of(const NewLoadQuestion& question, const std::vector<ModelEntry>& models) {
    std::vector<Choice> choices;
    for (const ModelEntry& entry : models) {
        if (!question.model_kind.empty() && entry.kind == question.model_kind)
            choices.push_back({entry.name, entry.summary});
    }
    for (const std::string& word : question.words) choices.push_back({word, ""});
    return choices;
}

void draw_choices(Ui& ui, NewLoadDraft& draft, const NewLoadQuestion& question,
                  const std::filesystem::path& models) {
    const NewLoadAnswers counting = with_usual_answers(draft.answers, models);
    const auto chosen = counting.find(question.id);
    bool first = true;
    for (const Choice& choice : choices_of(question, draft.models)) {
        if (!std::exchange(first, false)) ui.beside(choice.name);
        const bool on = chosen != counting.end() && chosen->second == choice.name;
        if (ui.toggle(fmt::format("{}##{}", choice.name, question.id), on, choice.about)) {
            take(draft, question, choice.name, models);
            draft.typed.erase(question.id);
            draft.taken.erase(question.id);
        }
    }
}

/// Words of which any may be on.
void draw_some(Ui& ui, NewLoadDraft& draft, const NewLoadQuestion& question,
               const std::filesystem::path& models) {
    const auto answer = draft.answers.find(question.id);
    std::vector<std::string> on;
    if (answer != draft.answers.end()) on = listed_words(answer->second);
    bool first = true;
    for (const std::string& word : question.words) {
        if (!std::exchange(first, false)) ui.beside(word);
        const auto found = std::find(on.begin(), on.end(), word);
        if (!ui.toggle(fmt::format("{}##{}", word, question.id), found != on.end())) continue;
        if (found != on.end()) {
            on.erase(found);
        } else {
            on.push_back(word);
        }
        return take(draft, question, fmt::format("{}", fmt::join(on, ", ")), models);
    }
}

void draw_field(Ui& ui, NewLoadDraft& draft, const NewLoadQuestion& question,
                const std::filesystem::path& models) {
    std::string& typed = draft.typed[question.id];
    ImGui::SetNextItemWidth(std::min(ui.px(220), ImGui::GetContentRegionAvail().x));
    const bool confirmed = ui.text(question.about, typed);
    // Leaving a field is as good as confirming it.
    std::string& taken = draft.taken[question.id];
    if ((confirmed || !ImGui::IsItemActive()) && typed != taken) {
        taken = typed;
        take(draft, question, typed, models);
    }
    const std::string like = question.usual.empty()
                                 ? fmt::format("like {}", question.example)
                                 : fmt::format("else {}", question.usual_after(draft.answers));
    ui.beside(like, 8);
    ImGui::AlignTextToFramePadding();
    ui.say_small(like);
}

void draw_question(Ui& ui, NewLoadDraft& draft, const NewLoadQuestion& question,
                   const std::filesystem::path& models) {
    ui.say(question.ask + (question.may_skip ? " (may be left out)" : ""));
    if (!question.how.empty()) ui.say_small(question.how);
    const bool chooses = question.form == AnswerForm::word || question.form == AnswerForm::model ||
                         question.form == AnswerForm::roast;
    if (chooses) draw_choices(ui, draft, question, models);
    if (question.form == AnswerForm::words) draw_some(ui, draft, question, models);
    if (question.form == AnswerForm::roast)
        ui.say_small(
            "Not in the list? Drop the file of a scan on this window, or type its path: PLY, OBJ, STL, OFF, "
            "glTF, GLB, PCD, XYZ or PTS.");
    const bool typed = !chooses && question.form != AnswerForm::words;
    if (typed || question.form == AnswerForm::roast) draw_field(ui, draft, question, models);
    if (const auto wrong = draft.wrong.find(question.id); wrong != draft.wrong.end())
        ui.say_small(wrong->second, Ink::stop);
    ImGui::Dummy({0, ui.px(4)});
}

/// Takes what was typed and not confirmed, and marks what is missing; whether all is there.
bool complete(NewLoadDraft& draft, const std::filesystem::path& models) {
    for (const NewLoadQuestion& question : new_load_questions()) {
        const auto typed = draft.typed.find(question.id);
        if (typed != draft.typed.end() && !typed->second.empty())
            take(draft, question, typed->second, models);
    }
    const NewLoadAnswers counting = with_usual_answers(draft.answers, models);
    bool all = true;
    for (const NewLoadQuestion& question : new_load_questions()) {
        if (!question.asked_after(counting, models)) {
            draft.answers.erase(question.id);
            draft.wrong.erase(question.id);
        } else if (question.needed() && !counting.contains(question.id)) {
            draft.wrong.try_emplace(question.id, "This one needs an answer.");
        }
        all = all && !draft.wrong.contains(question.id);
    }
    return all;
}

}  // namespace

void draw_new_load(Ui& ui, Desk& desk, NewLoadDraft& draft, bool opened) {
    if (opened) draft.models = list_models(desk.models());
    ui.say("A new load", Ink::strong);
    const float foot = ui.px(40);
    ImGui::BeginChild("questions", {0, std::max(ui.px(60), ImGui::GetContentRegionAvail().y - foot)}, false);
    // Room for the line round what has the keys.
    ImGui::Indent(ui.px(3));
    std::string section;
    const NewLoadAnswers counting = with_usual_answers(draft.answers, desk.models());
    for (const NewLoadQuestion& question : new_load_questions()) {
        if (!question.asked_after(counting, desk.models())) continue;
        if (question.section != section) ui.heading(question.section);
        section = question.section;
        draw_question(ui, draft, question, desk.models());
    }
    ImGui::EndChild();
    if (ui.button("Make the load") && complete(draft, desk.models()))
        desk.wish(MakeLoad{with_usual_answers(draft.answers, desk.models())});
    ui.beside("Cancel");
    if (ui.button("Cancel")) desk.wish(AnswerDialog{});
}

}  // namespace evenspit::viewer
