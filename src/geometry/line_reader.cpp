// SPDX-License-Identifier: MIT
#include "geometry/line_reader.h"

#include <algorithm>
#include <charconv>
#include <system_error>

#include <fmt/format.h>

namespace evenspit::mesh_readers {

namespace {

constexpr std::string_view blanks = " \t\v\f";

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c;
}

template <class T>
bool parse(std::string_view text, T& value) {
    if (text.starts_with('+')) text.remove_prefix(1);
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc{} && end == text.data() + text.size();
}

}  // namespace

LineReader::LineReader(const Source& source, char comment) : source_(source), comment_(comment) {
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    if (source_.bytes.starts_with(byte_order_mark)) position_ = byte_order_mark.size();
}

bool LineReader::next() {
    words_.clear();
    const std::string_view text = source_.bytes;
    while (position_ < text.size() && words_.empty()) {
        std::size_t end = std::min(text.find_first_of("\r\n", position_), text.size());
        std::string_view line = text.substr(position_, end - position_);
        if (end < text.size() && text[end] == '\r' && text.substr(end + 1).starts_with('\n')) ++end;
        position_ = end + 1;
        ++line_;
        if (comment_ != 0) line = line.substr(0, line.find(comment_));
        for (std::size_t begin = line.find_first_not_of(blanks); begin < line.size();) {
            const std::size_t stop = std::min(line.find_first_of(blanks, begin), line.size());
            words_.push_back(line.substr(begin, stop - begin));
            begin = line.find_first_not_of(blanks, stop);
        }
    }
    return !words_.empty();
}

void LineReader::need(std::string_view expected) {
    if (!next()) {
        refuse("the end of the file", std::string(expected), "the file is cut short: save or copy it again");
    }
}

double LineReader::number(std::string_view text) const {
    double value = 0;
    if (parse(text, value)) return value;
    refuse(in_quotes(text), "a number", text.find(',') != text.npos ? "write decimals with a point" : "");
}

std::int64_t LineReader::integer(std::string_view text) const {
    std::int64_t value = 0;
    if (parse(text, value)) return value;
    refuse(in_quotes(text), "a whole number");
}

double LineReader::number(std::size_t word) const {
    if (word >= words_.size()) {
        refuse(fmt::format("{} values", words_.size()), fmt::format("at least {}", word + 1));
    }
    return number(words_[word]);
}

std::int64_t LineReader::integer(std::size_t word) const {
    if (word >= words_.size()) {
        refuse(fmt::format("{} values", words_.size()), fmt::format("at least {}", word + 1));
    }
    return integer(words_[word]);
}

void LineReader::refuse(std::string found, std::string expected, std::string mend) const {
    mesh_readers::refuse(source_, line_, std::move(found), std::move(expected), std::move(mend));
}

std::string harmless(std::string_view text) {
    constexpr std::size_t longest = 40;
    std::string shown;
    for (const char c : text.substr(0, longest)) shown += (c >= ' ' && c < 127) ? c : '?';
    if (text.size() > longest) shown += "…";
    return shown;
}

std::string in_quotes(std::string_view text) {
    return fmt::format("'{}'", harmless(text));
}

bool same_word(std::string_view a, std::string_view b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](char x, char y) { return lower(x) == lower(y); });
}

}  // namespace evenspit::mesh_readers
