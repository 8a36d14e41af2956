// SPDX-License-Identifier: MIT
#include "geometry/gltf_guard.h"

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <string_view>

#include <fmt/format.h>

namespace evenspit::mesh_readers {

namespace {

// The parts of a scene nest ten deep at most, which leaves plenty for what a program keeps in `extras`.
constexpr int deepest = 100;

// A GLB begins with "glTF", its version and its length; each chunk with its own length and kind.
constexpr std::size_t file_header = 12, chunk_header = 8;

void check_nesting(const Source& source, std::string_view json, bool has_lines) {
    int depth = 0, line = 1;
    bool in_text = false;
    for (std::size_t at = 0; at < json.size(); ++at) {
        const char c = json[at];
        if (c == '\n') ++line;
        if (in_text) {
            if (c == '\\') ++at;
            if (c == '"') in_text = false;
        } else if (c == '"') {
            in_text = true;
        } else if (c == '[' || c == '{') {
            if (++depth > deepest) {
                refuse(source, has_lines ? line : 0, fmt::format("brackets {} deep", depth),
                       fmt::format("at most {}", deepest), "export it without extras");
            }
        } else if (c == ']' || c == '}') {
            --depth;
        }
    }
}

// The JSON of a GLB. What is wrong in other ways is left to the library to tell.
std::string_view check_chunks(const Source& source) {
    const std::size_t end = source.bytes.size();
    std::string_view json;
    for (std::size_t at = file_header; at + chunk_header <= end;) {
        std::uint32_t length = 0;
        std::memcpy(&length, source.bytes.data() + at, sizeof length);
        at += chunk_header;
        if (length > end - at) {
            refuse(source, 0, fmt::format("a chunk of {} bytes", length),
                   fmt::format("no more than the {} that follow", end - at),
                   "the file is cut short: save or copy it again");
        }
        if (at == file_header + chunk_header) json = source.bytes.substr(at, length);
        at += length;
    }
    return json;
}

}  // namespace

void check_gltf_bytes(const Source& source) {
    const bool is_binary = source.bytes.starts_with("glTF");
    check_nesting(source, is_binary ? check_chunks(source) : source.bytes, !is_binary);
}

bool leaves_folder(const std::string& name) {
    const std::filesystem::path path(name);
    return path.is_absolute() || std::any_of(path.begin(), path.end(),
                                             [](const std::filesystem::path& part) { return part == ".."; });
}

}  // namespace evenspit::mesh_readers
