// SPDX-License-Identifier: MIT
#include "app/viewer/view.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "app/cli/model_folder.h"
#include "app/cli/verbs.h"
#include "app/viewer/window.h"
#include "files/whole_file.h"
#include "units/error.h"

namespace evenspit {
namespace {

// In the order of the viewer's own lists.
constexpr std::array<std::string_view, 7> view_words = {"home",  "front", "back", "drive",
                                                        "point", "above", "below"};
constexpr std::array<std::string_view, 4> panel_words = {"findings", "places", "figures", "plan"};

template <typename E, std::size_t N>
E by_word(const std::array<std::string_view, N>& words, std::string_view word) {
    return static_cast<E>(std::find(words.begin(), words.end(), word) - words.begin());
}

viewer::Snapshot snapshot_of(const PictureRequest& picture, UnitSystem units) {
    return {.size = {picture.width, picture.height},
            .scale = picture.scale,
            .turn_rad = picture.angle_rad,
            .from = by_word<viewer::StandardView>(view_words, picture.from),
            .tab = by_word<viewer::Tab>(panel_words, picture.panel),
            .inside = picture.inside,
            .units = units};
}

}  // namespace

Outcome view(const Request& request, const Surroundings& around, Progress& progress) {
    if (request.picture) {
        progress.now("drawing " + request.load.filename().string());
        const viewer::SnapshotResult drawn = viewer::snapshot(request.load, model_folder(around),
                                                              snapshot_of(*request.picture, request.units));
        progress.done();
        write_whole_file(request.picture->file, drawn.png);
        return {"", drawn.verdict == Level::stop ? computed_stop : computed};
    }
    try {
        const std::optional<std::filesystem::path> load =
            request.load.empty() ? std::nullopt : std::optional(request.load);
        viewer::view(load, model_folder(around), viewer::Storage::of_home(around.variable));
    } catch (const viewer::NoDisplay& error) {
        throw UsageError(std::string(error.what()) + "; --snapshot FILE draws a picture without one");
    }
    return {};
}

}  // namespace evenspit
