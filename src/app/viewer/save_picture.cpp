// SPDX-License-Identifier: MIT
// Pictures of what is seen, and of a whole turn, beside the load.
#include <algorithm>
#include <backends/imgui_impl_opengl3.h>
#include <chrono>
#include <exception>
#include <future>
#include <memory>
#include <numbers>
#include <optional>
#include <system_error>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/film.h"
#include "app/viewer/png.h"
#include "app/viewer/viewer.h"

namespace evenspit::viewer {
namespace {

namespace fs = std::filesystem;

constexpr int film_pictures = 72;  // one every 5°
constexpr int gif_hundredths = 5;  // a picture; a whole turn in 3.6 s

/// Larger pictures would make a file that no program plays smoothly.
bool fits_a_gif(Extent size) {
    constexpr int most_pixels = 1920 * 1200;
    return size.width * size.height <= most_pixels;
}

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

std::string Viewer::picture_at(Extent size, bool panels) {
    const Extent now = system_.picture_size();
    painted_.reset();  // what was painted last is not what is shown
    constexpr int until_at_rest = 3;
    frames_due_ = until_at_rest;
    const Area whole{0, 0, static_cast<double>(size.width), static_cast<double>(size.height)};
    Look look = look_now(layout());
    look.hurried = hurried_;
    if (!panels) {
        look.area = whole;
        look.rim_px *= whole.height / layout().scene.height;
        painter_.paint(desk_.scene(), look, size);
        return png_bytes(painter_.pixels(whole, false), size);
    }
    // The pointer is not in that picture.
    ui_.take(PointerLeft{});
    other_size_ = size;
    grown_ = std::min(double(size.width) / now.width, double(size.height) / now.height);
    for (int i = 0; i < until_at_rest; ++i) draw_panels_only();
    look = look_now(layout());
    look.hurried = hurried_;
    painter_.paint(desk_.scene(), look, size);
    painter_.canvas(size);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    std::string bytes = png_bytes(painter_.pixels(whole, true), size);
    other_size_.reset();
    grown_ = 1;
    ui_.take(MouseMoved{x_, y_});
    return bytes;
}

void Viewer::begin_film(const fs::path& folder, const std::string& stem, Extent size) {
    film_ = std::make_unique<Film>();
    film_->folder = free_name(folder, stem + "-turn", "");
    const Layout parts = layout();
    film_->look = look_now(parts);
    film_->look.hurried = hurried_;
    film_->size = system_.picture_size();
    film_->area = parts.scene;
    if (size.width > 0) {
        film_->size = size;
        film_->area = {0, 0, static_cast<double>(size.width), static_cast<double>(size.height)};
        film_->look.area = film_->area;
    }
    desk_.tell_film(std::pair(0, film_pictures));
}

void Viewer::end_film() {
    film_.reset();
    desk_.tell_film(std::nullopt);
    painted_.reset();  // what was painted last is not what is shown
}

void Viewer::go_on_with_film() {
    if (!film_) return;
    if (desk_.take_film_stop()) return end_film();
    Film& film = *film_;
    constexpr std::size_t most_coming = 2;  // so that no more pictures lie about than can be worked on
    using namespace std::chrono_literals;
    try {
        if (film.writing.valid()) {
            if (film.writing.wait_for(0s) != std::future_status::ready) return;
            film.writing.get();
            const std::string words =
                fits_a_gif(extent_of(film.area))
                    ? fmt::format("Saved {} pictures of the turn and turn.gif in {}", film_pictures,
                                  film.folder.string())
                    : fmt::format("Saved {} pictures of the turn in {}", film_pictures, film.folder.string());
            end_film();
            return desk_.tell_word(words);
        }
        if (film.painted < film_pictures && film.coming.size() < most_coming) {
            film.look.turn_rad = 2 * std::numbers::pi * film.painted++ / film_pictures;
            painter_.paint(desk_.scene(), film.look, film.size);
            painted_.reset();
            film.coming.push_back(std::async(std::launch::async, [pixels = painter_.pixels(film.area, false),
                                                                  size = extent_of(film.area)] {
                return Film::Picture{png_bytes(pixels, size),
                                     fits_a_gif(size) ? in_few_colours(pixels, size) : GifPicture{}};
            }));
        }
        while (!film.coming.empty() && film.coming.front().wait_for(0s) == std::future_status::ready) {
            Film::Picture picture = film.coming.front().get();
            film.coming.pop_front();
            film.files.push_back({film.next_name(), std::move(picture.png)});
            film.gif.push_back(std::move(picture.gif));
        }
        desk_.tell_film(std::pair(static_cast<int>(film.files.size()), film_pictures));
        if (film.files.size() < film_pictures) return;
        film.writing = std::async(
            std::launch::async, [folder = film.folder, files = std::move(film.files),
                                 gif = std::move(film.gif), size = extent_of(film.area)]() mutable {
                if (fits_a_gif(size))
                    files.push_back({folder / "turn.gif", gif_bytes(gif, size, gif_hundredths)});
                fs::create_directories(folder);
                write_whole_files(files);
            });
        film.files.clear();
        film.gif.clear();
    } catch (const std::exception& error) {
        end_film();
        desk_.tell_trouble(std::string("The film was not saved: ") + error.what());
    }
}

void Viewer::save_picture() {
    const auto wanted = desk_.take_picture_wish();
    if (!wanted) return;
    const fs::path& file = desk_.session().file();
    const std::string stem = file.empty() ? "load" : file.stem().string();
    try {
        const fs::path folder = file.empty() ? fs::current_path() : file.parent_path();
        if (wanted->what == SavePicture::What::film) {
            if (!film_) begin_film(folder, stem, wanted->size);
            return;
        }
        const bool panels = wanted->what == SavePicture::What::window;
        const Extent size = system_.picture_size();
        const Area area = panels
                              ? Area{0, 0, static_cast<double>(size.width), static_cast<double>(size.height)}
                              : layout().scene;
        const fs::path picture = free_name(folder, stem, ".png");
        write_whole_file(picture, wanted->size.width > 0
                                      ? picture_at(wanted->size, panels)
                                      : png_bytes(painter_.pixels(area, panels), extent_of(area)));
        desk_.tell_word("Saved " + picture.string());
    } catch (const std::exception& error) {
        desk_.tell_trouble(std::string("The picture was not saved: ") + error.what());
    }
}

}  // namespace evenspit::viewer
