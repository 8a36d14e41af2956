// SPDX-License-Identifier: MIT
#include "report/motor_words.h"

#include <array>

#include <fmt/format.h>

namespace evenspit {

std::string equal_part(int parts) {
    constexpr std::array<std::string_view, 11> named{"half",    "a third",     "a quarter", "a fifth",
                                                     "a sixth", "a seventh",   "an eighth", "a ninth",
                                                     "a tenth", "an eleventh", "a twelfth"};
    const auto n = static_cast<std::size_t>(parts - 2);
    return n < named.size() ? std::string(named[n]) : fmt::format("1/{}", parts);
}

std::string whose_rating(const Motor& motor) {
    if (motor.rods == 1) return "the motor's rating";
    std::string part = equal_part(motor.rods);
    for (const std::string_view article : {"a ", "an "}) {
        if (part.starts_with(article)) part.erase(0, article.size());
    }
    return fmt::format("this rod's {} of the motor's rating", part);
}

std::string shared_torque(const Motor& motor, double share_n_m, const Units& units, bool why) {
    std::string words = units.given(share_n_m, Dimension::torque);
    if (motor.rods == 1) return words;
    words += fmt::format(" ({} of {}", equal_part(motor.rods),
                         units.given(motor.rods * share_n_m, Dimension::torque));
    if (why) words += fmt::format(": the motor turns {} rods", motor.rods);
    return words + ")";
}

}  // namespace evenspit
