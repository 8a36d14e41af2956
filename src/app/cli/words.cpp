// SPDX-License-Identifier: MIT
#include "app/cli/words.h"

namespace evenspit {

std::optional<std::string> Words::text(std::string_view key) const {
    const auto found = words_.find(key);
    if (found == words_.end() || found->second.empty()) return std::nullopt;
    return found->second.front();
}

std::vector<std::string> Words::texts(std::string_view key) const {
    const auto found = words_.find(key);
    return found == words_.end() ? std::vector<std::string>() : found->second;
}

}  // namespace evenspit
