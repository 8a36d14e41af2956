// SPDX-License-Identifier: MIT
#include "app/viewer/storage.h"

#include <algorithm>
#include <cstdint>
#include <exception>
#include <fstream>
#include <iterator>
#include <system_error>

#include <fmt/format.h>

#include "files/whole_file.h"
#include "load/toml_tree.h"
#include "units/toml_string.h"

namespace evenspit::viewer {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_recent = 8;
constexpr const char* settings_name = "viewer.toml";

void write(const fs::path& folder, const std::string& name, const std::string& text) {
    if (folder.empty()) return;
    try {
        fs::create_directories(folder);
        write_whole_file(folder / name, text);
    } catch (const std::exception&) {
        // A home that takes no files: nothing is remembered.
    }
}

// FNV-1a; only tells names apart.
std::uint64_t name_number(const std::string& name) {
    std::uint64_t hash = 14695981039346656037U;
    for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211U;
    return hash;
}

}  // namespace

void Settings::remember(const fs::path& file) {
    std::erase(recent, file);
    recent.insert(recent.begin(), file);
    if (recent.size() > most_recent) recent.resize(most_recent);
}

std::string settings_text(const Settings& settings) {
    std::string text = fmt::format(
        "width = {}\nheight = {}\nunits = \"{}\"\ntheme = \"{}\"\nscale = {}\nwelcomed = {}\nthrough_skin = "
        "{}\nskin_opacity = {}\nside_share = {}\ncharts_share = {}\nscene_share = "
        "{}\nrecent = [\n",
        settings.width, settings.height, settings.units == UnitSystem::us ? "us" : "metric",
        settings.theme == Theme::dark ? "dark" : "light", settings.scale, settings.welcomed,
        settings.through_skin, settings.skin_opacity, settings.splits.side, settings.splits.charts,
        settings.splits.scene);
    for (const fs::path& file : settings.recent) text += fmt::format("    {},\n", toml_string(file.string()));
    return text + "]\n";
}

Settings settings_from(std::string_view text) {
    Settings settings;
    TomlNode root;
    try {
        root = parse_toml(text, settings_name);
    } catch (const std::exception&) {
        return settings;
    }
    const auto number = [&](const char* key, double least, double most, double otherwise) {
        const TomlNode* node = root.find(key);
        const bool usable = node != nullptr && node->kind == TomlNode::Kind::number &&
                            node->number >= least && node->number <= most;
        return usable ? node->number : otherwise;
    };
    const auto flag = [&](const char* key) {
        const TomlNode* node = root.find(key);
        return node != nullptr && node->kind == TomlNode::Kind::boolean && node->boolean;
    };
    settings.width = static_cast<int>(number("width", 640, 16384, settings.width));
    settings.height = static_cast<int>(number("height", 480, 16384, settings.height));
    settings.scale = number("scale", 0.5, 4, 0);
    settings.skin_opacity = number("skin_opacity", least_skin, 0.99, settings.skin_opacity);
    settings.splits.side = number("side_share", 0.01, 0.99, 0);
    settings.splits.charts = number("charts_share", 0.01, 0.99, 0);
    settings.splits.scene = number("scene_share", 0.01, 0.99, 0);
    settings.welcomed = flag("welcomed");
    settings.through_skin = flag("through_skin");
    if (const TomlNode* units = root.find("units"); units != nullptr && units->text == "us")
        settings.units = UnitSystem::us;
    if (const TomlNode* theme = root.find("theme"); theme != nullptr && theme->text == "dark")
        settings.theme = Theme::dark;
    if (const TomlNode* recent = root.find("recent"); recent != nullptr) {
        for (const TomlNode& file : recent->elements) {
            if (file.kind == TomlNode::Kind::text && settings.recent.size() < most_recent)
                settings.recent.emplace_back(file.text);
        }
    }
    return settings;
}

Storage Storage::of_home(const std::function<std::optional<std::string>(const std::string&)>& variable) {
    const auto folder = [&](const char* own, const char* in_home) -> fs::path {
        if (const auto named = variable(own); named && fs::path(*named).is_absolute())
            return fs::path(*named) / "evenspit";
        if (const auto home = variable("HOME"); home && !home->empty())
            return fs::path(*home) / in_home / "evenspit";
        return {};
    };
    return {folder("XDG_CONFIG_HOME", ".config"), folder("XDG_STATE_HOME", ".local/state")};
}

Settings Storage::settings() const {
    if (settings_folder_.empty()) return {};
    return settings_from(file_text(settings_folder_ / settings_name).value_or(""));
}

void Storage::keep(const Settings& settings) const {
    write(settings_folder_, settings_name, settings_text(settings));
}

fs::path Storage::unsaved_path(const fs::path& file) const {
    std::error_code ignored;
    const fs::path whole = file.empty() ? file : fs::absolute(file, ignored).lexically_normal();
    return fmt::format("unsaved-{:016x}.toml", name_number(whole.string()));
}

void Storage::keep_unsaved(const fs::path& file, const std::string& text) const {
    write(state_folder_, unsaved_path(file).string(), text);
}

void Storage::forget_unsaved(const fs::path& file) const {
    if (state_folder_.empty()) return;
    std::error_code ignored;
    fs::remove(state_folder_ / unsaved_path(file), ignored);
}

std::optional<std::string> Storage::unsaved(const fs::path& file) const {
    return state_folder_.empty() ? std::nullopt : file_text(state_folder_ / unsaved_path(file));
}

std::optional<std::string> file_text(const fs::path& file) {
    std::error_code error;
    if (!fs::is_regular_file(file, error)) return std::nullopt;
    std::ifstream in(file, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    return in.bad() ? std::nullopt : std::optional(std::move(text));
}

}  // namespace evenspit::viewer
