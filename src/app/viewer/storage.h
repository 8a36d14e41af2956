// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/viewer/layout.h"
#include "app/viewer/palette.h"
#include "units/quantity.h"

namespace evenspit::viewer {

/// As little as may be left of the skin: less would be nothing to take hold of.
inline constexpr double least_skin = 0.05;

/// What the viewer remembers from one run to the next.
struct Settings {
    int width = 1280;  ///< of the window, in the display's own points
    int height = 800;
    UnitSystem units = UnitSystem::metric;
    Theme theme = Theme::light;
    double scale = 0;                           ///< of letters and lines; 0: as the display says
    bool welcomed = false;                      ///< the first screen's hints were seen and put away
    bool through_skin = false;                  ///< the skin is drawn as glass
    double skin_opacity = 0.26;                 ///< how much of it is seen then
    Splits splits{};                            ///< how much room hands gave the parts of the window
    std::vector<std::filesystem::path> recent;  ///< load files, the last one first

    /// Puts a file first among the recent ones; eight are kept.
    void remember(const std::filesystem::path& file);
};

/// Settings as a TOML text, and back. What a damaged text does not tell stays at its default.
std::string settings_text(const Settings& settings);
Settings settings_from(std::string_view text);

/// The viewer's own files: settings, and what was not yet saved when the program ended.
///
/// Nothing here throws: a viewer without a writable home works, and forgets.
class Storage {
  public:
    /// Keeps nothing.
    Storage() = default;
    Storage(std::filesystem::path settings_folder, std::filesystem::path state_folder)
        : settings_folder_(std::move(settings_folder)), state_folder_(std::move(state_folder)) {}

    /// Where a home of the XDG kind has them; one that keeps nothing if there is no home.
    ///
    /// \param variable the value of an environment variable
    static Storage of_home(const std::function<std::optional<std::string>(const std::string&)>& variable);

    [[nodiscard]] Settings settings() const;
    void keep(const Settings& settings) const;

    /// Keeps the text of a load that is not saved yet, under the name of its file ("" for a new load).
    void keep_unsaved(const std::filesystem::path& file, const std::string& text) const;
    void forget_unsaved(const std::filesystem::path& file) const;
    /// What was kept and never saved.
    [[nodiscard]] std::optional<std::string> unsaved(const std::filesystem::path& file) const;

  private:
    [[nodiscard]] std::filesystem::path unsaved_path(const std::filesystem::path& file) const;

    std::filesystem::path settings_folder_, state_folder_;
};

/// The content of a file; nothing if it cannot be read.
std::optional<std::string> file_text(const std::filesystem::path& file);

}  // namespace evenspit::viewer
