// SPDX-License-Identifier: MIT
#include "files/kept_files.h"

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <fcntl.h>
#include <sys/stat.h>
#include <system_error>
#include <vector>

#include <fmt/format.h>

#include "files/draft.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;

// A file: this, the sizes of key and content, both of them, and the checksum of all that.
constexpr std::string_view opening = "evenspit keeps 1";
constexpr std::string_view ending = ".kept";
constexpr std::size_t number_size = sizeof(std::uint64_t);
constexpr std::size_t head_size = opening.size() + 2 * number_size;

// Word by word, each step one to one: bytes changed within one word always show, others but for one in 2^64.
std::uint64_t checksum(std::string_view bytes) {
    std::uint64_t sum = 0x9e3779b97f4a7c15U ^ bytes.size();
    while (!bytes.empty()) {
        std::uint64_t word = 0;
        const std::size_t size = std::min(bytes.size(), number_size);
        std::memcpy(&word, bytes.data(), size);
        bytes.remove_prefix(size);
        sum = (sum ^ word) * 0xff51afd7ed558ccdU;  // odd
        sum ^= sum >> 32U;
    }
    return sum;
}

void append_number(std::string& to, std::uint64_t number) {
    char bytes[number_size];
    std::memcpy(bytes, &number, number_size);
    to.append(bytes, number_size);
}

std::uint64_t number_at(std::string_view bytes, std::size_t at) {
    std::uint64_t number = 0;
    std::memcpy(&number, bytes.data() + at, number_size);
    return number;
}

// A regular file's bytes; "" if there is none, it is larger, or it cannot be read.
std::string bytes_of(const fs::path& path, std::uintmax_t most) {
    const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
    struct stat status {};
    if (!file.open() || ::fstat(file.number(), &status) != 0 || !S_ISREG(status.st_mode)) return {};
    if (status.st_size <= 0 || static_cast<std::uintmax_t>(status.st_size) > most) return {};
    std::string bytes(static_cast<std::size_t>(status.st_size), '\0');
    for (std::size_t got = 0; got < bytes.size();) {
        const ssize_t more = ::read(file.number(), bytes.data() + got, bytes.size() - got);
        if (more < 0 && errno == EINTR) continue;
        if (more <= 0) return {};
        got += static_cast<std::size_t>(more);
    }
    return bytes;
}

}  // namespace

fs::path KeptFiles::file_of(std::string_view key) const {
    return folder_ / fmt::format("{:016x}{}", checksum(key), ending);
}

std::optional<std::string> KeptFiles::find(std::string_view key) const {
    std::string bytes = bytes_of(file_of(key), most_bytes_);
    if (bytes.size() < head_size + key.size() + number_size || !bytes.starts_with(opening))
        return std::nullopt;
    const std::string_view all = bytes;
    if (number_at(all, opening.size()) != key.size() || all.substr(head_size, key.size()) != key)
        return std::nullopt;
    const std::size_t content_size = all.size() - head_size - key.size() - number_size;
    if (number_at(all, opening.size() + number_size) != content_size) return std::nullopt;
    if (number_at(all, all.size() - number_size) != checksum(all.substr(0, all.size() - number_size)))
        return std::nullopt;
    bytes.resize(bytes.size() - number_size);
    bytes.erase(0, head_size + key.size());
    return bytes;
}

void KeptFiles::keep(std::string_view key, std::string_view bytes) const {
    if (bytes.size() > most_bytes_ / 4) return;
    std::error_code error;
    fs::create_directories(folder_.parent_path(), error);
    // As the XDG base directories have it: for the user alone.
    if (::mkdir(folder_.c_str(), 0700) != 0 && errno != EEXIST) return;
    std::string whole(opening);
    append_number(whole, key.size());
    append_number(whole, bytes.size());
    whole.append(key).append(bytes);
    append_number(whole, checksum(whole));

    auto [descriptor, path] = open_draft(folder_);
    if (descriptor < 0) return;
    Descriptor file(descriptor);
    Draft draft(std::move(path));
    if (!write_all(file.number(), whole) || !file.close()) return;
    if (draft.keep_as(file_of(key))) let_oldest_go();
}

void KeptFiles::let_oldest_go() const {
    struct Kept {
        fs::file_time_type written;
        std::uintmax_t bytes;
        fs::path path;
    };
    std::vector<Kept> kept;
    std::uintmax_t sum = 0;
    std::error_code error;
    const auto abandoned = fs::file_time_type::clock::now() - std::chrono::hours(1);
    for (fs::directory_iterator at(folder_, error), end; !error && at != end; at.increment(error)) {
        // Another program may take it away meanwhile.
        std::error_code gone;
        const Kept file{at->last_write_time(gone), at->file_size(gone), at->path()};
        if (gone) continue;
        if (file.path.extension() == draft_ending && file.written < abandoned) fs::remove(file.path, gone);
        if (file.path.extension() != ending) continue;
        sum += file.bytes;
        kept.push_back(file);
    }
    std::sort(kept.begin(), kept.end(), [](const Kept& a, const Kept& b) { return a.written < b.written; });
    for (const Kept& oldest : kept) {
        if (sum <= most_bytes_) return;
        fs::remove(oldest.path, error);
        sum -= oldest.bytes;
    }
}

}  // namespace evenspit
