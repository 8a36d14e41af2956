// SPDX-License-Identifier: MIT
#include "geometry/quick_number.h"

#include <bit>
#include <charconv>
#include <cmath>
#include <optional>
#include <random>
#include <string>

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace evenspit::mesh_readers {
namespace {

std::optional<double> quick(const std::string& text) {
    double value = 0;
    const char* const end = text.data() + text.size();
    return quick_number(text.data(), end, value) == end ? std::optional(value) : std::nullopt;
}

/// The same bits as the library's own, if it is told at all.
void expect_as_library(const std::string& text) {
    const std::optional<double> found = quick(text);
    if (!found) return;
    double expected = 0;
    const auto [past, error] = std::from_chars(text.data(), text.data() + text.size(), expected);
    ASSERT_EQ(error, std::errc{}) << text;
    ASSERT_EQ(past, text.data() + text.size()) << text;
    EXPECT_EQ(std::bit_cast<std::uint64_t>(*found), std::bit_cast<std::uint64_t>(expected)) << text;
}

TEST(QuickNumber, IsTheDoubleNearest) {
    for (const char* text : {"0", "-0", "0.0", "-0.000", "1", "-1.5", "0.1", "12345678", "123456789.87654321",
                             "1e22", "1e-22", "-2.5E+3", "9007199254740992", "9007199254740993",
                             "0.00000000000000000001", "18446744073709551615.5", "9999999999999999999"}) {
        expect_as_library(text);
    }
    EXPECT_EQ(quick("-0.125"), -0.125);
    EXPECT_EQ(quick("00000000000000000000000000.5"), 0.5);
    EXPECT_TRUE(std::signbit(quick("-0").value()));
}

// Every way in which programs write a number, of all sizes, and neighbours of the middle between two doubles.
TEST(QuickNumber, OfAnyDigitsIsTheDoubleNearest) {
    std::mt19937_64 random(3);
    std::uniform_real_distribution<double> size(-9, 9), mantissa(-1, 1);
    int told = 0;
    constexpr int tries = 40'000;
    for (int n = 0; n < tries; ++n) {
        const double value = mantissa(random) * std::pow(10.0, size(random) / (n % 5 + 1));
        const std::string shortest = fmt::format("{}", value);
        expect_as_library(shortest);
        told += quick(shortest).has_value() ? 1 : 0;
        expect_as_library(fmt::format("{:.6f}", value));
        expect_as_library(fmt::format("{:.9g}", value));
        expect_as_library(fmt::format("{:.16e}", value));
        const auto middle = static_cast<long double>(value) +
                            static_cast<long double>(std::nextafter(value, 2 * value) - value) / 2;
        expect_as_library(fmt::format("{:.17Lg}", middle));
        expect_as_library(fmt::format("{:.18Lg}", middle));
        expect_as_library(std::to_string(random()) + "." + std::to_string(random() % 1000));
    }
    EXPECT_GT(told, tries * 9 / 10) << "or it is of no use";
}

TEST(QuickNumber, LeavesTheRestToOthers) {
    for (const char* text : {"", "-", "+1", ".5", "5.", "-.5", "1e", "1e+", "1e999", "nan", "inf", "-inf",
                             "0x10", "1,5", "1 ", "1.5.2", "--1", "1e-5000000000000000000000"}) {
        EXPECT_FALSE(quick(text)) << text;
    }
}

TEST(QuickNumber, WholesOfAllLengths) {
    for (const std::string text :
         {"0", "7", "12345678", "123456789", "000000000000000012", "999999999999999999"}) {
        std::int64_t value = -1;
        ASSERT_EQ(quick_whole(text.data(), text.data() + text.size(), value), text.data() + text.size());
        EXPECT_EQ(value, std::stoll(text));
    }
    std::int64_t value = 0;
    for (const std::string text : {"", "-1", "a", "1234567890123456789"})
        EXPECT_EQ(quick_whole(text.data(), text.data() + text.size(), value), nullptr) << text;
    // All bytes but digits end it, wherever they stand.
    for (int byte = 0; byte < 256; ++byte) {
        if (byte >= '0' && byte <= '9') continue;
        for (std::size_t at = 1; at < 8; ++at) {
            std::string text = "12345678";
            text[at] = static_cast<char>(byte);
            EXPECT_EQ(quick_whole(text.data(), text.data() + text.size(), value), text.data() + at);
            EXPECT_EQ(value, std::stoll(text.substr(0, at)));
        }
    }
}

}  // namespace
}  // namespace evenspit::mesh_readers
