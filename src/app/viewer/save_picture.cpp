// SPDX-License-Identifier: MIT
// Pictures of what is seen, and of a whole turn, beside the load.
#include <exception>
#include <numbers>
#include <system_error>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/png.h"
#include "app/viewer/viewer.h"
#include "files/whole_file.h"

namespace evenspit::viewer {
namespace {

namespace fs = std::filesystem;

constexpr int film_pictures = 72;  // one every 5°

/// The first of "stem.png", "stem-2.png" … that is free.
fs::path free_name(const fs::path& folder, const std::string& stem, const char* ending) {
    std::error_code ignored;
    fs::path path = folder / (stem + ending);
    for (int number = 2; fs::exists(path, ignored); ++number)
        path = folder / fmt::format("{}-{}{}", stem, number, ending);
    return path;
}

Extent extent_of(const Area& area) {
    return {static_cast<int>(area.width), static_cast<int>(area.height)};
}

}  // namespace

void Viewer::save_film(const fs::path& folder, const std::string& stem) {
    const fs::path film = free_name(folder, stem + "-turn", "");
    const Layout parts = layout();
    Look look = look_now(parts);
    look.hurried = hurried_;
    std::vector<WholeFile> files;
    for (int i = 0; i < film_pictures; ++i) {
        look.turn_rad = 2 * std::numbers::pi * i / film_pictures;
        painter_.paint(desk_.scene(), look, system_.picture_size());
        files.push_back({film / fmt::format("turn-{:03}.png", i + 1),
                         png_bytes(painter_.pixels(parts.scene, false), extent_of(parts.scene))});
    }
    painted_.reset();  // what was painted last is not what is shown
    fs::create_directories(film);
    write_whole_files(files);
    desk_.tell_word(fmt::format("Saved {} pictures of the turn in {}", film_pictures, film.string()));
}

void Viewer::save_picture() {
    const auto wanted = desk_.take_picture_wish();
    if (!wanted) return;
    const fs::path& file = desk_.session().file();
    const std::string stem = file.empty() ? "load" : file.stem().string();
    try {
        const fs::path folder = file.empty() ? fs::current_path() : file.parent_path();
        if (*wanted == SavePicture::What::film) return save_film(folder, stem);
        const bool panels = *wanted == SavePicture::What::window;
        const Extent size = system_.picture_size();
        const Area area = panels
                              ? Area{0, 0, static_cast<double>(size.width), static_cast<double>(size.height)}
                              : layout().scene;
        const fs::path picture = free_name(folder, stem, ".png");
        write_whole_file(picture, png_bytes(painter_.pixels(area, panels), extent_of(area)));
        desk_.tell_word("Saved " + picture.string());
    } catch (const std::exception& error) {
        desk_.tell_trouble(std::string("The picture was not saved: ") + error.what());
    }
}

}  // namespace evenspit::viewer
