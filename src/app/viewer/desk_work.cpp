// SPDX-License-Identifier: MIT
// Work that runs aside: what becomes of it when it is done.
#include <utility>

#include <fmt/format.h>

#include "app/viewer/desk.h"
#include "app/viewer/error_words.h"
#include "app/viewer/scan_load.h"
#include "card/card_file.h"
#include "units/error.h"

namespace evenspit::viewer {
namespace {

// So long nothing is moved before the cook is worked out anew; common practice, no source.
constexpr double hands_rest_s = 0.5;

}  // namespace

std::string words_of(const std::exception& error) {
    const auto* input = dynamic_cast<const InputError*>(&error);
    if (input == nullptr) return error.what();
    std::string words;
    for (const Complaint& complaint : input->complaints()) {
        if (!words.empty()) words += '\n';
        words += complaint.text();
    }
    return words;
}

void Desk::take_plan() {
    try {
        if (planning_.take(around_.wait_for_work)) scene_is_old_ = true;
    } catch (const std::exception& error) {
        tell(Notice::Kind::trouble, words_of(error));
    }
}

void Desk::take_trim() {
    try {
        if (!trimming_.take(around_.wait_for_work)) return;
    } catch (const std::exception& error) {
        return tell(Notice::Kind::trouble, words_of(error));
    }
    const Trim& found = *trimming_.found();
    if (!trimming_.belongs_to(session_->revision()))
        return tell(Notice::Kind::word, "Things were moved meanwhile: trim it again.");
    if (!found.needed)
        return tell(Notice::Kind::word, "Friction holds what is left: it needs no counterweight.");
    if (found.added.empty()) {
        return tell(
            Notice::Kind::word,
            "No counterweight at hand has a place where it helps: move the rod nearer the heavy side.");
    }
    if (const auto refusal = session_->edit(SetPlaces{arrangement_of(found.trimmed), "trim it"}))
        return tell(Notice::Kind::refusal, refusal->reason);
    trimming_.keep_for(session_->revision());
}

void Desk::take_cook() {
    try {
        if (cooking_.take(around_.wait_for_work)) scene_is_old_ = true;
    } catch (const std::exception& error) {
        tell(Notice::Kind::trouble, words_of(error));
    }
}

bool Desk::cook_is_due() const {
    if (!has_load() || cooking_.begun_for(session_->revision())) return false;
    const bool looked_at = tab_ == Tab::cook || cooking_.shown();
    return looked_at && can_roast(session_->assembly());
}

void Desk::tend_cook(double passed_s) {
    if (!cook_is_due()) return;
    if (cook_seen_ != session_->revision()) {
        cook_seen_ = session_->revision();
        still_s_ = 0;
        // What is being cooked is of a load that is no more.
        cooking_.cancel();
        return;
    }
    still_s_ += passed_s;
    if (still_s_ < hands_rest_s) return;
    cooking_.seek(session_->assembly(), session_->revision());
    scene_is_old_ = true;
}

void Desk::take_weights() {
    try {
        if (!weighing_.take(around_.wait_for_work)) return;
    } catch (const std::exception& error) {
        return tell(Notice::Kind::trouble, words_of(error));
    }
    if (!weighing_.belongs_to(session_->revision()))
        return tell(Notice::Kind::word, "Things were moved meanwhile: add it again.");
    const std::vector<Counterweight>& added = *weighing_.found();
    if (added.empty()) {
        return tell(Notice::Kind::word,
                    "No counterweight has a place where it clears everything and helps. Shift the rod "
                    "line toward the heavy side, or let the plan seek a better setting.");
    }
    Arrangement places = arrangement_of(session_->assembly());
    places.counterweights.insert(places.counterweights.end(), added.begin(), added.end());
    if (const auto refusal = session_->edit(SetPlaces{std::move(places), "add a counterweight"}))
        return tell(Notice::Kind::refusal, refusal->reason);
    selected_ = {Thing::Kind::counterweight, session_->assembly().counterweights.size() - 1};
}

// --- the card ---

void Desk::write_card(const std::filesystem::path& file) {
    dialog_ = Dialog::none;
    leaves_after_card_ = false;
    carding_.seek({session_->text(), stands_in_, around_.models}, settings_.units, file,
                  session_->revision());
}

void Desk::take_card() {
    try {
        if (!carding_.take(around_.wait_for_work)) return;
    } catch (const std::exception& error) {
        leaves_after_card_ = false;
        return tell(Notice::Kind::trouble, "The card was not written: " + words_of(error));
    }
    if (std::exchange(leaves_after_card_, false)) wish(Quit{});
    tell(Notice::Kind::word, fmt::format("The card is in {}. A thermometer decides when the meat is done.",
                                         carding_.found()->string()));
}

// --- files chosen outside of the viewer ---

void Desk::choose_file(const ChooseFile& wish) {
    if (!chooser_ || choice_job_.running()) return;
    chosen_for_ = dialog_;
    FileQuestion question;
    question.saves = dialog_ != Dialog::open;
    question.folder = wish.folder;
    question.name = wish.name;
    if (dialog_ == Dialog::open) {
        question.title = "Open a load file or a scan";
    } else if (dialog_ == Dialog::save_as) {
        question.title = "Save the load as";
        question.kind = "Load files";
        question.patterns = {"*.toml"};
    } else {
        question.title = "Write the card";
        question.kind = "Cards";
        question.patterns = {"*.pdf", "*.html", "*.svg"};
    }
    dialog_ = Dialog::none;
    choice_job_.start([choose = chooser_,
                       question](const JobControl& control) { return choose(question, control.token()); },
                      around_.wake);
}

void Desk::take_choice() {
    try {
        if (auto found = around_.wait_for_work ? chooser_job_.wait() : chooser_job_.take())
            chooser_ = std::move(*found);
        const auto choice = around_.wait_for_work ? choice_job_.wait() : choice_job_.take();
        if (!choice) return;
        if (!*choice) {
            after_question_ = {};
            return;
        }
        // It has asked already whether a file may be written over, but of the name as it stands.
        const std::filesystem::path& file = **choice;
        if (chosen_for_ == Dialog::open) {
            wish(DropFile{file});
        } else if (chosen_for_ == Dialog::save_as) {
            wish(SaveAs{file, ending_of(file) == ".toml"});
        } else {
            wish(WriteCard{file, card::card_format(file).has_value()});
        }
    } catch (const std::exception& error) {
        tell(Notice::Kind::trouble, words_of(error));
    }
}

// --- the cloud of mountings ---

void Desk::tend_cloud(double passed_s) {
    if (!cloud_.on() || !has_load()) return;
    try {
        cloud_.take(around_.wait_for_work);
        if (!cloud_.belongs_to(session_->revision())) {
            cloud_.seek(session_->assembly(), session_->revision());
            if (around_.wait_for_work) cloud_.take(true);
        }
    } catch (const std::exception& error) {
        cloud_.show(false);
        tell(Notice::Kind::trouble, words_of(error));
    }
    cloud_.advance(passed_s);
}

}  // namespace evenspit::viewer
