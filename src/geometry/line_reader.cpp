// SPDX-License-Identifier: MIT
#include "geometry/line_reader.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <system_error>
#include <utility>

#include <fmt/format.h>

namespace evenspit::mesh_readers {

namespace {

enum class Sign : unsigned char { word, blank, line_end };

// What each byte is; a comment's sign is looked for beside it.
constexpr std::array<Sign, 256> signs = [] {
    std::array<Sign, 256> table{};
    for (const unsigned char c : {' ', '\t', '\v', '\f'}) table[c] = Sign::blank;
    for (const unsigned char c : {'\r', '\n'}) table[c] = Sign::line_end;
    return table;
}();

Sign sign_of(char c) {
    return signs[static_cast<unsigned char>(c)];
}

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
    // Byte by byte, once: searches for sets of bytes cost more than all the rest of a reader.
    const char* const text = source_.bytes.data();
    const char* const end = text + source_.bytes.size();
    const char* at = text + std::min(position_, source_.bytes.size());
    while (at < end && words_.empty()) {
        while (at < end && sign_of(*at) != Sign::line_end) {
            if (sign_of(*at) == Sign::blank) {
                ++at;
                continue;
            }
            const char* const begin = at;
            while (at < end && sign_of(*at) == Sign::word && (comment_ == 0 || *at != comment_)) ++at;
            if (at > begin) words_.emplace_back(begin, static_cast<std::size_t>(at - begin));
            if (at < end && comment_ != 0 && *at == comment_) {
                while (at < end && sign_of(*at) != Sign::line_end) ++at;
            }
        }
        if (at < end) at += at[0] == '\r' && at + 1 < end && at[1] == '\n' ? 2 : 1;
        ++line_;
    }
    position_ = static_cast<std::size_t>(at - text);
    return !words_.empty();
}

void LineReader::need(std::string_view expected) {
    if (!next()) refuse_end(std::string(expected));
}
void LineReader::refuse_end(std::string expected) const {
    refuse("the end of the file", std::move(expected), "the file is cut short: save or copy it again");
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
