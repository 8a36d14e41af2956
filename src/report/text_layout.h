// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace evenspit {

/// Columns that a UTF-8 text takes on a terminal: combining marks none, East Asian wide characters and
/// pictures two.
int display_width(std::string_view text);

/// Text from a file made fit for a terminal: control characters become spaces, bytes that are no UTF-8 become
/// U+FFFD.
std::string printable(std::string_view text);

/// The text, cut to `width` columns with "…" at its end if it is longer. Asks for width ≥ 1.
std::string shortened(std::string_view text, int width);

/// The text in lines of at most `width` columns, broken at spaces, though not between a figure and
/// its unit; a word longer than a line is cut. Asks for width ≥ 2. Gives no lines for a blank text.
std::vector<std::string> wrapped(std::string_view text, int width);

/// The room that letters take, in whatever the width is told in.
using MeasureText = std::function<double(std::string_view)>;

/// The same where letters are measured: in lines that take no more than `width`.
std::vector<std::string> wrapped(std::string_view text, double width, const MeasureText& measure);

/// The text, cut with "…" at its end so that it takes no more than `width`.
std::string shortened(std::string_view text, double width, const MeasureText& measure);

/// One column of a table.
struct Column {
    std::string head;
    bool to_the_right = false;  ///< for figures
    bool may_shrink = false;    ///< may be shortened with "…" where room is scarce
};

/// Rows of cells under aligned heads, two spaces between columns.
class Table {
  public:
    explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}

    /// \pre as many cells as columns
    void add_row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }

    /// The table in lines of at most `width` columns, head first. Shrinks what may shrink, evenly; if it
    /// still does not fit, each row is told in words instead ("gap 61 mm, keep 50 mm"), wrapped.
    [[nodiscard]] std::vector<std::string> lines(int width) const;

  private:
    [[nodiscard]] std::vector<int> natural_widths() const;
    [[nodiscard]] std::string line(const std::vector<std::string>& cells,
                                   const std::vector<int>& widths) const;
    [[nodiscard]] std::vector<std::string> told_in_words(int width) const;

    std::vector<Column> columns_;
    std::vector<std::vector<std::string>> rows_;
};

/// Values as a row of bars, one character each, from the least (▁) to the greatest (█). Empty for no values;
/// all alike give bars of one height. \pre all finite
std::string bars(const std::vector<double>& values);

}  // namespace evenspit
