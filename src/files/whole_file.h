// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace evenspit {

/// Reads a regular file whole.
///
/// \throws InputError if it is missing, a folder or a device, cannot be read, or does not fit in memory.
std::string read_whole_file(const std::filesystem::path& path);

/// Writes a file so that it appears whole or not at all; one that stood there keeps its permissions, and its
/// content until the new one is safely on the disk. Follows links; a device or a pipe is written to as it is.
///
/// \throws InputError if nothing can be written at that place (no such folder, no permission, a folder of
/// that name)
/// \throws std::system_error if writing fails half-way; nothing is left behind
void write_whole_file(const std::filesystem::path& path, std::string_view bytes);

/// A file to be written.
struct WholeFile {
    std::filesystem::path path;
    std::string bytes;
};

/// Writes several files as write_whole_file() writes one. None appears before all of them are safely on the
/// disk; devices and pipes come just before that.
///
/// \throws as write_whole_file(); nothing is changed then, unless a name is lost between the check and the
/// end
void write_whole_files(const std::vector<WholeFile>& files);

/// Finds out whether write_whole_file() can be called for a place, before work is done whose result would be
/// lost.
///
/// \throws InputError as write_whole_file() does; that may still do so if the place changes meanwhile
void refuse_unwritable(const std::filesystem::path& path);

}  // namespace evenspit
