// SPDX-License-Identifier: MIT
#include "geometry/line_reader.h"

#include <algorithm>
#include <charconv>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "geometry/quick_number.h"

namespace evenspit::mesh_readers {

namespace {

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

LineReader::LineReader(const Source& source, char comment) : source_(source) {
    for (const unsigned char c : {' ', '\t', '\v', '\f'}) signs_[c] = Sign::blank;
    for (const unsigned char c : {'\r', '\n'}) signs_[c] = Sign::line_end;
    if (comment != 0) signs_[static_cast<unsigned char>(comment)] = Sign::comment;
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    if (source_.bytes.starts_with(byte_order_mark)) position_ = byte_order_mark.size();
}

bool LineReader::next() {
    words_.clear();
    // Byte by byte, once: searches for sets of bytes cost more than all the rest of a reader.
    const char* const text = source_.bytes.data();
    const char* const end = text + source_.bytes.size();
    const char* at = text + std::min(position_, source_.bytes.size());
    const auto sign = [&] { return at < end ? signs_[static_cast<unsigned char>(*at)] : Sign::line_end; };
    while (at < end && words_.empty()) {
        for (Sign here = sign(); here != Sign::line_end; here = sign()) {
            if (here == Sign::word) {
                const char* const begin = at;
                while (sign() == Sign::word) ++at;
                words_.emplace_back(begin, static_cast<std::size_t>(at - begin));
            } else if (here == Sign::blank) {
                ++at;
            } else {
                while (sign() != Sign::line_end) ++at;
            }
        }
        if (at < end) at += at[0] == '\r' && at + 1 < end && at[1] == '\n' ? 2 : 1;
        ++line_;
    }
    position_ = static_cast<std::size_t>(at - text);
    return !words_.empty();
}

template <class Value, class Read>
bool LineReader::three(std::string_view before, std::array<Value, 3>& values, const Read& read) {
    const char* const text = source_.bytes.data();
    const char* const end = text + source_.bytes.size();
    const char* at = text + std::min(position_, source_.bytes.size());
    if (!std::string_view(at, static_cast<std::size_t>(end - at)).starts_with(before)) return false;
    at += before.size();
    for (Value& value : values) {
        while (at < end && *at == ' ') ++at;
        at = read(at, end, value);
        if (at == nullptr || at == end) return false;
        if (*at != ' ' && *at != '\n') return false;
    }
    while (at < end && *at == ' ') ++at;
    if (at == end || *at != '\n') return false;
    position_ = static_cast<std::size_t>(at + 1 - text);
    ++line_;
    return true;
}

bool LineReader::three_numbers(std::string_view before, std::array<double, 3>& numbers) {
    return three(before, numbers, quick_number);
}
bool LineReader::three_wholes(std::string_view before, std::array<std::int64_t, 3>& wholes) {
    return three(before, wholes, quick_whole);
}

void LineReader::need(std::string_view expected) {
    if (!next()) refuse_end(std::string(expected));
}
void LineReader::refuse_end(std::string expected) const {
    refuse("the end of the file", std::move(expected), "the file is cut short: save or copy it again");
}

double LineReader::number(std::string_view text) const {
    double value = 0;
    const char* const end = text.data() + text.size();
    if (quick_number(text.data(), end, value) == end || parse(text, value)) return value;
    refuse(in_quotes(text), "a number", text.find(',') != text.npos ? "write decimals with a point" : "");
}

std::int64_t LineReader::integer(std::string_view text) const {
    std::int64_t value = 0;
    const char* const end = text.data() + text.size();
    if (quick_whole(text.data(), end, value) == end || parse(text, value)) return value;
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
