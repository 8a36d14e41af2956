// SPDX-License-Identifier: MIT
// Inside of the text formats' readers. Not for other rooms.
#pragma once

#include <array>
#include <concepts>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/mesh_readers.h"

namespace evenspit::mesh_readers {

/// A text seen as lines of words, with the place for complaints. Lines end with \n, \r\n or \r; a byte order
/// mark is passed over.
class LineReader {
  public:
    /// \param comment character that starts a comment to the end of the line; 0 for none
    LineReader(const Source& source, char comment);

    /// Moves to the next line that holds a word; false at the end.
    bool next();
    /// Moves to the next line, or complains that the text ends where `expected` is due.
    void need(std::string_view expected);
    /// The same for each line of many: words for a complaint are made only where there is one.
    template <std::invocable Expected>
    void need(const Expected& expected) {
        if (!next()) refuse_end(expected());
    }

    /// Moves past the next line if it is three numbers without a sign but for a minus, spaces between them,
    /// after what `before` says; else to nowhere, and next() tells what the line is. Most lines are such, and
    /// so they are seen but once. Their words are not kept.
    bool three_numbers(std::string_view before, std::array<double, 3>& numbers);
    /// The same of whole numbers without a sign.
    bool three_wholes(std::string_view before, std::array<std::int64_t, 3>& wholes);

    [[nodiscard]] const std::vector<std::string_view>& words() const { return words_; }
    [[nodiscard]] int line() const { return line_; }
    /// Where the line after this one begins, in bytes.
    [[nodiscard]] std::size_t position() const { return position_; }

    /// Words as numbers; a complaint if there is no such word or it is no number. NaN and infinity are
    /// numbers.
    [[nodiscard]] double number(std::size_t word) const;
    [[nodiscard]] std::int64_t integer(std::size_t word) const;
    [[nodiscard]] double number(std::string_view text) const;
    [[nodiscard]] std::int64_t integer(std::string_view text) const;

    /// A complaint about this line.
    [[noreturn]] void refuse(std::string found, std::string expected, std::string mend = {}) const;

  private:
    [[noreturn]] void refuse_end(std::string expected) const;
    template <class Value, class Read>
    bool three(std::string_view before, std::array<Value, 3>& values, const Read& read);

    enum class Sign : unsigned char { word, blank, line_end, comment };

    const Source& source_;
    std::array<Sign, 256> signs_{};  // what each byte is
    std::size_t position_ = 0;
    int line_ = 0;
    std::vector<std::string_view> words_;
};

/// A piece of a file, cut short, without what a terminal would obey.
std::string harmless(std::string_view text);

/// The same in quotation marks.
std::string in_quotes(std::string_view text);

/// Without regard to case, ASCII only.
bool same_word(std::string_view a, std::string_view b);

}  // namespace evenspit::mesh_readers
