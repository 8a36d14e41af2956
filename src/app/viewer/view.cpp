// SPDX-License-Identifier: MIT
#include "app/viewer/view.h"

#include <cstdlib>
#include <stdexcept>
#include <string>
#include <system_error>
#include <utility>

#include "app/viewer/file_chooser.h"
#include "app/viewer/headless.h"
#include "app/viewer/png.h"
#include "app/viewer/scan_load.h"
#include "app/viewer/viewer.h"
#include "app/viewer/window.h"
#include "geometry/scan_io.h"
#include "roast/cook_demand.h"

namespace evenspit::viewer {

namespace {

/// A folder for what a rough scan becomes: a picture leaves nothing else behind.
class BodyFolder {
  public:
    BodyFolder() {
        std::string name = (std::filesystem::temp_directory_path() / "evenspit-XXXXXX").string();
        if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder can be made");
        path_ = name;
    }
    BodyFolder(const BodyFolder&) = delete;
    BodyFolder& operator=(const BodyFolder&) = delete;
    ~BodyFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

}  // namespace

SnapshotResult snapshot(const std::filesystem::path& load, const std::filesystem::path& models,
                        const Snapshot& what) {
    HeadlessSystem system(what.size, what.scale);
    Viewer viewer(system,
                  {.models = models, .storage = {}, .wake = {}, .find_chooser = {}, .wait_for_work = true});
    Desk& desk = viewer.desk();
    desk.settings().welcomed = true;
    desk.settings().through_skin = what.inside;
    desk.settings().units = what.units;
    desk.settings().theme = what.theme;
    std::optional<BodyFolder> made;
    std::string told;
    if (ending_of(load) == ".toml" || !is_scan_name(load)) {
        desk.put_on_table(load);
    } else {
        told = desk.put_scan_on_table(load, made.emplace().path(), what.scan_unit);
    }
    viewer.settle();
    desk.wish(LookFrom{what.from});
    desk.wish(ShowTab{what.tab});
    desk.wish(SetTurn{what.turn_rad});
    if (what.colouring != Colouring::none) desk.wish(ShowColours{what.colouring});
    if (what.section) desk.wish(NextSection{});
    if (what.tab == Tab::plan) desk.wish(SeekPlan{});
    if (what.after_s) {
        demand_a_cook(desk.session().assembly(), load);
        desk.wish(SeekCook{});
        viewer.settle();
        if (desk.cooking().found()) desk.wish(ShowMoment{desk.cooking().found()->near(*what.after_s)});
    }
    viewer.settle();
    return {desk.analysis().verdict, png_bytes(system.picture(), what.size), std::move(told)};
}

void view(const std::optional<std::filesystem::path>& load, const std::string& scan_unit,
          const std::filesystem::path& models, const Storage& storage) {
    const Settings before = storage.settings();
    const std::unique_ptr<WindowSystem> window = open_window({before.width, before.height});
    Viewer viewer(*window, {.models = models,
                            .storage = storage,
                            .wake = [&window] { window->wake(); },
                            .find_chooser = desktop_chooser,
                            .wait_for_work = false});
    Desk& desk = viewer.desk();
    if (load) {
        desk.wish(DropFile{*load, scan_unit});
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
