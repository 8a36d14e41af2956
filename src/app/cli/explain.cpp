// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "app/cli/common_words.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "report/topic_words.h"
#include "units/quote.h"

namespace evenspit {
namespace {

Outcome explain(const Request& request, const std::optional<Topic>& topic, const Surroundings& around) {
    const TextOptions options = text_options(request, around);
    return {topic ? topic_text(*topic, options) : topics_text(options), computed};
}

Request understood_explain(const Words& words) {
    Request request = common_request(words);
    const std::string name = fmt::format("{}", fmt::join(words.texts("TOPIC"), " "));
    std::optional<Topic> topic;
    if (!name.empty()) {
        topic = find_topic(name, request.units);
        const std::string guess = topic ? "" : did_you_mean(name, topic_names());
        if (!topic)
            throw UsageError(fmt::format("no topic is called {}{}", in_quotes(name),
                                         guess.empty() ? "; evenspit explain lists all" : guess));
    }
    request.deed = [topic](const Request& asked, const Surroundings& around, Progress&) {
        return explain(asked, topic, around);
    };
    return request;
}

/// The topics' own names.
std::vector<std::string> topic_words() {
    std::vector<std::string> names;
    for (const Topic& topic : topics(UnitSystem::metric)) names.emplace_back(topic.name);
    return names;
}

}  // namespace

Verb explain_verb() {
    return {.name = "explain",
            .summary = "A word of the trade in plain words: grip, clock, rod line",
            .example = "explain grip",
            .words = {{WordSpec::Kind::operands, "TOPIC", "What to explain (default: the list of topics)", "",
                       topic_words()},
                      units_option()},
            .tells_status = false,
            .understand = understood_explain};
}

}  // namespace evenspit
