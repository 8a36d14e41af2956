// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace evenspit {

/// Reads a regular file whole.
///
/// \throws InputError if it is missing, a folder or a device, cannot be read, or does not fit in memory.
std::string read_whole_file(const std::filesystem::path& path);

/// Writes a file so that it appears whole or not at all: under another name beside it first, then moved to
/// its place. One that stood there before stays as it was if anything fails.
///
/// \throws InputError if it cannot be written.
void write_whole_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace evenspit
