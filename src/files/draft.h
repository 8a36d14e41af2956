// SPDX-License-Identifier: MIT
#pragma once

#include <cstdio>
#include <filesystem>
#include <string_view>
#include <unistd.h>
#include <utility>

namespace evenspit {

/// An open file of the system, closed with this.
class Descriptor {
  public:
    explicit Descriptor(int number) : number_(number) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }

    [[nodiscard]] bool open() const { return number_ >= 0; }
    [[nodiscard]] int number() const { return number_; }
    // Some file systems only tell on closing that they are full.
    [[nodiscard]] bool close() { return ::close(std::exchange(number_, -1)) == 0; }

  private:
    int number_;
};

/// A file that goes away unless it is kept.
class Draft {
  public:
    explicit Draft(std::filesystem::path path) : path_(std::move(path)) {}
    Draft(const Draft&) = delete;
    Draft& operator=(const Draft&) = delete;
    ~Draft() {
        if (!path_.empty()) ::unlink(path_.c_str());
    }

    // Renaming is what makes it appear whole.
    [[nodiscard]] bool keep_as(const std::filesystem::path& name) {
        if (std::rename(path_.c_str(), name.c_str()) != 0) return false;
        path_.clear();
        return true;
    }

  private:
    std::filesystem::path path_;
};

/// A new file in a folder, and its number, -1 if there can be none. The name is short, so that it fits
/// wherever another does, and one that an earlier run was killed over stands in nobody's way.
std::pair<int, std::filesystem::path> open_draft(const std::filesystem::path& folder);

/// How the names of such files end.
inline constexpr std::string_view draft_ending = ".part";

/// Whether all of it could be written; errno tells why not.
bool write_all(int descriptor, std::string_view content);

}  // namespace evenspit
