// SPDX-License-Identifier: MIT
// Inside of the text formats' readers. Not for other rooms.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <limits>

namespace evenspit::mesh_readers {

/// Reads decimal digits onto a number, eight at a time where there are so many. What is too much for 64 bits
/// falls off at the top.
///
/// \return what follows them
inline const char* read_digits(const char* at, const char* end, std::uint64_t& number) {
    if constexpr (std::endian::native == std::endian::little) {
        constexpr std::uint64_t each = 0x0101010101010101;
        while (end - at >= 8) {
            std::uint64_t eight = 0;
            std::memcpy(&eight, at, 8);
            // A digit is 0x30 to 0x39: neither its upper half nor that of what is six more is another.
            const std::uint64_t upper = eight & 0xf0 * each;
            if (upper != 0x30 * each || ((eight + 6 * each) & 0xf0 * each) != upper) break;
            // Neighbours make pairs, these make fours, those the eight: the first digit is the lowest byte.
            eight -= 0x30 * each;
            eight = (eight * 10 + (eight >> 8)) & 0x00ff00ff00ff00ff;
            eight = (eight * 100 + (eight >> 16)) & 0x0000ffff0000ffff;
            eight = (eight * 10'000 + (eight >> 32)) & 0xffffffff;
            number = number * 100'000'000 + eight;
            at += 8;
        }
    }
    for (; at < end; ++at) {
        const auto digit = static_cast<unsigned char>(*at - '0');
        if (digit > 9) break;
        number = 10 * number + digit;
    }
    return at;
}

/// Reads a whole number without a sign, of eighteen digits at most.
///
/// \return what follows it, or null where there is none such
inline const char* quick_whole(const char* at, const char* end, std::int64_t& value) {
    constexpr std::ptrdiff_t safe_digits = 18;
    std::uint64_t number = 0;
    const char* const past = read_digits(at, end, number);
    if (past == at || past - at > safe_digits) return nullptr;
    value = static_cast<std::int64_t>(number);
    return past;
}

/// Reads a number as files have nearly all of theirs, "-0.125" or "1.1861966302421826e-05": the double
/// nearest to it, as std::from_chars() tells, in a fraction of the time.
///
/// Digits and powers of ten that a floating point number holds exactly make a quotient that is rounded once
/// (W. D. Clinger, PLDI 1990, pp. 92–101). Where a double holds too few digits and the processor has a
/// format of 64, the quotient is rounded to that and then to a double: the same, but where the first falls on
/// the middle between two doubles.
///
/// \return what follows it, or null where it is anything else, or cannot be told for sure so quickly
inline const char* quick_number(const char* at, const char* end, double& value) {
    const bool minus = at < end && *at == '-';
    const char* const first = at + (minus ? 1 : 0);
    std::uint64_t digits = 0;
    const char* past = read_digits(first, end, digits);
    if (past == first) return nullptr;
    std::ptrdiff_t count = past - first, power = 0;
    if (past < end && *past == '.') {
        const char* const point = past++;
        past = read_digits(past, end, digits);
        power = -(past - point - 1);
        if (power == 0) return nullptr;
        count -= power;
    }
    constexpr std::ptrdiff_t safe_digits = 19;
    if (count > safe_digits) {
        for (const char* c = first; *c == '0' || *c == '.'; ++c) {
            if (*c == '0') --count;
            if (c + 1 == past) break;
        }
        if (count > safe_digits) return nullptr;
    }
    if (past < end && (*past == 'e' || *past == 'E')) {
        const char* sign = past + 1;
        const bool below = sign < end && *sign == '-';
        if (sign < end && (*sign == '-' || *sign == '+')) ++sign;
        std::int64_t exponent = 0;
        past = quick_whole(sign, end, exponent);
        if (past == nullptr || exponent > 400) return nullptr;
        power += below ? -exponent : exponent;
    }
    constexpr std::array exact{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                               1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    constexpr auto most = static_cast<std::ptrdiff_t>(exact.size()) - 1;
    constexpr std::uint64_t exact_digits = std::uint64_t{1} << std::numeric_limits<double>::digits;
    if (digits <= exact_digits && power >= -most && power <= most) {
        const auto whole = static_cast<double>(digits);
        value = power < 0 ? whole / exact[static_cast<std::size_t>(-power)]
                          : whole * exact[static_cast<std::size_t>(power)];
    } else if constexpr (std::numeric_limits<long double>::digits == 64 &&
                         std::endian::native == std::endian::little) {
        // 10²⁷ is the last that 64 digits hold.
        constexpr std::ptrdiff_t most_wide = 27;
        if (power >= 0 || power < -most_wide) return nullptr;
        const auto beyond = static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, -power - most));
        const long double under = static_cast<long double>(exact[static_cast<std::size_t>(-power) - beyond]) *
                                  static_cast<long double>(exact[beyond]);
        const long double wide = static_cast<long double>(digits) / under;
        std::uint64_t held = 0;
        std::memcpy(&held, &wide, sizeof held);
        constexpr std::uint64_t dropped = (1 << 11) - 1, middle = 1 << 10;
        if ((held & dropped) == middle) return nullptr;
        value = static_cast<double>(wide);
    } else {
        return nullptr;
    }
    if (minus) value = -value;
    return past;
}

}  // namespace evenspit::mesh_readers
