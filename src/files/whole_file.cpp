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

// A file that goes away unless it is kept.
class Draft {
  public:
    explicit Draft(fs::path path) : path_(std::move(path)) {}
    Draft(const Draft&) = delete;
    Draft& operator=(const Draft&) = delete;
    ~Draft() {
        if (!path_.empty()) ::unlink(path_.c_str());
    }

    // Renaming is what makes it appear whole.
    [[nodiscard]] bool keep_as(const fs::path& name) {
        if (std::rename(path_.c_str(), name.c_str()) != 0) return false;
        path_.clear();
        return true;
    }

  private:
    fs::path path_;
};

// A new file beside the one to be written, -1 if there can be none. The name is short, so that it fits
// wherever the file's own does, and a draft that an earlier run was killed over stands in nobody's way.
std::pair<int, fs::path> open_draft(const fs::path& folder) {
    constexpr int tries = 1000;
    fs::path path;
    int descriptor = -1;
    for (int n = 0; n < tries; ++n) {
        path = folder / fmt::format(".{}-{}.part", ::getpid(), n);
        descriptor = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (descriptor >= 0 || errno != EEXIST) break;
    }
    return {descriptor, path};
}

bool write_all(int descriptor, std::string_view content) {
    while (!content.empty()) {
        const ssize_t written = ::write(descriptor, content.data(), content.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        content.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
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
