// SPDX-License-Identifier: MIT
#include "app/cli/options.h"

#include "targets.h"

// Words of a command line, a line each.
void evenspit::fuzz::options(std::string_view bytes) {
    std::vector<std::string> words;
    while (!bytes.empty()) {
        const std::size_t end = bytes.find('\n');
        // The system ends words at a zero.
        const std::string_view word = bytes.substr(0, end);
        words.emplace_back(word.substr(0, word.find('\0')));
        bytes.remove_prefix(end == bytes.npos ? bytes.size() : end + 1);
    }
    try {
        parse_command_line(words);
    } catch (const UsageError&) {
    }
}
