// SPDX-License-Identifier: MIT
#include "report/density_words.h"

#include <cmath>

#include <fmt/format.h>

namespace evenspit {

std::string what_to_check(double times) {
    constexpr double near = 0.1;  // of the length: what meat and scans differ by
    struct Misread {
        double longer;  // what the lengths should be
        const char *is, *read_as;
    };
    for (const Misread& unit : {Misread{2.54, "inches", "centimetres"},
                                {10, "centimetres", "millimetres"},
                                {25.4, "inches", "millimetres"},
                                {1 / 2.54, "centimetres", "inches"},
                                {0.1, "millimetres", "centimetres"},
                                {1 / 25.4, "millimetres", "inches"}}) {
        if (std::abs(std::cbrt(times) / unit.longer - 1) < near)
            return fmt::format("Is its shape in {}, and was it read as {}?", unit.is, unit.read_as);
    }
    return "Check its weight and the unit of its shape.";
}

}  // namespace evenspit
