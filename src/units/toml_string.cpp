// SPDX-License-Identifier: MIT
#include "units/toml_string.h"

#include <fmt/format.h>

namespace evenspit {

std::string toml_string(std::string_view text) {
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') quoted += '\\';
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
            quoted += fmt::format("\\u{:04x}", static_cast<unsigned char>(c));
        } else {
            quoted += c;
        }
    }
    return quoted + '"';
}

}  // namespace evenspit
