// SPDX-License-Identifier: MIT
#include "app/viewer/session.h"

#include <utility>

#include "load/load_edit.h"

namespace evenspit::viewer {

Session::Session(Assembly read, std::string text, std::filesystem::path file)
    : base_(std::move(read)), text_(std::move(text)), file_(std::move(file)), assembly_(base_) {}

void Session::show(const Arrangement& places) {
    assembly_ = with_arrangement(std::move(assembly_), places);
    ++revision_;
}

std::optional<Refusal> Session::edit(const Edit& edit, std::string_view gesture) {
    std::variant<Arrangement, Refusal> outcome = applied(assembly_, edit);
    if (const auto* refusal = std::get_if<Refusal>(&outcome)) return *refusal;
    Arrangement& after = std::get<Arrangement>(outcome);
    Arrangement before = arrangement_of(assembly_);
    if (same_arrangement(before, after)) return std::nullopt;

    const bool goes_on = !gesture.empty() && gesture == gesture_ && done_ > 0;
    std::string name = edit_name(assembly_, edit);
    steps_.erase(steps_.begin() + static_cast<std::ptrdiff_t>(done_), steps_.end());
    if (goes_on) {
        steps_.back().after = after;
    } else {
        steps_.push_back({std::move(name), std::move(before), after});
        ++done_;
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
    return file_.empty() || !same_arrangement(arrangement_of(base_), arrangement_of(assembly_));
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

bool Session::recover(const Arrangement& places) {
    return !edit(SetPlaces{places, "take up what was not saved"}).has_value();
}

}  // namespace evenspit::viewer
