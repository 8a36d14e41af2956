// SPDX-License-Identifier: MIT
#include "geometry/whole_file.h"

#include <cerrno>
#include <fstream>
#include <new>
#include <stdexcept>
#include <system_error>
#include <unistd.h>

#include <fmt/format.h>

#include "units/error.h"

namespace evenspit {

namespace {

[[noreturn]] void refuse(const std::filesystem::path& path, std::string found, std::string expected,
                         std::string mend = {}) {
    Complaint complaint;
    complaint.spot.file = path.string();
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

}  // namespace

std::string read_whole_file(const std::filesystem::path& path) {
    std::error_code error;
    const auto status = std::filesystem::status(path, error);
    if (!std::filesystem::exists(status)) refuse(path, "no such file", "", "look at the name and the folder");
    if (std::filesystem::is_directory(status)) refuse(path, "a folder", "a file");
    // A pipe or a device could go on for ever.
    if (!std::filesystem::is_regular_file(status)) refuse(path, "neither a file nor a folder", "a file");
    const auto size = std::filesystem::file_size(path, error);
    if (error) refuse(path, "a file that cannot be read: " + error.message(), "");
    try {
        std::string bytes(std::size_t(size), '\0');
        std::ifstream file(path, std::ios::binary);
        if (!file.read(bytes.data(), std::streamsize(bytes.size()))) {
            refuse(path, "a file that cannot be read", "", "look at its permissions");
        }
        return bytes;
    } catch (const std::bad_alloc&) {
        refuse(path, fmt::format("{} bytes", size), "a file that fits in memory");
    } catch (const std::length_error&) {
        refuse(path, fmt::format("{} bytes", size), "a file that fits in memory");
    }
}

void write_whole_file(const std::filesystem::path& path, std::string_view bytes) {
    // In the same folder, so that moving it cannot fail half-way.
    std::filesystem::path part = path;
    part.replace_filename(fmt::format(".{}.{}.part", path.filename().string(), ::getpid()));
    std::error_code error;
    {
        std::ofstream file(part, std::ios::binary | std::ios::trunc);
        file.write(bytes.data(), std::streamsize(bytes.size()));
        file.close();
        if (!file) error = std::error_code(errno, std::generic_category());
    }
    if (!error) std::filesystem::rename(part, path, error);
    if (error) {
        std::error_code ignored;
        std::filesystem::remove(part, ignored);
        refuse(path, "a place that cannot be written: " + error.message(), "",
               "name a file in a folder that exists and takes files");
    }
}

}  // namespace evenspit
