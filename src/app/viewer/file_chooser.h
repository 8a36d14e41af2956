// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace evenspit::viewer {

/// What file is asked for.
struct FileQuestion {
    bool saves = false;  ///< else a file that is there is chosen
    std::string title;   ///< of the dialogue
    std::filesystem::path folder{};
    std::string name{};                   ///< that is offered for what is saved
    std::string kind{};                   ///< what the files are called; "" for all files
    std::vector<std::string> patterns{};  ///< of their names: "*.toml"
};

/// Asks for a file with a dialogue that is not the viewer's own, and waits for it; nothing if it was called
/// off. May be called from any thread.
using FileChooser =
    std::function<std::optional<std::filesystem::path>(const FileQuestion&, const std::stop_token&)>;

/// The desktop's own dialogue; empty if it has none, or if Evenspit's module for it is missing. Takes up to
/// some seconds where the desktop has to start it.
FileChooser desktop_chooser();

}  // namespace evenspit::viewer
