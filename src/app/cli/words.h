// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenspit {

/// What may stand behind a verb, as data: an operand by its place, or an option by its name.
struct WordSpec {
    enum class Kind {
        operand,   ///< one word, or none
        operands,  ///< any number of words
        flag,
        value,   ///< an option with one value
        values,  ///< an option that may stand several times, or hold several values with commas between
    };
    Kind kind = Kind::flag;
    std::string
        names;  ///< "LOAD" of an operand, "--json" or "-o,--output" of an option; the last one is its key
    std::string about;   ///< for the help, in a few words
    std::string type{};  ///< what the help calls the value: "FILE"
    /// For a shell that completes words: all that it may be, none for anything.
    std::vector<std::string> words{};
    /// What its file's name ends in, "toml"; "*" for any file, "" for no file.
    std::string files{};

    /// What Words knows it by: "LOAD", "--output".
    [[nodiscard]] std::string key() const { return names.substr(names.rfind(',') + 1); }
    [[nodiscard]] bool is_operand() const { return kind == Kind::operand || kind == Kind::operands; }
};

/// The words that were found on a command line, by the key of what they were given for.
class Words {
  public:
    [[nodiscard]] bool flag(std::string_view key) const { return words_.contains(key); }
    /// The value of an option, or an operand.
    [[nodiscard]] std::optional<std::string> text(std::string_view key) const;
    /// All of them; none if there is none.
    [[nodiscard]] std::vector<std::string> texts(std::string_view key) const;

    void add_flag(const std::string& key) { words_[key]; }
    void add(const std::string& key, std::string word) { words_[key].push_back(std::move(word)); }

  private:
    std::map<std::string, std::vector<std::string>, std::less<>> words_;
};

}  // namespace evenspit
