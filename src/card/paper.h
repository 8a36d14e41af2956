// SPDX-License-Identifier: MIT
// Sheets drawn by cairo.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "card/model_picture.h"
#include "card/sheet.h"

namespace evenspit::card {

/// The letters of cards: DejaVu Sans, regular and bold, from the files that the build found; where these are
/// gone, whatever sans-serif letters the system has.
class Letters {
  public:
    Letters();
    Letters(const Letters&) = delete;
    Letters& operator=(const Letters&) = delete;
    ~Letters();

    [[nodiscard]] double width_pt(std::string_view text, double size_pt, bool bold) const;
    [[nodiscard]] MeasureText measure() const {
        return [this](std::string_view text, double size_pt, bool bold) {
            return width_pt(text, size_pt, bold);
        };
    }

    /// Inside of the drawing. Not for others.
    struct Faces;
    [[nodiscard]] const Faces& faces() const { return *faces_; }

  private:
    std::unique_ptr<Faces> faces_;
};

/// What a reader of the file is told of it.
struct PaperNotes {
    std::string title;
    std::string made_by;
};

/// The sheet as a PDF of one page: texts can be selected, letters are in the file. It tells no time of its
/// making, so that the same sheet gives the same bytes.
///
/// \throws std::runtime_error if cairo cannot draw it
std::string pdf_of(const Sheet& sheet, const Letters& letters, const PaperNotes& notes);

/// The sheet as an SVG document whose letters are drawn as shapes.
///
/// \throws std::runtime_error if cairo cannot draw it
std::string svg_of(const Sheet& sheet, const Letters& letters);

/// A picture as a PNG.
///
/// \throws std::runtime_error if cairo cannot write it
std::string png_of(const Still& still);

}  // namespace evenspit::card
