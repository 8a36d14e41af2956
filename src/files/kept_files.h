// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace evenspit {

/// Bytes that were dear to make, kept from run to run as files of one folder.
///
/// A help and no more: what cannot be read or written is silently made anew or not kept. A file counts only
/// if its key is the one asked for, whole, and its checksum is right, so that one that is torn, cut off or
/// foreign is as none. It appears by renaming: any number of programs may write and read at a time.
class KeptFiles {
  public:
    /// Some forty birds.
    static constexpr std::uintmax_t usual_most_bytes = 64'000'000;

    /// \param folder made when there is something to keep
    /// \param most_bytes that all files together may take; the oldest go
    explicit KeptFiles(std::filesystem::path folder, std::uintmax_t most_bytes = usual_most_bytes)
        : folder_(std::move(folder)), most_bytes_(most_bytes) {}

    /// What was kept under this key, nothing if there is none that can be trusted.
    [[nodiscard]] std::optional<std::string> find(std::string_view key) const;

    /// Keeps it, instead of what was kept under this key, or does nothing.
    void keep(std::string_view key, std::string_view bytes) const;

  private:
    [[nodiscard]] std::filesystem::path file_of(std::string_view key) const;
    void let_oldest_go() const;

    std::filesystem::path folder_;
    std::uintmax_t most_bytes_;
};

}  // namespace evenspit
