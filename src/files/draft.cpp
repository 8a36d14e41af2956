// SPDX-License-Identifier: MIT
#include "files/draft.h"

#include <cerrno>
#include <fcntl.h>

#include <fmt/format.h>

namespace evenspit {

std::pair<int, std::filesystem::path> open_draft(const std::filesystem::path& folder) {
    constexpr int tries = 1000;
    std::filesystem::path path;
    int descriptor = -1;
    for (int n = 0; n < tries; ++n) {
        path = folder / fmt::format(".{}-{}{}", ::getpid(), n, draft_ending);
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

}  // namespace evenspit
