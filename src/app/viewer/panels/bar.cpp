// SPDX-License-Identifier: MIT
#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"

namespace evenspit::viewer {
namespace {

/// Something that the bar can do, as a button or in the menu of what has no room.
struct Deed {
    std::string name;
    std::string hint;
    Wish wish;
    bool usable = true;
    bool toggles = false, on = false;
    int rank = 0;              ///< what is needed most comes first; -1: always in the menu
    std::string other_name{};  ///< that it has at other times
    bool first = false;        ///< of its group
};

std::vector<Deed> file_deeds(const Desk& desk) {
    const bool loaded = desk.has_load();
    const std::string undo = loaded ? desk.session().undo_name() : "";
    const std::string redo = loaded ? desk.session().redo_name() : "";
    const bool pinned = loaded && desk.session().pinned();
    return {{.name = "New",
             .hint = "Make a load: what you roast, and on what (Ctrl N)",
             .wish = ShowDialog{Dialog::new_load},
             .rank = 13},
            {.name = "Open",
             .hint = "Open a load file (Ctrl O). Load files and scans can be dropped on the window too.",
             .wish = ShowDialog{Dialog::open},
             .rank = 1},
            {.name = "Save",
             .hint = "Save (Ctrl S). Comments in the file stay.",
             .wish = Save{},
             .usable = loaded,
             .rank = 2},
            {.name = "Save as",
             .hint = "Save under another name (Ctrl Shift S)",
             .wish = ShowDialog{Dialog::save_as},
             .usable = loaded,
             .rank = 14},
            {.name = "Undo",
             .hint = undo.empty() ? "Nothing to undo" : fmt::format("Undo: {} (Ctrl Z)", undo),
             .wish = Undo{},
             .usable = !undo.empty(),
             .rank = 3,
             .first = true},
            {.name = "Redo",
             .hint = redo.empty() ? "Nothing to do again" : fmt::format("Do again: {} (Ctrl Y)", redo),
             .wish = Redo{},
             .usable = !redo.empty(),
             .rank = 6},
            {.name = pinned ? "Unpin" : "Pin",
             .hint = "Keep this state to compare with (P): its curves stay, dashed.",
             .wish = pinned ? Wish(Unpin{}) : Wish(Pin{}),
             .usable = loaded,
             .toggles = true,
             .on = pinned,
             .rank = 9,
             .other_name = pinned ? "Pin" : "Unpin"}};
}

std::vector<Deed> view_deeds(const Desk& desk) {
    const bool loaded = desk.has_load();
    const auto from = [&](StandardView view, int rank) {
        return Deed{.name = std::string(view_name(view)),
                    .hint = fmt::format("Look from there ({})", static_cast<int>(view) + 1),
                    .wish = LookFrom{view},
                    .usable = loaded,
                    .rank = rank,
                    .first = view == StandardView::home};
    };
    const bool coloured = desk.colouring() != Colouring::none;
    return {
        from(StandardView::home, 7),
        from(StandardView::front, 10),
        from(StandardView::drive_end, 12),
        from(StandardView::point_end, 16),
        from(StandardView::above, 13),
        from(StandardView::back, -1),
        from(StandardView::below, -1),
        {.name = "Fit", .hint = "Everything into view (F)", .wish = FrameAll{}, .usable = loaded, .rank = 8},
        {.name = "Inside",
         .hint = "Skin as glass: bones, hollow and tines (X)",
         .wish = ToggleSkin{},
         .toggles = true,
         .on = desk.settings().through_skin,
         .rank = 4,
         .first = true},
        {.name = "Sweep",
         .hint = "What the load sweeps as it turns (E)",
         .wish = ToggleEnvelope{},
         .toggles = true,
         .on = desk.shows_envelope(),
         .rank = 11},
        {.name = "Cooker",
         .hint = "The cooker's walls and coals (C)",
         .wish = ToggleCooker{},
         .toggles = true,
         .on = desk.shows_cooker(),
         .rank = 5},
        {.name = "Colours",
         .hint = "The skin by its distance from the rod (V)",
         .wish = ShowColours{coloured ? Colouring::none : Colouring::radius},
         .toggles = true,
         .on = coloured,
         .rank = 15}};
}

std::vector<Deed> other_deeds(const Desk& desk) {
    const bool dark = desk.settings().theme == Theme::dark;
    const auto colours = [&](const char* name, const char* hint, Colouring colouring) {
        const bool on = desk.colouring() == colouring;
        return Deed{.name = name,
                    .hint = hint,
                    .wish = ShowColours{on ? Colouring::none : colouring},
                    .toggles = true,
                    .on = on,
                    .rank = -1};
    };
    return {
        {.name = "Section",
         .hint = "Cut the body open across the rod, along it, not at all (K); drag its handle",
         .wish = NextSection{},
         .usable = desk.has_load(),
         .toggles = true,
         .on = desk.section().has_value(),
         .rank = 17},
        {.name = "Save picture",
         .hint = "The scene without panels, as a PNG beside the load (Ctrl P)",
         .wish = SavePicture{SavePicture::What::scene},
         .usable = desk.has_load(),
         .rank = -1},
        {.name = "Save window",
         .hint = "All of the window as a PNG beside the load",
         .wish = SavePicture{SavePicture::What::window},
         .usable = desk.has_load(),
         .rank = -1},
        {.name = "Save film",
         .hint = "The scene all round the turn, 72 numbered PNGs and a GIF, in a folder beside the load",
         .wish = SavePicture{SavePicture::What::film},
         .usable = desk.has_load(),
         .rank = -1},
        {.name = "Picture of any size",
         .hint = "Scene, window or film as PNGs, as large as you like",
         .wish = ShowDialog{Dialog::picture},
         .usable = desk.has_load(),
         .rank = -1},
        {.name = "Write card",
         .hint =
             "The page to take outside, as a PDF or for a browser: drawings, steps, times, cautions (Ctrl K)",
         .wish = ShowDialog{Dialog::card},
         .usable = desk.has_load(),
         .rank = 18},
        {.name = "Mountings",
         .hint = "Where the rod may really lie: ways in which hands may put the load on it (M)",
         .wish = ToggleCloud{},
         .usable = desk.has_load(),
         .toggles = true,
         .on = desk.cloud().on(),
         .rank = 19},
        {.name = "Gaps",
         .hint = "Every gap to the cooker, with the band that is to be kept free (W)",
         .wish = ToggleGaps{},
         .usable = desk.has_load(),
         .toggles = true,
         .on = desk.shows_gaps(),
         .rank = 20},
        {.name = "Measure",
         .hint = "Click two places: how far they are apart (A)",
         .wish = ToggleTape{},
         .usable = desk.has_load(),
         .toggles = true,
         .on = desk.tape().on(),
         .rank = 21},
        colours("Gap colours", "The body by its room to the cooker's walls as it turns", Colouring::gap),
        colours("Tine colours", "The body by its distance to the nearest tine", Colouring::cover),
        {.name = "Dark",
         .hint = "Dark panels, for the evening (D)",
         .wish = SetTheme{dark ? Theme::light : Theme::dark},
         .toggles = true,
         .on = dark,
         .rank = -1,
         .first = true}};
}

void draw_deed(Ui& ui, Desk& desk, const Deed& deed, float width) {
    const bool pressed = deed.toggles ? ui.toggle(deed.name, deed.on, deed.hint, deed.usable, width)
                                      : ui.button(deed.name, deed.usable, deed.hint, width);
    if (pressed) desk.wish(deed.wish);
}

float width_of(const Ui& ui, const Deed& deed) {
    return ui.room_for({deed.name, deed.other_name});
}

/// Which deeds have a button: the needed most, as many as there is room for.
std::vector<bool> with_buttons(const Ui& ui, const std::vector<Deed>& deeds, float room) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < deeds.size(); ++i) {
        if (deeds[i].rank >= 0) order.push_back(i);
    }
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return deeds[a].rank < deeds[b].rank; });
    std::vector<bool> shown(deeds.size(), false);
    for (const std::size_t i : order) {
        // A group's gap may come with any of its deeds.
        room -= width_of(ui, deeds[i]) + ui.px(6) + (deeds[i].first ? ui.px(8) : 0);
        if (room < 0) break;
        shown[i] = true;
    }
    return shown;
}

/// What has no button, in a list below the bar.
void draw_menu(Ui& ui, Desk& desk, const std::vector<const Deed*>& deeds, const Area& under,
               PanelState& state) {
    const auto screen = ImGui::GetIO().DisplaySize;
    float width = 0;
    for (const Deed* deed : deeds) width = std::max(width, width_of(ui, *deed));
    const float row = ImGui::GetFrameHeight() + ui.px(4);
    const float pad = ui.px(8);
    const float height = std::min(static_cast<float>(deeds.size()) * row + 2 * pad,
                                  screen.y - static_cast<float>(under.y + under.height));
    const float x = std::min(static_cast<float>(under.x), screen.x - width - 2 * pad - ui.px(4));
    const Area area{x, under.y + under.height, width + 2 * pad + ui.px(2), height};
    ui.set_layer(Layer::menu);
    ImGui::SetNextWindowFocus();  // over all others
    ImGui::SetNextWindowPos(corner(area.x, area.y));
    ImGui::SetNextWindowSize(corner(area.width, area.height));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, ui.px(1));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {pad, pad});
    ImGui::Begin("menu", nullptr,
                 ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
    ImGui::PopStyleVar(2);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(6), ui.px(4)});
    for (const Deed* deed : deeds) {
        if (deed->toggles ? ui.toggle(deed->name, deed->on, deed->hint, deed->usable, width)
                          : ui.button(deed->name, deed->usable, deed->hint, width)) {
            desk.wish(deed->wish);
            state.menu = false;
        }
    }
    ImGui::PopStyleVar();
    ui.cover(area);
    ImGui::End();
    ui.set_layer(Layer::panels);
    const ImVec2 at = ImGui::GetIO().MousePos;
    if (ImGui::IsMouseClicked(0) && !area.contains(at.x, at.y) && !under.contains(at.x, at.y))
        state.menu = false;
    if (ui.escaped()) state.menu = false;
}

}  // namespace

void draw_bar(Ui& ui, Desk& desk, const Layout& layout, PanelState& state) {
    std::vector<Deed> deeds = file_deeds(desk);
    for (Deed& deed : view_deeds(desk)) deeds.push_back(std::move(deed));
    for (Deed& deed : other_deeds(desk)) deeds.push_back(std::move(deed));
    begin_area("bar", layout.bar, {ui.px(10), ui.px(8)}, ImGuiWindowFlags_NoScrollWithMouse);
    const float help = ui.room_for({"Help"}), more = ui.room_for({"More"});
    const auto room = static_cast<float>(layout.bar.width) - ui.px(20 + 12 + 14) - help - more;
    const std::vector<bool> shown = with_buttons(ui, deeds, room);
    std::vector<const Deed*> hidden;
    bool begun = false, gap = false;
    for (std::size_t i = 0; i < deeds.size(); ++i) {
        gap = gap || deeds[i].first;
        if (!shown[i]) {
            hidden.push_back(&deeds[i]);
            continue;
        }
        if (begun) ImGui::SameLine(0, ui.px(gap ? 14 : 6));
        begun = true;
        gap = false;
        draw_deed(ui, desk, deeds[i], width_of(ui, deeds[i]));
    }
    ImGui::SameLine(0, ui.px(14));
    if (ui.toggle("More", state.menu, "What else there is")) state.menu = !state.menu;
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    ImGui::SameLine(0, ui.px(6));
    if (ui.button("Help", true, "Keys and settings (F1)")) desk.wish(ShowDialog{Dialog::help});
    const ImVec2 size = ImGui::GetWindowSize();
    ImGui::GetWindowDrawList()->AddLine({0, size.y - 1}, {size.x, size.y - 1}, ui.colour(Ink::line),
                                        ui.px(1));
    ImGui::End();
    if (state.menu)
        draw_menu(ui, desk, hidden, {min.x, layout.bar.y, max.x - min.x, layout.bar.height}, state);
}

}  // namespace evenspit::viewer
