// SPDX-License-Identifier: MIT
// What becomes of each wish.
#include <algorithm>
#include <system_error>
#include <utility>

#include "app/viewer/desk.h"
#include "app/viewer/hands.h"
#include "app/viewer/scan_load.h"
#include "card/card_file.h"

namespace evenspit::viewer {
namespace {

namespace fs = std::filesystem;

constexpr double closest_look_m = 0.5;

}  // namespace

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
    void operator()(const AddFittingWeight&) const {
        if (!desk.has_answer() || desk.answers_.stale()) return;
        desk.weighing_.seek(desk.session_->assembly(), desk.answers_.analysis(), desk.session_->revision());
    }
    void operator()(const CancelWeight&) const { desk.weighing_.cancel(); }
    void operator()(const TellScan& wish) const {
        desk.tell_scan({wish.unit, wish.mass_kg, wish.rests_on, wish.beside});
    }
    void operator()(const MakeLoad& wish) const {
        desk.unless_unsaved([d = &desk, answers = wish.answers] { d->make_load(answers); });
    }
    void operator()(const EndGesture&) const {
        if (!loaded()) return;
        desk.session_->end_gesture();
        // What was let go is wanted more than what it passed on its way.
        desk.refresh();
        desk.answers_.hasten();
    }
    void operator()(const Undo&) const {
        if (loaded()) desk.session_->undo();
    }
    void operator()(const Redo&) const {
        if (loaded()) desk.session_->redo();
    }
    void operator()(const Pin&) const {
        if (desk.has_answer() && !desk.answers_.stale()) desk.session_->pin(desk.answers_.analysis());
        desk.scene_is_old_ = true;
    }
    void operator()(const Unpin&) const {
        if (loaded()) desk.session_->unpin();
        desk.scene_is_old_ = true;
    }
    void operator()(const Select& wish) const {
        desk.selected_ = wish.thing;
        desk.marked_tines_.clear();
        desk.marked_bone_.reset();
    }
    void operator()(const MarkTines& wish) const {
        desk.marked_tines_ = wish.tines;
        desk.settings_.through_skin = true;
        desk.marked_bone_ = wish.bone ? desk.bone_beside(wish.tines, wish.item) : nullptr;
    }
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
    void operator()(const LookAt& wish) const {
        Camera camera = desk.camera_to_be();
        camera.look_at(wish.place, closest_look_m);
        desk.glide_to(camera);
    }
    void operator()(const LookFrom& wish) const {
        Camera camera = desk.camera_to_be();
        camera.look_from(wish.view);
        if (desk.has_answer()) camera.frame(desk.scene_.corners, desk.area_);
        desk.glide_to(camera);
    }
    void operator()(const FrameAll&) const {
        Camera camera = desk.camera_to_be();
        if (desk.has_answer()) camera.frame(desk.scene_.corners, desk.area_);
        desk.glide_to(camera);
    }
    void operator()(const Orbit& wish) const {
        desk.glide_.reset();
        desk.camera_.orbit(wish.azimuth_rad, wish.elevation_rad);
    }
    void operator()(const Pan& wish) const {
        desk.glide_.reset();
        desk.camera_.pan(wish.right_px, wish.up_px, desk.area_);
    }
    void operator()(const Zoom& wish) const {
        desk.glide_.reset();
        desk.camera_.zoom(wish.notches, wish.toward);
    }
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
        desk.unless_unsaved([d = &desk] { d->open_demo(); });
    }
    void operator()(const DropFile& wish) const {
        desk.steps_done_[0] = true;
        desk.drop(wish.file, wish.unit);
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
    void operator()(const ChooseFile& wish) const { desk.choose_file(wish); }
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
        if (desk.carding_.running() && !std::exchange(desk.leaves_after_card_, true)) {
            return desk.tell(
                Notice::Kind::word,
                "The card is still being written: the window closes once it is there. Leave once "
                "more to close it without.");
        }
        desk.unless_unsaved([d = &desk] {
            if (d->has_load()) d->around_.storage.forget_unsaved(d->session_->file());
            d->ended_ = true;
        });
    }
    void operator()(const ShowDialog& wish) const { desk.dialog_ = wish.dialog; }
    void operator()(const AnswerDialog& wish) const { desk.answer(wish.choice); }
    void operator()(const SeekPlan&) const {
        if (loaded()) desk.planning_.seek(desk.session_->assembly(), desk.session_->revision());
    }
    void operator()(const CancelPlan&) const { desk.planning_.cancel(); }
    void operator()(const ShowAnswer& wish) const {
        desk.planning_.show(wish.index);
        desk.scene_is_old_ = true;
    }
    void operator()(const TakeAnswer&) const {
        if (!loaded() || !desk.planning_.plan()) return;
        const bool fitted = !desk.plan_is_stale();
        const plan::PlanAnswer& answer = desk.planning_.plan()->answers[desk.planning_.shown()];
        (*this)(DoEdit{SetPlaces{answer.arrangement, "take what was planned"}, ""});
        // The answers stay those of this load, whichever of them is in force.
        if (fitted) desk.planning_.keep_for(desk.session_->revision());
    }
    void operator()(const SeekTrim&) const {
        if (loaded() && was_rolled(desk.session_->assembly()))
            desk.trimming_.seek(desk.session_->assembly(), desk.session_->revision());
    }
    void operator()(const CancelTrim&) const { desk.trimming_.cancel(); }
    void operator()(const SeekCook&) const {
        if (loaded() && can_roast(desk.session_->assembly()))
            desk.cooking_.seek(desk.session_->assembly(), desk.session_->revision());
        desk.scene_is_old_ = true;
    }
    void operator()(const CancelCook&) const {
        if (loaded()) desk.cooking_.give_up(desk.session_->revision());
    }
    void operator()(const ShowMoment& wish) const {
        if (desk.cook_is_stale()) return;
        desk.cooking_.show(wish.index);
        // Mountings are those of the load as it goes on.
        if (wish.index) desk.cloud_.show(false);
        desk.scene_is_old_ = true;
    }
    void operator()(const StepMoment& wish) const {
        if (desk.cook_is_stale()) return;
        desk.cooking_.step(wish.by);
        if (desk.cooking_.shown()) desk.cloud_.show(false);
        desk.scene_is_old_ = true;
    }
    void operator()(const ToggleCloud&) const {
        if (!desk.has_answer()) return;
        desk.cloud_.show(!desk.cloud_.on());
        desk.cloud_.play(desk.cloud_.on());
        if (desk.cloud_.on()) (*this)(ShowMoment{});
    }
    void operator()(const PlayCloud& wish) const { desk.cloud_.play(wish.on); }
    void operator()(const ToggleThing& wish) const { desk.hidden_.toggle(wish.thing); }
    void operator()(const ShowAllThings&) const { desk.hidden_.clear(); }
    void operator()(const WriteCard& wish) const {
        if (!loaded()) return;
        fs::path file = wish.file;
        if (!card::card_format(file)) file += ".pdf";
        std::error_code ignored;
        file = fs::absolute(file, ignored).lexically_normal();
        desk.asked_file_ = file;
        if (!wish.over && fs::exists(file, ignored)) {
            desk.dialog_ = Dialog::overwrite_card;
            return;
        }
        desk.write_card(file);
    }
    void operator()(const CancelCard&) const { desk.carding_.cancel(); }
    void operator()(const CancelFilm&) const { desk.film_stopped_ = true; }
    void operator()(const ToggleSkin&) const { desk.settings_.through_skin = !desk.settings_.through_skin; }
    void operator()(const SetSkin& wish) const {
        desk.settings_.through_skin = wish.opacity < 1;
        if (wish.opacity < 1) desk.settings_.skin_opacity = std::max(wish.opacity, least_skin);
    }
    void operator()(const ToggleGaps&) const { desk.gaps_ = !desk.gaps_; }
    void operator()(const ToggleTape&) const { desk.tape_.take(!desk.tape_.on()); }
    void operator()(const Measure& wish) const {
        if (desk.tape_.on()) desk.tape_.point(wish.at, wish.turns, desk.turn_.angle_rad);
    }
    void operator()(const ToggleEnvelope&) const { desk.envelope_ = !desk.envelope_; }
    void operator()(const ToggleCooker&) const { desk.cooker_ = !desk.cooker_; }
    void operator()(const ShowColours& wish) const {
        desk.colouring_ = wish.colouring;
        desk.scene_is_old_ = true;
    }
    void operator()(const SetSection& wish) const { desk.section_ = wish.section; }
    void operator()(const NextSection&) const {
        if (!desk.has_answer()) return;
        if (!desk.section_) {
            desk.section_ = Section{Section::Way::across, desk.analysis().balance.centre_x_m};
        } else if (desk.section_->way == Section::Way::across) {
            desk.section_ = Section{Section::Way::along, 0};
        } else {
            desk.section_.reset();
        }
    }
    void operator()(const SavePicture& wish) const {
        if (desk.dialog_ == Dialog::picture) desk.dialog_ = Dialog::none;
        if (desk.has_answer()) desk.picture_wanted_ = wish;
    }
    void operator()(const SetUnits& wish) const { desk.settings_.units = wish.units; }
    void operator()(const SetTheme& wish) const { desk.settings_.theme = wish.theme; }
    void operator()(const SetScale& wish) const { desk.settings_.scale = wish.scale; }
    void operator()(const SetSplits& wish) const { desk.settings_.splits = wish.splits; }
    void operator()(const PutHintsAway&) const {
        desk.settings_.welcomed = true;
        desk.around_.storage.keep(desk.settings_);
    }
    void operator()(const CloseNotice&) const { desk.notice_.reset(); }
    void operator()(const ShowTab& wish) const {
        desk.tab_ = wish.tab;
        desk.scene_is_old_ = true;
        // Who opens the cook wants to see one.
        const bool known = desk.cooking_.running() || desk.cooking_.found();
        if (wish.tab == Tab::cook && !known) (*this)(SeekCook{});
    }
};

void Desk::grant(const Wish& wish) {
    std::visit(Granter{*this}, wish);
}

}  // namespace evenspit::viewer
