// SPDX-License-Identifier: MIT
// Files for tests: a folder of their own, and binary data put together by hand.
#pragma once

#include <algorithm>
#include <bit>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <unistd.h>

#include <gtest/gtest.h>

namespace evenspit::test {

/// A folder for one test, gone afterwards.
class FolderTest : public ::testing::Test {
  protected:
    FolderTest() {
        folder = std::filesystem::path(::testing::TempDir()) / ("evenspit-" + std::to_string(::getpid()));
        std::filesystem::remove_all(folder);
        std::filesystem::create_directories(folder);
    }
    ~FolderTest() override {
        std::error_code ignored;
        std::filesystem::remove_all(folder, ignored);
    }

    std::filesystem::path put(const std::string& name, std::string_view bytes) const {
        std::ofstream(folder / name, std::ios::binary) << bytes;
        return folder / name;
    }
    static std::string get(const std::filesystem::path& path) {
        std::ifstream file(path, std::ios::binary);
        return {std::istreambuf_iterator<char>(file), {}};
    }
    [[nodiscard]] std::size_t file_count() const {
        return std::size_t(std::distance(std::filesystem::directory_iterator(folder), {}));
    }

    std::filesystem::path folder;
};

/// The bytes of some numbers, one after the other, little endian unless told.
template <class T>
std::string bytes_of(std::initializer_list<T> values, bool big_endian = false) {
    std::string bytes;
    for (const T value : values) {
        char raw[sizeof(T)];
        std::memcpy(raw, &value, sizeof(T));
        if (big_endian) std::reverse(std::begin(raw), std::end(raw));
        bytes.append(raw, sizeof(T));
    }
    return bytes;
}

inline std::string base64(std::string_view bytes) {
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        std::uint32_t group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group = group << 8 | (i + k < bytes.size() ? std::uint8_t(bytes[i + k]) : 0u);
        for (std::size_t k = 0; k < 4; ++k)
            text += i + k > bytes.size() ? '=' : letters[group >> (18 - 6 * k) & 63];
    }
    return text;
}

}  // namespace evenspit::test
