// SPDX-License-Identifier: MIT
#include "app/viewer/session.h"

#include <utility>

#include "load/load_edit.h"

namespace evenspit::viewer {

Session::Session(Assembly read, std::string text, std::filesystem::path file)
    : base_(std::move(read)), text_(std::move(text)), file_(std::move(file)), assembly_(base_) {}

void Session::show(const Sitting& sitting) {
    assembly_ = with_arrangement(std::move(assembly_), sitting.places);
    assembly_.roll_tests = sitting.roll_tests;
    ++revision_;
}

void Session::record(std::string name, Sitting before, const Sitting& after) {
    steps_.resize(done_);
    steps_.push_back({std::move(name), std::move(before), after});
    ++done_;
}

std::optional<Refusal> Session::edit(const Edit& edit, std::string_view gesture) {
    const bool goes_on = !gesture.empty() && gesture == gesture_ && done_ > 0;
    Sitting now = sitting_of(assembly_);
    std::variant<Sitting, Refusal> outcome =
        applied_since(goes_on ? steps_[done_ - 1].before : now, assembly_, edit);
    if (const auto* refusal = std::get_if<Refusal>(&outcome)) return *refusal;
    Sitting& after = std::get<Sitting>(outcome);
    if (same_sitting(now, after)) return std::nullopt;

    if (goes_on) {
        steps_.resize(done_);
        steps_.back().after = after;
    } else {
        record(edit_name(assembly_, edit), std::move(now), after);
    }
    gesture_ = gesture;
    show(after);
    return std::nullopt;
}

std::string Session::undo_name() const {
    return done_ > 0 ? steps_[done_ - 1].name : std::string();
}

std::string Session::redo_name() const {
    return done_ < steps_.size() ? steps_[done_].name : std::string();
}

void Session::undo() {
    if (done_ == 0) return;
    end_gesture();
    show(steps_[--done_].before);
}

void Session::redo() {
    if (done_ == steps_.size()) return;
    end_gesture();
    show(steps_[done_++].after);
}

bool Session::unsaved() const {
    return file_.empty() || !same_sitting(sitting_of(base_), sitting_of(assembly_));
}

std::string Session::text() const {
    return edited_load(text_, base_, assembly_);
}

void Session::saved(std::string text, std::filesystem::path file) {
    text_ = std::move(text);
    file_ = std::move(file);
    assembly_.file = file_.string();
    base_ = assembly_;
    end_gesture();
}

bool Session::recover(const Sitting& sitting) {
    constexpr const char* why = "take up what was not saved";
    if (std::holds_alternative<Refusal>(applied(assembly_, SetPlaces{sitting.places, why}))) return false;
    if (same_sitting(sitting_of(assembly_), sitting)) return true;
    record(why, sitting_of(assembly_), sitting);
    end_gesture();
    show(sitting);
    return true;
}

}  // namespace evenspit::viewer
