// SPDX-License-Identifier: MIT
#include <algorithm>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "app/viewer/keys.h"
#include "app/viewer/panels/parts.h"
#include "app/viewer/scan_load.h"
#include "geometry/scan_io.h"

namespace evenspit::viewer {
namespace {

namespace fs = std::filesystem;

bool can_open(const fs::path& file) {
    return ending_of(file) == ".toml" || is_scan_name(file);
}

struct Listing {
    std::vector<fs::path> folders, files;
};

Listing listing_of(const fs::path& folder, bool scans_too) {
    Listing listing;
    std::error_code error;
    for (fs::directory_iterator it(folder, fs::directory_options::skip_permission_denied, error), end;
         !error && it != end; it.increment(error)) {
        const fs::path& path = it->path();
        if (path.filename().string().starts_with(".")) continue;
        std::error_code ignored;
        if (it->is_directory(ignored)) {
            listing.folders.push_back(path);
        } else if (scans_too ? can_open(path) : path.extension() == ".toml") {
            listing.files.push_back(path);
        }
    }
    std::sort(listing.folders.begin(), listing.folders.end());
    std::sort(listing.files.begin(), listing.files.end());
    return listing;
}

/// Folders and files to click through; the chosen file, if one was clicked.
std::optional<fs::path> browse(Ui& ui, PanelState& state, bool scans_too, float height) {
    ui.say_small(state.folder.string());
    std::optional<fs::path> chosen;
    ImGui::BeginChild("files", {0, height}, true);
    const Listing listing = listing_of(state.folder, scans_too);
    fs::path go_to;
    if (state.folder.has_parent_path() && state.folder != state.folder.root_path() && ui.row("↑ up", false))
        go_to = state.folder.parent_path();
    for (const fs::path& folder : listing.folders) {
        if (ui.row(folder.filename().string() + "/", false)) go_to = folder;
    }
    for (const fs::path& file : listing.files) {
        if (ui.row(file.filename().string(), state.file_name == file.filename().string())) chosen = file;
    }
    ImGui::EndChild();
    if (!go_to.empty()) state.folder = go_to;
    return chosen;
}

void open_dialog(Ui& ui, Desk& desk, PanelState& state) {
    ui.say("Open a load file or a scan", Ink::strong);
    if (!desk.settings().recent.empty()) {
        ui.heading("Lately");
        int number = 0;
        for (const fs::path& file : desk.settings().recent) {
            if (ui.row(fmt::format("{}##recent{}", file.filename().string(), number++), false))
                return desk.wish(OpenFile{file});
            if (number == 4) break;
        }
    }
    ui.heading("On this computer");
    if (const auto chosen =
            browse(ui, state, true, std::max(ui.px(80), ImGui::GetContentRegionAvail().y - ui.px(96))))
        return desk.wish(DropFile{*chosen});
    ImGui::SetNextItemWidth(-ui.px(84));
    const bool entered = ui.text("path", state.file_name);
    ImGui::SameLine();
    if ((ui.button("Open##it") || entered) && !state.file_name.empty()) {
        const fs::path typed(state.file_name);
        return desk.wish(DropFile{typed.is_absolute() ? typed : state.folder / typed});
    }
    if (ui.button("The demo load")) return desk.wish(OpenDemo{});
    ImGui::SameLine();
    if (ui.button("Cancel")) desk.wish(AnswerDialog{});
}

void save_dialog(Ui& ui, Desk& desk, PanelState& state) {
    ui.say("Save the load as", Ink::strong);
    if (const auto chosen = browse(ui, state, false, ui.px(220)))
        state.file_name = chosen->filename().string();
    ImGui::SetNextItemWidth(-ui.px(84));
    const bool entered = ui.text("name", state.file_name);
    ImGui::SameLine();
    if ((ui.button("Save##it") || entered) && !state.file_name.empty()) {
        const fs::path typed(state.file_name);
        return desk.wish(SaveAs{typed.is_absolute() ? typed : state.folder / typed, false});
    }
    if (ui.button("Cancel")) desk.wish(AnswerDialog{});
}

void help_dialog(Ui& ui, Desk& desk) {
    using Choice = AnswerDialog::Choice;
    ui.say("Keys", Ink::strong);
    // What is left above the settings.
    ImGui::BeginChild("keys", {0, ImGui::GetContentRegionAvail().y - ui.px(92)}, false);
    for (const KeyHelp& key : key_help()) {
        ui.say_small(key.keys, Ink::accent);
        ImGui::SameLine(ui.px(180));
        ui.say_small(key.does, Ink::plain);
    }
    ImGui::EndChild();
    ui.heading("Settings");
    const bool metric = desk.settings().units == UnitSystem::metric;
    if (ui.toggle("Metric", metric)) desk.wish(SetUnits{UnitSystem::metric});
    ImGui::SameLine();
    if (ui.toggle("US", !metric)) desk.wish(SetUnits{UnitSystem::us});
    ImGui::SameLine(0, ui.px(24));
    ImGui::AlignTextToFramePadding();
    ui.say("Size");
    for (const auto& [name, scale] :
         {std::pair{"as the display", 0.0}, std::pair{"100 %", 1.0}, std::pair{"125 %", 1.25},
          std::pair{"150 %", 1.5}, std::pair{"200 %", 2.0}}) {
        ImGui::SameLine(0, ui.px(6));
        if (ui.toggle(name, desk.settings().scale == scale)) desk.wish(SetScale{scale});
    }
    if (ui.button("Close")) desk.wish(AnswerDialog{Choice::cancel});
}

struct Question {
    std::string title, words;
    std::vector<std::pair<const char*, AnswerDialog::Choice>> answers;
};

Question question_of(const Desk& desk) {
    using Choice = AnswerDialog::Choice;
    switch (desk.dialog()) {
        case Dialog::unsaved:
            return {"Not saved",
                    "Things were moved since the load was saved last.",
                    {{"Save", Choice::save}, {"Throw away", Choice::discard}, {"Cancel", Choice::cancel}}};
        case Dialog::overwrite:
            return {"It is there already",
                    desk.asked_file().filename().string() + " exists. Write over it?",
                    {{"Write over it", Choice::yes}, {"Cancel", Choice::cancel}}};
        case Dialog::recover:
            return {"Something was not saved",
                    "The last time this load was open, things were moved and not saved. Take that up again?",
                    {{"Take it up", Choice::yes}, {"Throw it away", Choice::no}}};
        case Dialog::changed_outside:
            return {"The file has changed",
                    "Another program has changed the load file, and here things were moved too.",
                    {{"Read the file again", Choice::yes}, {"Keep what is here", Choice::no}}};
        default:
            return {};
    }
}

}  // namespace

void draw_dialog(Ui& ui, Desk& desk, PanelState& state) {
    const Dialog dialog = desk.dialog();
    const bool opened = dialog != state.shown;
    state.shown = dialog;
    if (dialog == Dialog::none) return;
    if (opened) {
        const fs::path& file = desk.has_load() ? desk.session().file() : fs::path();
        std::error_code ignored;
        if (!file.empty()) state.folder = file.parent_path();
        if (state.folder.empty()) state.folder = fs::current_path(ignored);
        state.file_name =
            dialog == Dialog::save_as ? (file.empty() ? "load.toml" : file.filename().string()) : "";
    }
    // A veil over everything: first the answer.
    const auto whole = ImGui::GetIO().DisplaySize;
    ui.cover({0, 0, whole.x, whole.y});
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(whole);
    ImGui::PushStyleColor(ImGuiCol_WindowBg, IM_COL32(60, 56, 50, 90));
    if (opened) ImGui::SetNextWindowFocus();
    ImGui::Begin("veil", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoNav |
                     ImGuiWindowFlags_NoSavedSettings);
    ImGui::PopStyleColor();
    const bool wide = dialog == Dialog::help;
    const bool files = dialog == Dialog::open || dialog == Dialog::save_as;
    const float width = ui.px(wide ? 640 : files ? 520 : 420);
    const float high = wide ? ui.px(600) : files ? ui.px(dialog == Dialog::open ? 470 : 360) : ui.px(150);
    ImGui::SetCursorPos({(whole.x - width) / 2, std::max(ui.px(20), (whole.y - high) / 2.4F)});
    ImGui::PushStyleColor(ImGuiCol_ChildBg, colour_of(Ink::paper));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(18), ui.px(14)});
    ImGui::BeginChild("dialogue", {width, std::min(high, whole.y - ui.px(40))}, true,
                      ImGuiWindowFlags_AlwaysUseWindowPadding);
    ImGui::PopStyleVar();
    ImGui::PopStyleColor();
    if (dialog == Dialog::open) {
        open_dialog(ui, desk, state);
    } else if (dialog == Dialog::save_as) {
        save_dialog(ui, desk, state);
    } else if (dialog == Dialog::help) {
        help_dialog(ui, desk);
    } else {
        const Question question = question_of(desk);
        ui.say(question.title, Ink::strong);
        ui.say(question.words);
        ImGui::Dummy({0, ui.px(6)});
        bool first = true;
        for (const auto& [name, choice] : question.answers) {
            if (!std::exchange(first, false)) ImGui::SameLine();
            if (ui.button(std::string(name) + "##answer")) desk.wish(AnswerDialog{choice});
        }
    }
    ImGui::EndChild();
    ImGui::End();
}

}  // namespace evenspit::viewer
