// SPDX-License-Identifier: MIT
#include "app/cli/manual.h"

#include <string_view>

#include <fmt/format.h>

#include "app/cli/help_rows.h"
#include "report/tool.h"

namespace evenspit {
namespace {

/// A text as roff takes it: hyphens that are copied as such, no line that begins with a command.
std::string roff(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\') {
            out += "\\e";
        } else if (c == '-') {
            out += "\\-";
        } else {
            out += c == '\n' ? ' ' : c;
        }
    }
    return out.starts_with('.') || out.starts_with('\'') ? "\\&" + out : out;
}

std::string bold(std::string_view text) {
    return fmt::format("\\fB{}\\fR", roff(text));
}
std::string italic(std::string_view text) {
    return fmt::format("\\fI{}\\fR", roff(text));
}

/// A term and, set in from it, what it means.
std::string paragraph(const std::string& term, std::string_view words) {
    return fmt::format(".TP\n{}\n{}\n", term, roff(words));
}

/// "-o, --output FILE" with what is typed in bold.
std::string word_term(const WordSpec& word) {
    if (word.is_operand()) return italic(word.names);
    std::string term;
    std::string_view rest = word.names;
    while (true) {
        const std::size_t comma = rest.find(',');
        term += fmt::format("{}{}", term.empty() ? "" : ", ", bold(rest.substr(0, comma)));
        if (comma == std::string_view::npos) break;
        rest.remove_prefix(comma + 1);
    }
    return word.type.empty() ? term : fmt::format("{} {}", term, italic(word.type));
}

std::string verb_section(const Verb& verb) {
    std::string usage = bold(std::string(tool_name()) + " " + verb.name);
    for (const WordSpec& word : verb.words) {
        if (word.is_operand()) usage += fmt::format(" {}", italic(word.names));
    }
    std::string text = fmt::format(".SS {}\n{}\n", usage, roff(verb.summary + "."));
    for (const WordSpec& word : verb.words) text += paragraph(word_term(word), word.about);
    if (!verb.example.empty())
        text += fmt::format(".PP\nExample:\n.PP\n.RS 4\n.EX\n{}\n.EE\n.RE\n",
                            roff(std::string(tool_name()) + " " + verb.example));
    return text;
}

}  // namespace

std::string manual_page(const std::vector<Verb>& verbs) {
    const std::string name(tool_name());
    std::string text = fmt::format(".TH EVENSPIT 1 \"\" \"{} {}\"\n", name, roff(tool_version()));
    text +=
        fmt::format(".SH NAME\n{} \\- balance, grip, sag, clearance and cook of a load on a spit\n", name);
    text += fmt::format(".SH SYNOPSIS\n.B {}\n.I VERB\n.RI [ OPTIONS ]\n", name);
    text += fmt::format(".SH DESCRIPTION\n{}\n", roff(program_summary()));
    text += fmt::format(
        ".PP\nA load file is TOML. Every quantity in it is a text with its unit: {}\n{} lists its keys,\n"
        "{} explains the words of the trade.\n",
        roff("\"13 lb\", \"8 mm\"."), bold(name + " keys"), bold(name + " explain"));
    text +=
        ".PP\nA thermometer decides when meat is done, never this program. Rod, forks and weights come off "
        "hot.\n"
        "The makers' manuals of cooker and motor, and local fire rules, come first.\n";
    text += ".SH VERBS\n";
    for (const Verb& verb : verbs) text += verb_section(verb);
    text += ".SH OPTIONS\n";
    text += paragraph(fmt::format("{}, {}", bold("-h"), bold("--help")), help_about);
    text += paragraph(bold("--version"), version_about);
    text += ".SH EXIT STATUS\n";
    for (const HelpRow& row : status_rows()) text += paragraph(bold(row.name), row.about);
    text += ".SH ENVIRONMENT\n";
    for (const HelpRow& row : environment_rows()) text += paragraph(bold(row.name), row.about);
    return text;
}

}  // namespace evenspit
