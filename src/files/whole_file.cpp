// SPDX-License-Identifier: MIT
#include "files/whole_file.h"

#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <fstream>
#include <memory>
#include <new>
#include <stdexcept>
#include <string>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

#include <fmt/format.h>

#include "files/draft.h"
#include "units/error.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const fs::path& path, std::string found, std::string expected,
                         std::string mend = {}) {
    Complaint complaint;
    complaint.spot.file = path.string();
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

[[noreturn]] void refuse_place(const fs::path& path, int error) {
    refuse(path, std::generic_category().message(error), "a place where a file can be written",
           "name another file");
}

[[noreturn]] void fail(const fs::path& path) {
    throw std::system_error(errno, std::generic_category(), "cannot write " + path.string());
}

void write_in_place(const fs::path& path, std::string_view content) {
    Descriptor file(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
    if (!file.open()) refuse_place(path, errno);
    if (!write_all(file.number(), content) || !file.close()) fail(path);
}

// Where a path leads in the end; what is not there yet stays as it is named.
fs::path behind_links(const fs::path& path) {
    std::error_code error;
    const fs::path target = fs::weakly_canonical(path, error);
    return error ? path : target;
}

// The content safely on the disk beside its place; null for a device or a pipe, which has no such room.
std::unique_ptr<Draft> draft_of(const fs::path& path, const fs::path& place, std::string_view content) {
    struct stat before {};
    const bool exists = ::stat(place.c_str(), &before) == 0;
    if (exists && !S_ISREG(before.st_mode)) return nullptr;
    auto [descriptor, draft_path] = open_draft(place.parent_path());
    if (descriptor < 0) refuse_place(path, errno);
    Descriptor file(descriptor);
    auto draft = std::make_unique<Draft>(std::move(draft_path));
    if (exists && ::fchmod(file.number(), before.st_mode & 07777) != 0) fail(path);
    if (!write_all(file.number(), content) || ::fsync(file.number()) != 0 || !file.close()) fail(path);
    return draft;
}

}  // namespace

std::string read_whole_file(const fs::path& path) {
    std::error_code error;
    const auto status = fs::status(path, error);
    if (!fs::exists(status)) refuse(path, "no such file", "", "look at the name and the folder");
    if (fs::is_directory(status)) refuse(path, "a folder", "a file");
    // A pipe or a device could go on for ever.
    if (!fs::is_regular_file(status)) refuse(path, "neither a file nor a folder", "a file");
    const auto size = fs::file_size(path, error);
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

void refuse_unwritable(const fs::path& path) {
    const fs::path place = behind_links(path);
    struct stat before {};
    const bool exists = ::stat(place.c_str(), &before) == 0;
    if (exists && S_ISDIR(before.st_mode)) refuse_place(path, EISDIR);
    // Renaming would pass over a file that its owner locked against writing.
    if (exists && ::access(place.c_str(), W_OK) != 0) refuse_place(path, errno);
    if (exists && !S_ISREG(before.st_mode)) return;
    const fs::path folder = place.has_parent_path() ? place.parent_path() : fs::path(".");
    if (::access(folder.c_str(), W_OK | X_OK) != 0) refuse_place(path, errno);
}

void write_whole_file(const fs::path& path, std::string_view content) {
    refuse_unwritable(path);
    const fs::path place = behind_links(path);
    if (const std::unique_ptr<Draft> draft = draft_of(path, place, content)) {
        if (!draft->keep_as(place)) fail(path);
        return;
    }
    write_in_place(path, content);
}

void write_whole_files(const std::vector<WholeFile>& files) {
    for (const WholeFile& file : files) refuse_unwritable(file.path);
    std::vector<fs::path> places;
    std::vector<std::unique_ptr<Draft>> drafts;
    for (const WholeFile& file : files) {
        places.push_back(behind_links(file.path));
        drafts.push_back(draft_of(file.path, places.back(), file.bytes));
    }
    for (std::size_t n = 0; n < files.size(); ++n) {
        if (!drafts[n]) write_in_place(files[n].path, files[n].bytes);
    }
    for (std::size_t n = 0; n < files.size(); ++n) {
        if (drafts[n] && !drafts[n]->keep_as(places[n])) fail(files[n].path);
    }
}

}  // namespace evenspit
