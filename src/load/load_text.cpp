// SPDX-License-Identifier: MIT
#include "load/load_text.h"

#include <algorithm>
#include <cctype>
#include <map>

#include <fmt/format.h>

#include "load/toml_tree.h"
#include "units/error.h"
#include "units/quote.h"

namespace evenspit {
namespace {

[[noreturn]] void refuse(const std::string& file, std::string key, std::string found, std::string expected,
                         std::string mend = {}) {
    Complaint complaint;
    complaint.spot.file = file;
    complaint.key = std::move(key);
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

bool is_number(const std::string& part) {
    return !part.empty() &&
           std::all_of(part.begin(), part.end(), [](char c) { return c >= '0' && c <= '9'; });
}

bool starts_with(const KeyPath& path, const KeyPath& start) {
    return path.size() >= start.size() && std::equal(start.begin(), start.end(), path.begin());
}

// Where the first key may stand: behind the mark of byte order that some editors begin a file with.
std::size_t first_place(const std::string& text) {
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    return text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
}

KeyPath below(KeyPath path, std::string part) {
    path.push_back(std::move(part));
    return path;
}

}  // namespace

KeyPath parse_key_path(std::string_view text) {
    KeyPath path(1);
    bool in_brackets = false, closed = false, wrong = text.empty();
    for (const char c : text) {
        if (c == '[') {
            wrong = wrong || in_brackets || path.back().empty();
            in_brackets = true;
            path.emplace_back();
        } else if (c == ']') {
            wrong = wrong || !in_brackets || !is_number(path.back());
            in_brackets = false;
            closed = true;
            continue;
        } else if (c == '.') {
            wrong = wrong || in_brackets || path.back().empty();
            path.emplace_back();
        } else {
            wrong = wrong || closed;
            path.back() += c;
        }
        closed = false;
    }
    if (wrong || in_brackets || path.back().empty()) {
        refuse("", "", in_quotes(text), "a key such as fork.1.at or item.2.line.from.1");
    }
    return path;
}

std::string key_path_text(const KeyPath& path) {
    std::string text;
    for (const std::string& part : path) {
        if (is_number(part)) {
            text += fmt::format("[{}]", part);
        } else {
            text += (text.empty() ? "" : ".") + part;
        }
    }
    return text;
}

/// Walks over a text that is known to be TOML and notes where everything stands. Only what decides where a
/// value begins and ends is looked at.
class LoadText::Scanner {
  public:
    explicit Scanner(const std::string& text) : text_(text) {}

    std::vector<Piece> pieces() {
        at_ = first_place(text_);
        sections_.push_back({{}, Kind::section, at_, at_});
        while (skip_blank(), at_ < text_.size()) {
            if (text_[at_] == '[') {
                header();
            } else {
                key_value();
            }
        }
        std::copy(sections_.begin(), sections_.end(), std::back_inserter(pieces_));
        for (const auto& [path, count] : counts_) pieces_.push_back({path, Kind::list, 0, 0});
        return std::move(pieces_);
    }

  private:
    [[nodiscard]] char here() const { return at_ < text_.size() ? text_[at_] : '\0'; }

    void skip_spaces() {
        while (here() == ' ' || here() == '\t') ++at_;
    }
    void skip_comment() {
        if (here() == '#') at_ = std::min(text_.find('\n', at_), text_.size());
    }
    /// Spaces, line ends and comments.
    void skip_blank() {
        while (at_ < text_.size()) {
            if (here() == '#') {
                skip_comment();
            } else if (std::isspace(static_cast<unsigned char>(here())) != 0) {
                ++at_;
            } else {
                return;
            }
        }
    }
    void skip_line() {
        at_ = std::min(text_.find('\n', at_), text_.size());
        if (at_ < text_.size()) ++at_;
    }

    void skip_text() {
        const char quote = here();
        const std::size_t width = text_.compare(at_, 3, std::string(3, quote)) == 0 ? 3 : 1;
        const std::string end(width, quote);
        at_ += width;
        while (at_ < text_.size() && text_.compare(at_, width, end) != 0) {
            at_ += quote == '"' && here() == '\\' ? 2 : 1;
        }
        at_ += width;
        // Up to two quotes may stand inside before the closing three.
        for (int extra = 0; width == 3 && extra < 2 && here() == quote; ++extra) ++at_;
        at_ = std::min(at_, text_.size());
    }

    std::string key_part() {
        const std::size_t begin = at_;
        if (here() == '"' || here() == '\'') {
            skip_text();
            return text_.substr(begin + 1, at_ - begin - 2);
        }
        while (at_ < text_.size() && std::string_view(" \t\r\n.=]").find(here()) == std::string_view::npos)
            ++at_;
        return text_.substr(begin, at_ - begin);
    }
    KeyPath dotted_key() {
        KeyPath key;
        while (true) {
            skip_spaces();
            key.push_back(key_part());
            skip_spaces();
            if (here() != '.') return key;
            ++at_;
        }
    }

    void header() {
        const std::size_t begin = at_;
        const bool list = text_.compare(at_, 2, "[[") == 0;
        at_ += list ? 2 : 1;
        const KeyPath key = dotted_key();
        KeyPath path;
        for (std::size_t i = 0; i < key.size(); ++i) {
            path.push_back(key[i]);
            const bool last = i + 1 == key.size();
            if (last && list) ++counts_[path];
            const auto counted = counts_.find(path);
            if (counted != counts_.end()) path.push_back(std::to_string(counted->second));
        }
        skip_line();
        sections_.push_back({path, Kind::section, begin, at_});
    }

    void key_value() {
        KeyPath path = sections_.back().path;
        for (std::string& part : dotted_key()) path.push_back(std::move(part));
        ++at_;  // the sign of equality
        value(path);
        skip_line();
        sections_.back().end = at_;
    }

    void value(const KeyPath& path) {
        skip_spaces();
        const std::size_t begin = at_;
        Kind kind = Kind::value;
        if (here() == '[') {
            kind = Kind::list;
            ++at_;
            for (std::size_t i = 1; skip_blank(), at_ < text_.size() && here() != ']'; ++i) {
                value(below(path, std::to_string(i)));
                skip_blank();
                if (here() == ',') ++at_;
            }
            ++at_;
        } else if (here() == '{') {
            kind = Kind::inline_table;
            ++at_;
            while (skip_blank(), at_ < text_.size() && here() != '}') {
                KeyPath inner = path;
                for (std::string& part : dotted_key()) inner.push_back(std::move(part));
                ++at_;
                value(inner);
                skip_blank();
                if (here() == ',') ++at_;
            }
            ++at_;
        } else if (here() == '"' || here() == '\'') {
            skip_text();
        } else {
            while (at_ < text_.size() && std::string_view(",]}#\r\n").find(here()) == std::string_view::npos)
                ++at_;
            while (at_ > begin && (text_[at_ - 1] == ' ' || text_[at_ - 1] == '\t')) --at_;
        }
        at_ = std::min(at_, text_.size());
        pieces_.push_back({path, kind, begin, at_});
    }

    const std::string& text_;
    std::size_t at_ = 0;
    std::vector<Piece> pieces_;
    std::vector<Piece> sections_;            // the file itself first
    std::map<KeyPath, std::size_t> counts_;  // of sections [[…]]
};

LoadText::LoadText(std::string text, std::string file) : text_(std::move(text)), file_(std::move(file)) {
    parse_toml(text_, file_);
    scan();
}

void LoadText::scan() {
    pieces_ = Scanner(text_).pieces();
}

const LoadText::Piece* LoadText::piece(const KeyPath& path) const {
    const auto it =
        std::find_if(pieces_.begin(), pieces_.end(), [&](const Piece& p) { return p.path == path; });
    return it == pieces_.end() ? nullptr : &*it;
}

std::optional<std::string> LoadText::find(const KeyPath& path) const {
    const Piece* const found = piece(path);
    if (found == nullptr || found->kind == Kind::section || found->begin == found->end) return std::nullopt;
    return text_.substr(found->begin, found->end - found->begin);
}

bool LoadText::has(const KeyPath& path) const {
    return std::any_of(pieces_.begin(), pieces_.end(), [&](const Piece& p) {
        return starts_with(p.path, path);  // dotted keys make their tables without a piece
    });
}

std::size_t LoadText::count(const KeyPath& list) const {
    std::size_t n = 0;
    while (has(below(list, std::to_string(n + 1)))) ++n;
    return n;
}

std::size_t LoadText::end_of_section(const KeyPath& path) const {
    std::size_t end = 0;
    for (const Piece& p : pieces_) {
        if (p.kind == Kind::section && starts_with(p.path, path)) end = std::max(end, p.end);
    }
    return end;
}

std::string LoadText::line_end() const {
    const std::size_t first = text_.find('\n');
    return first != std::string::npos && first > 0 && text_[first - 1] == '\r' ? "\r\n" : "\n";
}

void LoadText::replace(std::size_t begin, std::size_t end, std::string_view by) {
    std::string changed = text_;
    changed.replace(begin, end - begin, by);
    parse_toml(changed, file_);
    text_ = std::move(changed);
    scan();
}

void LoadText::replace_value(const Piece& old, std::string_view value) {
    // A comment behind it keeps its column where there is room.
    std::size_t spaces = 0;
    while (old.end + spaces < text_.size() && text_[old.end + spaces] == ' ') ++spaces;
    const bool comment = spaces > 0 && old.end + spaces < text_.size() && text_[old.end + spaces] == '#';
    if (!comment) return replace(old.begin, old.end, value);
    const std::size_t width = old.end - old.begin + spaces;
    std::string padded(value);
    padded.resize(std::max(width, value.size() + 1), ' ');
    replace(old.begin, old.end + spaces, padded);
}

void LoadText::insert_key(const Piece& table, const std::string& key, std::string_view value) {
    if (table.kind == Kind::inline_table) {
        std::size_t last = table.end - 1;  // behind the last thing that is no space
        while (text_[last - 1] == ' ' || text_[last - 1] == '\t') --last;
        const bool empty = last == table.begin + 1;
        replace(last, last, fmt::format("{}{} = {}{}", empty ? " " : ", ", key, value, empty ? " " : ""));
        return;
    }
    const bool open_line = table.end > first_place(text_) && text_[table.end - 1] != '\n';
    replace(table.end, table.end,
            fmt::format("{}{} = {}{}", open_line ? line_end() : "", key, value, line_end()));
}

void LoadText::set(const KeyPath& path, std::string_view value) {
    if (const Piece* const found = piece(path); found != nullptr && found->kind != Kind::section) {
        if (found->begin != found->end) return replace_value(*found, value);
    } else if (found == nullptr && !has(path)) {
        // In the nearest table round it; tables between are made by the dots of the key.
        KeyPath table = path;
        std::string key;
        while (!table.empty() && !is_number(table.back())) {
            key = fmt::format("{}{}{}", table.back(), key.empty() ? "" : ".", key);
            table.pop_back();
            const Piece* const home = piece(table);
            if (home == nullptr) continue;
            if (home->kind != Kind::section && home->kind != Kind::inline_table) break;
            return insert_key(*home, key, value);
        }
    }
    for (std::size_t n = 1; n < path.size(); ++n) {
        const KeyPath list(path.begin(), path.begin() + static_cast<std::ptrdiff_t>(n));
        if (!is_number(path[n]) || has(below(list, path[n]))) continue;
        const std::string name = key_path_text(list);
        const std::size_t there = count(list);
        refuse(file_, key_path_text(path), fmt::format("no {} {} in the file", name, path[n]),
               there == 0 ? std::string("a key of something that is there")
                          : fmt::format("a number from 1 to {}", there),
               there == 0 ? fmt::format("write a {} with all its keys into the file first", name) : "");
    }
    refuse(file_, key_path_text(path), "no value that can be written there", "a key of a table of the file");
}

void LoadText::append(const std::string& list, const std::vector<std::pair<std::string, std::string>>& keys,
                      const std::string& after) {
    if (const Piece* const found = piece({list}); found != nullptr && found->begin != found->end) {
        if (found->kind != Kind::list) refuse(file_, list, "no list", "a list of tables");
        std::string table;
        for (const auto& [key, value] : keys)
            table += fmt::format("{}{} = {}", table.empty() ? "" : ", ", key, value);
        std::size_t last = found->begin + 1;  // behind the last element
        for (const Piece& p : pieces_) {
            if (p.path.size() == 2 && p.path[0] == list) last = std::max(last, p.end);
        }
        const bool empty = last == found->begin + 1;
        return replace(last, last, fmt::format("{}{{ {} }}{}", empty ? " " : ", ", table, empty ? " " : ""));
    }
    std::size_t place = end_of_section({list});
    if (place == 0) place = end_of_section({after});
    if (place == 0) place = text_.size();
    const std::string end = line_end();
    std::string section = place > 0 && text_[place - 1] != '\n' ? end : "";
    section += fmt::format("{}[[{}]]{}", end, list, end);
    for (const auto& [key, value] : keys) section += fmt::format("{} = {}{}", key, value, end);
    replace(place, place, section);
}

void LoadText::take_out(const std::string& list, std::size_t index) {
    const KeyPath path{list, std::to_string(index)};
    const Piece* const found = piece(path);
    if (found == nullptr) {
        refuse(file_, key_path_text(path), "no such section", fmt::format("one of {}", count({list})));
    }
    if (found->kind != Kind::section) {
        // With the comma behind it, or the one before if it is the last.
        std::size_t begin = found->begin, end = found->end;
        const std::size_t next = text_.find_first_not_of(" \t\r\n", end);
        if (next != std::string::npos && text_[next] == ',') {
            end = next + 1;
        } else {
            const std::size_t before = text_.find_last_not_of(" \t\r\n", begin - 1);
            if (text_[before] == ',') begin = before;
        }
        return replace(begin, end, "");
    }
    // Section by section, so that a foreign one that stands between is spared.
    std::string changed = text_;
    std::vector<std::pair<std::size_t, std::size_t>> stretches;
    for (const Piece& p : pieces_) {
        if (p.kind == Kind::section && starts_with(p.path, path)) stretches.emplace_back(p.begin, p.end);
    }
    std::sort(stretches.rbegin(), stretches.rend());
    for (const auto& [begin, end] : stretches) {
        std::string quiet;
        for (std::size_t line = begin; line < end;) {
            const std::size_t next = std::min(changed.find('\n', line), end - 1) + 1;
            const std::string_view words(changed.data() + line, next - line);
            quiet += words.find_first_not_of(" \t\r\n") == std::string_view::npos ? "" : "# ";
            quiet += words;
            line = next;
        }
        changed.replace(begin, end - begin, quiet);
    }
    replace(0, text_.size(), changed);
}

}  // namespace evenspit
