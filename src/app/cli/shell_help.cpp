// SPDX-License-Identifier: MIT
// Verbs for whoever installs the program: its manual page, and what shells need to complete its words.
#include <algorithm>

#include "app/cli/common_words.h"
#include "app/cli/completion.h"
#include "app/cli/manual.h"
#include "app/cli/verbs.h"

namespace evenspit {

Verb man_verb() {
    return {.name = "man",
            .summary = "The manual page; to read it: evenspit man | man -l -",
            .example = "man -o evenspit.1",
            .words = {output_option("Write it to FILE, whole or not at all")},
            .tells_status = false,
            .understand = [](const Words& words) {
                Request request = common_request(words);
                request.deed = [](const Request&, const Surroundings&, Progress&) {
                    return Outcome{manual_page(all_verbs()), computed};
                };
                return request;
            }};
}

Verb completion_verb() {
    return {.name = "completion",
            .summary = "Teaches your shell to complete words: bash, zsh or fish",
            .example = "completion bash -o evenspit.bash",
            .words = {{WordSpec::Kind::operand, "SHELL", "bash, zsh or fish", "", shell_names()},
                      output_option("Write it to FILE, whole or not at all")},
            .tells_status = false,
            .understand = [](const Words& words) {
                Request request = common_request(words);
                const std::string name = words.text("SHELL").value_or("");
                if (name.empty()) throw UsageError("completion needs the name of a shell: completion bash");
                const std::vector<std::string>& names = shell_names();
                const auto found = std::find(names.begin(), names.end(), one_of("completion", name, names));
                request.deed = [shell = static_cast<Shell>(found - names.begin())](
                                   const Request&, const Surroundings&, Progress&) {
                    return Outcome{completion_script(all_verbs(), shell), computed};
                };
                return request;
            }};
}

}  // namespace evenspit
