// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace evenspit {

/// "a", "a and b", "a, b and c", with `last` ("and", "or") before the last of them.
inline std::string listed(const std::vector<std::string>& names, std::string_view last) {
    std::string text;
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i > 0 && i + 1 < names.size()) text += ", ";
        if (i > 0 && i + 1 == names.size()) text.append(" ").append(last).append(" ");
        text += names[i];
    }
    return text;
}

}  // namespace evenspit
