// SPDX-License-Identifier: MIT
#include "app/viewer/desk.h"

#include <algorithm>
#include <cctype>
#include <exception>
#include <numbers>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "app/viewer/walls.h"
#include "files/whole_file.h"
#include "geometry/mesh_io.h"
#include "geometry/solid_check.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "scan/scan_unit.h"
#include "units/error.h"

namespace evenspit::viewer {
namespace {

namespace fs = std::filesystem;

constexpr double notice_s = 8;
constexpr double look_at_file_every_s = 1;
constexpr double keep_unsaved_every_s = 3;
constexpr double closest_look_m = 0.5;
constexpr int wall_steps = 120;  // along the rod
constexpr std::string_view new_load_name = "new-load.toml";

/// What went wrong, for the cook.
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

std::optional<fs::file_time_type> time_of(const fs::path& file) {
    std::error_code error;
    const fs::file_time_type time = fs::last_write_time(file, error);
    return error ? std::nullopt : std::optional(time);
}

/// The unit in which a scan is about as long as a roast; "" where the format tells it.
std::string unit_for(const MeshFile& file) {
    return file.metres_per_unit ? "" : likely_unit(bounds(file.mesh).sizes().maxCoeff());
}

/// Whether a file holds a mesh that is a body already. What cannot be read as a mesh may still be a cloud of
/// points.
bool is_closed_mesh(const fs::path& file) {
    if (!is_mesh_name(file)) return false;
    try {
        return check_solid(read_mesh(file).mesh).ok();
    } catch (const InputError&) {
        return false;
    }
}

}  // namespace

std::string ending_of(const fs::path& file) {
    std::string ending = file.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return ending;
}

Desk::Desk(Surround around)
    : around_(std::move(around)), settings_(around_.storage.settings()), answers_(around_.wake) {
    camera_.look_from(StandardView::home);
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
    if (has_answer()) camera_.frame(scene_.corners, area_);
}

std::string Desk::title() const {
    if (!has_load()) return "Evenspit";
    const std::string name = session_->file().empty() ? "new load" : session_->file().filename().string();
    return fmt::format("{}{} – Evenspit", session_->unsaved() ? "*" : "", name);
}

double Desk::patience_s() const {
    if (read_job_.running() || plan_job_.running()) return 0.1;
    return look_at_file_every_s;
}

// --- reading ---

void Desk::start_reading(fs::path file, std::function<Read(JobControl&)> work) {
    reading_ = file.filename().string();
    asked_file_ = std::move(file);
    dialog_ = Dialog::none;
    read_job_.start(std::move(work), around_.wake);
}

Desk::Read Desk::read_file(const fs::path& file, const fs::path& models) {
    const std::optional<std::string> text = file_text(file);
    // Where there is nothing to read, the reader has the right words for it.
    Assembly assembly = text ? read_load_text(*text, file, models) : read_load(file, models);
    return {std::move(assembly), text.value_or(""), file, file, {}};
}

void Desk::put_on_table(const fs::path& file) {
    load_read(read_file(file, around_.models));
}

void Desk::open(const fs::path& file) {
    std::error_code ignored;
    const fs::path whole = fs::absolute(file, ignored).lexically_normal();
    start_reading(whole, [whole, models = around_.models](JobControl& control) {
        control.step(-1, "reading the load and making its bodies");
        Read read = read_file(whole, models);
        control.step(1, "done");
        return read;
    });
}

void Desk::begin() {
    if (const std::optional<std::string> kept = around_.storage.unsaved({})) {
        const fs::path stands_in = fs::current_path() / new_load_name;
        start_reading("what was not saved", [kept, stands_in, models = around_.models](JobControl& control) {
            control.step(-1, "taking up what was not saved");
            return Read{read_load_text(*kept, stands_in, models), *kept, {}, stands_in, {}};
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

void Desk::drop(const fs::path& file) {
    if (ending_of(file) == ".toml") return unless_unsaved([this, file] { open(file); });
    unless_unsaved([this, file] {
        std::error_code ignored;
        const fs::path whole = fs::absolute(file, ignored).lexically_normal();
        start_reading(whole, [whole, models = around_.models](JobControl& control) {
            return read_scan(whole, models, control);
        });
    });
}

Desk::Read Desk::read_scan(const fs::path& file, const fs::path& models, JobControl& control) {
    control.step(-1, "reading the scan");
    ScanForLoad scan{.file = file};
    std::string words;
    if (is_closed_mesh(file)) {
        scan.unit = unit_for(read_mesh(file));
    } else {
        const CleanedScan cleaned =
            clean_scan(file, [&control](std::string_view stage) { control.step(-1, std::string(stage)); });
        scan.file = cleaned.body;
        scan.own_frame = true;
        words = cleaned.words;
    }
    const fs::path stands_in = file.parent_path() / new_load_name;
    control.step(-1, "making a load of it");
    // First without forks, to see how long it is.
    const Assembly bare = read_load_text(load_for_scan(scan), stands_in, models);
    const std::vector<PlacedItem> placed = place_items(bare);
    scan.from_m = placed.front().from();
    scan.to_m = placed.front().to();
    std::string text = load_for_scan(scan);
    Assembly assembly = read_load_text(text, stands_in, models);
    control.step(1, "done");
    return {std::move(assembly), std::move(text), {}, stands_in, words};
}

void Desk::take_reading() {
    if (!read_job_.running()) return;
    try {
        std::optional<Read> read = around_.wait_for_work ? read_job_.wait() : read_job_.take();
        if (!read) return;
        reading_.clear();
        load_read(std::move(*read));
    } catch (const std::exception& error) {
        reading_.clear();
        tell(Notice::Kind::trouble, words_of(error));
        notice_->until_s = now_s_ + 600;  // to be mended in an editor meanwhile
    }
}

void Desk::load_read(Read read) {
    stands_in_ = read.stands_in;
    recovered_.reset();
    plan_job_.cancel();
    plan_.reset();
    file_time_ = read.file.empty() ? std::nullopt : time_of(read.file);
    const std::uint64_t before = session_ ? session_->revision() : 0;
    session_.emplace(std::move(read.assembly), std::move(read.text), std::move(read.file));
    session_->start_counting_after(before);
    kept_revision_ = session_->revision();
    walls_.clear();
    const double rod_m = session_->assembly().rod.length_m;
    for (const CookerSurface& surface : session_->assembly().cooker.surfaces)
        walls_.push_back(wall_distance(surface.shape, 0, rod_m, rod_m / wall_steps));
    selected_ = {};
    turn_ = {};
    notice_.reset();
    if (!read.words.empty()) tell(Notice::Kind::word, read.words);
    frame_wanted_ = true;
    refresh();
    const fs::path& file = session_->file();
    if (file.empty()) return;
    settings_.remember(file);
    around_.storage.keep(settings_);
    const std::optional<std::string> kept = around_.storage.unsaved(file);
    if (!kept) return;
    try {
        recovered_ = setting_of(read_load_text(*kept, stands_in_, around_.models));
        dialog_ = Dialog::recover;
    } catch (const std::exception&) {
        // Of no use any more.
        around_.storage.forget_unsaved(file);
    }
}

// --- planning ---

void Desk::seek_plan() {
    if (!has_load()) return;
    plan_.reset();
    plan_revision_ = session_->revision();
    plan_job_.start(
        [load = session_->assembly()](JobControl& control) {
            return make_plan(load, [&control](double share, std::string_view what) {
                control.step(share, std::string(what));
            });
        },
        around_.wake);
}

void Desk::take_plan() {
    if (!plan_job_.running()) return;
    try {
        std::optional<Plan> found = around_.wait_for_work ? plan_job_.wait() : plan_job_.take();
        if (!found) return;
        plan_ = std::move(found);
        shown_answer_ = plan_->recommended;
    } catch (const std::exception& error) {
        tell(Notice::Kind::trouble, words_of(error));
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

void Desk::unless_unsaved(std::function<void()> then) {
    // A demo or a dropped scan that nobody has touched is no loss.
    const bool touched = has_load() && (!session_->undo_name().empty() || !session_->redo_name().empty());
    if (!has_load() || !session_->unsaved() || !touched) return then();
    after_question_ = std::move(then);
    dialog_ = Dialog::unsaved;
}

void Desk::answer(AnswerDialog::Choice choice) {
    using Choice = AnswerDialog::Choice;
    const Dialog asked = std::exchange(dialog_, Dialog::none);
    if (asked == Dialog::unsaved) {
        const std::function<void()> then = std::exchange(after_question_, {});
        if (choice == Choice::discard) {
            around_.storage.forget_unsaved(session_->file());
            kept_revision_ = session_->revision();
            return then();
        }
        if (choice != Choice::save) return;
        if (session_->file().empty()) {
            after_question_ = then;
            dialog_ = Dialog::save_as;
        } else if (save_to(session_->file())) {
            then();
        }
    } else if (asked == Dialog::overwrite) {
        if (choice != Choice::yes) return;
        if (save_to(asked_file_) && after_question_) std::exchange(after_question_, {})();
    } else if (asked == Dialog::recover) {
        if (choice == Choice::yes && recovered_ && session_->recover(*recovered_)) {
            refresh();
        } else if (choice == Choice::no) {
            around_.storage.forget_unsaved(session_->file());
        }
        recovered_.reset();
    } else if (asked == Dialog::changed_outside) {
        if (choice == Choice::yes) open(session_->file());
    } else if (asked == Dialog::save_as) {
        after_question_ = {};
    }
}

void Desk::watch_file() {
    if (now_s_ - watched_s_ < look_at_file_every_s) return;
    watched_s_ = now_s_;
    if (!has_load() || session_->file().empty() || read_job_.running()) return;
    const std::optional<fs::file_time_type> time = time_of(session_->file());
    if (!time || time == file_time_) return;
    file_time_ = time;
    if (session_->unsaved()) {
        dialog_ = Dialog::changed_outside;
        return;
    }
    open(session_->file());
}

// --- going on ---

void Desk::refresh() {
    if (!has_load()) return;
    answers_.ask(session_->assembly(), session_->revision());
    if (around_.wait_for_work) answers_.wait();
    const bool came_in = answers_.poll();
    if (!answers_.any() || (!came_in && shown_revision_ == session_->revision())) return;
    shown_revision_ = session_->revision();
    // Things show where they are now, even while the answers are still those of before.
    scene_ = maker_.scene(session_->assembly(), answers_.analysis());
    ++scene_number_;
    if (selected_.kind == Thing::Kind::counterweight &&
        selected_.index >= session_->assembly().counterweights.size())
        selected_ = {};
}

struct Desk::Granter {
    Desk& desk;

    [[nodiscard]] bool loaded() const { return desk.has_load(); }

    void operator()(const DoEdit& wish) const {
        if (!loaded()) return;
        if (const auto refusal = desk.session_->edit(wish.edit, wish.gesture)) {
            return desk.tell(Notice::Kind::refusal, refusal->reason);
        }
        if (desk.notice_ && desk.notice_->kind == Notice::Kind::refusal) desk.notice_.reset();
        if (std::holds_alternative<SetSeat>(wish.edit)) desk.steps_done_[1] = true;
        if (const auto* added = std::get_if<AddWeight>(&wish.edit); added != nullptr)
            desk.selected_ = {Thing::Kind::counterweight,
                              desk.session_->assembly().counterweights.size() - 1};
    }
    void operator()(const EndGesture&) const {
        if (loaded()) desk.session_->end_gesture();
    }
    void operator()(const Undo&) const {
        if (loaded()) desk.session_->undo();
    }
    void operator()(const Redo&) const {
        if (loaded()) desk.session_->redo();
    }
    void operator()(const Pin&) const {
        if (desk.has_answer() && !desk.answers_.stale()) desk.session_->pin(desk.answers_.analysis());
    }
    void operator()(const Unpin&) const {
        if (loaded()) desk.session_->unpin();
    }
    void operator()(const Select& wish) const { desk.selected_ = wish.thing; }
    void operator()(const SelectNext& wish) const {
        if (!loaded()) return;
        const Assembly& a = desk.session_->assembly();
        std::vector<Thing> all;
        for (std::size_t i = 0; i < a.items.size(); ++i) all.push_back({Thing::Kind::item, i});
        for (std::size_t f = 0; f < a.forks.size(); ++f) all.push_back({Thing::Kind::fork, f});
        for (std::size_t c = 0; c < a.counterweights.size(); ++c)
            all.push_back({Thing::Kind::counterweight, c});
        if (all.empty()) return;
        const auto now = std::find(all.begin(), all.end(), desk.selected_);
        const auto n = static_cast<std::ptrdiff_t>(all.size());
        const std::ptrdiff_t before = now == all.end() ? (wish.by > 0 ? -1 : n) : now - all.begin();
        desk.selected_ = all[static_cast<std::size_t>(((before + wish.by) % n + n) % n)];
    }
    void operator()(const Nudge& wish) const {
        if (!loaded() || !movable(desk.selected_)) return;
        (*this)(DoEdit{
            nudged(desk.session_->assembly(), desk.selected_, wish.along_m, wish.round_rad, wish.line_m),
            "nudge " + thing_name(desk.selected_, desk.session_->assembly())});
    }
    void operator()(const LookAt& wish) const { desk.camera_.look_at(wish.place, closest_look_m); }
    void operator()(const LookFrom& wish) const {
        desk.camera_.look_from(wish.view);
        desk.frame_all();
    }
    void operator()(const FrameAll&) const { desk.frame_all(); }
    void operator()(const Orbit& wish) const { desk.camera_.orbit(wish.azimuth_rad, wish.elevation_rad); }
    void operator()(const Pan& wish) const { desk.camera_.pan(wish.right_px, wish.up_px, desk.area_); }
    void operator()(const Zoom& wish) const { desk.camera_.zoom(wish.notches, wish.toward); }
    void operator()(const SetTurn& wish) const {
        desk.turn_.playing = false;
        desk.turn_.set(wish.angle_rad);
    }
    void operator()(const Play& wish) const { desk.turn_.playing = wish.on; }
    void operator()(const SetPace& wish) const { desk.turn_.pace = wish.pace; }
    void operator()(const OpenFile& wish) const {
        desk.unless_unsaved([d = &desk, file = wish.file] { d->open(file); });
    }
    void operator()(const OpenDemo&) const {
        desk.unless_unsaved([d = &desk] {
            const fs::path stands_in = fs::current_path() / new_load_name;
            d->start_reading("the demo load", [stands_in, models = d->around_.models](JobControl& control) {
                control.step(-1, "making a turkey");
                return Read{read_load_text(demo_load(), stands_in, models),
                            std::string(demo_load()),
                            {},
                            stands_in,
                            {}};
            });
        });
    }
    void operator()(const DropFile& wish) const {
        desk.steps_done_[0] = true;
        desk.drop(wish.file);
    }
    void operator()(const CancelReading&) const {
        desk.read_job_.cancel();
        desk.reading_.clear();
    }
    void operator()(const Save&) const {
        if (!loaded()) return;
        if (desk.session_->file().empty()) {
            desk.dialog_ = Dialog::save_as;
        } else {
            desk.save_to(desk.session_->file());
        }
    }
    void operator()(const SaveAs& wish) const {
        if (!loaded()) return;
        fs::path file = wish.file;
        if (ending_of(file) != ".toml") file += ".toml";
        std::error_code ignored;
        file = fs::absolute(file, ignored).lexically_normal();
        desk.asked_file_ = file;
        if (!wish.over && file != desk.session_->file() && fs::exists(file, ignored)) {
            desk.dialog_ = Dialog::overwrite;
            return;
        }
        if (!desk.save_to(file)) return;
        desk.dialog_ = Dialog::none;
        if (desk.after_question_) std::exchange(desk.after_question_, {})();
    }
    void operator()(const Reload&) const {
        if (loaded() && !desk.session_->file().empty())
            desk.unless_unsaved([d = &desk] { d->open(d->session_->file()); });
    }
    void operator()(const Quit&) const {
        desk.unless_unsaved([d = &desk] {
            if (d->has_load()) d->around_.storage.forget_unsaved(d->session_->file());
            d->ended_ = true;
        });
    }
    void operator()(const ShowDialog& wish) const { desk.dialog_ = static_cast<Dialog>(wish.dialog); }
    void operator()(const AnswerDialog& wish) const { desk.answer(wish.choice); }
    void operator()(const SeekPlan&) const { desk.seek_plan(); }
    void operator()(const CancelPlan&) const { desk.plan_job_.cancel(); }
    void operator()(const ShowAnswer& wish) const {
        if (desk.plan_ && wish.index < desk.plan_->answers.size()) desk.shown_answer_ = wish.index;
    }
    void operator()(const TakeAnswer&) const {
        if (!loaded() || !desk.plan_) return;
        const bool fitted = !desk.plan_is_stale();
        (*this)(
            DoEdit{SetPlaces{desk.plan_->answers[desk.shown_answer_].setting, "take what was planned"}, ""});
        // The answers stay those of this load, whichever of them is in force.
        if (fitted) desk.plan_revision_ = desk.session_->revision();
    }
    void operator()(const ToggleSkin&) const { desk.settings_.through_skin = !desk.settings_.through_skin; }
    void operator()(const ToggleEnvelope&) const { desk.envelope_ = !desk.envelope_; }
    void operator()(const ToggleCooker&) const { desk.cooker_ = !desk.cooker_; }
    void operator()(const SetUnits& wish) const { desk.settings_.units = wish.units; }
    void operator()(const SetScale& wish) const { desk.settings_.scale = wish.scale; }
    void operator()(const PutHintsAway&) const {
        desk.settings_.welcomed = true;
        desk.around_.storage.keep(desk.settings_);
    }
    void operator()(const CloseNotice&) const { desk.notice_.reset(); }
    void operator()(const ShowTab& wish) const { desk.tab_ = static_cast<Tab>(wish.tab); }
};

void Desk::tick(double now_s) {
    const double passed = now_s - now_s_;
    now_s_ = now_s;
    // What granting one wish brings up comes after the others.
    const std::vector<Wish> wishes = std::exchange(wishes_, {});
    const Granter granter{*this};
    for (const Wish& wish : wishes) std::visit(granter, wish);
    take_reading();
    take_plan();
    watch_file();
    refresh();
    if (frame_wanted_ && has_answer()) {
        frame_wanted_ = false;
        frame_all();
    }
    if (has_answer()) turn_.advance(passed, answers_.analysis().balance, session_->assembly().motor);
    if (notice_ && now_s_ > notice_->until_s) notice_.reset();
    if (has_load() && session_->revision() != kept_revision_ && now_s_ - kept_s_ > keep_unsaved_every_s) {
        kept_s_ = now_s_;
        kept_revision_ = session_->revision();
        const bool touched = !session_->undo_name().empty() || !session_->redo_name().empty();
        if (session_->unsaved() && touched) {
            around_.storage.keep_unsaved(session_->file(), session_->text());
        } else {
            around_.storage.forget_unsaved(session_->file());
        }
    }
}

}  // namespace evenspit::viewer
