// SPDX-License-Identifier: MIT
#include <cstdint>

#include "card/page_parts.h"

namespace evenspit::card {

std::string base64(std::string_view bytes) {
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t at = 0; at < bytes.size(); at += 3) {
        const std::size_t count = bytes.size() - at < 3 ? bytes.size() - at : 3;
        std::uint32_t three = 0;
        for (std::size_t k = 0; k < 3; ++k)
            three = (three << 8U) | (k < count ? static_cast<unsigned char>(bytes[at + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k)
            out += k <= count ? letters[(three >> (18U - 6U * k)) & 63U] : '=';
    }
    return out;
}

}  // namespace evenspit::card
