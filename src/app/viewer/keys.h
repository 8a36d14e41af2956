// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/viewer/desk.h"
#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// What a key that goes down asks for, as things stand on the desk; nothing for a key that means nothing now.
std::optional<Wish> wish_of(const KeyPressed& key, const Desk& desk);

/// The key that has this letter or sign on it in the layout in use; unknown for one that nothing goes by.
Key key_of_name(std::string_view name);

/// The keys and what they do, for the help page.
struct KeyHelp {
    std::string keys;
    std::string does;
};
std::vector<KeyHelp> key_help(UnitSystem units);

}  // namespace evenspit::viewer
