// SPDX-License-Identifier: MIT
#include <string>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"

namespace evenspit::viewer {
void draw_bar(Ui& ui, Desk& desk, const Layout& layout) {
    begin_area("bar", layout.bar, {ui.px(10), ui.px(8)}, ImGuiWindowFlags_NoScrollWithMouse);
    const bool loaded = desk.has_load();
    const auto next = [&ui](double gap = 6) { ImGui::SameLine(0, ui.px(gap)); };
    if (ui.button("Open", true,
                  "Open a load file (Ctrl O). Load files and scans can be dropped on the window too."))
        desk.wish(ShowDialog{Dialog::open});
    next();
    if (ui.button("Save", loaded, "Save (Ctrl S). Comments in the file stay.")) desk.wish(Save{});
    next();
    // Where there is little room, keys do what buttons would.
    const bool roomy = layout.bar.width > ui.px(1000);
    if (roomy && ui.button("Save as", loaded, "Save under another name (Ctrl Shift S)"))
        desk.wish(ShowDialog{Dialog::save_as});
    next(14);
    const std::string undo = loaded ? desk.session().undo_name() : "";
    const std::string redo = loaded ? desk.session().redo_name() : "";
    if (ui.button("Undo", !undo.empty(),
                  undo.empty() ? "Nothing to undo" : fmt::format("Undo: {} (Ctrl Z)", undo)))
        desk.wish(Undo{});
    next();
    if (ui.button("Redo", !redo.empty(),
                  redo.empty() ? "Nothing to do again" : fmt::format("Do again: {} (Ctrl Y)", redo)))
        desk.wish(Redo{});
    next();
    const bool pinned = loaded && desk.session().pinned();
    if (ui.toggle(pinned ? "Unpin" : "Pin", pinned,
                  "Keep this state to compare with (P): its curves stay, dashed."))
        pinned ? desk.wish(Unpin{}) : desk.wish(Pin{});
    next(14);
    for (const StandardView view : {StandardView::home, StandardView::front, StandardView::drive_end,
                                    StandardView::point_end, StandardView::above}) {
        if (!roomy && view == StandardView::point_end) continue;
        if (ui.button(std::string(view_name(view)), loaded)) desk.wish(LookFrom{view});
        next();
    }
    if (ui.button("Fit", loaded, "Everything into view (F)")) desk.wish(FrameAll{});
    next(14);
    if (ui.toggle("Inside", desk.settings().through_skin, "Skin as glass: bones, hollow and tines (X)"))
        desk.wish(ToggleSkin{});
    next();
    if (ui.toggle("Sweep", desk.shows_envelope(), "What the load sweeps as it turns (E)"))
        desk.wish(ToggleEnvelope{});
    next();
    if (ui.toggle("Cooker", desk.shows_cooker(), "The cooker's walls and coals (C)"))
        desk.wish(ToggleCooker{});
    next();
    const bool coloured = desk.colouring() != Colouring::none;
    if (roomy && ui.toggle("Colours", coloured, "The skin by its distance from the rod (V)"))
        desk.wish(ShowColours{coloured ? Colouring::none : Colouring::radius});
    next(14);
    if (ui.button("Help", true, "Keys and settings (F1)")) desk.wish(ShowDialog{Dialog::help});
    const ImVec2 size = ImGui::GetWindowSize();
    ImGui::GetWindowDrawList()->AddLine({0, size.y - 1}, {size.x, size.y - 1}, colour_of(Ink::line),
                                        ui.px(1));
    ImGui::End();
}

}  // namespace evenspit::viewer
