// SPDX-License-Identifier: MIT
#include "app/cli/completion.h"

#include <algorithm>
#include <functional>
#include <string_view>

#include <fmt/format.h>

#include "report/tool.h"

namespace evenspit {
namespace {

using Kind = WordSpec::Kind;

bool takes_a_value(const WordSpec& word) {
    return word.kind == Kind::value || word.kind == Kind::values;
}

/// "-o" and "--output" of "-o,--output".
std::vector<std::string> names_of_option(const WordSpec& word) {
    std::vector<std::string> names;
    std::string_view rest = word.names;
    while (true) {
        const std::size_t comma = rest.find(',');
        names.emplace_back(rest.substr(0, comma));
        if (comma == std::string_view::npos) return names;
        rest.remove_prefix(comma + 1);
    }
}

/// The options of a verb, its help among them.
std::vector<std::string> option_names_of(const Verb& verb) {
    std::vector<std::string> names{"-h", "--help"};
    for (const WordSpec& word : verb.words) {
        if (word.is_operand()) continue;
        for (std::string& name : names_of_option(word)) names.push_back(std::move(name));
    }
    return names;
}

const WordSpec* operand_of(const Verb& verb) {
    const auto found = std::find_if(verb.words.begin(), verb.words.end(), std::mem_fn(&WordSpec::is_operand));
    return found == verb.words.end() ? nullptr : &*found;
}

/// With a mark before each of these characters.
std::string escaped(std::string_view text, std::string_view special) {
    std::string out;
    for (const char c : text) {
        if (special.find(c) != std::string_view::npos) out += '\\';
        out += c;
    }
    return out;
}

/// In single quotes, as all three shells read them.
std::string single_quoted(std::string_view text, Shell shell) {
    std::string out = "'";
    for (const char c : text) {
        if (c == '\'') {
            out += shell == Shell::fish ? "\\'" : "'\\''";
        } else {
            if (c == '\\' && shell == Shell::fish) out += '\\';
            out += c;
        }
    }
    return out + "'";
}

// --- bash ---

std::string bash_offer(const WordSpec& word) {
    if (!word.words.empty())
        return fmt::format("_evenspit_words {}",
                           single_quoted(fmt::format("{}", fmt::join(word.words, "\n")), Shell::bash));
    if (word.files.empty()) return ":";
    return word.files == "*" ? "_evenspit_files" : "_evenspit_files " + word.files;
}

std::string bash_script(const std::vector<Verb>& verbs) {
    std::vector<std::string> names;
    for (const Verb& verb : verbs) names.push_back(verb.name);
    std::string script = R"(# bash completion of evenspit, written by: evenspit completion bash

# Offers words of a list, one a line; those with spaces are quoted.
_evenspit_words() {
    local IFS=$'\n' i
    COMPREPLY=($(compgen -W "$1" -- "$cur"))
    for i in "${!COMPREPLY[@]}"; do COMPREPLY[i]=$(printf '%q' "${COMPREPLY[i]}"); done
}

# Offers files, or those with that ending and folders.
_evenspit_files() {
    local IFS=$'\n'
    compopt -o filenames 2>/dev/null
    if [ -z "$1" ]; then
        COMPREPLY=($(compgen -f -- "$cur"))
    else
        COMPREPLY=($(compgen -f -X "!*.$1" -- "$cur") $(compgen -d -- "$cur"))
    fi
}

_evenspit() {
    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD - 1]}
    COMPREPLY=()
    # "--units=us" comes as three words.
    if [ "$cur" = "=" ]; then
        cur=
    elif [ "$prev" = "=" ]; then
        prev=${COMP_WORDS[COMP_CWORD - 2]}
    fi
    if [ "$COMP_CWORD" -eq 1 ]; then
)";
    names.insert(names.end(), {"--help", "--version"});
    script += fmt::format("        _evenspit_words {}\n        return\n    fi\n",
                          single_quoted(fmt::format("{}", fmt::join(names, "\n")), Shell::bash));
    script += "    case ${COMP_WORDS[1]} in\n";
    for (const Verb& verb : verbs) {
        script += fmt::format("        {})\n            case $prev in\n", verb.name);
        for (const WordSpec& word : verb.words) {
            if (!takes_a_value(word)) continue;
            script += fmt::format("                {}) {}; return ;;\n",
                                  fmt::join(names_of_option(word), " | "), bash_offer(word));
        }
        script += "            esac\n            case $cur in\n";
        script += fmt::format(
            "                -*) _evenspit_words {} ;;\n",
            single_quoted(fmt::format("{}", fmt::join(option_names_of(verb), "\n")), Shell::bash));
        if (const WordSpec* operand = operand_of(verb))
            script += fmt::format("                *) {} ;;\n", bash_offer(*operand));
        script += "            esac\n            ;;\n";
    }
    return script + "    esac\n}\ncomplete -F _evenspit evenspit\n";
}

// --- zsh ---

/// What follows a name in a spec of _arguments: ":FILE:_files".
std::string zsh_value(const WordSpec& word) {
    const std::string name = escaped(word.type.empty() ? word.key() : word.type, ":");
    if (!word.words.empty()) {
        std::vector<std::string> words;
        for (const std::string& each : word.words) words.push_back(escaped(each, " :()\\"));
        return fmt::format(":{}:({})", name, fmt::join(words, " "));
    }
    if (word.files.empty()) return fmt::format(":{}: ", name);
    return word.files == "*" ? fmt::format(":{}:_files", name)
                             : fmt::format(":{}:_files -g \"*.{}\"", name, word.files);
}

std::string zsh_option(const WordSpec& word) {
    const std::string about = escaped(word.about, "[]:\\");
    const std::string value = takes_a_value(word) ? zsh_value(word) : "";
    const std::vector<std::string> names = names_of_option(word);
    const auto quoted = [](const std::string& text) { return single_quoted(text, Shell::zsh); };
    if (names.size() == 1) {
        const std::string again = word.kind == Kind::values ? "*" : "";
        return quoted(fmt::format("{}{}[{}]{}", again, names.front(), about, value));
    }
    return fmt::format("{}{{{}}}{}", quoted(fmt::format("({})", fmt::join(names, " "))),
                       fmt::join(names, ","), quoted(fmt::format("[{}]{}", about, value)));
}

std::string zsh_script(const std::vector<Verb>& verbs) {
    std::string script =
        "#compdef evenspit\n# zsh completion of evenspit, written by: evenspit completion zsh\n\n"
        "_evenspit() {\n"
        "    if (( CURRENT == 2 )); then\n"
        "        local -a verbs=(\n";
    for (const Verb& verb : verbs)
        script += fmt::format("            {}\n",
                              single_quoted(verb.name + ":" + escaped(verb.summary, ":\\"), Shell::zsh));
    script +=
        "        )\n"
        "        _describe 'verb' verbs\n"
        "        return\n"
        "    fi\n"
        "    local verb=$words[2]\n"
        "    shift words\n"
        "    (( CURRENT-- ))\n"
        "    case $verb in\n";
    for (const Verb& verb : verbs) {
        script += fmt::format("        {})\n            _arguments", verb.name);
        std::vector<std::string> specs{R"('(-h --help)'{-h,--help}'[Print help and exit]')"};
        for (const WordSpec& word : verb.words) {
            if (!word.is_operand()) {
                specs.push_back(zsh_option(word));
            } else {
                specs.push_back(single_quoted(
                    fmt::format("{}{}", word.kind == Kind::operand ? "1" : "*", zsh_value(word)),
                    Shell::zsh));
            }
        }
        for (const std::string& spec : specs) script += " \\\n                " + spec;
        script += "\n            ;;\n";
    }
    // Loaded by name or sourced.
    return script +
           "    esac\n}\n\nif [[ $zsh_eval_context[-1] == loadautofunc ]]; then\n"
           "    _evenspit \"$@\"\nelse\n    compdef _evenspit evenspit\nfi\n";
}

// --- fish ---

std::string fish_words(const WordSpec& word) {
    std::vector<std::string> words;
    for (const std::string& each : word.words) words.push_back(escaped(each, " \\'\"()"));
    return single_quoted(fmt::format("{}", fmt::join(words, " ")), Shell::fish);
}

/// What an option takes.
std::string fish_value(const WordSpec& word) {
    if (!takes_a_value(word)) return "";
    if (!word.words.empty()) return fmt::format(" -x -a {}", fish_words(word));
    return word.files.empty() ? " -x" : " -r -F";
}

std::string fish_script(const std::vector<Verb>& verbs) {
    std::string script =
        "# fish completion of evenspit, written by: evenspit completion fish\n\n"
        "function __evenspit_no_verb\n"
        "    test (count (commandline -opc)) -eq 1\n"
        "end\n"
        "function __evenspit_verb\n"
        "    set -l words (commandline -opc)\n"
        "    test (count $words) -ge 2; and test \"$words[2]\" = $argv[1]\n"
        "end\n\n"
        "complete -c evenspit -f\n";
    const auto about = [](const std::string& text) { return single_quoted(text, Shell::fish); };
    script += "complete -c evenspit -n __evenspit_no_verb -l version -d 'Print the version and exit'\n";
    script += "complete -c evenspit -s h -l help -d 'Print help and exit'\n";
    for (const Verb& verb : verbs)
        script += fmt::format("complete -c evenspit -n __evenspit_no_verb -a {} -d {}\n", verb.name,
                              about(verb.summary));
    for (const Verb& verb : verbs) {
        const std::string head = fmt::format("complete -c evenspit -n '__evenspit_verb {}'", verb.name);
        for (const WordSpec& word : verb.words) {
            if (word.is_operand()) {
                if (!word.words.empty()) {
                    script += fmt::format("{} -a {}\n", head, fish_words(word));
                } else if (!word.files.empty()) {
                    script += word.files == "*" ? head + " -F\n"
                                                : fmt::format("{} -k -a '(__fish_complete_suffix .{})'\n",
                                                              head, word.files);
                }
                continue;
            }
            std::string names;
            for (const std::string& name : names_of_option(word))
                names += name.starts_with("--") ? fmt::format(" -l {}", name.substr(2))
                                                : fmt::format(" -s {}", name.substr(1));
            script += fmt::format("{}{}{} -d {}\n", head, names, fish_value(word), about(word.about));
        }
    }
    return script;
}

}  // namespace

const std::vector<std::string>& shell_names() {
    static const std::vector<std::string> names{"bash", "zsh", "fish"};
    return names;
}

std::string completion_script(const std::vector<Verb>& verbs, Shell shell) {
    switch (shell) {
        case Shell::bash:
            return bash_script(verbs);
        case Shell::zsh:
            return zsh_script(verbs);
        case Shell::fish:
            return fish_script(verbs);
    }
    return "";
}

}  // namespace evenspit
