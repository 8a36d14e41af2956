// SPDX-License-Identifier: MIT
#include "card/paper.h"

#include <array>
#include <cairo/cairo-ft.h>
#include <cairo/cairo-pdf.h>
#include <cairo/cairo-svg.h>
#include <cairo/cairo.h>
#include <cstdint>
#include <cstring>
#include <memory>
#include <stdexcept>

namespace evenspit::card {

namespace {

/// A file's letters; cairo lets go of them when it likes.
struct FontFile {
    FT_Library library = nullptr;
    FT_Face face = nullptr;

    explicit FontFile(const char* path) {
        if (FT_Init_FreeType(&library) != 0) library = nullptr;
        if (library == nullptr || FT_New_Face(library, path, 0, &face) != 0) face = nullptr;
    }
    FontFile(const FontFile&) = delete;
    FontFile& operator=(const FontFile&) = delete;
    ~FontFile() {
        if (face != nullptr) FT_Done_Face(face);
        if (library != nullptr) FT_Done_FreeType(library);
    }
};

cairo_font_face_t* face_of(const char* path, cairo_font_weight_t weight) {
    static const cairo_user_data_key_t file_of_face{};
    auto file = std::make_unique<FontFile>(path);
    if (file->face != nullptr) {
        cairo_font_face_t* face = cairo_ft_font_face_create_for_ft_face(file->face, FT_LOAD_NO_HINTING);
        const auto let_go = [](void* held) { delete static_cast<FontFile*>(held); };
        if (cairo_font_face_set_user_data(face, &file_of_face, file.get(), let_go) == CAIRO_STATUS_SUCCESS) {
            static_cast<void>(file.release());
            return face;
        }
        cairo_font_face_destroy(face);
    }
    return cairo_toy_font_face_create("sans-serif", CAIRO_FONT_SLANT_NORMAL, weight);
}

}  // namespace

struct Letters::Faces {
    std::array<cairo_font_face_t*, 2> faces{face_of(EVENSPIT_FONT, CAIRO_FONT_WEIGHT_NORMAL),
                                            face_of(EVENSPIT_BOLD_FONT, CAIRO_FONT_WEIGHT_BOLD)};
    cairo_surface_t* measured_on = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, nullptr);
    cairo_t* measuring = cairo_create(measured_on);

    Faces() = default;
    Faces(const Faces&) = delete;
    Faces& operator=(const Faces&) = delete;
    ~Faces() {
        cairo_destroy(measuring);
        cairo_surface_destroy(measured_on);
        for (cairo_font_face_t* face : faces) cairo_font_face_destroy(face);
    }

    void choose(cairo_t* cairo, double size_pt, bool bold) const {
        cairo_set_font_face(cairo, faces[bold ? 1 : 0]);
        cairo_set_font_size(cairo, size_pt);
        cairo_font_options_t* options = cairo_font_options_create();
        cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
        cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
        cairo_set_font_options(cairo, options);
        cairo_font_options_destroy(options);
    }
};

Letters::Letters() : faces_(std::make_unique<Faces>()) {}
Letters::~Letters() = default;

double Letters::width_pt(std::string_view text, double size_pt, bool bold) const {
    faces_->choose(faces_->measuring, size_pt, bold);
    cairo_text_extents_t extents;
    cairo_text_extents(faces_->measuring, std::string(text).c_str(), &extents);
    return extents.x_advance;
}

namespace {

class Drawing {
  public:
    Drawing(cairo_t* cairo, const Letters& letters) : cairo_(cairo), letters_(letters) {}

    void operator()(const SheetPath& path) const {
        for (const std::vector<Vec2>& ring : path.rings) {
            if (ring.empty()) continue;
            cairo_move_to(cairo_, ring.front().x(), ring.front().y());
            for (std::size_t i = 1; i < ring.size(); ++i) cairo_line_to(cairo_, ring[i].x(), ring[i].y());
            if (path.closed) cairo_close_path(cairo_);
        }
        if (path.fill_grey) {
            grey(*path.fill_grey);
            cairo_set_fill_rule(cairo_, CAIRO_FILL_RULE_EVEN_ODD);
            path.stroke ? cairo_fill_preserve(cairo_) : cairo_fill(cairo_);
        }
        if (path.stroke) {
            grey(path.stroke->grey);
            cairo_set_line_width(cairo_, path.stroke->width_pt);
            cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
            constexpr std::array<double, 2> dash{3, 2.2};
            cairo_set_dash(cairo_, dash.data(), path.stroke->dashed ? 2 : 0, 0);
            cairo_stroke(cairo_);
        }
        cairo_new_path(cairo_);
    }
    void operator()(const SheetText& text) const {
        letters_.faces().choose(cairo_, text.size_pt, text.bold);
        grey(text.grey);
        cairo_move_to(cairo_, text.room.x, text.line_y());
        cairo_show_text(cairo_, text.text.c_str());
    }

  private:
    void grey(double share) const { cairo_set_source_rgb(cairo_, share, share, share); }

    cairo_t* cairo_;
    const Letters& letters_;
};

cairo_status_t collect(void* into, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(into)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

/// Draws on a surface and ends it.
void draw_on(cairo_surface_t* surface, const Sheet& sheet, const Letters& letters) {
    cairo_t* cairo = cairo_create(surface);
    cairo_set_source_rgb(cairo, 1, 1, 1);
    cairo_paint(cairo);
    for (const SheetShape& shape : sheet.shapes) std::visit(Drawing(cairo, letters), shape);
    cairo_show_page(cairo);
    const cairo_status_t drawn = cairo_status(cairo);
    cairo_destroy(cairo);
    cairo_surface_finish(surface);
    const cairo_status_t ended = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    for (const cairo_status_t status : {drawn, ended}) {
        if (status != CAIRO_STATUS_SUCCESS)
            throw std::runtime_error(std::string("the card cannot be drawn: ") +
                                     cairo_status_to_string(status));
    }
}

}  // namespace

std::string pdf_of(const Sheet& sheet, const Letters& letters, const PaperNotes& notes) {
    std::string bytes;
    cairo_surface_t* surface =
        cairo_pdf_surface_create_for_stream(collect, &bytes, sheet.width_pt, sheet.height_pt);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, notes.title.c_str());
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, notes.made_by.c_str());
    // Without it cairo writes the time of day. This one means nothing.
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    draw_on(surface, sheet, letters);
    return bytes;
}

std::string svg_of(const Sheet& sheet, const Letters& letters) {
    std::string bytes;
    cairo_surface_t* surface =
        cairo_svg_surface_create_for_stream(collect, &bytes, sheet.width_pt, sheet.height_pt);
    draw_on(surface, sheet, letters);
    return bytes;
}

std::string png_of(const Still& still) {
    cairo_surface_t* surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, still.width, still.height);
    cairo_surface_flush(surface);
    unsigned char* const pixels = cairo_image_surface_get_data(surface);
    const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface));
    for (std::size_t y = 0; pixels != nullptr && y < static_cast<std::size_t>(still.height); ++y) {
        for (std::size_t x = 0; x < static_cast<std::size_t>(still.width); ++x) {
            const std::uint8_t* const rgb = &still.rgb[3 * (y * static_cast<std::size_t>(still.width) + x)];
            const std::uint32_t pixel = std::uint32_t{rgb[0]} << 16U | std::uint32_t{rgb[1]} << 8U | rgb[2];
            std::memcpy(pixels + y * stride + 4 * x, &pixel, sizeof pixel);
        }
    }
    cairo_surface_mark_dirty(surface);
    std::string bytes;
    const cairo_status_t written = cairo_surface_write_to_png_stream(surface, collect, &bytes);
    cairo_surface_destroy(surface);
    if (written != CAIRO_STATUS_SUCCESS)
        throw std::runtime_error(std::string("the picture cannot be drawn: ") +
                                 cairo_status_to_string(written));
    return bytes;
}

}  // namespace evenspit::card
