// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "report/report.h"

namespace evenspit {

/// A word of the trade, or of this program, in a cook's words.
struct Topic {
    std::string_view name;
    std::vector<std::string_view> also{};  ///< other names that lead here
    std::string_view about{};              ///< in a few words, for the list
    std::vector<std::string> sentences{};  ///< a paragraph each
};

/// All of them, in the order of the list; limits and usual figures in the reader's units. Every topic_of() a
/// finding is one, by its name or another one.
std::vector<Topic> topics(UnitSystem units);

/// The one of that name, taken as same_name() does; nothing if there is none.
std::optional<Topic> find_topic(std::string_view name, UnitSystem units);

/// Names that lead to a topic, for whoever has mistyped one.
std::vector<std::string> topic_names();

/// The page of a topic.
std::string topic_text(const Topic& topic, const TextOptions& options);

/// The list of all.
std::string topics_text(const TextOptions& options);

/// One line that tells where to read more about what a load has to fix; "" if there is nothing to fix.
std::string read_more_text(const std::vector<Finding>& findings);

}  // namespace evenspit
