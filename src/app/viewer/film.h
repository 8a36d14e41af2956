// SPDX-License-Identifier: MIT
// Inside of Viewer. Not for others.
#pragma once

#include <deque>
#include <filesystem>
#include <future>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/gif.h"
#include "app/viewer/viewer.h"
#include "files/whole_file.h"

namespace evenspit::viewer {

/// A film that is being saved: a picture is painted in each round, and made a PNG and a picture of a GIF
/// aside.
struct Viewer::Film {
    std::filesystem::path folder;
    Look look;
    Extent size;  ///< of the window, for as long as it keeps it
    Area area;
    int painted = 0;
    struct Picture {
        std::string png;
        GifPicture gif;
    };
    std::deque<std::future<Picture>> coming;
    std::vector<WholeFile> files;
    std::vector<GifPicture> gif;
    std::future<void> writing;

    [[nodiscard]] std::filesystem::path next_name() const {
        return folder / fmt::format("turn-{:03}.png", files.size() + 1);
    }
};

}  // namespace evenspit::viewer
