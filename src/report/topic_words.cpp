// SPDX-License-Identifier: MIT
#include "report/topic_words.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/text_layout.h"
#include "report/tool.h"
#include "report/topic_pages.h"
#include "units/listed.h"
#include "units/nearest.h"

namespace evenspit {
namespace {

bool leads_to(std::string_view name, const Topic& topic) {
    return same_name(name, topic.name) ||
           std::any_of(topic.also.begin(), topic.also.end(),
                       [name](std::string_view other) { return same_name(name, other); });
}

}  // namespace

std::vector<Topic> topics(UnitSystem units) {
    std::vector<Topic> all = turning_topics(units);
    for (Topic& topic : cooking_topics(units)) all.push_back(std::move(topic));
    return all;
}

std::optional<Topic> find_topic(std::string_view name, UnitSystem units) {
    for (Topic& topic : topics(units)) {
        if (leads_to(name, topic)) return std::move(topic);
    }
    return std::nullopt;
}

std::vector<std::string> topic_names() {
    std::vector<std::string> names;
    for (const Topic& topic : topics(UnitSystem::metric)) {
        names.emplace_back(topic.name);
        names.insert(names.end(), topic.also.begin(), topic.also.end());
    }
    return names;
}

std::string topic_text(const Topic& topic, const TextOptions& options) {
    std::string text = fmt::format("{}: {}\n", topic.name, topic.about);
    for (const std::string& sentence : topic.sentences) {
        std::string mark = "- ";
        for (const std::string& line : wrapped(sentence, options.width - 2)) {
            text += mark + line + '\n';
            mark = "  ";
        }
    }
    return text;
}

std::string topics_text(const TextOptions& options) {
    const std::vector<Topic> all = topics(options.units);
    std::size_t width = 0;
    for (const Topic& topic : all) width = std::max(width, topic.name.size());
    std::string text;
    for (const Topic& topic : all)
        text += shortened(fmt::format("{:{}}  {}", topic.name, width, topic.about), options.width) + '\n';
    return text;
}

std::string read_more_text(const std::vector<Finding>& findings) {
    // Three are enough to look up at once.
    constexpr std::size_t most = 3;
    std::vector<std::string> names;
    for (const Finding& finding : findings) {
        if (finding.level == Level::ready || names.size() == most) continue;
        std::string name(topic_of(finding.code));
        if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
    }
    if (names.empty()) return "";
    const std::string first = fmt::format("{} explain {}", tool_name(), names.front());
    names.erase(names.begin());
    return names.empty() ? fmt::format("To read more: {}", first)
                         : fmt::format("To read more: {} (or {})", first, listed(names, "or"));
}

}  // namespace evenspit
