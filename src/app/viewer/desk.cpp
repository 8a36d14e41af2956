// SPDX-License-Identifier: MIT
#include "app/viewer/desk.h"

#include <algorithm>
#include <exception>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "app/viewer/error_words.h"
#include "app/viewer/scan_load.h"
#include "files/whole_file.h"
#include "geometry/axis_distance.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "units/error.h"

namespace evenspit::viewer {
namespace {

namespace fs = std::filesystem;

constexpr double notice_s = 8;
constexpr double trouble_s = 600;  // to be mended in an editor meanwhile
constexpr double look_at_file_every_s = 1;
constexpr double look_at_work_every_s = 0.1;
constexpr double keep_unsaved_every_s = 3;
constexpr double mountings_rest_s = 0.15;  // longer than between two edits of a drag
constexpr double glide_s = 0.3;            // long enough to follow, common practice
constexpr int wall_steps = 120;            // along the rod

std::optional<ScanTold> told_unit(const std::string& unit) {
    return unit.empty() ? std::nullopt : std::optional(ScanTold{unit});
}

std::optional<fs::file_time_type> time_of(const fs::path& file) {
    std::error_code error;
    const fs::file_time_type time = fs::last_write_time(file, error);
    return error ? std::nullopt : std::optional(time);
}

}  // namespace

Desk::Desk(Surround around)
    : around_(std::move(around)),
      settings_(around_.storage.settings()),
      answers_(around_.wake, around_.wait_for_work ? 0 : mountings_rest_s),
      planning_(around_.wake),
      trimming_(around_.wake),
      cooking_(around_.wake),
      cloud_(around_.wake),
      carding_(around_.wake),
      weighing_(around_.wake) {
    camera_.look_from(StandardView::home);
    if (around_.find_chooser)
        chooser_job_.start([find = around_.find_chooser](const JobControl&) { return find(); }, around_.wake);
}

Desk::~Desk() {
    // All are asked to stop before the first is waited for.
    read_job_.cancel();
    choice_job_.cancel();
    planning_.cancel();
    trimming_.cancel();
    cooking_.cancel();
    cloud_.cancel();
    carding_.cancel();
    weighing_.cancel();
    answers_.cancel();
}

void Desk::tell(Notice::Kind kind, std::string text) {
    notice_ = Notice{kind, std::move(text), now_s_ + notice_s};
}

void Desk::set_area(const Area& area) {
    const bool first = area_.width <= 0;
    area_ = area;
    if (first) frame_wanted_ = true;
}

void Desk::frame_all() {
    glide_.reset();
    if (has_answer()) camera_.frame(scene_.corners, area_);
}

void Desk::glide_to(const Camera& camera) {
    if (around_.wait_for_work || !has_answer()) {
        camera_ = camera;
        return;
    }
    glide_ = Glide{camera_, camera, now_s_};
}

void Desk::tend_glide() {
    if (!glide_) return;
    const double share = std::clamp((now_s_ - glide_->begun_s) / glide_s, 0.0, 1.0);
    // Slow at both ends.
    camera_ = Camera::between(glide_->from, glide_->to, share * share * (3 - 2 * share));
    if (share < 1) return;
    camera_ = glide_->to;
    glide_.reset();
}

std::string Desk::title() const {
    if (!has_load()) return "Evenspit";
    const std::string name = session_->file().empty() ? "new load" : session_->file().filename().string();
    return fmt::format("{}{} – Evenspit", session_->unsaved() ? "*" : "", name);
}

double Desk::patience_s() const {
    return works() ? look_at_work_every_s : look_at_file_every_s;
}

// --- reading ---

void Desk::start_reading(fs::path file, std::function<LoadDocument(JobControl&)> work) {
    reading_ = file.filename().string();
    reading_file_ = file.is_absolute() ? file : fs::path();
    asked_file_ = std::move(file);
    dialog_ = Dialog::none;
    read_job_.start(std::move(work), around_.wake);
}

void Desk::put_on_table(const fs::path& file) {
    JobControl unheeded;
    put_on_table(read_document(file, around_.models, unheeded));
}

void Desk::open(const fs::path& file) {
    std::error_code ignored;
    const fs::path whole = fs::absolute(file, ignored).lexically_normal();
    start_reading(whole, [whole, models = around_.models](JobControl& control) {
        return read_document(whole, models, control);
    });
}

void Desk::open_demo() {
    start_reading("the demo load", [models = around_.models](JobControl& control) {
        control.step(-1, "making a turkey");
        return read_new_document(std::string(demo_load()), models, control);
    });
}

void Desk::begin() {
    if (const std::optional<std::string> kept = around_.storage.unsaved({})) {
        start_reading("what was not saved", [kept, models = around_.models](JobControl& control) {
            control.step(-1, "taking up what was not saved");
            return read_new_document(*kept, models, control);
        });
        around_.storage.forget_unsaved({});
        return;
    }
    std::error_code ignored;
    for (const fs::path& file : settings_.recent) {
        if (settings_.welcomed && fs::is_regular_file(file, ignored)) return wish(OpenFile{file});
    }
    wish(OpenDemo{});
}

void Desk::drop(const fs::path& file, const std::string& unit) {
    if (ending_of(file) == ".toml") return unless_unsaved([this, file] { open(file); });
    unless_unsaved([this, file, unit] {
        std::error_code ignored;
        const fs::path whole = fs::absolute(file, ignored).lexically_normal();
        start_reading(whole, [whole, unit, models = around_.models](JobControl& control) {
            return document_of_scan(whole, models, control, told_unit(unit));
        });
    });
}

void Desk::tell_scan(const ScanTold& told) {
    if (!scan_question_) return;
    const fs::path file = std::exchange(scan_question_, std::nullopt)->file;
    start_reading(file, [file, told, models = around_.models](JobControl& control) {
        return document_of_scan(file, models, control, told);
    });
}

std::string Desk::put_scan_on_table(const fs::path& scan, const fs::path& folder, const std::string& unit) {
    JobControl unheeded;
    const fs::path whole = fs::absolute(scan).lexically_normal();
    std::string words;
    LoadDocument document = document_of_scan(whole, around_.models, unheeded, told_unit(unit), folder);
    if (document.question) {
        const TakenUnit taken = unit_by_size(*document.question);
        words = taken.words;
        document = document_of_scan(whole, around_.models, unheeded, ScanTold{taken.unit}, folder);
    }
    put_on_table(std::move(document));
    return words;
}

void Desk::make_load(const NewLoadAnswers& answers) {
    start_reading("a new load", [answers, models = around_.models](JobControl& control) {
        return document_of_answers(answers, models, control);
    });
}

void Desk::take_reading() {
    if (!read_job_.running()) return;
    try {
        std::optional<LoadDocument> read = around_.wait_for_work ? read_job_.wait() : read_job_.take();
        if (!read) return;
        reading_.clear();
        failed_file_.clear();
        if (read->question) {
            scan_question_ = std::move(read->question);
            dialog_ = Dialog::scan;
            return;
        }
        put_on_table(std::move(*read));
    } catch (const std::exception& error) {
        reading_failed(error);
    }
}

void Desk::reading_failed(const std::exception& error) {
    reading_.clear();
    // It is read again as soon as it is mended.
    failed_file_ = reading_file_;
    failed_time_ = time_of(failed_file_);
    tell(Notice::Kind::trouble, words_of(error));
    notice_->until_s = now_s_ + trouble_s;
}

void Desk::put_on_table(LoadDocument document) {
    stands_in_ = document.stands_in;
    recovered_.reset();
    planning_.forget();
    trimming_.forget();
    cooking_.forget();
    cloud_.forget();
    weighing_.forget();
    hidden_.clear();
    tape_.take(false);
    file_time_ = document.file.empty() ? std::nullopt : time_of(document.file);
    const std::uint64_t before = session_ ? session_->revision() : 0;
    session_.emplace(std::move(document.assembly), std::move(document.text), std::move(document.file));
    session_->start_counting_after(before);
    kept_revision_ = session_->revision();
    answers_.begin_with(std::move(document.answer), session_->revision());
    walls_.clear();
    const double rod_m = session_->assembly().rod.length_m;
    for (const CookerSurface& surface : session_->assembly().cooker.surfaces)
        walls_.push_back(axis_distance(surface.shape, 0, rod_m, rod_m / wall_steps));
    selected_ = {};
    marked_tines_.clear();
    marked_bone_.reset();
    turn_ = {};
    notice_.reset();
    if (!document.words.empty()) tell(Notice::Kind::word, document.words);
    frame_wanted_ = true;
    refresh();
    if (session_->file().empty()) return;
    settings_.remember(session_->file());
    around_.storage.keep(settings_);
    offer_what_was_not_saved();
}

void Desk::offer_what_was_not_saved() {
    const std::optional<std::string> kept = around_.storage.unsaved(session_->file());
    if (!kept) return;
    try {
        recovered_ = sitting_of(read_load_text(*kept, stands_in_, around_.models));
        dialog_ = Dialog::recover;
    } catch (const std::exception&) {
        // Of no use any more.
        around_.storage.forget_unsaved(session_->file());
    }
}

// --- saving ---

bool Desk::save_to(const fs::path& file) {
    try {
        std::string text = session_->text();
        const fs::path from = stands_in_.parent_path();
        const fs::path to = file.parent_path();
        if (from != to) text = moved_load(text, stands_in_.string(), from, to);
        write_whole_file(file, text);
        around_.storage.forget_unsaved(session_->file());
        stands_in_ = file;
        session_->saved(std::move(text), file);
        kept_revision_ = session_->revision();
        file_time_ = time_of(file);
        settings_.remember(file);
        around_.storage.keep(settings_);
        steps_done_[2] = true;
        tell(Notice::Kind::word, "Saved " + file.filename().string());
        return true;
    } catch (const std::exception& error) {
        tell(Notice::Kind::trouble, "Not saved: " + words_of(error));
        return false;
    }
}

bool Desk::touched() const {
    return has_load() && (!session_->undo_name().empty() || !session_->redo_name().empty());
}

void Desk::unless_unsaved(std::function<void()> then) {
    // A demo or a dropped scan that nobody has touched is no loss.
    if (!has_load() || !session_->unsaved() || !touched()) return then();
    after_question_ = std::move(then);
    dialog_ = Dialog::unsaved;
}

void Desk::answer_unsaved(AnswerDialog::Choice choice) {
    const std::function<void()> then = std::exchange(after_question_, {});
    if (choice == AnswerDialog::Choice::discard) {
        around_.storage.forget_unsaved(session_->file());
        kept_revision_ = session_->revision();
        return then();
    }
    if (choice != AnswerDialog::Choice::save) return;
    if (session_->file().empty()) {
        after_question_ = then;
        dialog_ = Dialog::save_as;
    } else if (save_to(session_->file())) {
        then();
    }
}

void Desk::answer(AnswerDialog::Choice choice) {
    using Choice = AnswerDialog::Choice;
    switch (std::exchange(dialog_, Dialog::none)) {
        case Dialog::unsaved:
            return answer_unsaved(choice);
        case Dialog::overwrite:
            if (choice == Choice::yes && save_to(asked_file_) && after_question_)
                std::exchange(after_question_, {})();
            return;
        case Dialog::overwrite_card:
            if (choice == Choice::yes) write_card(asked_file_);
            return;
        case Dialog::recover:
            if (choice == Choice::yes && recovered_ && session_->recover(*recovered_)) {
                refresh();
            } else if (choice == Choice::no) {
                around_.storage.forget_unsaved(session_->file());
            }
            recovered_.reset();
            return;
        case Dialog::changed_outside:
            if (choice == Choice::yes) open(session_->file());
            return;
        case Dialog::save_as:
            after_question_ = {};
            return;
        case Dialog::scan:
            scan_question_.reset();
            return;
        default:
            return;
    }
}

void Desk::watch_file() {
    if (now_s_ - watched_s_ < look_at_file_every_s) return;
    watched_s_ = now_s_;
    if (read_job_.running()) return;
    if (!failed_file_.empty()) {
        const std::optional<fs::file_time_type> mended = time_of(failed_file_);
        if (mended && mended != failed_time_) {
            const fs::path file = failed_file_;
            drop(file);
            return;
        }
    }
    if (!has_load() || session_->file().empty()) return;
    const std::optional<fs::file_time_type> time = time_of(session_->file());
    if (!time || time == file_time_) return;
    file_time_ = time;
    if (session_->unsaved()) {
        dialog_ = Dialog::changed_outside;
        return;
    }
    open(session_->file());
}

void Desk::keep_unsaved() {
    if (!has_load() || session_->revision() == kept_revision_) return;
    if (now_s_ - kept_s_ <= keep_unsaved_every_s) return;
    kept_s_ = now_s_;
    kept_revision_ = session_->revision();
    if (session_->unsaved() && touched()) {
        around_.storage.keep_unsaved(session_->file(), session_->text());
    } else {
        around_.storage.forget_unsaved(session_->file());
    }
}

// --- going on ---

void Desk::refresh() {
    if (!has_load()) return;
    answers_.ask(session_->assembly(), session_->revision());
    if (around_.wait_for_work) answers_.wait();
    const bool came_in = answers_.poll();
    if (!answers_.any() || (!came_in && !scene_is_old_ && shown_revision_ == session_->revision())) return;
    shown_revision_ = session_->revision();
    scene_is_old_ = false;
    make_scene();
    if (selected_.kind == Thing::Kind::counterweight &&
        selected_.index >= session_->assembly().counterweights.size())
        selected_ = {};
}

void Desk::tick(double now_s) {
    const double passed = now_s - now_s_;
    now_s_ = now_s;
    // What granting one wish brings up comes after the others.
    const std::vector<Wish> wishes = std::exchange(wishes_, {});
    for (const Wish& wish : wishes) grant(wish);
    take_choice();
    take_reading();
    take_plan();
    take_trim();
    take_cook();
    tend_cook(passed);
    take_weights();
    take_card();
    tend_cloud(passed);
    tend_glide();
    watch_file();
    refresh();
    if (frame_wanted_ && has_answer()) {
        frame_wanted_ = false;
        frame_all();
    }
    if (has_answer()) turn_.advance(passed, analysis().balance, session_->assembly().motor);
    if (notice_ && now_s_ > notice_->until_s) notice_.reset();
    keep_unsaved();
}

}  // namespace evenspit::viewer
