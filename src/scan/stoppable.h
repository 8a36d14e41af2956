// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <vector>

#include "units/parallel.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// parallel_for() that looks at the control before each piece.
template <class Work>
void stoppable_for(const StopControl& control, std::size_t count, const Work& work,
                   std::size_t piece = 1024) {
    const auto checked = [&](std::size_t first, std::size_t last) {
        control.check();
        work(first, last);
    };
    parallel_for(count, checked, piece);
}

/// std::sort() that looks at the control: runs are sorted, then merged.
///
/// \pre no two values are equal, or equal ones cannot be told apart: then the result is that of std::sort()
template <class T, class Less = std::less<>>
void stoppable_sort(const StopControl& control, std::vector<T>& values, const Less& less = {}) {
    constexpr std::size_t run = std::size_t{1} << 17;
    const auto at = [&](std::size_t i) {
        return values.begin() + std::ptrdiff_t(std::min(i, values.size()));
    };
    for (std::size_t first = 0; first < values.size(); first += run) {
        control.check();
        std::sort(at(first), at(first + run), less);
    }
    for (std::size_t width = run; width < values.size(); width *= 2) {
        for (std::size_t first = 0; first + width < values.size(); first += 2 * width) {
            control.check();
            std::inplace_merge(at(first), at(first + width), at(first + 2 * width), less);
        }
    }
}

}  // namespace evenspit::scan
