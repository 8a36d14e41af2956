// SPDX-License-Identifier: MIT
#include "load/load_text.h"

#include <algorithm>
#include <array>

#include "finding.h"
#include "load/toml_tree.h"
#include "targets.h"
#include "units/error.h"

namespace evenspit::fuzz {

namespace {

constexpr std::size_t most_edits = 8;
constexpr std::array<const char*, 3> lists{"item", "fork", "counterweight"};
constexpr std::array<std::string_view, 6> values{"7",           R"("13 mm")", "'a # b'",
                                                 "[1, [2, 3]]", "{ a = 1 }",  "[]"};

void collect_paths(const TomlNode& node, const KeyPath& path, std::vector<KeyPath>& paths) {
    const auto go_on = [&](const std::string& part, const TomlNode& child) {
        KeyPath below = path;
        below.push_back(part);
        paths.push_back(below);
        collect_paths(child, below, paths);
    };
    for (const TomlEntry& entry : node.entries) go_on(entry.key, entry.value);
    for (std::size_t k = 0; k < node.elements.size(); ++k) go_on(std::to_string(k + 1), node.elements[k]);
}

// How many bytes of `old` are kept in front of a change and behind it.
std::size_t kept(const std::string& old, const std::string& now) {
    const auto front = std::mismatch(old.begin(), old.end(), now.begin(), now.end());
    const auto back = std::mismatch(old.rbegin(), std::make_reverse_iterator(front.first), now.rbegin(),
                                    std::make_reverse_iterator(front.second));
    return std::size_t(front.first - old.begin()) + std::size_t(back.first - old.rbegin());
}

bool is_subsequence(const std::string& part, const std::string& whole) {
    std::size_t at = 0;
    for (const char c : whole) at += std::size_t(at < part.size() && part[at] == c);
    return at == part.size();
}

// Writes over the value at a path, or adds a key where there is none.
void set(LoadText& text, const KeyPath& path, std::string_view value) {
    const std::string before = text.text();
    const std::optional<std::string> old = text.find(path);
    text.set(path, value);
    demand(text.find(path) == std::string(value), "what was written does not stand there");
    if (!old) {
        demand(kept(before, text.text()) == before.size(), "a new key took something away");
        return;
    }
    // Spaces between the value and a comment may go.
    std::size_t spaces = 0;
    for (std::size_t run = 0; const char c : before) {
        run = c == ' ' ? run + 1 : 0;
        spaces = std::max(spaces, run);
    }
    demand(kept(before, text.text()) + old->size() + spaces >= before.size(), "more than the value changed");
}

void append(LoadText& text, const std::string& list, std::string_view value) {
    const std::string before = text.text();
    const std::size_t count = text.count({list});
    text.append(list, {{"at", std::string(value)}, {"b", "1"}}, "fork");
    demand(text.count({list}) == count + 1, "an element appended to a list is not there");
    demand(text.find({list, std::to_string(count + 1), "at"}) == std::string(value),
           "an appended element is another");
    demand(kept(before, text.text()) == before.size(), "appending took something away");
}

void take_out(LoadText& text, const std::string& list, std::size_t index) {
    const std::string before = text.text();
    const std::size_t count = text.count({list});
    text.take_out(list, index);
    demand(text.count({list}) + 1 == count, "an element taken out is still there");
    demand(is_subsequence(before, text.text()) || is_subsequence(text.text(), before),
           "taking out changed something else");
}

// An edit that is refused must leave the text as it was.
template <class Edit>
void edit_or_refuse(LoadText& text, const Edit& edit) {
    const std::string before = text.text();
    try {
        edit();
    } catch (const InputError&) {
        demand(text.text() == before, "an edit that was refused changed the text");
    }
}

}  // namespace

// The first line tells the edits: two bytes each, what to do and where. The rest is the text.
void load_text(std::string_view bytes) {
    const std::size_t line = std::min(bytes.find('\n'), bytes.size());
    const std::string_view edits = bytes.substr(0, std::min(line, 2 * most_edits));
    try {
        LoadText text(std::string(bytes.substr(std::min(line + 1, bytes.size()))), "load.toml");
        for (std::size_t k = 0; k + 1 < edits.size(); k += 2) {
            const auto what = std::size_t(static_cast<unsigned char>(edits[k]));
            const auto where = std::size_t(static_cast<unsigned char>(edits[k + 1]));
            std::vector<KeyPath> paths;
            collect_paths(parse_toml(text.text(), "load.toml"), {}, paths);
            if (paths.empty()) paths.push_back({"rod"});
            KeyPath path = paths[where % paths.size()];
            const std::string_view value = values[what / 4 % values.size()];
            edit_or_refuse(text, [&] {
                switch (what % 4) {
                    case 0:
                        set(text, path, value);
                        break;
                    case 1:
                        path.back() = "fresh";
                        set(text, path, value);
                        break;
                    case 2:
                        append(text, lists[where % lists.size()], value);
                        break;
                    default:
                        take_out(text, lists[where % lists.size()], where / lists.size() % 5);
                }
            });
        }
    } catch (const InputError&) {
        // Not TOML.
    }
}

}  // namespace evenspit::fuzz
