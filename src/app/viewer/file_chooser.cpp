// SPDX-License-Identifier: MIT
#include "app/viewer/file_chooser.h"

#include <array>
#include <dlfcn.h>

#include "app/viewer/desktop/desktop_api.h"

namespace evenspit::viewer {
namespace {

/// The module's functions; null where there are none that fit. It stays open.
const desktop::Functions* opened() {
    void* const handle = ::dlopen("libevenspit_desktop.so", RTLD_NOW | RTLD_LOCAL);
    if (handle == nullptr) return nullptr;
    using Entry = const desktop::Functions* (*)();
    const auto entry = reinterpret_cast<Entry>(::dlsym(handle, desktop::entry_name));
    if (entry == nullptr) return nullptr;
    const desktop::Functions* const functions = entry();
    return functions->version == desktop::api_version ? functions : nullptr;
}

std::optional<std::filesystem::path> choose(const desktop::Functions& functions, const FileQuestion& question,
                                            const std::stop_token& stop) {
    constexpr std::size_t longest_path = 4096;
    const std::string folder = question.folder.string();
    std::vector<const char*> patterns;
    patterns.reserve(question.patterns.size());
    for (const std::string& pattern : question.patterns) patterns.push_back(pattern.c_str());
    const desktop::Question asked_for{question.saves,        question.title.c_str(), folder.c_str(),
                                      question.name.c_str(), question.kind.c_str(),  patterns.data(),
                                      patterns.size()};
    std::stop_token token = stop;
    const desktop::Asked asked{
        [](void* who) { return !static_cast<std::stop_token*>(who)->stop_requested(); }, &token};
    std::array<char, longest_path> chosen{};
    const desktop::Outcome outcome = functions.choose_file(&asked_for, &asked, chosen.data(), chosen.size());
    if (outcome != desktop::Outcome::chosen) return std::nullopt;
    return std::filesystem::path(chosen.data());
}

}  // namespace

FileChooser desktop_chooser() {
    static const desktop::Functions* const functions = opened();
    if (functions == nullptr || !functions->has_dialogue()) return {};
    return [](const FileQuestion& question, const std::stop_token& stop) {
        return choose(*functions, question, stop);
    };
}

}  // namespace evenspit::viewer
