// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "report/report.h"
#include "report/text_layout.h"

namespace evenspit {

enum class Ink { plain, bold, good, caution, bad };

/// In what ink a level is marked.
Ink ink_of(Level level);

/// A page of text that only ever gets whole lines, none wider than asked for.
class Page {
  public:
    static constexpr int margin = 2;
    static constexpr int label_width = 18;

    explicit Page(const TextOptions& options);

    [[nodiscard]] int room() const { return width_ - margin; }
    [[nodiscard]] const std::string& text() const { return text_; }

    void gap() { text_ += '\n'; }
    void paragraph(std::string_view words, int indent = 0);
    /// A line in bold after a gap.
    void heading(std::string_view words);
    /// The mark in ink at the left, the words in a block of their own beside it.
    void marked(std::string_view mark, Ink ink, std::string_view words, int indent = margin);
    /// A label and what there is to say under it; on a narrow page the words go below the label.
    void figure(std::string_view label, std::string_view words);
    void table(const Table& table);

  private:
    void put(int indent, std::string_view line);
    [[nodiscard]] std::string inked(std::string_view words, Ink ink) const;

    bool colour_;
    int width_;
    std::string text_;
};

}  // namespace evenspit
