// SPDX-License-Identifier: MIT
#include "app/viewer/view.h"

#include "app/viewer/headless.h"
#include "app/viewer/png.h"
#include "app/viewer/viewer.h"
#include "app/viewer/window.h"
#include "load/load_file.h"

namespace evenspit::viewer {

SnapshotResult snapshot(const std::filesystem::path& load, const std::filesystem::path& models,
                        const Snapshot& what) {
    HeadlessSystem system(what.size, what.scale);
    Viewer viewer(system, {.models = models, .storage = {}, .wake = {}, .wait_for_work = true});
    Desk& desk = viewer.desk();
    desk.settings().welcomed = true;
    desk.settings().through_skin = what.inside;
    desk.settings().units = what.units;
    desk.settings().theme = what.theme;
    desk.put_on_table(load);
    viewer.settle();
    desk.wish(LookFrom{what.from});
    desk.wish(ShowTab{what.tab});
    desk.wish(SetTurn{what.turn_rad});
    if (what.colouring != Colouring::none) desk.wish(ShowColours{what.colouring});
    if (what.section) desk.wish(NextSection{});
    if (what.tab == Tab::plan) desk.wish(SeekPlan{});
    viewer.settle();
    return {desk.answers().analysis().verdict, png_bytes(system.picture(), what.size)};
}

void view(const std::optional<std::filesystem::path>& load, const std::filesystem::path& models,
          const Storage& storage) {
    const Settings before = storage.settings();
    const std::unique_ptr<WindowSystem> window = open_window({before.width, before.height});
    Viewer viewer(*window, {.models = models,
                            .storage = storage,
                            .wake = [&window] { window->wake(); },
                            .wait_for_work = false});
    Desk& desk = viewer.desk();
    if (load) {
        desk.wish(DropFile{*load});
    } else {
        desk.begin();
    }
    while (viewer.step()) {
    }
    Settings settings = desk.settings();
    const Extent size = window->window_size();
    settings.width = size.width;
    settings.height = size.height;
    storage.keep(settings);
}

}  // namespace evenspit::viewer
