// SPDX-License-Identifier: MIT
#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "app/viewer/keys.h"
#include "app/viewer/panels/parts.h"
#include "app/viewer/scan_load.h"
#include "geometry/scan_io.h"
#include "load/key_words.h"
#include "report/reader_units.h"
#include "scan/beside_thing.h"
#include "scan/scan_unit.h"
#include "units/quantity.h"

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

/// Where a file lies, short enough for a row: the last two folders.
std::string folder_words(const fs::path& file) {
    const fs::path folder = file.parent_path(), above = folder.parent_path();
    if (above == above.root_path()) return fmt::format("in {}", folder.string());
    return fmt::format("in …/{}/{}", above.filename().string(), folder.filename().string());
}

/// A button that calls it off, and before it, where the desktop has a dialogue of its own, one for that.
///
/// \param gap_pt to what stands beside it; nothing: on a line of their own
void leave(Ui& ui, Desk& desk, const PanelState& state, std::optional<double> gap_pt) {
    constexpr const char* outside = "Use the desktop's dialogue";
    if (gap_pt) ui.beside(desk.has_chooser() ? outside : "Cancel", *gap_pt);
    if (desk.has_chooser()) {
        if (ui.button(outside)) desk.wish(ChooseFile{state.folder, state.file_name});
        ui.beside("Cancel");
    }
    if (ui.button("Cancel")) desk.wish(AnswerDialog{});
}

void open_dialog(Ui& ui, Desk& desk, PanelState& state) {
    ui.say("Open a load file or a scan", Ink::strong);
    if (!desk.settings().recent.empty()) {
        ui.heading("Lately");
        int number = 0;
        for (const fs::path& file : desk.settings().recent) {
            if (ui.row(
                    fmt::format("{}   {}##recent{}", file.filename().string(), folder_words(file), number++),
                    false))
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
    if (ui.button("A new load")) return desk.wish(ShowDialog{Dialog::new_load});
    ui.beside("The demo load");
    if (ui.button("The demo load")) return desk.wish(OpenDemo{});
    leave(ui, desk, state, 6);
}

/// What a load that was never saved may be called: as what it roasts.
std::string name_for(const Desk& desk) {
    std::string name = desk.has_load() ? desk.session().assembly().items.front().name : "";
    std::replace(name.begin(), name.end(), '/', '-');
    return name.empty() ? "load.toml" : name + ".toml";
}

void save_dialog(Ui& ui, Desk& desk, PanelState& state) {
    ui.say("Save the load as", Ink::strong);
    if (const auto chosen = browse(ui, state, false, ui.px(220)))
        state.file_name = chosen->filename().string();
    ImGui::SetNextItemWidth(-ui.px(84));
    const bool entered = ui.text("name", state.file_name, true);
    ImGui::SameLine();
    if ((ui.button("Save##it") || entered) && !state.file_name.empty()) {
        const fs::path typed(state.file_name);
        return desk.wish(SaveAs{typed.is_absolute() ? typed : state.folder / typed, false});
    }
    leave(ui, desk, state, std::nullopt);
}

void card_dialog(Ui& ui, Desk& desk, PanelState& state) {
    ui.say("Write the card", Ink::strong);
    ui.say_small(
        "The page to take outside: drawings to scale, steps with boxes, times, cautions. Its ending says "
        "what "
        "it is: .pdf for paper, .html for a phone.");
    if (const auto chosen = browse(ui, state, false, ui.px(150))) state.folder = chosen->parent_path();
    ImGui::SetNextItemWidth(-ui.px(84));
    const bool entered = ui.text("card name", state.file_name, true);
    ImGui::SameLine();
    if ((ui.button("Write##it") || entered) && !state.file_name.empty()) {
        const fs::path typed(state.file_name);
        return desk.wish(WriteCard{typed.is_absolute() ? typed : state.folder / typed, false});
    }
    for (const auto& [name, ending] : {std::pair{"PDF", ".pdf"}, std::pair{"For a phone", ".html"}}) {
        if (ending != std::string_view(".pdf")) ui.beside(name);
        const fs::path typed(state.file_name);
        if (ui.toggle(name, typed.extension() == ending))
            state.file_name = fs::path(typed).replace_extension(ending).string();
    }
    leave(ui, desk, state, 24);
}

void draw_settings(Ui& ui, Desk& desk) {
    ui.heading("Settings");
    const bool metric = desk.settings().units == UnitSystem::metric;
    if (ui.toggle("Metric", metric)) desk.wish(SetUnits{UnitSystem::metric});
    ui.beside("US");
    if (ui.toggle("US", !metric)) desk.wish(SetUnits{UnitSystem::us});
    const bool dark = desk.settings().theme == Theme::dark;
    ui.beside("Light", 24);
    if (ui.toggle("Light", !dark)) desk.wish(SetTheme{Theme::light});
    ui.beside("Dark");
    if (ui.toggle("Dark##theme", dark)) desk.wish(SetTheme{Theme::dark});
    ImGui::AlignTextToFramePadding();
    ui.say("Size");
    for (const auto& [name, scale] :
         {std::pair{"as the display", 0.0}, std::pair{"100 %", 1.0}, std::pair{"125 %", 1.25},
          std::pair{"150 %", 1.5}, std::pair{"200 %", 2.0}}) {
        ui.beside(name);
        if (ui.toggle(name, desk.settings().scale == scale)) desk.wish(SetScale{scale});
    }
    if (ui.button("Close")) desk.wish(AnswerDialog{AnswerDialog::Choice::cancel});
}

void help_dialog(Ui& ui, Desk& desk) {
    const float room = ImGui::GetContentRegionAvail().x;
    ui.say("Keys", Ink::strong);
    // All scrolls as one where it is too low for the settings to stand below the keys.
    const float settings = ui.px(room < ui.px(420) ? 190 : 124);
    const float keys = std::max(ui.px(90), ImGui::GetContentRegionAvail().y - settings);
    ImGui::BeginChild("keys", {0, keys}, false);
    const float column = std::min(ui.px(180), 0.42F * room);
    for (const KeyHelp& key : key_help(desk.settings().units)) {
        ui.say_small(key.keys, Ink::accent, column - ui.px(8));
        ImGui::SameLine(column);
        ui.say_small(key.does, Ink::plain);
    }
    ImGui::EndChild();
    draw_settings(ui, desk);
}

/// What stands beside a body, as it is typed; nothing for any other text. "": no such thing.
std::optional<std::optional<scan::BesideThing>> typed_beside(const std::string& text) {
    if (text.empty()) return std::optional<scan::BesideThing>();
    try {
        return std::optional(scan::parse_beside(text));
    } catch (const QuantityError&) {
        return std::nullopt;
    }
}

void scan_dialog(Ui& ui, Desk& desk, ScanDraft& draft, bool opened) {
    if (!desk.scan_question()) return;
    const ScanQuestion& question = *desk.scan_question();
    if (opened) draft = {question.likely, 0};
    const UnitSystem units = desk.settings().units;
    ui.say("How large is it?", Ink::strong);
    ui.say_small(fmt::format("{} does not tell the unit it was made in. Choose the size that is right.",
                             question.file.filename().string()),
                 Ink::plain);
    for (const scan::ScanUnit& unit : scan::scan_units()) {
        const Vec3 size = unit.metres * question.size;
        const auto length = [&](double m) { return Units(units).length(m); };
        const std::string words = fmt::format("{}: {} × {} × {}", unit.plural, length(size.x()),
                                              length(size.y()), length(size.z()));
        if (ui.toggle(words + "##unit", draft.unit == unit.symbol)) draft.unit = unit.symbol;
    }
    if (const auto typed = ui.quantity("weight", draft.mass_kg, Dimension::mass, units))
        draft.mass_kg = *typed;
    ui.say_small("From the scale, without giblets. 0: not weighed yet; then its density is that of flesh.");
    if (question.rough) {
        ui.say("What does it rest on in the scan?");
        bool first = true;
        for (const auto& [word, rests_on] : rests_on_words()) {
            const std::string name = rests_on == scan::RestsOn::automatic ? "not sure" : word;
            if (!std::exchange(first, false)) ui.beside(name);
            if (ui.toggle(name + "##rests", draft.rests_on == rests_on, "That is cut away from the scan"))
                draft.rests_on = rests_on;
        }
        ImGui::SetNextItemWidth(ui.px(140));
        ui.text("stands beside it", draft.beside);
    }
    const auto beside = typed_beside(draft.beside);
    if (!beside) ui.say_small("Say what it is and its size: can 73 mm, or block 10 cm.", Ink::stop);
    const bool usable = draft.mass_kg >= 0 && std::isfinite(draft.mass_kg) && beside;
    if (ui.button("Make a load of it", usable))
        desk.wish(TellScan{draft.unit, draft.mass_kg > 0 ? std::optional(draft.mass_kg) : std::nullopt,
                           draft.rests_on, *beside});
    ui.beside("Cancel");
    if (ui.button("Cancel")) desk.wish(AnswerDialog{});
}

/// A size as it is typed, "1920x1080"; nothing for any other text. "" is the size that is seen.
std::optional<Extent> typed_size(const std::string& text) {
    constexpr int least = 64, most = 8192;
    if (text.empty()) return Extent{};
    Extent size;
    const char *const begin = text.data(), *const end = begin + text.size();
    const auto [after_width, bad_width] = std::from_chars(begin, end, size.width);
    if (bad_width != std::errc() || after_width == end || *after_width != 'x') return std::nullopt;
    const auto [after, bad_height] = std::from_chars(after_width + 1, end, size.height);
    const bool whole = bad_height == std::errc() && after == end;
    const bool fits = std::min(size.width, size.height) >= least && std::max(size.width, size.height) <= most;
    return whole && fits ? std::optional(size) : std::nullopt;
}

void picture_dialog(Ui& ui, Desk& desk, PictureDraft& draft) {
    using What = SavePicture::What;
    ui.say("Save a picture", Ink::strong);
    ui.say_small("Beside the load, under a name that is free.");
    bool first = true;
    for (const auto& [name, what] :
         {std::pair{"The scene", What::scene}, std::pair{"The window", What::window},
          std::pair{"A film of the turn", What::film}}) {
        if (!std::exchange(first, false)) ui.beside(name);
        if (ui.toggle(name, draft.what == what)) draft.what = what;
    }
    if (draft.what == What::film) ui.say_small("72 numbered pictures and a GIF of them, in a folder.");
    ui.heading("How large, in pixels");
    if (ui.toggle("as it is seen", draft.size.empty())) draft.size.clear();
    for (const char* size : {"1920x1080", "3840x2160"}) {
        ui.beside(size);
        if (ui.toggle(size, draft.size == size)) draft.size = size;
    }
    ImGui::SetNextItemWidth(ui.px(140));
    ui.text("width x height", draft.size);
    const std::optional<Extent> size = typed_size(draft.size);
    if (!size) ui.say_small("Width and height from 64 to 8192, like 1600x900.", Ink::stop);
    if (ui.button("Save it", size.has_value())) desk.wish(SavePicture{draft.what, *size});
    ui.beside("Cancel");
    if (ui.button("Cancel")) desk.wish(AnswerDialog{});
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
        case Dialog::overwrite_card:
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
            dialog == Dialog::save_as ? (file.empty() ? name_for(desk) : file.filename().string())
            : dialog == Dialog::card  ? (file.empty() ? "card.pdf" : file.stem().string() + "-card.pdf")
                                      : "";
    }
    // A veil over everything: first the answer.
    const auto whole = ImGui::GetIO().DisplaySize;
    ui.cover({0, 0, whole.x, whole.y});
    ui.set_layer(Layer::dialog);
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(whole);
    ImGui::PushStyleColor(ImGuiCol_WindowBg, IM_COL32(60, 56, 50, 90));
    if (opened) ImGui::SetNextWindowFocus();
    ImGui::Begin("veil", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoNav |
                     ImGuiWindowFlags_NoSavedSettings);
    ImGui::PopStyleColor();
    const bool wide = dialog == Dialog::help || dialog == Dialog::new_load;
    const bool files = dialog == Dialog::open || dialog == Dialog::save_as || dialog == Dialog::card;
    const float width = std::min(ui.px(wide ? 640 : files ? 520 : 420), whole.x - ui.px(16));
    const float high = ui.px(wide                        ? 600
                             : dialog == Dialog::open    ? 470
                             : dialog == Dialog::save_as ? 360
                             : dialog == Dialog::card    ? 330
                             : dialog == Dialog::picture ? 270
                             : dialog == Dialog::scan    ? 440
                                                         : 150);
    const float tall = std::min(high, whole.y - ui.px(16));
    ImGui::SetCursorPos({(whole.x - width) / 2, std::max(ui.px(8), (whole.y - tall) / 2.4F)});
    ImGui::PushStyleColor(ImGuiCol_ChildBg, ui.colour(Ink::paper));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(18), ui.px(14)});
    ImGui::BeginChild("dialogue", {width, tall}, true, ImGuiWindowFlags_AlwaysUseWindowPadding);
    ImGui::PopStyleVar();
    ImGui::PopStyleColor();
    if (dialog == Dialog::new_load) {
        draw_new_load(ui, desk, state.new_load, opened);
    } else if (dialog == Dialog::open) {
        open_dialog(ui, desk, state);
    } else if (dialog == Dialog::save_as) {
        save_dialog(ui, desk, state);
    } else if (dialog == Dialog::card) {
        card_dialog(ui, desk, state);
    } else if (dialog == Dialog::help) {
        help_dialog(ui, desk);
    } else if (dialog == Dialog::scan) {
        scan_dialog(ui, desk, state.scan, opened);
    } else if (dialog == Dialog::picture) {
        picture_dialog(ui, desk, state.picture);
    } else {
        const Question question = question_of(desk);
        ui.say(question.title, Ink::strong);
        ui.say(question.words);
        ImGui::Dummy({0, ui.px(6)});
        bool first = true;
        for (const auto& [name, choice] : question.answers) {
            if (!std::exchange(first, false)) ui.beside(name);
            if (ui.button(std::string(name) + "##answer")) desk.wish(AnswerDialog{choice});
        }
    }
    ImGui::EndChild();
    ImGui::End();
    ui.set_layer(Layer::panels);
}

}  // namespace evenspit::viewer
