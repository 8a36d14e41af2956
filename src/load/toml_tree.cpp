// SPDX-License-Identifier: MIT
// The only unit that sees toml++: it is expensive to compile.
#include "load/toml_tree.h"

#include <algorithm>
#include <fstream>
#include <sstream>
#include <system_error>

#include <fmt/format.h>
// toml++ 3.3 asserts that a key begins as keys do, then finds out that it does not and says so. No assertion
// for us; nor an assumption, which it becomes where assertions are off.
#undef NDEBUG
#define TOML_ASSERT(expr) static_cast<void>(0)
#include <toml++/toml.h>

#include "units/quote.h"

namespace evenspit {

namespace {

constexpr std::size_t largest_file = 1U << 20U;
constexpr int deepest = 16;

[[noreturn]] void refuse(SourceSpot spot, std::string found, std::string expected, std::string mend) {
    Complaint complaint;
    complaint.spot = std::move(spot);
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

// Looks for dotted keys of absurd length before toml++ sees them: it takes any number of dots, makes a table
// of each, and destroys them recursively, which a file of a megabyte can turn into an exhausted stack. Dots
// count outside texts and comments only.
class DotGuard {
  public:
    DotGuard(std::string_view text, const std::string& file) : text_(text), file_(file) {}

    void check() {
        int dots = 0;
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '"' || c == '\'') {
                skip_text(c);
                continue;
            }
            if (c == '#') {
                at_ = std::min(text_.find('\n', at_), text_.size());
                continue;
            }
            if (c == '\n') ++line_;
            if (c == '.' && ++dots > deepest) {
                refuse({file_, line_, 0}, "a key with many dots",
                       fmt::format("keys nested at most {} deep", deepest), "");
            }
            // Any of these ends a key.
            if (std::string_view("\n=,[]{}").find(c) != std::string_view::npos) dots = 0;
            ++at_;
        }
    }

  private:
    void skip_text(char quote) {
        const bool many_lines = text_.substr(at_, 3) == std::string(3, quote);
        const std::size_t width = many_lines ? 3 : 1;
        at_ += width;
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '\n') {
                if (!many_lines) return;  // not TOML; the parser tells
                ++line_;
            }
            if (c == '\\' && quote == '"') {
                if (at_ + 1 < text_.size() && text_[at_ + 1] == '\n') ++line_;
                at_ += 2;
                continue;
            }
            if (text_.substr(at_, width) == std::string(width, quote)) {
                at_ += width;
                // Up to two quotes may stand inside before the closing three.
                for (int extra = 0; many_lines && extra < 2 && at_ < text_.size() && text_[at_] == quote;
                     ++extra)
                    ++at_;
                return;
            }
            ++at_;
        }
    }

    std::string_view text_;
    const std::string& file_;
    std::size_t at_ = 0;
    int line_ = 1;
};

SourceSpot spot_of(const toml::source_region& region, const std::string& file) {
    return {file, static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

// Quotes that phones and word processors bend are what most often makes a line no TOML.
void refuse_curly_quotes(std::string_view text, const SourceSpot& spot) {
    std::size_t begin = 0;
    for (int line = 1; line < spot.line && begin < text.size(); ++line)
        begin = std::min(text.find('\n', begin), text.size() - 1) + 1;
    const std::string_view line = text.substr(begin, text.find('\n', begin) - begin);
    for (const std::string_view curly : {"“", "”", "„", "‘", "’"}) {
        if (line.find(curly) == std::string_view::npos) continue;
        refuse(spot, fmt::format("a curly quote, {}", curly), "straight quotes, \"",
               "type it again: phones and word processors bend quotes, a plain text editor does not");
    }
}

template <typename T>
std::string streamed(const T& value) {
    std::ostringstream out;
    out << value;
    return out.str();
}

TomlNode copied(const toml::node& node, const std::string& file, int depth) {
    TomlNode copy;
    copy.spot = spot_of(node.source(), file);
    if (depth > deepest) {
        refuse(copy.spot, "values nested very deep", fmt::format("at most {} levels", deepest), "");
    }
    if (const auto* table = node.as_table()) {
        copy.kind = TomlNode::Kind::table;
        for (const auto& [key, value] : *table) {
            copy.entries.push_back(
                {std::string(key.str()), spot_of(key.source(), file), copied(value, file, depth + 1)});
        }
    } else if (const auto* array = node.as_array()) {
        copy.kind = TomlNode::Kind::array;
        for (const auto& element : *array) copy.elements.push_back(copied(element, file, depth + 1));
    } else if (const auto* text = node.as_string()) {
        copy.kind = TomlNode::Kind::text;
        copy.text = text->get();
    } else if (const auto* integer = node.as_integer()) {
        copy.kind = TomlNode::Kind::number;
        copy.number = static_cast<double>(integer->get());
        copy.text = std::to_string(integer->get());
    } else if (const auto* real = node.as_floating_point()) {
        copy.kind = TomlNode::Kind::number;
        copy.number = real->get();
        copy.text = fmt::format("{}", real->get());
    } else if (const auto* boolean = node.as_boolean()) {
        copy.kind = TomlNode::Kind::boolean;
        copy.boolean = boolean->get();
    } else {
        copy.kind = TomlNode::Kind::time;
        if (const auto* date = node.as_date()) copy.text = streamed(*date);
        if (const auto* time = node.as_time()) copy.text = streamed(*time);
        if (const auto* both = node.as_date_time()) copy.text = streamed(*both);
    }
    return copy;
}

}  // namespace

const TomlNode* TomlNode::find(std::string_view key) const {
    const auto entry =
        std::find_if(entries.begin(), entries.end(), [key](const TomlEntry& e) { return e.key == key; });
    return entry == entries.end() ? nullptr : &entry->value;
}

std::string TomlNode::shown() const {
    switch (kind) {
        case Kind::text:
            return in_quotes(text);
        case Kind::number:
            return text;
        case Kind::boolean:
            return boolean ? "true" : "false";
        case Kind::time:
            return text + " (a date or time without quotes)";
        case Kind::array:
            return elements.size() == 1 ? "a list of 1 value"
                                        : fmt::format("a list of {} values", elements.size());
        case Kind::table:
            return "a table";
    }
    return "";
}

TomlNode parse_toml(std::string_view text, const std::string& file) {
    if (text.size() > largest_file) {
        refuse({file, 0, 0}, fmt::format("a file of {} bytes", text.size()),
               fmt::format("at most {} bytes", largest_file), "this is hardly a load file or a model");
    }
    DotGuard(text, file).check();
    try {
        return copied(toml::parse(text, std::string_view(file)), file, 0);
    } catch (const toml::parse_error& error) {
        refuse_curly_quotes(text, spot_of(error.source(), file));
        refuse(spot_of(error.source(), file), "text that is not TOML", "TOML 1.0",
               std::string(error.description()));
    }
}

TomlNode read_toml(const std::filesystem::path& file) {
    const std::string name = file.string();
    std::error_code status;
    if (!std::filesystem::exists(file, status))
        refuse({name, 0, 0}, "no such file", "", "check the name and the folder");
    if (!std::filesystem::is_regular_file(file, status)) {
        refuse({name, 0, 0}, std::filesystem::is_directory(file, status) ? "a folder" : "no ordinary file",
               "a TOML file", "");
    }
    std::ifstream in(file, std::ios::binary);
    // One byte more than is taken, so that a file too large is seen as such without being read whole.
    std::string text(largest_file + 1, '\0');
    if (in) in.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (!in.is_open() || in.bad())
        refuse({name, 0, 0}, "a file that cannot be read", "", "check its permissions");
    text.resize(static_cast<std::size_t>(in.gcount()));
    return parse_toml(text, name);
}

}  // namespace evenspit
