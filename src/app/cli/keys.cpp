// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>

#include "app/cli/common_words.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "report/key_report.h"
#include "units/quote.h"

namespace evenspit {
namespace {

enum class Told { keys, schema };

/// \throws UsageError with the nearest one
void refuse_unknown_path(const std::string& path) {
    const std::vector<std::string> known = key_paths();
    if (std::find(known.begin(), known.end(), path) != known.end()) return;
    const std::string guess = did_you_mean(path, known);
    throw UsageError(fmt::format("no section or key of a load file is called {}{}", in_quotes(path),
                                 guess.empty() ? "; evenspit keys lists all" : guess));
}

Outcome keys(const Request& request, const KeyWish& wish, Told told, const Surroundings& around) {
    if (told == Told::schema) return {load_schema(), computed};
    return {request.format == Format::json ? keys_json(wish) : keys_text(wish, text_options(request, around)),
            computed};
}

Request understood_keys(const Words& words) {
    Request request = common_request(words);
    const bool schema = words.flag("--schema");
    const std::string path = words.text("KEY").value_or("");
    if (schema && request.format == Format::json)
        throw UsageError("--schema is JSON already; take --json out");
    if (schema && !path.empty())
        throw UsageError("--schema is that of the whole load file; take the key out");
    if (!path.empty()) refuse_unknown_path(path);
    request.deed = [wish = KeyWish{path}, told = schema ? Told::schema : Told::keys](
                       const Request& asked, const Surroundings& around, Progress&) {
        return keys(asked, wish, told, around);
    };
    return request;
}

}  // namespace

Verb keys_verb() {
    return {.name = "keys",
            .summary = "What may stand in a load file: units, defaults, meaning",
            .example = "keys item",
            .words = {{WordSpec::Kind::operand, "KEY", "A section or a key: item, rod.width (default all)",
                       "", key_paths()},
                      json_flag(),
                      units_option(),
                      {WordSpec::Kind::flag, "--schema", "A JSON Schema of load files instead"},
                      output_option("Write it to FILE, whole or not at all")},
            .tells_status = false,
            .understand = understood_keys};
}

}  // namespace evenspit
