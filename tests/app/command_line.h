// SPDX-License-Identifier: MIT
// What the parser of the command line makes of words.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "app/cli/options.h"
#include "app/cli/verb.h"

namespace evenspit::test {

/// What the words behind a verb are, as the parser finds them.
inline Words words_of(const std::vector<std::pair<std::string, std::string>>& given) {
    Words words;
    for (const auto& [key, word] : given) words.add(key, word);
    return words;
}

/// What it says of words that it does not understand.
inline std::string complaint(const std::vector<std::string>& words) {
    try {
        parse_command_line(words);
    } catch (const UsageError& error) {
        return error.what();
    }
    return "no complaint";
}

}  // namespace evenspit::test
